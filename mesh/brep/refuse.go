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
			return &Refusal{Kind: TouchLine, Names: b.namesAt(e.Mid, e.Carriers...), At: e.Mid}
		default:
			return &InternalError{What: fmt.Sprintf("%d faces meet in an edge of %s", n, strings.Join(b.namesAt(e.Mid, e.Carriers...), " and ")), At: e.Mid}
		}
	}
	for _, t := range b.touches {
		if b.isFace(t.a, t.at) && b.isFace(t.b, t.at) {
			return &Refusal{Kind: TouchPoint, Names: b.namesAt(t.at, t.a.carrier, t.b.carrier), At: t.at}
		}
	}
	return nil
}

// isFace reports whether the solid has a face of s at q.
func (b *builder) isFace(s *surface, q Vec) bool {
	if !s.holds(q, contactTol) {
		return false
	}
	bits := b.root.Beside(s.carrier, q)
	return bits == solid.Below || bits == solid.Above
}

// namesAt lists, without doubles, one leaf for each carrier that has a patch at p.
func (b *builder) namesAt(p Vec, carriers ...*carrier) []string {
	var out []string
	for _, c := range carriers {
		for _, pa := range b.byID[c.ID].patches {
			if pa.Holds(p, 1e-5) {
				if !slices.Contains(out, pa.Leaf.Name) {
					out = append(out, pa.Leaf.Name)
				}
				break
			}
		}
	}
	return out
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
