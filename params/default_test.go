package params

import (
	"math"
	"testing"
)

// boresOf are bores that a builder may sensibly ask for in a wheel.
func boresOf(diameter float64) []float64 {
	return []float64{max(2, 0.03*diameter), 0.1 * diameter, 0.25 * diameter, 0.4 * diameter}
}

func forAllWheels(t *testing.T, visit func(d, w, bore float64, process string)) {
	for d := 25.0; d <= 400; d += 12.5 {
		for _, share := range []float64{0.12, 0.2, 0.35, 0.5, 0.8} {
			w := max(6, share*d)
			for _, bore := range boresOf(d) {
				for _, p := range Processes {
					visit(d, w, bore, p.Name)
				}
			}
		}
	}
}

// A wheel of which only three lengths are known must become a job that can be
// made, whatever its size.
func TestDefaultIsValidForEveryWheel(t *testing.T) {
	forAllWheels(t, func(d, w, bore float64, process string) {
		if j, err := Default(d, w, bore, process); err != nil {
			t.Errorf("Default(%v, %v, %v, %q): %v", d, w, bore, process, err)
		} else if f := j.Validate(); f != nil {
			t.Errorf("Default(%v, %v, %v, %q).Validate: %v", d, w, bore, process, f)
		}
	})
}

func TestDefaultRefusesNonsense(t *testing.T) {
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1), 1e300, 5e-324} {
		for i := range 3 {
			in := [3]float64{90, 40, 10}
			in[i] = v
			if _, err := Default(in[0], in[1], in[2], "milled"); err == nil {
				t.Errorf("Default(%v) accepted", in)
			}
		}
	}
	if _, err := Default(90, 40, 10, "cast"); err == nil {
		t.Error("unknown process accepted")
	}
}
