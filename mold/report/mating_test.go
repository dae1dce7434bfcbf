package report

import (
	"strings"
	"testing"
	"time"

	"wheelmold/mold/moldtest"
	"wheelmold/mold/pour"
)

// The sheet says which faces to lap to what, and how a print is made fit to be cast in,
// before anything is wiped; without stock and coats it does not.
func TestSheetLapsAndCoats(t *testing.T) {
	for _, c := range []struct {
		name     string
		sets     []string
		says, no []string
	}{
		{"kestrel", []string{"mold.mating.stock=0.3mm", "mold.coats.count=2"},
			[]string{"Lap the mating faces of the shells by 0.3 mm (0.012 in), balls out: to 40 mm (1.575 in) high, 81.5 mm (3.209 in) from joint to outer face.", "2 coats of sealer in the cavity only, 0.1 mm (0.004 in) in all: sand between, cure hard. Mating faces bare.", "Wipe"},
			[]string{"ayer lines", "coupon"}},
		{"kestrel", []string{"process.name=filament", "mold.coats.count=1"}, []string{"Sand layer lines; 1 coat of sealer in the cavity only, 0.05 mm (0.002 in) in all", "Wipe"}, []string{"Lap ", "coupon"}},
		{"kestrel", []string{"process.name=filament"}, []string{"Sand the layer lines off the cavity.", "Wipe"}, []string{"Lap ", "coat"}},
		{"kestrel", []string{"process.name=filament", "mold.split=clam", "mold.mating.stock=0.3mm"}, []string{"Lap the mating faces of the halves by 0.3 mm (0.012 in), balls out: to 81.5 mm (3.209 in) from joint to outer face."}, []string{" high,", "hells"}},
		{"kestrel", []string{"process.name=filament", "mold.split=cup and lid", "mold.mating.stock=0.3mm"}, []string{"Lap the cup's rim by 0.3 mm (0.012 in), balls out: to 47.25 mm (1.86 in) high."}, []string{"joint to", "hells"}},
		{"kestrel", []string{"process.name=filament", "mold.segments=3", "mold.mating.stock=0.3mm"}, []string{"Lap the mating faces of the shells by 0.3 mm (0.012 in), balls out: to 40 mm (1.575 in) high, ", " across the flats, put together."}, []string{"joint to"}},
		{"wren", []string{"mold.coats.count=3"}, []string{"Prints washed, fully cured. First, mix on a coupon of the print must cure hard.", "3 coats of sealer in the cavity only, 0.15 mm (0.006 in) in all", "Wipe"}, []string{"Lap ", "ayer lines"}},
		{"kestrel", nil, nil, []string{"Lap ", "coat", "ayer lines", "coupon"}},
	} {
		s, _, _ := sheetOf(t, c.name, pour.Options{Wheels: 1, Molds: 1}, time.Time{}, c.sets...)
		text, at := strings.Join(strings.Fields(textOf(t, s)), " "), 0
		for _, want := range c.says {
			i := strings.Index(text[at:], want)
			if i < 0 {
				t.Errorf("%s %v: %q is missing, or not in its order, in\n%s", c.name, c.sets, want, textOf(t, s))
				continue
			}
			at += i
		}
		for _, no := range c.no {
			if strings.Contains(text, no) {
				t.Errorf("%s %v: says %q in\n%s", c.name, c.sets, no, textOf(t, s))
			}
		}
	}
}

// Text, page and JSON tell stock and coats as the job has them, and the dimensions that
// the mold has once lapped.
func TestStockAndCoatsAreTold(t *testing.T) {
	m, c := moldtest.Checked(t, moldtest.Wheels[0].Job(t, "mold.mating.stock=0.3mm", "mold.coats.count=2"))
	page, html := splitPage(t, m, c)
	r := &page.Build.Check
	down, _ := m.Lapping()
	if r.Mating.Stock != 0.3 || r.Mating.Height != down.Height || len(r.Mating.Outer) != 1 || r.Mating.Outer[0] != down.Outer[0] {
		t.Errorf("%+v, want %+v", r.Mating, down)
	}
	if r.Coats != (Coats{2, 0.05, 0.1}) {
		t.Errorf("%+v", r.Coats)
	}
	var text strings.Builder
	if err := r.WriteText(&text); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"0.3 mm off the mating faces of the shells", "to " + length2(down.Height) + " high, " + length2(down.Outer[0]) + " from joint to outer face (mold.mating.stock)",
		"2 coats of sealer, 0.05 mm each, 0.1 mm in all, on the cavity only",
	} {
		if !strings.Contains(text.String(), want) || !strings.Contains(html, want) {
			t.Errorf("%q is missing in text or page:\n%s", want, &text)
		}
	}
	if s := (&Closure{Block: 1e6, Coats: 1234}).text(); !strings.Contains(s, "channels, coats (1.234 cm³) and clearances add up") {
		t.Error(s)
	}
	if s := (&Closure{Block: 1e6}).text(); strings.Contains(s, "coats") {
		t.Error(s)
	}
}

