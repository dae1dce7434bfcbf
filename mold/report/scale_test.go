package report

import (
	"strings"
	"testing"

	"wheelmold/mold/study"
)

// A mass is told as finely as the scale shows it, wherever it is to be weighed: not a
// digit more, and none less. An ounce is 28.349523125 g.
func TestShopScale(t *testing.T) {
	for _, c := range []struct {
		step            float64
		g               float64
		shown, besideIt string
	}{
		{0.1, 24.2, "24.2 g", "24.2 g"},
		{0.01, 24.2, "24.20 g", "24.20 g"},
		{1, 24, "24 g", "24 g"},
		{5, 1250, "1250 g", "1250 g"},
		{0.5, 130, "130.0 g", "130.0 g"},
		{2.8349523125, 56.69904625, "2.0 oz", "56.70 g (2.0 oz)"},
	} {
		s := shopScale(c.step)
		if got := s.shown(c.g); got != c.shown {
			t.Errorf("%v g: shown as %q, want %q", c.step, got, c.shown)
		}
		if got := s.inGrams(c.g); got != c.besideIt {
			t.Errorf("%v g: %q, want %q", c.step, got, c.besideIt)
		}
	}
}

// Tables and check show what the bench sheet does.
func TestReadingsAreTheScales(t *testing.T) {
	f := &study.Figures{Step: 0.1, A: 24.2, B: 130}
	for _, m := range sweepMeasures {
		if want := map[string]string{"A": "24.2 g", "B": "130.0 g"}[m.head]; want != "" && m.text(f) != want {
			t.Errorf("%s: %q, want %q", m.head, m.text(f), want)
		}
	}
	r := &Pour{Batches: 1, Scale: ScaleError{Step: 0.1}, Batch: Batch{Weighed: 36.3, Components: []Component{{Name: "A", Add: 24.2, Shows: 24.2}, {Name: "B", Add: 12.1, Shows: 36.3}}}}
	text := inText(t, r.batches)
	for _, want := range []string{"36.3 g ", "24.2 g ", "shows 24.2 g\n", "12.1 g ", "shows 36.3 g\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
}
