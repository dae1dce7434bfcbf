package params

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// Sizes of units in base units: exact by definition (inch and pound: 1959
// agreement; US gallon: 231 in³), densities worked out from them by hand. Pound-
// force, foot-pound, inch-pound and psi are as printed in NIST SP 811, appendix
// B.8, continued from the exact pound and inch; Fahrenheit at the ice point, the
// steam point, and where both scales meet.
func TestParseQuantity(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want float64
	}{
		{Length, "90 mm", 90}, {Length, "90mm", 90}, {Length, "  9 cm ", 90}, {Length, "0.09 m", 90},
		{Length, "3.5 in", 88.9}, {Length, `3.5"`, 88.9}, {Length, "3.5inch", 88.9}, {Length, "1/8 in", 3.175},
		{Length, "½ in", 12.7}, {Length, "3½ in", 88.9}, {Length, "3 ½in", 88.9}, {Length, "-3½″", -88.9}, {Length, "3-½ in", 88.9},
		{Length, "2¼ in", 57.15}, {Length, "2¾ in", 69.85}, {Length, "⅛ in", 3.175}, {Length, "⅜ in", 9.525}, {Length, "⅝ in", 15.875}, {Length, "⅞ in", 22.225},
		{Length, "3 1⁄2 in", 88.9}, {Length, "11⁄16 in", 17.4625}, {Length, "3½ in", 88.9}, {Time, "1½ h", 5400}, {Length, "1⅓ in", 25.4 * 4 / 3}, {Length, "⅔ in", 25.4 * 2 / 3},
		{Length, "1 1/2 in", 38.1}, {Length, "1-1/2 in", 38.1}, {Length, "-1 1/2 in", -38.1}, {Length, "-1-1/2 in", -38.1},
		{Length, "50 um", 0.05}, {Length, "50 µm", 0.05}, {Length, "5 thou", 0.127}, {Length, "1 ft", 304.8},
		{Length, ".5 mm", 0.5}, {Length, "5. mm", 5}, {Length, "-0.02 mm", -0.02}, {Length, "+2 mm", 2},
		{Angle, "2 deg", 2}, {Angle, "0.5°", 0.5},
		{Mass, "1 kg", 1000}, {Mass, "15 lb", 6803.88555}, {Mass, "8 oz", 226.796185}, {Mass, "75 g", 75},
		{Volume, "500 ml", 500}, {Volume, "1 l", 1000}, {Volume, "4 fl oz", 118.29411825}, {Volume, "1 gal", 3785.411784}, {Volume, "26.6 in3", 435.8959024}, {Volume, "2 qt", 1892.705892},
		{Density, "1.04 g/cm3", 1.04}, {Density, "1040 kg/m3", 1.04}, {Density, "8.345404452021 lb/gal", 1.0},
		{Time, "90 s", 90}, {Time, "90sec", 90}, {Time, "20 min", 1200}, {Time, "1 1/2 h", 5400},
		{Time, "20 minutes", 1200}, {Time, "1 minute", 60}, {Time, "2 hours", 7200}, {Time, "1 hour", 3600}, {Time, "90 seconds", 90}, {Time, "1 second", 1}, {Time, "7 d", 604800}, {Time, "1 day", 86400}, {Time, "2 days", 172800},
		{Viscosity, "800 cps", 0.8}, {Viscosity, "800 cPs", 0.8}, {Viscosity, "800 mPas", 0.8}, {Viscosity, "0.8Pas", 0.8},
		{Torque, "20 in-lb", 2.259696580552334}, {Torque, "20 in·lb", 2.259696580552334}, {Torque, "20inlb", 2.259696580552334}, {Torque, "20 lbf*in", 2.259696580552334}, {Torque, "20 in-lbs", 2.259696580552334},
		{Torque, "10 ft-lb", 13.558179483314004}, {Torque, "10 ft·lb", 13.558179483314004}, {Torque, "10 lbf*ft", 13.558179483314004}, {Torque, "10 lb-ft", 13.558179483314004},
		{Stress, "10 ksi", 68947572.931683613}, {Temperature, "23 deg C", 23}, {Temperature, "212 deg F", 100},
		{Viscosity, "0.8 Pa*s", 0.8}, {Viscosity, "0.8 Pa·s", 0.8}, {Viscosity, "800 mPa*s", 0.8}, {Viscosity, "800 mPa·s", 0.8}, {Viscosity, "800cP", 0.8}, {Viscosity, "8 P", 0.8},
		{Torque, "5 N*m", 5}, {Torque, "5 N·m", 5}, {Torque, "5Nm", 5}, {Torque, "50 N*cm", 0.5},
		{Torque, "1 ft*lb", 1.3558179483314004}, {Torque, "1 in*lb", 0.1129848290276167},
		{Force, "300 N", 300}, {Force, "1.2 kN", 1200}, {Force, "1 lbf", 4.4482216152605},
		{Stress, "200 Pa", 200}, {Stress, "2 kPa", 2000}, {Stress, "150 MPa", 150e6}, {Stress, "68.9 GPa", 68.9e9}, {Stress, "1 psi", 6894.7572931683613}, {Stress, "4 bar", 400e3},
		{Tension, "35 mN/m", 0.035}, {Tension, "35 dyn/cm", 0.035}, {Tension, "0.035 N/m", 0.035},
		{Temperature, "23 C", 23}, {Temperature, "23°C", 23}, {Temperature, "-40 F", -40}, {Temperature, "32 F", 0}, {Temperature, "73.4 °F", 23}, {Temperature, "212°F", 100},
		{Expansion, "175 ppm/K", 175e-6}, {Expansion, "175 ppm/°C", 175e-6}, {Expansion, "175 um/m/K", 175e-6}, {Expansion, "175 µm/m/°C", 175e-6}, {Expansion, "100 ppm/F", 180e-6}, // 1.8 K⁻¹ per °F⁻¹
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
		{Length, "Ø 89mm", `begins with the sign of a diameter: write "89 mm"`},
		{Length, "Ø mm", "does not begin with a number"},
		{Length, "−3.5 in", `begins with a dash that is no plain minus: write "-3.5 in"`},
		{Length, "31⁄2 in", `has a fraction slash, with which 3 1/2 and 31/2 look the same: write a plain one, as in "3 1/2 in"`},
		{Length, "3.5”", `has the unit "”": write "3.5 in"`},
		{Length, "3½", `has no unit: write "3 1/2 mm"`},
		{Length, "3.5½ in", "no number"},
		{Length, "½½ in", "no number"},
		{Length, "½3 in", "no number"},
		{Length, "1/½ in", "no number"},
		{Length, "1/2½ in", "no number"},
		{Length, "3 1⁄2⁄4 in", "fraction slash"},
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
		{Time, "20", `has no unit: write "20 s"`},
		{Time, "20 Min", `capital letters count, write "20 min"`},
		{Time, "20 mm", "is a length, not a time: write it in s, min, h, d"},
		{Viscosity, "0.8", `has no unit: write "0.8 Pa*s"`},
		{Viscosity, "800 mpa*s", `write "800 mPa*s"`},
		{Viscosity, "800 MPa", "is a stress, not a viscosity"},
		{Torque, "5", `has no unit: write "5 N*m"`},
		{Torque, "5 N", "is a force, not a torque: write it in N*m, ft*lb, in*lb, N*cm"},
		{Torque, "5 nm", `write "5 Nm"`},
		{Force, "300", `has no unit: write "300 N"`},
		{Force, "30 lb", "is a mass, not a force: write it in N, kN, lbf"},
		{Stress, "2", `has no unit: write "2 Pa"`},
		{Stress, "2 mPa", `capital letters count, write "2 MPa"`}, // a billionth of what was meant
		{Tension, "35", `has no unit: write "35 mN/m"`},
		{Tension, "35 N*m", "is a torque, not a surface tension"},
		{Expansion, "175", `has no unit: write "175 ppm/K"`},
		{Expansion, "175 ppm", `unknown unit "ppm": an expansion by heat is written in ppm/K, um/m/K, ppm/F`},
		{Temperature, "23", `has no unit: write "23 C"`},
		{Temperature, "23 °c", `write "23 °C"`},
		{Temperature, "23 deg", "is an angle, not a temperature: write it in C, F"},
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
	for v, want := range map[float64]string{88.9: "88.9 mm", 0.994999: "0.99 mm", 0.3 - 0.2: "0.1 mm", 2: "2 mm"} {
		if got := Millimeters(v); got != want {
			t.Errorf("%v mm reads %q, want %q", v, got, want)
		}
	}
}

