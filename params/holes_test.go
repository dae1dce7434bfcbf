package params

import (
	"errors"
	"slices"
	"testing"
)

// Printed holes come out small, turned ones do not; what is printed too wide must
// still leave something to print between two openings.
func TestHoleCompensation(t *testing.T) {
	job := func(material string, set ...func(*Job)) (*Job, error) {
		s := stated{{"wheel.diameter", 0}: 80.0, {"wheel.width", 0}: 30.0, {"hub.bore", 0}: 12.0, {"hub.material", 0}: material}
		j, faults, _ := resolve(s)
		if faults != nil {
			t.Fatal(faults)
		}
		for _, f := range set {
			f(j)
		}
		if f := j.Validate(); f != nil {
			return j, f
		}
		return j, nil
	}
	for material, want := range map[string]float64{"printed": .2, "nylon": 0, "acetal": 0} {
		if j, err := job(material); err != nil || j.Hub.HoleCompensation != want {
			t.Errorf("%s: %v mm by default, want %v (%v)", material, j.Hub.HoleCompensation, want, err)
		}
	}
	// 8 holes of 5 mm on 20 mm stand 2.65 mm apart and 1.5 mm from the bore: 0.5 mm
	// more on each diameter leaves 1 mm, 0.9 mm leaves 0.6, of which 0.8 must stay.
	bolts := func(comp float64) func(*Job) {
		return func(j *Job) {
			j.Hub.Bolts, j.Hub.HoleCompensation = BoltCircle{Count: 8, Circle: 20, Hole: 5}, comp
		}
	}
	if _, err := job("printed", bolts(.5)); err != nil {
		t.Errorf("0.5 mm: %v", err)
	}
	_, err := job("printed", bolts(.9))
	var f Faults
	if !errors.As(err, &f) || !slices.ContainsFunc(f, func(f Fault) bool { return f.Path == "hub.hole_compensation" }) {
		t.Errorf("0.9 mm: %v", err)
	}
}
