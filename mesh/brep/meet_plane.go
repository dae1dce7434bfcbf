package brep

import (
	"math"

	"wheelmold/mesh/solid"
)

// plane meets a carrier of revolution across its axis, along it, or at any angle
// but one that is nearly across.
func (m *meeting) plane(a, b *carrier) {
	n := a.Frame.Z
	cos, sin := n.Dot(b.Frame.Z), n.Cross(b.Frame.Z).Norm()
	switch {
	case b.Kind == solid.Sphere:
		m.planeSphere(a, b)
	case sin < dirTol:
		m.planeAcross(a, b, cos)
	case math.Abs(cos) < dirTol:
		m.planeAlong(a, b)
	case b.Kind == solid.Cylinder:
		m.ellipse(a, b, cos)
	case sin < nearlyAcross:
		m.unsolved = true
	case sin < flatSine:
		m.flat(a, b, cos, sin)
	default:
		m.steep(a, b, cos, sin)
	}
}

const (
	// flatSine: below it a plane is followed around the axis, above it by height.
	// Each is good to twice the rounding of its parameter there.
	flatSine = .5
	// nearlyAcross: a plane as flat as this would run along circles on which
	// patches end, and cross them too gently to fix a point (minSine).
	nearlyAcross = 1e-3
)

func (m *meeting) planeSphere(a, b *carrier) {
	n, c := a.Frame.Z, onAxis(b, b.Z0)
	h := a.D - n.Dot(c)
	foot := c.AddScaled(h, n)
	switch gap := b.M - math.Abs(h); {
	case math.Abs(gap) < tangentGap:
		m.touch(foot)
	case gap > 0:
		m.add(circleAbout(foot, n, math.Sqrt(b.M*b.M-h*h)))
	}
}

// planeAcross cuts b in circles at one height.
func (m *meeting) planeAcross(a, b *carrier, cos float64) {
	z := (a.D - a.Frame.Z.Dot(b.Frame.O)) / cos
	center := onAxis(b, z)
	circle := func(r float64, smooth bool) {
		switch {
		case r > carrierTol:
			c := circleAbout(center, b.Frame.Z, r)
			c.Smooth = smooth
			m.add(c)
		case r > -carrierTol:
			m.touch(center)
		}
	}
	if b.Kind == solid.Cylinder || b.Kind == solid.Cone {
		circle(radiusAt(b, z, 1), false)
		return
	}
	switch gap := b.M - math.Abs(z-b.Z0); {
	case gap < -tangentGap:
	case gap < tangentGap:
		circle(b.R0, true)
	default:
		circle(radiusAt(b, z, 1), false)
		circle(radiusAt(b, z, -1), false)
	}
}

// planeAlong cuts b by a plane parallel to its axis at the distance h.
func (m *meeting) planeAlong(a, b *carrier) {
	n := a.Frame.Z
	h := a.D - n.Dot(b.Frame.O)
	side := n.Cross(b.Frame.Z)
	foot := b.Frame.O.AddScaled(h, n)
	switch {
	case b.Kind == solid.Cylinder:
		m.rulings(foot, side, b, h)
	case math.Abs(h) < dirTol*10:
		m.meridians(b, n, side)
	case b.Kind == solid.Cone:
		m.conic(slant{b, n, side, h, 0})
	default:
		m.spiric(slant{b, n, side, h, 0})
	}
}

func (m *meeting) rulings(foot, side Vec, b *carrier, h float64) {
	gap := b.R0 - math.Abs(h)
	switch {
	case math.Abs(gap) < tangentGap:
		m.add(lineThrough(foot, b.Frame.Z).tangent())
	case gap > 0:
		k := math.Sqrt(b.R0*b.R0 - h*h)
		m.add(lineThrough(foot.AddScaled(k, side), b.Frame.Z))
		m.add(lineThrough(foot.AddScaled(-k, side), b.Frame.Z))
	}
}

// meridians: the plane holds the axis.
func (m *meeting) meridians(b *carrier, n, side Vec) {
	for _, e := range []Vec{side, side.Scale(-1)} {
		if b.Kind == solid.Torus {
			m.add(circleAbout(pointAt(b, e, b.R0, b.Z0), n, b.M))
			continue
		}
		d := e.Scale(b.DR).AddScaled(b.DZ, b.Frame.Z)
		if b.DR < 0 {
			d = d.Scale(-1)
		}
		m.add(rayFrom(apex(b), d))
	}
}

// slant is a plane as a carrier of revolution sees it: at the height z it passes
// the axis at the distance off - z·tilt along x, and runs on along y.
type slant struct {
	*carrier
	x, y      Vec
	off, tilt float64
}

// gap is by how much a circle of radius r at the height z reaches beyond the plane.
func (s slant) gap(z, r float64) float64 { return r - math.Abs(s.off-z*s.tilt) }

// at is where that circle meets the plane, on the side of sign·y.
func (s slant) at(z, r, sign float64) Vec {
	h := s.off - z*s.tilt
	return s.Frame.O.AddScaled(h, s.x).AddScaled(z, s.Frame.Z).AddScaled(sign*math.Sqrt(max(0, r*r-h*h)), s.y)
}

