package report

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"unicode/utf8"

	"wheelmold/mold/flash"
	"wheelmold/mold/pour"
)

var half = time.Date(2001, 1, 1, 14, 30, 0, 0, time.UTC)

// What the sheet says of a job, and what it must not say.
func TestSheetFollowsTheJob(t *testing.T) {
	for _, c := range []struct {
		name     string
		sets     []string
		says, no []string
	}{
		// The register is in the bore: a plug would keep the hub off it.
		{"albatross", nil, []string{"Plug what no register closes: bolt holes.", "several cuts, or a fine saw; 12 vents of 3 mm: one cut.", "Bolts out."}, []string{"bore", "clamps off"}},
		{"albatross", []string{"mold.register_back.opening=none"}, []string{"bore (back), bolt holes", "hub on it, back face down"}, nil},
		{"wren", []string{"mold.vents.count=0"}, []string{"Release on mold and sprue."}, []string{"vents"}},
		{"wren", []string{"mold.side_clamp.kind=none"}, []string{"by hand. Clamp them.", "Bolts and clamps off."}, nil},
		{"wren", []string{"mold.side_clamp.kind=strap"}, []string{"Band: ", "Bolts and band off."}, []string{"Clamp them"}},
		// What gives first, less 10 K, is as warm as anything may get.
		{"wren", []string{"process.name=filament", "process.softening=57C", "hub.softening=80C"}, []string{"It warms as it gels: do not squeeze, move or heat it; moving air. No oven cure above 47 °C (117 °F): mold softens from 57 °C (135 °F). CURE AND OPEN"}, []string{"fan"}},
		{"wren", []string{"process.name=filament", "process.softening=66C", "hub.softening=66C"}, []string{"above 56 °C (133 °F): mold and hub soften from 66 °C"}, nil},
		{"wren", []string{"process.softening=200C", "hub.softening=200C"}, nil, []string{"It warms", "oven"}},
		{"wren", []string{"pour.settle=0s"}, []string{"Pour at once, no scraping"}, []string{" 0:00 min", "Stand"}},
		{"wren", []string{"pour.settle=0s", "pour.degas=vacuum"}, []string{"Pour at once"}, []string{" 0:00 min"}},
		{"wren", []string{"pour.tilt=3deg"}, []string{"clay on vents that run over"}, nil},
		// A part in two hundred of some 18 g is less than half a step.
		{"wren", []string{"pour.pigment=0.5%", "pour.scale.resolution=2g"}, []string{"pigment  in drops"}, []string{" 0 g"}},
		// No lighter than the scale can tell, and in its steps.
		{"wren", []string{"pour.scale.resolution=0.2g"}, []string{"Over 0.8 g less: a void"}, nil},
		// A mold warmer than the bucket: what is in it levels for less than the pot life.
		{"wren", []string{"pour.mold_temperature=43C", "pour.duration=30s"}, []string{"done by", "11:00 min  11:00 min  16:00 min"}, nil},
	} {
		s, _, _ := sheetOf(t, c.name, pour.Options{Wheels: 1, Molds: 1}, time.Time{}, c.sets...)
		text := strings.Join(strings.Fields(textOf(t, s)), " ")
		for _, want := range c.says {
			if !strings.Contains(text, strings.Join(strings.Fields(want), " ")) {
				t.Errorf("%s %v: %q is missing in\n%s", c.name, c.sets, want, textOf(t, s))
			}
		}
		for _, no := range c.no {
			if strings.Contains(text, no) {
				t.Errorf("%s %v: says %q in\n%s", c.name, c.sets, no, textOf(t, s))
			}
		}
	}
}

// A scale that shows ounces is told in ounces, in its own steps; an ounce is
// 28.349523125 g (NIST SP 811).
func TestScaleInOunces(t *testing.T) {
	s, p, _ := sheetOf(t, "albatross", pour.Options{Wheels: 1, Molds: 1}, time.Time{}, "pour.scale.resolution=0.1oz")
	text := textOf(t, s)
	c := p.Mix.Batch.Components[0]
	for _, want := range []string{"Scale reads 0.1 oz;", fmt.Sprintf("%.1f oz (%.0f g)", c.Set/28.349523125, c.Set)} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	if strings.Contains(text, "2.8349523125") {
		t.Errorf("grams that no scale shows in\n%s", text)
	}
}

