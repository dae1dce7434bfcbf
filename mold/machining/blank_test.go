package machining

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
)

// Of a block the six sides are there as soon as its blank is squared, also where it lies
// askew and along the way that the piece is drawn off; the slant of a corner cut off, a
// step and a pocket's floor are not, nor is what meets another piece.
func TestSquaredBlank(t *testing.T) {
	for _, turn := range []float64{0, 30, 210} {
		m := solid.NewModel()
		s, c := math.Sincos(turn * math.Pi / 180)
		f := solid.Frame{X: mesh.Vec{c, s}, Y: mesh.Vec{-s, c}, Z: mesh.Vec{0, 0, 1}}
		n := solid.Minus(m.Extrude("block", mold.RoleOuter, f, 0, 20, solid.Poly(0, 0, 60, 0, 60, 30, 50, 40, 0, 40)),
			m.Extrude("step", mold.RoleOuter, f, 10, 21, solid.Poly(-1, -1, 20, -1, 20, 15, -1, 15)),
			m.Extrude("parting", mold.RoleParting, f, -1, 1, solid.Poly(-1, -1, 61, -1, 61, 41, -1, 41)))
		b := put(t, job(t), m, n)
		b.piece.Kind, b.piece.Pull = mold.Shell, f.X
		b.square()
		want := 19.*30 + 19*50 + 19*40 - 10*15 + 19*60 - 10*20 + (60*40 - 10*10/2 - 20*15)
		got, count := 0.0, 0
		for i := range b.faces {
			if b.faces[i].squared {
				got, count = got+b.faces[i].area, count+1
			}
		}
		if count != 5 || !near(got, want, 1e-6) {
			t.Errorf("turned by %g degrees: %d faces of %.3f mm² squared, want 5 of %.3f", turn, count, got, want)
		}
	}
}
