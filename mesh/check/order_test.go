package check

import (
	"testing"

	"wheelmold/mesh"
)

// Of pairs that cross the one of the lowest facet is told first, wherever in space it lies
// and in whatever order the pairs are found.
func TestLowestPairIsToldFirst(t *testing.T) {
	const pairs = 40
	low, high := make([][3]mesh.Vec, pairs), make([][3]mesh.Vec, pairs)
	for i := range pairs {
		x := float64(20 * ((i*23 + 7) % pairs)) // scattered
		low[i] = [3]mesh.Vec{{x, 0, 0}, {x + 4, 0, 0}, {x, 4, 0}}
		high[pairs-1-i] = [3]mesh.Vec{{x + 1, 1, -1}, {x + 1, 1, 1}, {x + 9, 9, 0}}
	}
	r := Audit(Weld(append(low, high...)), Options{})
	if f := r.Crossing.Facets; r.Crossing.Count != pairs || len(f) != 2 || f[0] != 0 || f[1] != 2*pairs-1 {
		t.Errorf("%d pairs, the first of facets %v, want %d and 0 with %d", r.Crossing.Count, f, pairs, 2*pairs-1)
	}
}
