package holes

import (
	"fmt"
	"math"
	"slices"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
)

// roles are those of holes. Bolt holes come first, since all else is placed around them.
var roles = []string{mold.RoleBolt, hub.RoleKeepOut, mold.RoleJack, mold.RoleBall, hub.RoleLock, mold.RoleSprue, mold.RoleVent}

// Of lists the holes of a piece by mark, from its exact boundary as it leaves the machine.
// A hole through the piece is drilled from its wider end; one that is tapped from where
// its thread begins; sprues and vents from above; another one alike at both ends from the
// parting face, and where both or neither end lies on one, from above.
func Of(m *mold.Mold, piece string, b *brep.Boundary) ([]Hole, error) {
	p, ok := m.Piece(piece)
	if !ok {
		return nil, fmt.Errorf("the mold has no piece %q", piece)
	}
	r := &reader{m: m, piece: p, root: b.Root, leaves: b.Root.Leaves()}
	var out []Hole
	for _, l := range linesOf(b) {
		for _, run := range r.runs(l) {
			h, err := r.hole(l, run)
			if err != nil {
				return nil, err
			}
			out = append(out, h)
		}
	}
	mark(out)
	return out, nil
}

// reader knows the piece whose holes are read.
type reader struct {
	m      *mold.Mold
	piece  mold.Piece
	root   *solid.Node
	leaves []*solid.Leaf
}

// line is an axis with all walls around it. Heights are measured along it from its
// frame's origin.
type line struct {
	frame solid.Frame
	walls []wall
}

func (l *line) at(h float64) mesh.Vec { return l.frame.O.AddScaled(h, l.frame.Z) }

// height of a point along the line.
func (l *line) height(p mesh.Vec) float64 { return p.Sub(l.frame.O).Dot(l.frame.Z) }

// wall is a face around the line whose material lies outside of it.
type wall struct {
	face *brep.Face
	lift float64 // height of its carrier's origin
}

// radius of the wall at a height.
func (w *wall) radius(h float64) float64 {
	c := w.face.Carrier
	if c.Kind == solid.Cylinder {
		return c.R0
	}
	return c.R0 + (h-w.lift-c.Z0)/c.DZ*c.DR
}

// point of the wall's carrier at a height and an angle.
func (w *wall) point(u, h float64) mesh.Vec {
	c := w.face.Carrier
	if c.Kind == solid.Cylinder {
		return c.P(u, h-w.lift)
	}
	return c.P(u, (h-w.lift-c.Z0)/c.DZ)
}

// linesOf gathers by axis the faces that may be walls of holes.
func linesOf(b *brep.Boundary) []*line {
	var out []*line
	for _, f := range b.Faces {
		c := f.Carrier
		if c.Kind != solid.Cylinder && c.Kind != solid.Cone || !f.Negative || !slices.ContainsFunc(f.Roles, isHole) {
			continue
		}
		i := slices.IndexFunc(out, func(l *line) bool { return solid.Coaxial(l.walls[0].face.Carrier, c) })
		if i < 0 {
			i = len(out)
			out = append(out, &line{frame: c.Frame})
		}
		out[i].walls = append(out[i].walls, wall{f, out[i].height(c.Frame.O)})
	}
	return out
}

func isHole(role string) bool { return slices.Contains(roles, role) }

// same: heights that differ by less are one, mm; far below the lattice, far above
// rounding.
const same = 1e-6

// span is a range of heights in which one wall stands around the line.
type span struct {
	lo, hi float64
	wall   *wall
	leaf   *solid.Leaf
	role   string
	share  float64  // of the turn that the wall takes
	middle mesh.Vec // sum of the directions toward it: near zero where it goes all around
}

// runs are the holes along a line, each as its spans from the lowest up.
func (r *reader) runs(l *line) [][]span {
	var out [][]span
	end := math.Inf(-1)
	hs := l.breaks()
	for i := range len(hs) - 1 {
		s, ok := r.span(l, hs[i], hs[i+1])
		if !ok {
			continue
		}
		if s.lo > end {
			out = append(out, nil)
		}
		k := len(out) - 1
		if n := len(out[k]); n > 0 && out[k][n-1].wall == s.wall {
			out[k][n-1].join(s)
		} else {
			out[k] = append(out[k], s)
		}
		end = s.hi
	}
	return out
}

// join adds the span above; what opens through an oblique face is whole below it.
func (s *span) join(t span) {
	s.hi = t.hi
	if t.share > s.share {
		s.share, s.middle = t.share, t.middle
	}
}

// breaks are the heights at which walls begin, end or change, ascending.
func (l *line) breaks() []float64 {
	var hs []float64
	for i := range l.walls {
		for _, e := range l.walls[i].face.Edges {
			lo, hi := l.reach(e.Edge)
			hs = append(hs, lo, hi)
		}
	}
	slices.Sort(hs)
	return slices.CompactFunc(hs, func(a, b float64) bool { return math.Abs(b-a) < same })
}

// reach is the range of heights of an edge: exact of lines and of circles around the
// line, else sampled, closely enough to tell spans apart.
func (l *line) reach(e *brep.Edge) (lo, hi float64) {
	const samples = 64
	n := samples
	if e.Curve.Line || e.Curve.Radius > 0 && e.Curve.Normal.Cross(l.frame.Z).Norm() < 1e-9 {
		n = 1
	}
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range n + 1 {
		h := l.height(e.Curve.At(e.T0 + (e.T1-e.T0)*float64(i)/float64(n)))
		lo, hi = min(lo, h), max(hi, h)
	}
	return lo, hi
}

// span tells which wall, if any, stands between two heights: the one that takes most of
// the turn.
func (r *reader) span(l *line, lo, hi float64) (s span, ok bool) {
	for i := range l.walls {
		t := span{lo: lo, hi: hi, wall: &l.walls[i]}
		r.look(l, &t)
		if t.share > s.share {
			s = t
		}
	}
	return s, s.share > 0
}

// look finds how much of the turn a wall takes in the middle of its span, by asking at
// angles that no feature is likely to prefer.
func (r *reader) look(l *line, s *span) {
	const around, off = 24, 0.0817
	h := (s.lo + s.hi) / 2
	c := s.wall.face.Carrier
	for i := range around {
		q := s.wall.point(off+2*math.Pi*float64(i)/around, h)
		if r.root.Beside(c, q) != solid.Above {
			continue
		}
		leaf, role := r.bearer(c, q)
		if leaf == nil {
			continue
		}
		s.leaf, s.role = leaf, role
		s.share += 1. / around
		s.middle = s.middle.AddScaled(1./around, q.Sub(l.at(h)).Unit())
	}
}

// bearer is the leaf whose round wall passes through q. One of many sides with an arc
// in its outline, a rounded corner, makes no hole.
func (r *reader) bearer(c *solid.Carrier, q mesh.Vec) (*solid.Leaf, string) {
	for _, l := range r.leaves {
		for i := range l.Patches {
			p := &l.Patches[i]
			if p.Carrier.ID == c.ID && isHole(p.Role) && p.Holds(q, same) && roundAbout(l, c) {
				return l, p.Role
			}
		}
	}
	return nil, ""
}

func roundAbout(l *solid.Leaf, c *solid.Carrier) bool {
	return !l.Extruded || !slices.ContainsFunc(l.Elems, func(e solid.Elem) bool { return e.Carrier != c })
}
