package film

import (
	"math"
	"testing"
)

// Two slits of 10 x 4 mm, apart from each other, are two parts; joined again they have
// what the whole grid has, and the same fronts.
func TestJoinUndoesSplit(t *testing.T) {
	g := grid(.25, box(0, 0, 10, 4, wallLabel, seamLabel, exitLabel, seamLabel), box(12, 1, 22, 5, wallLabel, seamLabel, exitLabel, seamLabel))
	parts := g.Split()
	if len(parts) != 2 {
		t.Fatalf("%d parts", len(parts))
	}
	j := Join(parts)
	if j.Nx != g.Nx || j.Ny != g.Ny || math.Abs(j.U0-g.U0) > 1e-9 || math.Abs(j.V0-g.V0) > 1e-9 {
		t.Fatalf("%d x %d cells from %g, %g; want %d x %d from %g, %g", j.Nx, j.Ny, j.U0, j.V0, g.Nx, g.Ny, g.U0, g.V0)
	}
	same := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-9*math.Abs(want) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	same("area", j.Area(), g.Area())
	same("seam", j.SeamLength(), g.SeamLength())
	a, b := j.Arrival(nil, 20), g.Arrival(nil, 20)
	for c := range a {
		if a[c] != b[c] {
			t.Fatalf("cell %d is wet from %g on, want %g", c, a[c], b[c])
		}
	}
}