// Written in the unit that a builder would choose.
func TestFormatReadsWell(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		v    float64
		want string
	}{
		{Time, 0, "0 s"}, {Time, 45, "45 s"}, {Time, 90, "1.5 min"}, {Time, 100, "100 s"}, // 1.666… min
		{Time, 1200, "20 min"}, {Time, 1800, "30 min"}, {Time, 5400, "1.5 h"}, {Time, 5460, "91 min"},
		{Time, 86400, "24 h"}, {Time, 129600, "36 h"}, {Time, 172800, "2 d"}, {Time, 604800, "7 d"},
		{Expansion, 175e-6, "175 ppm/K"}, {Expansion, 0, "0 ppm/K"},
		{Viscosity, 0.8, "0.8 Pa*s"}, {Torque, 16.58, "16.58 N*m"},
		{Force, 300, "300 N"}, {Force, 34200, "34.2 kN"}, {Force, -2000, "-2 kN"},
		{Stress, 200, "200 Pa"}, {Stress, 1500, "1.5 kPa"}, {Stress, 150e6, "150 MPa"}, {Stress, 68.9e9, "68.9 GPa"},
		{Tension, 0.035, "35 mN/m"}, {Temperature, 22.5, "22.5 C"}, {Temperature, -4, "-4 C"},
		{Length, 2286, "2286 mm"}, {Mass, 5000, "5000 g"}, {Number, 1200, "1200"},
		{Length, 1e300, "1e+300 mm"}, {Stress, math.Inf(1), "+Inf Pa"},
	} {
		if got := Format(c.kind, c.v); got != c.want {
			t.Errorf("%v %v reads %q, want %q", c.kind, c.v, got, c.want)
		}
	}
}

