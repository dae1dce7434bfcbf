package mold

import "wheelmold/mesh"

// Lapping is down to what pieces that carry stock are lapped, mm.
type Lapping struct {
	Stock float64 // on each face
	// Height of a shell from end to end, or of a cup from its underside to its rim; 0 of
	// halves, whose ends part nothing.
	Height float64
	// Outer are the distances from the parting faces along the axis, square to them, to the
	// outer face: of two pieces one, of four one for each of the two faces if they differ.
	Outer []float64
	// Across is the distance of the flat faces of three pieces put together, which have no
	// outer face square to their parting faces.
	Across float64
}

// Lapping is what the mold's pieces are lapped to; false where they carry no stock.
func (m *Mold) Lapping() (Lapping, bool) {
	l := m.Layout
	p := Lapping{Stock: m.Job.Mold.Mating.Stock}
	if p.Stock == 0 {
		return p, false
	}
	if l.Below != "" {
		p.Height = l.SideHigh - l.SideLow
	}
	switch len(l.Sides) {
	case 0:
	case 3:
		p.Across = 2 * l.FaceY
	default:
		p.Outer = []float64{l.FaceY}
		if x := l.Reach(mesh.Vec{1, 0, 0}); len(l.Sides) == 4 && x != l.FaceY {
			p.Outer = append(p.Outer, x)
		}
	}
	return p, true
}
