package region

import (
	"math"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// sameCurve is how far the points of a curve may lie from the line, circle or ellipse
// that it is taken for, mm.
const sameCurve = 1e-9

// samples is into how many parts a curve is cut to see how it runs.
const samples = 32

// name tells what a curve is, whichever carriers meet in it. A curve of the shape Free
// comes without its parameters.
func name(c *brep.Curve, a, b *solid.Carrier) Edge {
	switch {
	case c.Line:
		o := c.At(0)
		return Edge{Shape: Line, Center: o, X: c.At(1).Sub(o).Unit()}
	case c.Radius > 0:
		x, y := solid.Across(c.Normal)
		return Edge{Shape: Circle, Center: c.Center, X: x, Y: y, A: c.Radius, B: c.Radius}
	}
	if n, d, ok := planeOf(c, a, b); ok {
		for _, k := range [2]*solid.Carrier{a, b} {
			e, ok := planeSection(n, d, k, c)
			if ok && e.holds(c) {
				e.follow(c)
				return e
			}
		}
	}
	return Edge{Shape: Free}
}

// inner is the parameter of sample i of n, all of them off the curve's ends, where a
// square root of rounding would show.
func inner(c *brep.Curve, i, n int) float64 {
	return c.T0 + (c.T1-c.T0)*(float64(i)+.5)/float64(n)
}

// planeOf returns the plane n·p = d of a curve that lies in one.
func planeOf(c *brep.Curve, a, b *solid.Carrier) (n Vec, d float64, ok bool) {
	for _, k := range [2]*solid.Carrier{a, b} {
		if k.Kind == solid.Plane {
			return k.Frame.Z, k.D, true
		}
	}
	o, p, q := c.At(inner(c, 0, 16)), c.At(inner(c, 5, 16)), c.At(inner(c, 11, 16))
	n = p.Sub(o).Cross(q.Sub(o))
	if n.Norm() < 1e-9 {
		return n, 0, false
	}
	n = n.Unit()
	d = n.Dot(o)
	for i := range 16 {
		if math.Abs(n.Dot(c.At(inner(c, i, 16)))-d) > sameCurve {
			return n, 0, false
		}
	}
	return n, d, true
}

// level is the sine below which a plane across an axis has no fall line: axes of the
// ellipse then differ by half the square of it.
const level = 1e-6

// planeSection is the ellipse or circle in which the plane cuts a carrier, if it is
// one. With w = p - O and h = w·Z, a cylinder, cone or sphere is
// w·w - α h² - 2β h = γ. In the plane, with e1 along its fall line and e2 level, that is
// λ x² + y² = a² about its center, with λ = 1 - α (Z·e1)².
func planeSection(n Vec, d float64, k *solid.Carrier, c *brep.Curve) (Edge, bool) {
	var alpha, beta, gamma float64
	switch k.Kind {
	case solid.Cylinder:
		alpha, gamma = 1, k.R0*k.R0
	case solid.Cone:
		slope := k.DR / k.DZ
		r := k.R0 - slope*k.Z0
		alpha, beta, gamma = 1+slope*slope, r*slope, r*r
	case solid.Sphere:
		beta, gamma = k.Z0, k.M*k.M-k.Z0*k.Z0
	case solid.Torus:
		return threePoints(c), true
	default:
		return Edge{}, false
	}
	z := k.Frame.Z
	e1 := z.AddScaled(-z.Dot(n), n)
	if e1.Norm() < level {
		e1, _ = solid.Across(n)
	} else { // twice, for the difference of two like vectors is rough
		e1 = e1.Unit()
		e1 = e1.AddScaled(-e1.Dot(n), n).Unit()
	}
	e2 := n.Cross(e1)
	fall := z.Dot(e1)
	lambda := 1 - alpha*fall*fall
	if lambda < 1e-9 {
		return Edge{}, false // a parabola or hyperbola
	}
	p := c.At(inner(c, 7, 16))
	p = p.AddScaled(d-n.Dot(p), n)
	w := p.Sub(k.Frame.O)
	h := w.Dot(z)
	x, y := -(w.Dot(e1)-(alpha*h+beta)*fall)/lambda, -w.Dot(e2)
	a2 := gamma - (w.Dot(w) - alpha*h*h - 2*beta*h) + lambda*x*x + y*y
	if !(a2 > 0) {
		return Edge{}, false
	}
	e := Edge{Shape: Ellipse, Center: p.AddScaled(x, e1).AddScaled(y, e2), X: e1, Y: e2, A: math.Sqrt(a2 / lambda), B: math.Sqrt(a2)}
	if e.A-e.B < sameCurve {
		e.Shape, e.A = Circle, e.B
	}
	return e, true
}

// threePoints is the circle through three points of a curve.
func threePoints(c *brep.Curve) Edge {
	o, p, q := c.At(inner(c, 0, 16)), c.At(inner(c, 5, 16)), c.At(inner(c, 11, 16))
	u, v := p.Sub(o), q.Sub(o)
	n := u.Cross(v)
	m := o.AddScaled(.5/n.Dot(n), n.Cross(u).Scale(v.Dot(v)).Add(v.Cross(n).Scale(u.Dot(u))))
	r := m.Dist(o)
	x := o.Sub(m).Scale(1 / r)
	return Edge{Shape: Circle, Center: m, X: x, Y: n.Unit().Cross(x), A: r, B: r}
}

// holds reports whether the curve's points lie on e.
func (e *Edge) holds(c *brep.Curve) bool {
	for i := range 16 {
		p := c.At(inner(c, i, 16))
		if !(p.Dist(e.conicAt(e.angle(p))) < sameCurve) {
			return false
		}
	}
	return true
}

// follow makes the angle run the same way as the curve.
func (e *Edge) follow(c *brep.Curve) {
	a, b := e.angle(c.At(inner(c, 7, 16))), e.angle(c.At(inner(c, 8, 16)))
	if solid.WrapAngle(b-a) < 0 {
		e.Y = e.Y.Scale(-1)
	}
}

func (e *Edge) conicAt(t float64) Vec {
	s, c := math.Sincos(t)
	return e.Center.AddScaled(e.A*c, e.X).AddScaled(e.B*s, e.Y)
}

// angle is the parameter of a point on a circle or ellipse, in [-π, π].
func (e *Edge) angle(p Vec) float64 {
	q := p.Sub(e.Center)
	return math.Atan2(q.Dot(e.Y)/e.B, q.Dot(e.X)/e.A)
}