// As written, and beside it in a unit of the program if it came in another.
func TestQuantityString(t *testing.T) {
	for _, c := range []struct {
		kind       Kind
		text, want string
	}{
		{Length, "90 mm", "90 mm"}, {Length, "3.5 in", "3.5 in (88.9 mm)"}, {Length, "9 m", "9 m (9000 mm)"},
		{Time, "20 min", "20 min"}, {Time, "1200 s", "1200 s"}, {Stress, "2GPa", "2 GPa"},
		{Viscosity, "800 cP", "800 cP (0.8 Pa*s)"}, {Temperature, "23°C", "23 °C"}, {Temperature, "73 F", "73 F (22.78 C)"},
		{Tension, "35 dyn/cm", "35 dyn/cm (35 mN/m)"}, {Expansion, "100 ppm/F", "100 ppm/F (180 ppm/K)"}, {Time, "3 d", "3 d"}, {Share, "5%", "5 %"},
		{Time, "20 minutes", "20 minutes"}, {Torque, "20 in-lb", "20 in-lb (2.26 N*m)"}, {Length, "1/64 in", "1/64 in (0.3969 mm)"},
	} {
		if q, err := ParseQuantity(c.kind, c.text); err != nil || q.String() != c.want {
			t.Errorf("%q: %q, %v, want %q", c.text, q, err, c.want)
		}
	}
}

// A value can be written in any unit that the program chooses by itself.
func TestWrittenUnits(t *testing.T) {
	for k := Length; k <= Share; k++ {
		if kindNames[k].noun == "" {
			t.Fatalf("kind %d has no name", k)
		}
		if u := firstUnit(k); u.zero != "" || !u.reads(ratOf("100")) {
			t.Errorf("%v: the first unit, %s, cannot write every decimal", k, u.names[0])
		}
		for _, u := range units {
			if u.kind == k && u.handy && u.zero != "" {
				t.Errorf("%s is written, but has a zero of its own", u.names[0])
			}
		}
	}
	for i, u := range units {
		for _, o := range units[:i] {
			for _, name := range u.names {
				if slices.Contains(o.names, name) {
					t.Errorf("%q is %v and %v", name, o.kind, u.kind)
				}
			}
		}
	}
}

// A comma may part thousands or decimals: both are named, as neither shows which
// was meant.
func TestCommas(t *testing.T) {
	for text, want := range map[string]string{
		"1,200 cP": `write "1200" or "1.200"`, "0,8 Pa*s": `write the decimal point as in "0.8"`, "12,5 Pa*s": `write the decimal point as in "12.5"`,
	} {
		_, err := ParseQuantity(Viscosity, text)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
}