// Many batches still fit one page, and none is lost from the clock.
func TestManyBatchesFitAPage(t *testing.T) {
	sets := []string{"pour.batch_mass=890g", "pour.pigment=2%", "pour.blend.with=80", "pour.degas=pressure"}
	for _, start := range []time.Time{{}, half} {
		s, p, _ := sheetOf(t, "albatross", pour.Options{Wheels: 1, Molds: 1}, start, sets...)
		if p.Mix.Batches <= 5 {
			t.Fatalf("%d batches", p.Mix.Batches)
		}
		text := textOf(t, s)
		if n := strings.Count(text, "\n"); n > sheetLines {
			t.Errorf("%d lines\n%s", n, text)
		}
		for line := range strings.Lines(text) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > sheetWidth {
				t.Errorf("%d wide: %s", n, line)
			}
		}
		joined := strings.Join(strings.Fields(text), " ")
		if last := fmt.Sprintf(" %d) ", p.Mix.Batches); !strings.Contains(joined, last) {
			t.Errorf("batch%sis missing in\n%s", last, text)
		}
	}
}

// The pot closes while the last batch still flows, not the first: 12:30 min after it.
func TestPotWaitsForTheLastBatch(t *testing.T) {
	s, p, _ := sheetOf(t, "albatross", pour.Options{Wheels: 1, Molds: 1}, half, "pour.degas=pressure")
	if text := textOf(t, s); p.Mix.Batches != 2 || !strings.Contains(text, "before 15:08") {
		t.Errorf("%d batches, begun at 14:30 and 14:43, for 25 min, in\n%s", p.Mix.Batches, text)
	}
}

// Where no bubble has time to leave the bucket, none is said to; and what is proposed
// against trapped air leaves less of it than there is.
func TestCheckTextOfThePour(t *testing.T) {
	text := func(sets ...string) string {
		s, _, _ := sheetOf(t, "wren", pour.Options{Wheels: 1, Molds: 1}, time.Time{}, sets...)
		return strings.Join(strings.Fields(inText(t, s.Pour.text)), " ")
	}
	if s := text("pour.settle=0s"); strings.Contains(s, "from 0 to 0 mm") || !strings.Contains(s, "bubbles none leave the bucket") {
		t.Errorf("no time to settle:\n%s", s)
	}
	if s := text("mold.vents.count=0"); strings.Contains(s, "of a vent, 0 %") {
		t.Errorf("no vent:\n%s", s)
	}
	if s := text("pour.tilt=8deg", "mold.ceiling.shape=coned", "mold.ceiling.angle=3deg"); strings.Contains(s, "make the ceiling flat: leaves") {
		t.Errorf("a flat ceiling traps more when the mold leans:\n%s", s)
	}
}

// Which molds a batch fills stands above the readings.
func TestBatchesOfMolds(t *testing.T) {
	for want, o := range map[string]pour.Options{
		"2 batches alike. A:B": {Molds: 1},
		"4 batches alike, 2 for each mold, one mold after the other.": {Molds: 2},
		"6 batches alike, 2 for each mold, one mold after the other.": {Molds: 3},
	} {
		s, _, _ := sheetOf(t, "albatross", o, time.Time{})
		if text := strings.Join(strings.Fields(textOf(t, s)), " "); !strings.Contains(text, want) {
			t.Errorf("%d molds: %q is missing in\n%s", o.Molds, want, text)
		}
	}
	s, _, _ := sheetOf(t, "kestrel", pour.Options{Molds: 2}, time.Time{})
	if text := textOf(t, s); !strings.Contains(text, "2 batches alike, one for each mold.") {
		t.Errorf("two molds, two batches:\n%s", text)
	}
}

// Rubber that may get past a register into the hub is told from one wheel in twenty, at
// the end where it does, with the opening that the register plugs.
func TestLeakyRegisters(t *testing.T) {
	_, p, m := sheetOf(t, "wren", pour.Options{Wheels: 1, Molds: 1}, time.Time{})
	j := *m.Job
	j.Mold.RegisterBack.Opening, j.Mold.RegisterFront.Opening, j.Mold.FaceUp = "bore", "bearing", "front"
	changed := *m
	changed.Job = &j
	for _, c := range []struct {
		line   string
		chance float64
		want   string
	}{
		{"base/hub", .05, "bore (back), 5 %"}, {"base/hub", .049, ""}, {"lid/hub", .14, "bearing pocket (front), 14 %"}, {"base/shells", .5, ""},
	} {
		b := &bench{m: &changed, p: p, flash: &flash.Estimate{Lines: []flash.Line{{Name: c.line, Opening: c.chance}}}}
		if got := strings.Join(b.leaky(), "; "); got != c.want {
			t.Errorf("%s, %v: %q, want %q", c.line, c.chance, got, c.want)
		}
	}
	j.Mold.RegisterBack.Opening = "none" // it is told to be plugged anyway
	b := &bench{m: &changed, p: p, flash: &flash.Estimate{Lines: []flash.Line{{Name: "base/hub", Opening: .5}}}}
	if got := b.leaky(); len(got) > 0 {
		t.Errorf("%v without a register", got)
	}
}
