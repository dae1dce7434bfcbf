package tess

import (
	"fmt"
	"math"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/check"
	"wheelmold/mesh/solid"
)

// A flank in a conical recess leaves an edge that nearly lies in the wall at 45°: three
// of its vertices are on one line but for rounding, and no facet may be made of them.
func TestEdgeThatGrazesAWall(t *testing.T) {
	for _, tol := range []float64{.05, .01} {
		for k := range 41 {
			turn := 42.6316 + float64(k-20)*5e-5 // degrees
			m := solid.NewModel()
			up := solid.AxisFrame(Vec{}, Vec{0, 0, 1})
			block := m.Box("block", "", Vec{-70, -70, -2}, Vec{70, 70, 0})
			draft := math.Tan(math.Pi / 180)
			recess := m.Revolve("recess", "", up, solid.Poly(0, -.4, 62.751, -.4, 62.751+draft, .6, 0, .6))
			s, c := math.Sincos(turn * math.Pi / 180)
			x := Vec{c, s, 0}
			along := solid.Frame{X: x, Y: Vec{0, 0, 1}.Cross(x), Z: Vec{0, 0, 1}}
			rib := m.Extrude("rib", "", along, -1, 1, solid.Poly(60.834, -2.2643, 64.91, -2.983, 64.91, 2.983, 60.834, 2.2643))
			b, err := brep.NewEvaluator(m).Boundary(solid.Minus(block, solid.Minus(recess, rib)))
			if err != nil {
				t.Fatal(err)
			}
			got, err := Mesh(b, Settings{Tolerance: tol})
			if err != nil {
				t.Fatal(err)
			}
			name := fmt.Sprintf("%.4f° at %g mm", turn, tol)
			if r := check.Audit(got, check.Options{}); !r.OK() {
				t.Errorf("%s: %v", name, r.Faults())
			}
			auditFacets(t, b, got, tol)
		}
	}
}
