package region

import (
	"math"

	"wheelmold/mesh/solid"
)

// Area returns the exact area of a face, mm², to about 1e-11 of it.
//
// On a plane it is ½∮ x dy - y dx; on a surface of revolution, with G'(v) = |Pu × Pv|,
// it is -∮ G du by Green's theorem. Along straight lines, circles about the axis and
// meridians that is a closed form, as it is along circles and ellipses in a plane; on
// other curves it is a quadrature (quadrature.go).
func (s *Solid) Area(face int) float64 {
	f := s.Faces[face]
	c := f.Carrier
	ref, total := s.fiberStart(f)
	for _, l := range f.Loops {
		total += s.loopArea(c, s.course(c, l), ref)
	}
	return total
}

// fiberStart is the v from which the fibers of a face are measured, which is its tip if
// a loop closes around it; and the area of the whole surface, where loops are mere holes
// in it.
func (s *Solid) fiberStart(f *Face) (ref, whole float64) {
	c := f.Carrier
	if c.Kind == solid.Plane {
		return 0, 0
	}
	at, _ := tips(c)
	switch {
	case f.cut || !f.Around || f.Wraps == 2:
		return (f.V[0] + f.V[1]) / 2, 0
	case f.Wraps == 1 && f.tip[0]:
		return at[0], 0
	case f.Wraps == 1:
		return at[1], 0
	}
	return f.V[0], 2 * math.Pi * (fiber(c, f.V[1]) - fiber(c, f.V[0]))
}

// fiber is an antiderivative of |Pu × Pv| over v.
func fiber(c *solid.Carrier, v float64) float64 {
	switch c.Kind {
	case solid.Cylinder:
		return c.R0 * v
	case solid.Cone:
		return c.R0*v + c.DR*v*v/2
	}
	return c.M * (c.R0*v + c.M*math.Sin(v))
}

// loopArea is a loop's share of the area on its left, with fibers from ref.
func (s *Solid) loopArea(c *solid.Carrier, w *course, ref float64) float64 {
	total := 0.0
	if c.Kind == solid.Plane {
		o := s.at(w.loop[0], 0)
		for _, u := range w.loop {
			total += s.planeArea(c, u, o)
		}
		return total
	}
	g0 := fiber(c, ref)
	n := len(w.places)
	for i, p := range w.places {
		q := w.places[(i+1)%n]
		if i+1 == n {
			// To where the loop began, one or no turn farther.
			q.u += 2 * math.Pi * float64(w.around)
			q.v += 2 * math.Pi * float64(w.tube)
		}
		if i+1 == n || q.use != p.use { // from one edge to the next, or a turn at a tip
			total -= (fiber(c, (p.v+q.v)/2) - g0) * (q.u - p.u)
		}
	}
	for i, u := range w.loop {
		first, last := w.span(i)
		switch {
		case s.alongMeridian(c, u):
		case s.alongLatitude(c, u):
			total -= (fiber(c, (first.v+last.v)/2) - g0) * (last.u - first.u)
		default:
			if u.Reversed {
				first = last
			}
			total -= s.quadrature(c, u, first, g0)
		}
	}
	return total
}

// span is the first and the last place of a use.
func (w *course) span(use int) (first, last place) {
	i := 0
	for w.places[i].use < use {
		i++
	}
	first = w.places[i]
	for i+1 < len(w.places) && w.places[i+1].use == use {
		i++
	}
	return first, w.places[i]
}

// planeArea is ½∫ x dy - y dx along a use, about o.
func (s *Solid) planeArea(c *solid.Carrier, u Use, o Vec) float64 {
	e := s.Edges[u.Edge]
	x, y := c.Frame.X, c.Frame.Y
	cross := func(p, q Vec) float64 { return p.Dot(x)*q.Dot(y) - q.Dot(x)*p.Dot(y) }
	var a float64
	p, q := e.At(e.T0).Sub(o), e.At(e.T1).Sub(o)
	switch e.Shape {
	case Line:
		a = cross(p, q)
	case Circle, Ellipse:
		turn := math.Copysign(e.A*e.B, e.X.Cross(e.Y).Dot(c.Frame.Z))
		a = turn*(e.T1-e.T0) + cross(e.Center.Sub(o), q.Sub(p))
	default:
		a = e.integrate(func(t float64, _ *place) (g, h float64) {
			r := e.At(t).Sub(o)
			return -2 * r.Dot(y), r.Dot(x)
		}, place{}) + q.Dot(x)*q.Dot(y) - p.Dot(x)*p.Dot(y)
	}
	if u.Reversed {
		a = -a
	}
	return a / 2
}

// alongMeridian reports whether u is constant along a use.
func (s *Solid) alongMeridian(c *solid.Carrier, u Use) bool {
	e := s.Edges[u.Edge]
	switch e.Shape {
	case Line:
		return true // a ruling
	case Circle:
		n := e.X.Cross(e.Y)
		return math.Abs(n.Dot(c.Frame.Z)) < 1e-13 && math.Abs(n.Dot(e.Center.Sub(c.Frame.O))) < 1e-11
	}
	return false
}

// alongLatitude reports whether v is constant along a use.
func (s *Solid) alongLatitude(c *solid.Carrier, u Use) bool {
	e := s.Edges[u.Edge]
	if e.Shape != Circle {
		return false
	}
	d := e.Center.Sub(c.Frame.O)
	return e.X.Cross(e.Y).Cross(c.Frame.Z).Norm() < 1e-13 && d.AddScaled(-d.Dot(c.Frame.Z), c.Frame.Z).Norm() < 1e-11
}

// quadrature is ∫ (G - g0) du along a use of an edge that starts at p.
func (s *Solid) quadrature(c *solid.Carrier, u Use, p place, g0 float64) float64 {
	e := s.Edges[u.Edge]
	a := e.integrate(func(t float64, last *place) (g, h float64) {
		q := place{}
		q.u, q.v = c.UV(e.At(t))
		q = q.after(c, *last, math.NaN())
		*last = q
		return fiber(c, q.v) - g0, q.u
	}, p)
	if u.Reversed {
		a = -a
	}
	return a
}
