package drawing

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mold"
)

// A slot of 10 mm with corners of 3 mm, 10 mm from the axis: entered at its wall, on its
// corner's arc, or past the arc not at all; with sharp corners at its box.
func TestRoundSlotIsEnteredOnItsArc(t *testing.T) {
	d := 3 / math.Sqrt2
	on := mesh.Vec{2 + d, 13 - d, 0} // the arc's middle
	for _, turned := range []float64{0, 120} {
		for _, x := range []struct {
			to             mesh.Vec
			r, want, sharp float64
		}{
			{mesh.Vec{0, 10, 0}, 3, 10, 10},
			{mesh.Vec{2, 10, 0}, 3, math.Sqrt(104), math.Sqrt(104)},
			{on, 3, on.Norm(), on.Norm() * 10 / on[1]},
			{mesh.Vec{-on[0], on[1], 0}, 3, on.Norm(), on.Norm() * 10 / on[1]},
			{mesh.Vec{4.9, 10.05, 0}, 3, math.Inf(1), math.Hypot(4.9, 10.05) * 10 / 10.05},
			{mesh.Vec{0, -10, 0}, 3, math.Inf(1), math.Inf(1)},
		} {
			s := mold.Slot{Lo: mesh.Vec{-5, 10, -1}, Hi: mesh.Vec{5, 20, 1}, Turned: turned, Normal: 2, Corner: x.r}
			sn, cs := math.Sincos(turned * math.Pi / 180)
			u := x.to.Unit()
			u = mesh.Vec{cs*u[0] - sn*u[1], sn*u[0] + cs*u[1], 0}
			if got := entersSlot(&s, u); got != x.want && math.Abs(got-x.want) > 1e-9 {
				t.Errorf("toward %v, turned %g: %.9f, want %.9f", x.to, turned, got, x.want)
			}
			s.Corner = 0
			if got := entersSlot(&s, u); got != x.sharp && math.Abs(got-x.sharp) > 1e-9 {
				t.Errorf("sharp, toward %v, turned %g: %.9f, want %.9f", x.to, turned, got, x.sharp)
			}
		}
	}
}