// A sheet that would not fit its page says some steps in brief, and no more of them than
// it must.
func TestSheetInBrief(t *testing.T) {
	long := strings.Repeat("word ", 30) // two lines
	full := func(lines int) *Sheet {
		s := &Sheet{Sections: []Section{{Name: "A", Steps: []Step{do("%s", long).or("first"), do("%s", long).or("second")}}}}
		for range lines - 5 {
			s.Sections[0].Steps = append(s.Sections[0].Steps, know("line"))
		}
		return s
	}
	for lines, brief := range map[int]int{sheetLines: 0, sheetLines + 1: 1, sheetLines + 2: 2} {
		s := full(lines)
		text := textOf(t, s)
		if n := strings.Count(text, "\n"); n != min(lines, sheetLines) {
			t.Errorf("%d lines of %d", n, lines)
		}
		if strings.Contains(text, "first") != (brief > 0) || strings.Contains(text, "second") != (brief > 1) {
			t.Errorf("%d lines, %d too many:\n%s", lines, brief, text)
		}
		if s.Sections[0].Steps[0].Text != strings.TrimSpace(long) && s.Sections[0].Steps[0].Text != long {
			t.Error("the sheet itself was shortened")
		}
	}
}

// Heat is told where something is printed or at risk: at risk asks for a look, too hot
// for another plastic; the figures are those of the JSON.
func TestHeatIsTold(t *testing.T) {
	for _, c := range []struct {
		cure Cure
		want state
		told bool
		says string
	}{
		{Cure{Gel: 37, Peak: 75, Printed: []string{"mold"}, Parts: []Warmed{{"mold", true, 57, "at risk"}, {"hub", false, 580, "fine"}}}, mind, true, "mold at risk (softens from 57 °C (135 °F)), hub fine"},
		{Cure{Gel: 50, Peak: 75, Printed: []string{"mold"}, Parts: []Warmed{{"mold", true, 57, "at risk"}, {"hub", true, 55, "too hot"}}}, act, true, "hub too hot"},
		{Cure{Gel: 37, Peak: 75, Printed: []string{"mold"}, Parts: []Warmed{{"mold", true, 100, "fine"}}}, fine, true, "mold fine"},
		{Cure{Gel: 37, Peak: 75, Parts: []Warmed{{"mold", false, 580, "fine"}, {"hub", false, 80, "at risk"}}}, mind, true, "hub at risk"},
		{Cure{Gel: 37, Peak: 75, Parts: []Warmed{{"mold", false, 580, "fine"}}}, fine, false, ""},
	} {
		b := &Build{Check: *sample()}
		b.Pour.Cure = c.cure
		var text strings.Builder
		p := newPage(&text)
		b.Pour.cured(p)
		if err := p.close(); err != nil {
			t.Fatal(err)
		}
		if told := strings.Contains(text.String(), "heat "); told != c.told || told && !strings.Contains(text.String(), string(c.want)+": ") {
			t.Errorf("%+v:\n%s", c.cure, &text)
		}
		found := false
		for _, o := range b.outcomes() {
			if o.Name != "Heat" {
				continue
			}
			found = true
			if o.State != c.want || !strings.Contains(o.Says, c.says) || o.Figures[0].Raw != c.cure.Gel || o.Figures[1].Raw != c.cure.Peak {
				t.Errorf("%+v", o)
			}
		}
		if found != c.told {
			t.Errorf("%+v: in the summary %v", c.cure, found)
		}
	}
}
