package params

import (
	"math"
	"strings"
	"testing"
)

// Sizes of units in base units: exact by definition (inch and pound: 1959
// agreement; US gallon: 231 in³), densities worked out from them by hand.
func TestParseQuantity(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want float64
	}{
		{Length, "90 mm", 90}, {Length, "90mm", 90}, {Length, "  9 cm ", 90}, {Length, "0.09 m", 90},
		{Length, "3.5 in", 88.9}, {Length, `3.5"`, 88.9}, {Length, "3.5inch", 88.9}, {Length, "1/8 in", 3.175},
		{Length, "1 1/2 in", 38.1}, {Length, "1-1/2 in", 38.1}, {Length, "-1 1/2 in", -38.1}, {Length, "-1-1/2 in", -38.1},
		{Length, "50 um", 0.05}, {Length, "50 µm", 0.05}, {Length, "5 thou", 0.127}, {Length, "1 ft", 304.8},
		{Length, ".5 mm", 0.5}, {Length, "5. mm", 5}, {Length, "-0.02 mm", -0.02}, {Length, "+2 mm", 2},
		{Angle, "2 deg", 2}, {Angle, "0.5°", 0.5},
		{Mass, "1 kg", 1000}, {Mass, "15 lb", 6803.88555}, {Mass, "8 oz", 226.796185}, {Mass, "75 g", 75},
		{Volume, "500 ml", 500}, {Volume, "1 l", 1000}, {Volume, "4 fl oz", 118.29411825}, {Volume, "1 gal", 3785.411784}, {Volume, "26.6 in3", 435.8959024},
		{Density, "1.04 g/cm3", 1.04}, {Density, "1040 kg/m3", 1.04}, {Density, "8.345404452021 lb/gal", 1.0},
		{Share, "0.3 %", 0.003}, {Share, "5%", 0.05},
	} {
		q, err := ParseQuantity(c.kind, c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		// Only the last pound per gallon is not exact: 13 digits are stated.
		if got := q.Base(); got != c.want && !(strings.Contains(c.text, "gal") && math.Abs(got-c.want) < 1e-11*c.want) {
			t.Errorf("%q = %v, want %v", c.text, got, c.want)
		}
	}
}

func TestParseQuantityRefuses(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want string // part of the message
	}{
		{Length, "", "does not begin with a number"},
		{Length, "mm", "does not begin with a number"},
		{Length, "90", `write "90 mm"`},
		{Length, "90 MM", `"90 mm"`},
		{Length, "90 kg", "is a mass, not a length"},
		{Length, "90 furlong", `unknown unit "furlong"`},
		{Length, "3,5 mm", `"3.5"`},
		{Length, "1e300 mm", "exponent"},
		{Length, "1_000 mm", "exponent or underscore"},
		{Length, "nan mm", "does not begin"},
		{Length, "inf mm", "does not begin"},
		{Length, "1/0 in", "no fraction"},
		{Length, "1/-2 in", "no number"},
		{Length, "1.5/2 in", "no number"},
		{Length, "1 3/2 in", "no number"},
		{Length, "1 2 in", "no number"},
		{Length, "1.2.3 mm", "no number"},
		{Length, "--1 mm", "no number"},
		{Length, "0x10 mm", "unknown unit"},
		{Length, strings.Repeat("9", 500) + " mm", "digits"},
		{Angle, "2 rad", "unknown unit"},
		{Share, "0.3", `write "0.3 %"`},
		{Density, "1.04", `write "1.04 g/cm3"`},
	} {
		if q, err := ParseQuantity(c.kind, c.text); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, %v, want an error with %q", c.text, q, err, c.want)
		}
	}
	if _, err := ParseLength("90"); err == nil || err.Error() != `length "90" has no unit: write "90 mm"` {
		t.Errorf("ParseLength: %v", err)
	}
}

// Every float64 survives being written and read.
func TestFormatRoundTrip(t *testing.T) {
	for k := Length; k <= Share; k++ {
		for _, v := range []float64{0, 1, -0.02, 88.9, 0.003, 1.0 / 3, 0.1 + 0.2, 1e-9, 123456.789, math.SmallestNonzeroFloat64, 999999.9999999999} {
			q, err := ParseQuantity(k, Format(k, v))
			if err != nil || q.Base() != v {
				t.Errorf("%v %v: %q reads as %v, %v", k, v, Format(k, v), q.Base(), err)
			}
		}
	}
	if got := Format(Share, 0.003); got != "0.3 %" {
		t.Errorf("a share reads %q", got)
	}
	if got := FormatInches(88.9); got != "3.5 in" {
		t.Errorf("88.9 mm is %q", got)
	}
}
