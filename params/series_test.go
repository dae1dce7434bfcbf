package params

import (
	"strings"
	"testing"
)

func TestParseSeries(t *testing.T) {
	for text, want := range map[string]string{
		// The end is in the range although 0.1 has no float64: 60 to 61 has eleven tenths.
		"wheel.diameter=60mm..120mm/10mm":  "60mm 70mm 80mm 90mm 100mm 110mm 120mm",
		"wheel.diameter=60..120mm/10":      "60mm 70mm 80mm 90mm 100mm 110mm 120mm",
		"wheel.diameter=60mm..61/0.1":      "60mm 60.1mm 60.2mm 60.3mm 60.4mm 60.5mm 60.6mm 60.7mm 60.8mm 60.9mm 61mm",
		"wheel.diameter=60..120/20mm":      "60mm 80mm 100mm 120mm",
		"wheel.diameter=60mm .. 75mm/10mm": "60mm 70mm", // whole steps do not lead to the end
		"wheel.diameter=60mm..60mm/10mm":   "60mm",
		// Fractions and units have slashes of their own.
		"wheel.width=5/8in..7/8in/1/8in":            "0.625in 0.75in 0.875in",
		"wheel.width=5/8..7/8/1/8in":                "0.625in 0.75in 0.875in",
		"wheel.width=1..2 / 1/2in":                  "1in 1.5in 2in",
		"wheel.width=1in..2in/1/3in":                "1in 4/3in 5/3in 2in",
		"wheel.width=1 1/2 in..2 in/1/4 in":         "1.5in 1.75in 2in",
		"pour.density=1.0g/cm3..1.1g/cm3/0.05g/cm3": "1g/cm3 1.05g/cm3 1.1g/cm3",
		"pour.density=1.0..1.1/0.05g/cm3":           "1g/cm3 1.05g/cm3 1.1g/cm3",
		// Units may differ; a step of a temperature is a difference: 5 °C are 9 °F.
		"wheel.width=1in..30.4mm/5mm":        "25.4mm 30.4mm",
		"pour.mold_temperature=68F..86F/5C":  "20C 25C 30C",
		"pour.mold_temperature=20C..30C/9F":  "20C 25C 30C",
		"wheel.width=1..4 / 3/2in":           "1in 2.5in 4in", // not up to 4/3 in steps of 2 in
		"hub.offset=-2mm..2mm/2mm":           "-2mm 0mm 2mm",
		"wheel.cross.count=12..24/4":         "12 16 20 24",
		"pour.parts_a=100..101/0.5":          "100 100.5 101",
		"hub.groove[2].depth=1mm..2mm/0.5mm": "1mm 1.5mm 2mm",
		"wheel.diameter=60mm, 3.5 in,100mm":  "60mm 3.5 in 100mm",
		"wheel.diameter=\"60mm,80mm\"":       "60mm 80mm",
		"mold.split=open top,clam":           "open top clam",
		"mold.split=\"open top\",\"clam\"":   "open top clam",
		"mold.segments=2,3":                  "2 3",
		"wheel.diameter=90mm":                "90mm",
		"wheel.diameter=far":                 "far", // for the job to refuse
		"name=left, right..3/1":              "left, right..3/1",
		"hub.groove=none":                    "none",
		"wheel.diameter=3.5\",4\"":           "3.5\" 4\"",
	} {
		s, err := ParseSeries(text)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		var got []string
		for _, v := range s.Values {
			if v.Key != s.Key {
				t.Errorf("%s: a value of %s", text, v.Key)
			}
			got = append(got, v.Value)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: got %q, want %q", text, got, want)
		}
	}
}

