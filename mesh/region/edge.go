package region

import (
	"math"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// part is one of the boundary's edges within an edge, and whether it runs against it.
type part struct {
	*brep.Edge
	reversed bool
}

// builder is the work on one solid.
type builder struct {
	*Solid
	named map[*brep.Curve]*Edge
	raw   []Edge   // of each of the boundary's edges, with T as their vertices have it
	parts [][]part // of each edge
	uses  [][]Use  // of each of the boundary's faces
	of    []int    // of each face: the boundary's face that it is a region of

	patches map[int][]*solid.Patch // by carrier
}

// readEdges names every edge of the boundary.
func (b *builder) readEdges() {
	b.raw = make([]Edge, len(b.Boundary.Edges))
	for i, e := range b.Boundary.Edges {
		f0, f1 := b.Boundary.Faces[e.Half[0].Face], b.Boundary.Faces[e.Half[1].Face]
		r := &b.raw[i]
		*r = *b.nameOf(e.Curve, f0.Carrier, f1.Carrier)
		r.V0, r.V1 = e.V0, e.V1
		r.Carriers = [2]*solid.Carrier{f0.Carrier, f1.Carrier}
		b.setRange(r, e)
	}
}

// nameOf names a curve once for all edges on it.
func (b *builder) nameOf(c *brep.Curve, p, q *solid.Carrier) *Edge {
	e := b.named[c]
	if e == nil {
		n := name(c, p, q)
		e = &n
		b.named[c] = e
	}
	return e
}

// setRange sets the parameters of the edge's ends, by its exact vertices.
func (b *builder) setRange(r *Edge, e *brep.Edge) {
	p, q := b.Boundary.Vertices[e.V0], b.Boundary.Vertices[e.V1]
	switch r.Shape {
	case Line:
		r.T0, r.T1 = p.Sub(r.Center).Dot(r.X), q.Sub(r.Center).Dot(r.X)
	case Free:
		r.T0, r.T1 = e.T0, e.T1
	default:
		r.T0 = r.angle(p)
		r.T1 = r.T0
		const steps = 4
		for k := 1; k < steps; k++ {
			r.T1 += solid.WrapAngle(r.angle(e.Curve.At(e.T0+(e.T1-e.T0)*float64(k)/steps)) - r.T1)
		}
		r.T1 += solid.WrapAngle(r.angle(q) - r.T1)
	}
}

// finish gives a line, circle or ellipse its functions.
func (e *Edge) finish() {
	switch e.Shape {
	case Line:
		o, x := e.Center, e.X
		e.At = func(t float64) Vec { return o.AddScaled(t, x) }
		e.Tangent = func(float64) Vec { return x }
	case Circle, Ellipse:
		k := Edge{Center: e.Center, X: e.X, Y: e.Y, A: e.A, B: e.B}
		e.At = k.conicAt
		e.Tangent = func(t float64) Vec {
			s, c := math.Sincos(t)
			return k.X.Scale(-k.A*s).AddScaled(k.B*c, k.Y)
		}
	}
}

// Ends are the vertices that a use of an edge runs from and to.
func (s *Solid) Ends(u Use) (from, to int) {
	e := s.Edges[u.Edge]
	if u.Reversed {
		return e.V1, e.V0
	}
	return e.V0, e.V1
}

// at is the point of a use at the fraction x of its way.
func (s *Solid) at(u Use, x float64) Vec {
	e := s.Edges[u.Edge]
	return e.At(e.along(u, x))
}

// along is the parameter at the fraction x of a use's way.
func (e *Edge) along(u Use, x float64) float64 {
	if u.Reversed {
		x = 1 - x
	}
	switch x {
	case 0:
		return e.T0
	case 1:
		return e.T1
	}
	return e.T0 + (e.T1-e.T0)*x
}

// heading is the unit direction of a use at the fraction x of its way.
func (s *Solid) heading(u Use, x float64) Vec {
	e := s.Edges[u.Edge]
	d := e.Tangent(e.along(u, x)).Unit()
	if u.Reversed {
		return d.Scale(-1)
	}
	return d
}
