package brep

import (
	"math"
	"testing"

	"wheelmold/mesh/solid"
)

// Half of a ball as a pocket in a block has the pole below the block's top, and not the
// one above, whichever way the ball's axis points; a whole ball has both.
func TestPolesOfAPocket(t *testing.T) {
	for _, dir := range []Vec{zAxis, zAxis.Scale(-1), {1, 0, 1}, {0, 1, -2}} {
		m := solid.NewModel()
		pocket := solid.Minus(m.Box("box", "", Vec{-20, -20, -20}, Vec{20, 20, 0}), m.Ball("ball", "", Vec{}, dir, 10))
		checkPoles(t, boundary(t, m, pocket), func(p Vec) bool { return p[2] < 0 })
		m = solid.NewModel()
		checkPoles(t, boundary(t, m, m.Ball("ball", "", Vec{}, dir, 10)), func(Vec) bool { return true })
	}
}

func checkPoles(t *testing.T, b *Boundary, has func(Vec) bool) {
	t.Helper()
	spheres := 0
	for _, f := range b.Faces {
		if f.Carrier.Kind != solid.Sphere {
			continue
		}
		spheres++
		for i, v := range [2]float64{-math.Pi / 2, math.Pi / 2} {
			if p := f.Carrier.P(0, v); f.Poles[i] != has(p) {
				t.Errorf("pole %d at %.3f: inside the face is %v", i, p, f.Poles[i])
			}
		}
	}
	if spheres == 0 {
		t.Error("no face of a ball")
	}
}
