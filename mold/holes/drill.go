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

// end is one end of a hole.
type end struct {
	h          float64 // where the axis meets what it opens to, or its floor
	edge, deep float64 // the outermost and the innermost height of its mouth
	out        float64 // 1 at the upper end, -1 at the lower
	radius     float64
	open       bool
	oblique    bool // the face that it opens to is not square to the axis
	met        bool // h is where the axis meets that face
}

// hole turns the spans of a run into a hole as it is drilled.
func (r *reader) hole(l *line, run []span) (Hole, error) {
	first, last := &run[0], &run[len(run)-1]
	low, high := r.end(l, first, -1), r.end(l, last, 1)
	h := Hole{Name: r.name(first.leaf), Role: first.role, Through: low.open && high.open}
	if !low.open && !high.open {
		return h, fmt.Errorf("%s of %s opens to no side", h.Name, r.piece.Name)
	}
	jack := r.jack(h.Name)
	from, to := high, low
	if r.fromBelow(l, &h, low, high, jack) {
		from, to = low, high
	} else {
		slices.Reverse(run)
	}
	h.At, h.Dir = l.at(from.h), mesh.Vec{}.AddScaled(-from.out, l.frame.Z)
	for i := range run {
		h.Steps = append(h.Steps, step(&run[i], from, i == 0, to, i == len(run)-1))
	}
	h.Half = !slices.ContainsFunc(run, func(s span) bool { return s.share > mostOfHalf })
	if jack != nil {
		h.Thread, h.ThreadDepth = r.m.Job.Mold.Jacks.Size, h.Depth()
		if jack.Wide > 0 {
			h.ThreadDepth = h.Steps[0].To
		}
	}
	return h, nil
}

// mostOfHalf is the share of the turn that the wall of half a hole takes at most: stock
// makes it less, a whole hole has all.
const mostOfHalf = 0.8

// step is a span as it is measured from the opening.
func step(s *span, from end, first bool, to end, last bool) Step {
	a, b := s.hi, s.lo
	if from.out < 0 {
		a, b = b, a
	}
	if first {
		a = from.h
	}
	if last {
		b = to.h
	}
	return Step{math.Abs(a - from.h), math.Abs(b - from.h), 2 * s.wall.radius(a), 2 * s.wall.radius(b)}
}

// end finds where the axis meets what bounds a run above or below.
func (r *reader) end(l *line, s *span, out float64) end {
	e := end{h: s.hi, out: out}
	if out < 0 {
		e.h = s.lo
	}
	e.edge = e.h
	for _, c := range l.mouth(s.wall.face, &e) {
		e.oblique = true
		if h, ok := l.meets(c, e); ok && (!e.met || (h-e.h)*out > 0) {
			e.h, e.met = h, true
		}
	}
	e.radius = s.wall.radius(e.h)
	// Half a hole lies beside its axis, which runs along the piece's face.
	const beyond = 1e-3
	p := l.at(e.h + out*beyond)
	if n := s.middle.Norm(); n > 0.1 {
		p = p.AddScaled(e.radius/2/n, s.middle)
	}
	e.open = !r.root.Contains(p)
	return e
}

// mouth finds between which heights a hole opens, and the surfaces to which it does so,
// if that is not square to its axis.
func (l *line) mouth(wall *brep.Face, e *end) []*solid.Carrier {
	type rim struct {
		c      *solid.Carrier
		lo, hi float64 // inward from the end
	}
	var rims []rim
	e.deep = e.h
	for _, u := range wall.Edges {
		if u.Edge.Curve.Line {
			continue
		}
		lo, hi := l.reach(u.Edge)
		if e.out > 0 {
			lo, hi = hi, lo
		}
		rims = append(rims, rim{across(u.Edge, wall.Carrier), lo, hi})
		if math.Abs(lo-e.h) < same && (hi-e.deep)*e.out < 0 {
			e.deep = hi
		}
	}
	if math.Abs(e.deep-e.h) < same {
		return nil
	}
	var out []*solid.Carrier
	for _, r := range rims {
		if (r.lo-e.deep)*e.out > -same {
			out = append(out, r.c)
		}
	}
	return out
}

// across is the carrier on the other side of an edge.
func across(e *brep.Edge, c *solid.Carrier) *solid.Carrier {
	i := slices.IndexFunc(e.Carriers, func(x *solid.Carrier) bool { return x.ID != c.ID })
	if i < 0 {
		return c
	}
	return e.Carriers[i]
}

// meets is the height within a hole's mouth at which the line meets a surface.
func (l *line) meets(c *solid.Carrier, e end) (float64, bool) {
	const slack = 1e-3 // where the line runs along the border of two surfaces, by the lattice
	lo, hi := min(e.edge, e.deep)-slack, max(e.edge, e.deep)+slack
	side := c.F(l.at(lo)) > 0
	if side == (c.F(l.at(hi)) > 0) {
		return 0, false
	}
	for range 60 { // to the last bit of a meter
		if mid := (lo + hi) / 2; c.F(l.at(mid)) > 0 == side {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2, true
}

// fromBelow tells from which end of its line a hole is drilled (see Of).
func (r *reader) fromBelow(l *line, h *Hole, low, high end, jack *mold.Jack) bool {
	switch {
	case low.open != high.open:
		return low.open
	case jack != nil:
		return math.Abs(l.height(jack.At)-low.h) < math.Abs(l.height(jack.At)-high.h)
	case h.Role == mold.RoleSprue || h.Role == mold.RoleVent:
		return l.frame.Z[2] < 0
	case math.Abs(low.radius-high.radius) > same:
		return low.radius > high.radius
	case low.oblique != high.oblique:
		return high.oblique
	}
	if along := r.piece.Pull.Dot(l.frame.Z); math.Abs(along) > same {
		return along > 0
	}
	return l.frame.Z.Dot(mesh.Vec{0, 0, 1}) < -same
}

// name of the feature that a leaf is part of.
func (r *reader) name(l *solid.Leaf) string {
	for i := range r.m.Split.Cuts {
		if c := &r.m.Split.Cuts[i]; c.Name == l.Name {
			return c.Group
		}
	}
	if l.Name == "hub" {
		return "bore"
	}
	return l.Name
}

// jack is the jack screw of that name; nil of other holes.
func (r *reader) jack(name string) *mold.Jack {
	for i := range r.m.Layout.Jacks {
		if j := &r.m.Layout.Jacks[i]; j.Name == name {
			return j
		}
	}
	return nil
}
