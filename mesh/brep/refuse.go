package brep

import (
	"fmt"
	"slices"
	"strings"

	"wheelmold/mesh/solid"
)

// RefusalKind says why a shape was refused.
type RefusalKind uint8

// Reasons to refuse a shape.
const (
	// TouchLine: features touch along a line or curve, with nothing between.
	TouchLine RefusalKind = iota
	// TouchPoint: features touch in one point.
	TouchPoint
	// NoClosedForm: two curved surfaces meet at an angle for which their curve
	// has no closed form here.
	NoClosedForm
	// NearlyAcross: a section is nearly but not quite square to the axis of a curved
	// surface.
	NearlyAcross
)

// Refusal is a shape that could be made of no material: the builder must move
// or resize a feature.
type Refusal struct {
	Kind  RefusalKind
	Names []string // the leaves that meet, without doubles
	At    Vec      // where, mm

	kinds []solid.Kind
}

// Error names the features and the place.
func (r *Refusal) Error() string {
	at := fmt.Sprintf("at (%.3f, %.3f, %.3f) mm", r.At[0], r.At[1], r.At[2])
	names := strings.Join(r.Names, " and ")
	verb := "touch"
	if len(r.Names) == 1 {
		verb = "touches itself"
	}
	switch r.Kind {
	case TouchLine:
		return fmt.Sprintf("%s %s in a line %s", names, verb, at)
	case TouchPoint:
		return fmt.Sprintf("%s %s in a point %s", names, verb, at)
	case NearlyAcross:
		return fmt.Sprintf("the section cuts %s nearly but not quite square to its axis %s: cut it square", names, at)
	}
	if len(r.kinds) == 2 && len(r.Names) == 2 {
		return fmt.Sprintf("%s (a %s) meets %s (a %s) across its axis %s: make one of them a cylinder, or turn it",
			r.Names[0], r.kinds[0], r.Names[1], r.kinds[1], at)
	}
	return fmt.Sprintf("%s: two of its curved surfaces meet across their axes %s", names, at)
}

// InternalError is a failure of the evaluation itself, not of the shape.
type InternalError struct {
	What string
	At   Vec
}

func (e *InternalError) Error() string {
	return fmt.Sprintf("boundary: %s at (%.6f, %.6f, %.6f) mm", e.What, e.At[0], e.At[1], e.At[2])
}

// refuse drops edges where nothing turns, and refuses those that more than two
// faces share, and isolated contacts.
func (b *builder) refuse() error {
	for _, e := range b.edges {
		switch n := len(e.sides); {
		case n == 0:
		case n == 2 && e.sides[0].faceKey == e.sides[1].faceKey:
			e.sides = nil // the same face on both sides
		case n == 2:
		case n%2 == 0:
			return &Refusal{Kind: TouchLine, Names: b.namesBeside(e), At: e.Mid}
		default:
			return &InternalError{What: fmt.Sprintf("%d faces meet in an edge of %s", n, strings.Join(b.namesBeside(e), " and ")), At: e.Mid}
		}
	}
	for _, t := range b.touches {
		if b.onEdge(t.at) {
			continue // the surfaces go on through the edges there
		}
		qa, a := b.faceNear(t.a, t.at)
		qb, c := b.faceNear(t.b, t.at)
		if a && c {
			names := appendNew(appendNew(nil, t.a.leafAt(qa)), t.b.leafAt(qb))
			return &Refusal{Kind: TouchPoint, Names: names, At: t.at}
		}
	}
	return nil
}

// onEdge reports whether a live edge ends at p.
func (b *builder) onEdge(p Vec) bool {
	for _, e := range b.edges {
		if len(e.sides) == 2 && (b.vertices.points[e.V0].Dist(p) < touchTol || b.vertices.points[e.V1].Dist(p) < touchTol) {
			return true
		}
	}
	return false
}

// faceNear looks for a face of s around its point p and returns a point of it.
func (b *builder) faceNear(s *surface, p Vec) (Vec, bool) {
	if !s.holds(p, contactTol) {
		return p, false
	}
	h := b.clearOf(p, maxSide, touching)
	x, y := solid.Across(s.N(p))
	for _, dir := range [4]Vec{x, y, x.Scale(-1), y.Scale(-1)} {
		q := s.Project(p.AddScaled(h, dir))
		if !s.holds(q, 1e-9) {
			continue
		}
		if bits := b.root.Beside(s.carrier, q); bits == solid.Below || bits == solid.Above {
			return q, true
		}
	}
	return p, false
}

// namesBeside lists the leaves that bear the faces along an edge.
func (b *builder) namesBeside(e *workEdge) []string {
	var out []string
	for _, s := range e.sides {
		out = appendNew(out, b.byID[s.carrier.ID].leafAt(s.q))
	}
	return out
}

// leafAt names the leaf whose patch holds q.
func (s *surface) leafAt(q Vec) string {
	for _, p := range s.patches {
		if p.Holds(q, carrierTol) {
			return p.Leaf.Name
		}
	}
	return s.patches[0].Leaf.Name
}

func appendNew(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// proveApart shows by subdivision that no patch of s comes near one of t, or
// refuses the pair.
func (b *builder) proveApart(s, t *surface) error {
	for _, p := range s.patches {
		for _, q := range t.patches {
			if !p.Box.Overlaps(q.Box, contactTol) {
				continue
			}
			x := Box{}
			for i := range x.Lo {
				x.Lo[i], x.Hi[i] = max(p.Box.Lo[i], q.Box.Lo[i]), min(p.Box.Hi[i], q.Box.Hi[i])
			}
			budget := 1 << 17
			if at, ok := apart(p, q, x, &budget); !ok {
				return &Refusal{
					Kind: NoClosedForm, At: at,
					Names: []string{p.Leaf.Name, q.Leaf.Name},
					kinds: []solid.Kind{s.Kind, t.Kind},
				}
			}
		}
	}
	return nil
}

// apart reports whether no point of the box is common to both patches; else it
// returns a point near both. A budget of boxes bounds the search.
func apart(p, q *solid.Patch, x Box, budget *int) (Vec, bool) {
	c := x.Lo.Add(x.Hi).Scale(.5)
	h := x.Lo.Dist(x.Hi)/2 + contactTol
	if p.Dist(c) > h || q.Dist(c) > h {
		return c, true
	}
	if *budget--; *budget < 0 || h < 1e-3 {
		return c, false
	}
	i := 0
	for k := 1; k < 3; k++ {
		if x.Hi[k]-x.Lo[k] > x.Hi[i]-x.Lo[i] {
			i = k
		}
	}
	low, high := x, x
	low.Hi[i], high.Lo[i] = c[i], c[i]
	if at, ok := apart(p, q, low, budget); !ok {
		return at, false
	}
	return apart(p, q, high, budget)
}