// What cannot be followed is refused with what to write instead.
func TestParseSeriesRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"wheel.diamter=60mm..90mm/10mm":         `unknown key "wheel.diamter": did you mean wheel.diameter?`,
		"frobnicate=1":                          `unknown key "frobnicate": wheelmold new lists them all`,
		"wheel.diameter":                        "write key=value",
		"wheel.diameter=60mm..120mm":            "has no step: write it behind a slash, as in 60mm..120mm/6mm",
		"wheel.diameter=60mm..120mm/0mm":        "has the step 0mm: it must be more than zero",
		"wheel.diameter=120mm..60mm/-10mm":      "has the step -10mm: it must be more than zero",
		"wheel.diameter=120mm..60mm/10mm":       "runs backward: write the smaller end first, as in 60mm..120mm/10mm",
		"wheel.diameter=3in..70mm/1mm":          "runs backward: write the smaller end first, as in 70mm..76.2mm/1mm",
		"wheel.diameter=60..120/10":             "has no unit: write one, as in 60mm..120mm/10mm",
		"wheel.diameter=60mn..120mn/10mn":       `unknown unit "mn"`,
		"wheel.diameter=60mm..120mm/10mn":       `unknown unit "mn"`,
		"wheel.diameter=60g..120g/10g":          "is a mass, not a length",
		"wheel.diameter=..120mm/10mm":           "needs a number",
		"wheel.diameter=60mm..120mm/":           `needs a number where it has ""`,
		"wheel.diameter=1..4/3/8in":             "can be read as up to 4 in steps of 0.375in, or up to 4/3 in steps of 8in: put spaces around the slash before the step",
		"wheel.diameter=0mm..1000mm/0.000001mm": "has 1000000001 values, more than 1000: take a larger step",
		"wheel.cross.count=1..2/0.5":            "counts in parts",
		"wheel.cross.count=1..2/1mm":            `has the unit "mm": a whole number has none`,
		"wheel.diameter=1,200mm":                `has the value "1", which has no unit: write "1 mm"`,
		"wheel.diameter=60mm,,80mm":             "has a comma with nothing beside it",
		"wheel.diameter=1in,25.4mm":             "has 25.4mm twice",
		"mold.split=clam,clam":                  "has clam twice",
		"mold.split=clamm,four-piece":           `has the unknown word "clamm": did you mean "clam"?`,
		"wheel.cross.count=1,2/1":               `has the value "2/1": lists hold plain numbers, and a step belongs to a range, as in 1..4/1`,
		"pour.parts_a=1/2,2":                    `has the value "1/2": lists hold plain numbers`,
		"mold.segments=2,many":                  `has the value "many", which is no whole number`,
	} {
		s, err := ParseSeries(text)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, %v; want %q", text, s.Values, err, want)
		}
	}
}

// A value that a range steps to is out of bounds without a slip of the pen; one that
// somebody wrote, alone or in a list, may be one.
func TestSteppedValuesAreNoSlips(t *testing.T) {
	for text, slip := range map[string]bool{
		"wheel.width=1.5mm..20mm/5mm": false, "wheel.width=1.5mm,20mm": true, "wheel.width=1.5mm": true,
		"hub.bore=8m..9m/1m": false, "hub.bore=8m": true,
	} {
		s, err := ParseSeries(text)
		if err != nil {
			t.Fatal(err)
		}
		_, _, err = Parse("f.toml", []byte("[wheel]\ndiameter = \"60 mm\"\nwidth = \"20 mm\"\n[hub]\nbore = \"6 mm\"\n"), s.Values[0])
		if err == nil || strings.Contains(err.Error(), "looks like") != slip || !strings.Contains(err.Error(), ": allowed ") {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// A range may have a thousand values, and not one more.
func TestMostValues(t *testing.T) {
	if s, err := ParseSeries("wheel.cross.count=1..1000/1"); err != nil || len(s.Values) != MostValues {
		t.Errorf("%d values, %v", len(s.Values), err)
	}
	if _, err := ParseSeries("wheel.cross.count=1..1001/1"); err == nil {
		t.Error("1001 values pass")
	}
}

func TestSettingReads(t *testing.T) {
	for _, c := range []struct {
		set, slug, shown string
		number           float64
	}{
		{"wheel.diameter=60mm", "wheel.diameter=60mm", "60 mm (2.362 in)", 60},
		{"wheel.diameter=3.5 in", "wheel.diameter=3.5in", "88.9 mm (3.5 in)", 88.9},
		{"wheel.width=5/8 in", "wheel.width=5-8in", "15.875 mm (0.625 in)", 15.875},
		{`wheel.diameter=3.5"`, "wheel.diameter=3.5in", "88.9 mm (3.5 in)", 88.9},
		{"hub.offset=-0.5mm", "hub.offset=-0.5mm", "-0.5 mm (-0.02 in)", -0.5},
		{"hub.groove[2].depth=1mm", "hub.groove2.depth=1mm", "1 mm (0.039 in)", 1},
		{"mold.bolts.torque=5 N*m", "mold.bolts.torque=5N-m", "5 N*m", 5},
		{"pour.waste=3 %", "pour.waste=3%", "3 %", 0.03},
		{"mold.segments=3", "mold.segments=3", "3", 3},
	} {
		s, err := ParseSetting(c.set)
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Slug(); got != c.slug {
			t.Errorf("%v: slug %q, want %q", s, got, c.slug)
		}
		if got := s.Shown(); got != c.shown {
			t.Errorf("%v: shown as %q, want %q", s, got, c.shown)
		}
		if v, ok := s.Number(); !ok || v != c.number {
			t.Errorf("%v: %v, %v in the base unit, want %v", s, v, ok, c.number)
		}
	}
	word := Setting{Key: "mold.split", Value: "open top"}
	if _, ok := word.Number(); ok || word.Slug() != "mold.split=open-top" || word.Shown() != "open top" {
		t.Errorf("a word reads %q, %q", word.Slug(), word.Shown())
	}
}