// steep cuts a cone or a torus by a plane that is far from square to its axis.
func (m *meeting) steep(a, b *carrier, cos, sin float64) {
	n := a.Frame.Z
	x := n.AddScaled(-cos, b.Frame.Z).Scale(1 / sin)
	s := slant{b, x, x.Cross(b.Frame.Z), (a.D - n.Dot(b.Frame.O)) / sin, cos / sin}
	if b.Kind == solid.Torus {
		m.spiric(s)
	} else {
		m.conic(s)
	}
}

// conic of a cone, by height.
func (m *meeting) conic(s slant) {
	lo, hi := heights(s.carrier)
	var at []func(float64) Vec
	for _, sign := range []float64{1, -1} {
		at = append(at, func(z float64) Vec { return s.at(z, radiusAt(s.carrier, z, 1), sign) })
	}
	gap := func(z float64) float64 { return s.gap(z, radiusAt(s.carrier, z, 1)) }
	m.trace(family{
		lo: lo, hi: hi,
		sheets: []sheet{{[]func(float64) float64{gap}, at}},
	})
}

// spiric section of a torus, by the angle about its tube.
func (m *meeting) spiric(s slant) {
	circle := func(v float64) (z, r float64) {
		sn, cs := math.Sincos(v)
		return s.Z0 + s.M*sn, s.R0 + s.M*cs
	}
	var at []func(float64) Vec
	for _, sign := range []float64{1, -1} {
		at = append(at, func(v float64) Vec {
			z, r := circle(v)
			return s.at(z, r, sign)
		})
	}
	m.trace(family{
		lo: 0, hi: 2 * math.Pi, periodic: true,
		sheets: []sheet{{[]func(float64) float64{func(v float64) float64 { return s.gap(circle(v)) }}, at}},
	})
}

// flat cuts a cone or a torus by a plane that is nearly across its axis. In the
// half plane at the angle u from the plane's fall line the plane is the straight
// line z = z0 - slope·cos(u)·r, which meets the profile in closed form.
func (m *meeting) flat(a, b *carrier, cos, sin float64) {
	n := a.Frame.Z
	x := n.AddScaled(-cos, b.Frame.Z).Scale(1 / sin)
	y := b.Frame.Z.Cross(x)
	z0, slope := (a.D-n.Dot(b.Frame.O))/cos, sin/cos
	at := func(r func(u float64) float64) func(u float64) Vec {
		return func(u float64) Vec {
			s, c := math.Sincos(u)
			k := r(u)
			return pointAt(b, x.Scale(c).AddScaled(s, y), k, z0-slope*c*k)
		}
	}
	if b.Kind == solid.Torus {
		m.flatTorus(b, z0, slope, at)
	} else {
		m.flatCone(b, z0, slope, at)
	}
}

// byRadius turns a radius over u into points.
type byRadius func(r func(u float64) float64) func(u float64) Vec

func (m *meeting) flatTorus(b *carrier, z0, slope float64, at byRadius) {
	// The line's direction, and the center of the tube along and across it.
	frame := func(u float64) (dr, along, across float64) {
		k := -slope * math.Cos(u)
		dr = 1 / math.Sqrt(1+k*k)
		return dr, (b.R0 + (b.Z0-z0)*k) * dr, (b.R0*k - (b.Z0 - z0)) * dr
	}
	gap := func(u float64) float64 {
		_, _, d := frame(u)
		return b.M - math.Abs(d)
	}
	var sheets []sheet
	for _, sign := range []float64{1, -1} {
		r := func(u float64) float64 {
			dr, t, d := frame(u)
			return (t + sign*math.Sqrt(max(0, b.M*b.M-d*d))) * dr
		}
		sheets = append(sheets, sheet{[]func(float64) float64{gap, r}, []func(float64) Vec{at(r)}})
	}
	m.trace(turn(sheets...))
}

func (m *meeting) flatCone(b *carrier, z0, slope float64, at byRadius) {
	lo, hi := heights(b)
	r := func(u float64) float64 {
		return (b.R0*b.DZ + (z0-b.Z0)*b.DR) / (b.DZ + slope*math.Cos(u)*b.DR)
	}
	z := func(u float64) float64 { return z0 - slope*math.Cos(u)*r(u) }
	m.trace(turn(sheet{
		gaps: []func(float64) float64{
			r,
			func(u float64) float64 { return z(u) - lo },
			func(u float64) float64 { return hi - z(u) },
		},
		at: []func(float64) Vec{at(r)},
	}))
	// The range's ends are no contacts.
	m.touches = nil
}

func (m *meeting) ellipse(a, b *carrier, cos float64) {
	n := a.Frame.Z
	f := family{lo: 0, hi: 2 * math.Pi, periodic: true}
	m.add(f.loop(func(u float64) Vec {
		p := b.P(u, 0)
		return p.AddScaled((a.D-n.Dot(p))/cos, b.Frame.Z)
	}))
}
