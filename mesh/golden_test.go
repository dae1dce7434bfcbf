package mesh

import (
	"math"
	"testing"
)

func TestLeast(t *testing.T) {
	for _, c := range []struct {
		f           func(float64) float64
		a, b        float64
		place, want float64
	}{
		{func(x float64) float64 { return (x-2)*(x-2) + 1 }, 0, 5, 2, 1},
		{math.Cos, 2, 5, math.Pi, -1},
		{func(x float64) float64 { return x }, 1, 3, 1, 1}, // at an end
		{func(x float64) float64 { return math.Abs(x + 1) }, -4, 3, -1, 0},
	} {
		at, v := Least(c.f, c.a, c.b, 60)
		if math.Abs(at-c.place) > 1e-7 || math.Abs(v-c.want) > 1e-7 {
			t.Errorf("%v at %v, want %v at %v", v, at, c.want, c.place)
		}
	}
}
