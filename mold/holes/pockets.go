package holes

import (
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
)

// Pocket is a recess that no drill makes: a pry slot, a nut's hexagon, a mark, a groove
// around, a recess for the hub's end. Its measures are those of the piece's share of it,
// as it leaves the machine.
type Pocket struct {
	Name, Role string
	At         mesh.Vec // middle of its mouth, where that lies furthest out; mold's frame
	Dir        mesh.Vec // from there into the material, of length 1; zero of a groove around
	Along      mesh.Vec // direction of Length, at right angles to Dir

	Length, Width float64 // across Dir, mm; both 0 of a round one; of a groove around it has Width alone
	Depth         float64 // mm, from the outermost point of its mouth
	Diameter      float64 // mm, of a round one
	Corner        float64 // mm, radius of the inner edges that are round; 0: all are sharp
}

// Pockets lists the pockets of a piece, in the order in which the mold has them, from its
// exact boundary as it leaves the machine.
func Pockets(m *mold.Mold, piece string, b *brep.Boundary) ([]Pocket, error) {
	if _, ok := m.Piece(piece); !ok {
		return nil, fmt.Errorf("the mold has no piece %q", piece)
	}
	var out []Pocket
	box := map[string]int{} // marks, of which every stroke is a leaf
	var spans []mesh.Box
	for _, l := range b.Root.Leaves() {
		p, frame, ok := pocketOf(m, l)
		if !ok {
			continue
		}
		span := mesh.EmptyBox()
		for _, q := range onLeaf(b, l) {
			span = span.Include(frame.Local(q))
		}
		if span.Lo[0] > span.Hi[0] {
			continue // it is not in this piece
		}
		i, more := box[l.Name]
		if l.Role != mold.RoleMark || !more {
			i = len(out)
			box[l.Name] = i
			out, spans = append(out, p), append(spans, mesh.EmptyBox())
		}
		spans[i] = spans[i].Join(span)
		out[i].measure(&frame, spans[i])
	}
	return out, nil
}

// pocketOf tells what a leaf is as a pocket, and in which frame it is measured: X along
// its length, Z into the material.
func pocketOf(m *mold.Mold, l *solid.Leaf) (p Pocket, frame solid.Frame, ok bool) {
	p = Pocket{Name: l.Name, Role: l.Role, Corner: corner(l)}
	f := l.Frame
	switch {
	case l.Role == mold.RolePry:
		return p, slotFrame(m.Layout, l), true
	case l.Role == mold.RoleMark:
		p.Corner = 0 // of strokes
		return p, solid.Frame{O: f.O, X: f.X, Y: f.Y.Scale(-1), Z: f.Z.Scale(-1)}, true
	case l.Role == mold.RoleBolt && l.Extruded && !roundAbout(l, l.Elems[0].Carrier):
		return p, f, true // from the underside up
	case l.Role == mold.RoleStrap:
		p.Depth = m.Layout.Strap.Depth
		return p, f, true
	case isRecess(m, l):
		for _, e := range l.Elems {
			p.Diameter = max(p.Diameter, 2*e.A[0])
		}
		if l.Box.Hi[2] <= 0 { // below: it opens upward
			f.Y, f.Z = f.Y.Scale(-1), f.Z.Scale(-1)
		}
		return p, f, true
	}
	return p, f, false
}

// isRecess tells whether a leaf is taken away for the hub's end or the open rubber.
func isRecess(m *mold.Mold, l *solid.Leaf) bool {
	if l.Role != mold.RoleLand && l.Role != mold.RoleOuter || l.Extruded {
		return false
	}
	return slices.ContainsFunc(m.Split.Cuts, func(c mold.Cut) bool { return c.Name == l.Name })
}

// slotFrame is that of a pry slot: into the material from the outer face, along the
// parting line, and across the parting plane.
func slotFrame(l *mold.Layout, leaf *solid.Leaf) solid.Frame {
	for i := range l.Slots {
		s := &l.Slots[i]
		if s.Name != leaf.Name || !leaf.Contains(s.Middle()) {
			continue
		}
		f := s.Frame()
		axes := [3]mesh.Vec{f.X, f.Y, f.Z}
		out, sense := s.Outward()
		z, y := axes[out].Scale(-sense), axes[s.Normal]
		return solid.Frame{X: y.Cross(z), Y: y, Z: z}
	}
	return leaf.Frame
}

// corner is the radius of the round edges of a pocket's outline.
func corner(l *solid.Leaf) float64 {
	for _, e := range l.Elems {
		if e.Arc && l.Extruded {
			return e.R
		}
	}
	return 0
}

// onLeaf are points of the boundary's edges that lie on a leaf's surface, all extremes
// of straight and round edges square to the leaf among them.
func onLeaf(b *brep.Boundary, l *solid.Leaf) []mesh.Vec {
	const samples = 16 // quarters of a circle, and points between
	var out []mesh.Vec
	for _, f := range b.Faces {
		if !slices.ContainsFunc(l.Patches, func(p solid.Patch) bool { return p.Carrier.ID == f.Carrier.ID && (p.Sign > 0) == f.Negative }) {
			continue
		}
		for _, u := range f.Edges {
			e := u.Edge
			for i := range samples + 1 {
				q := e.Curve.At(e.T0 + (e.T1-e.T0)*float64(i)/samples)
				if l.Box.Contains(q, same) && math.Abs(l.Dist(q)) < same {
					out = append(out, q)
				}
			}
		}
	}
	return out
}

// measure takes a pocket's measures from the box that it fills in its frame.
func (p *Pocket) measure(f *solid.Frame, b mesh.Box) {
	size := b.Hi.Sub(b.Lo)
	mouth := b.Lo.Add(b.Hi).Scale(.5)
	mouth[2] = b.Lo[2]
	p.At, p.Dir, p.Along = f.Global(mouth), f.Z, f.X
	switch {
	case p.Role == mold.RoleStrap:
		p.At, p.Dir, p.Along = mesh.Vec{0, 0, (b.Lo[2] + b.Hi[2]) / 2}, mesh.Vec{}, mesh.Vec{}
		p.Width = size[2]
	case p.Diameter > 0:
		p.Along, p.Depth = mesh.Vec{}, size[2]
		p.At = f.Global(mesh.Vec{0, 0, mouth[2]})
	default:
		p.Length, p.Width, p.Depth = size[0], size[1], size[2]
	}
}
