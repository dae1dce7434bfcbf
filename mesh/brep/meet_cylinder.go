package brep

import (
	"math"

	"wheelmold/mesh/solid"
)

// cylinder a carries the parameter, its own angle: each of its rulings meets b
// in the roots of a quadratic. Of two cylinders the smaller one carries it.
func (m *meeting) cylinder(a, b *carrier) {
	if b.Kind == solid.Cylinder && b.R0 < a.R0 {
		a, b = b, a
	}
	d, e := a.Frame.Z, b.Frame.Z
	if b.Kind == solid.Sphere {
		m.cylinderSphere(a, b)
		return
	}
	if d.Cross(e).Norm() < dirTol {
		m.cylinderParallel(a, b)
		return
	}
	if b.Kind != solid.Cylinder && math.Abs(d.Dot(e)) > dirTol {
		m.unsolved = true
		return
	}
	m.cylinderCrossing(a, b)
}

// turn returns the family over a cylinder's full turn.
func turn(sheets ...sheet) family {
	return family{lo: 0, hi: 2 * math.Pi, periodic: true, sheets: sheets}
}

// offAxis is the part of p - o across d.
func offAxis(p, o, d Vec) Vec {
	q := p.Sub(o)
	return q.AddScaled(-q.Dot(d), d)
}

func (m *meeting) cylinderSphere(a, b *carrier) {
	d, c := a.Frame.Z, onAxis(b, b.Z0)
	if offAxis(a.Frame.O, c, d).Norm() < carrierTol {
		m.ballOnAxis(a, b, c)
		return
	}
	dist := func(u float64) float64 { return offAxis(a.P(u, 0), c, d).Norm() }
	s := sheet{gaps: []func(float64) float64{func(u float64) float64 { return b.M - dist(u) }}}
	for _, sign := range []float64{1, -1} {
		s.at = append(s.at, func(u float64) Vec {
			p, r := a.P(u, 0), dist(u)
			return p.AddScaled(c.Sub(p).Dot(d)+sign*math.Sqrt(max(0, b.M*b.M-r*r)), d)
		})
	}
	m.trace(turn(s))
}

func (m *meeting) ballOnAxis(a, b *carrier, c Vec) {
	d := a.Frame.Z
	switch gap := b.M - a.R0; {
	case math.Abs(gap) < tangentGap:
		m.add(circleAbout(c, d, a.R0).tangent())
	case gap > 0:
		h := math.Sqrt(b.M*b.M - a.R0*a.R0)
		m.add(circleAbout(c.AddScaled(h, d), d, a.R0))
		m.add(circleAbout(c.AddScaled(-h, d), d, a.R0))
	}
}

func (m *meeting) cylinderParallel(a, b *carrier) {
	switch b.Kind {
	case solid.Cylinder:
		m.parallelCylinders(a, b)
	case solid.Cone:
		m.parallelCone(a, b)
	default:
		m.parallelTorus(a, b)
	}
}

func (m *meeting) parallelCylinders(a, b *carrier) {
	d := a.Frame.Z
	w := offAxis(b.Frame.O, a.Frame.O, d)
	dist := w.Norm()
	x := w.Scale(1 / dist)
	k := (dist*dist + a.R0*a.R0 - b.R0*b.R0) / (2 * dist)
	switch gap := min(a.R0+b.R0-dist, dist-math.Abs(a.R0-b.R0)); {
	case math.Abs(gap) < tangentGap:
		m.add(lineThrough(a.Frame.O.AddScaled(math.Copysign(a.R0, k), x), d).tangent())
	case gap > 0:
		foot := a.Frame.O.AddScaled(k, x)
		y := d.Cross(x).Scale(math.Sqrt(max(0, a.R0*a.R0-k*k)))
		m.add(lineThrough(foot.Add(y), d))
		m.add(lineThrough(foot.Sub(y), d))
	}
}

func (m *meeting) parallelCone(a, b *carrier) {
	e := b.Frame.Z
	height := func(u float64) float64 {
		return b.Z0 + (offAxis(a.P(u, 0), b.Frame.O, e).Norm()-b.R0)*b.DZ/b.DR
	}
	// Only heights in use: a steep cone would be sampled far away.
	lo, hi := heights(b)
	m.trace(turn(sheet{
		gaps: []func(float64) float64{
			func(u float64) float64 { return height(u) - lo },
			func(u float64) float64 { return hi - height(u) },
		},
		at: []func(float64) Vec{func(u float64) Vec {
			p := a.P(u, 0)
			return p.AddScaled(height(u)-p.Sub(b.Frame.O).Dot(e), e)
		}},
	}))
	// The range's ends are no contacts.
	m.touches = nil
}

func (m *meeting) parallelTorus(a, b *carrier) {
	e := b.Frame.Z
	off := func(u float64) float64 { return offAxis(a.P(u, 0), b.Frame.O, e).Norm() - b.R0 }
	s := sheet{gaps: []func(float64) float64{func(u float64) float64 { return b.M - math.Abs(off(u)) }}}
	for _, sign := range []float64{1, -1} {
		s.at = append(s.at, func(u float64) Vec {
			p, r := a.P(u, 0), off(u)
			h := b.Z0 + sign*math.Sqrt(max(0, b.M*b.M-r*r))
			return p.AddScaled(h-p.Sub(b.Frame.O).Dot(e), e)
		})
	}
	m.trace(turn(s))
}

// cylinderCrossing: a ruling of a passes b's axis at the distance |w|, at the
// height h of b (constant along it, or b a cylinder) and meets b where the
// distance from the common normal is √(ρ(h)² - w²).
func (m *meeting) cylinderCrossing(a, b *carrier) {
	d, e := a.Frame.Z, b.Frame.Z
	n := e.Cross(d)
	sin, cos := n.Norm(), d.Dot(e)
	n = n.Scale(1 / sin)
	lo, hi := heights(b)
	hw := func(u float64) (p Vec, h, w, v0 float64) {
		p = a.P(u, 0)
		q := p.Sub(b.Frame.O)
		h, w = q.Dot(e), q.Dot(n)
		return p, h, w, -(q.Dot(d) - cos*h) / (sin * sin)
	}
	var sheets []sheet
	for _, half := range radiusSigns(b) {
		s := sheet{gaps: []func(float64) float64{func(u float64) float64 {
			_, h, w, _ := hw(u)
			return radiusAt(b, h, half) - math.Abs(w)
		}}}
		switch b.Kind {
		case solid.Torus:
			s.gaps = append(s.gaps, func(u float64) float64 {
				_, h, _, _ := hw(u)
				return b.M - math.Abs(h-b.Z0)
			})
		case solid.Cone:
			s.gaps = append(s.gaps, func(u float64) float64 {
				_, h, _, _ := hw(u)
				return min(h-lo, hi-h)
			})
		}
		for _, sign := range []float64{1, -1} {
			s.at = append(s.at, func(u float64) Vec {
				p, h, w, v0 := hw(u)
				r := radiusAt(b, h, half)
				return p.AddScaled(v0+sign*math.Sqrt(max(0, r*r-w*w))/sin, d)
			})
		}
		sheets = append(sheets, s)
	}
	m.trace(turn(sheets...))
}
