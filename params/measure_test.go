package params

import (
	"math"
	"strings"
	"testing"
)

func TestMeasure(t *testing.T) {
	for _, k := range []struct {
		kind   Kind
		text   string
		lo, hi float64
		want   float64
		says   string // of the fault; "": none
	}{
		{Mass, "273.6 g", 0, 1e5, 273.6, ""},
		{Mass, "1 lb", 0, 1e5, 453.59237, ""},
		{Temperature, "73.4 F", -20, 80, 23, ""},
		{Number, "61.5", 5, 100, 61.5, ""},
		{Length, "1.5", 30, 90, 0, `--x = 1.5: allowed 30 mm to 90 mm: has no unit: write "1.5 in"`},
		{Length, "60 in", 30, 90, 0, `--x = 60 in: allowed 30 mm to 90 mm: too large: looks like a millimeter value written as inches; write "60 mm"`},
		{Length, "2.5 mm", 30, 90, 0, `too small: looks like an inch value written as millimeters; write "2.5 in"`},
		{Mass, "12 mm", 0, 1e5, 0, "is a length, not a mass"},
		{Mass, "-3 g", 0, 1e5, 0, "negative"},
		{Number, "soft", 5, 100, 0, "is no number"},
		{Number, "NaN", 5, 100, 0, "not a finite number"},
	} {
		v, f := Measure(k.kind, "--x", k.text, k.lo, k.hi)
		switch {
		case k.says == "" && (f != nil || math.Abs(v-k.want) > 1e-9):
			t.Errorf("%s: %g, %v, want %g", k.text, v, f, k.want)
		case k.says != "" && (f == nil || !strings.Contains(f.Error(), k.says)):
			t.Errorf("%s: %v, want %s", k.text, f, k.says)
		}
	}
}

func TestStates(t *testing.T) {
	src := []byte("[calibration]\ngap = 1.0\n#residue = 2\n[wheel]\nwidth = \"no\"\n")
	for path, want := range map[string]bool{"calibration.gap": true, "calibration.residue": false, "wheel.width": true, "wheel": false} {
		if got := States(src, path); got != want {
			t.Errorf("%s: %v", path, got)
		}
	}
}
