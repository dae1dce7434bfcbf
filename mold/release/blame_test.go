package release

import (
	"testing"

	"wheelmold/params"
)

// What the rubber has to pass is named by where it lies: a groove between its rims, an edge
// as far as it takes off the tread, else the tread's own shape; and a fault tells that value
// of the job, and how much of it makes a millimeter of squeeze.
func TestWhatTheRubberHasToPass(t *testing.T) {
	type blamed struct {
		past, path string
		is, per    float64
	}
	upper, lower := blamed{"the upper edge", "wheel.edge_size", 2, 1}, blamed{"the lower edge", "wheel.edge_size", 2, 1}
	first, second := blamed{"groove 2", "wheel.groove[2].depth", 1.5, 1}, blamed{"groove 1", "wheel.groove[1].width", 6, 2}
	crown, cone := blamed{"the crown's narrow end", "wheel.crown", .5, 1}, blamed{"the narrow end of its cone", "wheel.draft", 1, 1 / .8}
	grooves := func(w *params.Wheel) {
		w.Grooves = []params.Groove{{Shape: "half-round", Position: 28, Width: 6, Depth: 3}, {Shape: "rectangular", Position: 10, Width: 4, Depth: 1.5}}
	}
	for name, c := range map[string]struct {
		change func(w *params.Wheel)
		at     map[float64]blamed // by height above the tread's lower face, which is 40 mm wide
	}{
		"round edges on a crown": {func(w *params.Wheel) { w.Edge, w.EdgeSize, w.Crown = "round", 2, .5; grooves(w) }, map[float64]blamed{
			0: lower, 1: lower, 2: lower, 2.01: crown, 7.99: crown, 8: first, 10: first, 12: first, 12.01: crown,
			24.99: crown, 25: second, 28: second, 31: second, 31.01: crown, 37.99: crown, 38: upper, 40: upper}},
		"chamfers on a cone": {func(w *params.Wheel) { w.Edge, w.EdgeSize, w.Draft = "chamfer", 2, 1; grooves(w) }, map[float64]blamed{
			0: lower, 2: lower, 2.01: cone, 9: first, 20: cone, 30: second, 37.99: cone, 38: upper}},
		"square edges on a cone": {func(w *params.Wheel) { w.Draft = 1 }, map[float64]blamed{0: cone, 20: cone, 40: cone}},
	} {
		j := plain(t, params.SplitCup)
		c.change(&j.Wheel)
		by := judge{made(t, j, false)}
		for z, want := range c.at {
			s := Squeeze{By: .8}
			by.blame(&s, z)
			if got := (blamed{s.Past, s.value.path, s.value.is, s.value.per}); got != want {
				t.Errorf("%s at %g mm: %+v, want %+v", name, z, got, want)
			}
		}
	}
}
