package tess

import (
	"math"
	"testing"
)

// A zero is found to rounding; of a straight function with a look or two, where halving
// alone would take some forty.
func TestRootsAreFound(t *testing.T) {
	for name, c := range map[string]struct {
		g     func(float64) float64
		x, y  float64
		want  float64
		looks int
	}{
		"straight": {func(a float64) float64 { return 3 * (a - .7) }, 0, 1, .7, 2},
		"falling":  {func(a float64) float64 { return .25 - a }, -2, 5, .25, 2},
		"sine":     {func(a float64) float64 { return math.Sin(a) - .5 }, 0, 1, math.Pi / 6, 60},
		"cosine":   {func(a float64) float64 { return math.Cos(a) }, 1, 3, math.Pi / 2, 60},
		"at x":     {func(a float64) float64 { return a - 2 }, 2, 3, 2, 0},
		"at y":     {func(a float64) float64 { return a - 3 }, 2, 3, 3, 0},
	} {
		looks := 0
		got := root(func(a float64) float64 { looks++; return c.g(a) }, c.x, c.y, c.g(c.x), c.g(c.y))
		if math.Abs(got-c.want) > 1e-12 || looks > c.looks {
			t.Errorf("%s: %.15g after %d looks, want %.15g", name, got, looks, c.want)
		}
	}
}
