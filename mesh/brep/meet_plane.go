package brep

import (
	"math"

	"wheelmold/mesh/solid"
)

// plane meets a carrier of revolution: across its axis, along it, or (sphere
// and cylinder only) at any angle.
func (m *meeting) plane(a, b *carrier) {
	n := a.Frame.Z
	switch cos := n.Dot(b.Frame.Z); {
	case b.Kind == solid.Sphere:
		m.planeSphere(a, b)
	case n.Cross(b.Frame.Z).Norm() < dirTol:
		m.planeAcross(a, b, cos)
	case math.Abs(cos) < dirTol:
		m.planeAlong(a, b)
	case b.Kind == solid.Cylinder:
		m.ellipse(a, b, cos)
	default:
		m.unsolved = true
	}
}

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
		m.hyperbola(a, b, foot, side, h)
	default:
		m.spiric(a, b, foot, side, h)
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

// hyperbola of a cone, by height.
func (m *meeting) hyperbola(a, b *carrier, foot, side Vec, h float64) {
	lo, hi := heights(b)
	var at []func(float64) Vec
	for _, sign := range []float64{1, -1} {
		at = append(at, func(z float64) Vec {
			r := radiusAt(b, z, 1)
			return foot.AddScaled(z, b.Frame.Z).AddScaled(sign*math.Sqrt(max(0, r*r-h*h)), side)
		})
	}
	gap := func(z float64) float64 { return radiusAt(b, z, 1) - math.Abs(h) }
	m.trace(family{
		lo: lo, hi: hi,
		sheets: []sheet{{[]func(float64) float64{gap}, at}},
	})
}

// spiric section of a torus, by the angle about its tube.
func (m *meeting) spiric(a, b *carrier, foot, side Vec, h float64) {
	var at []func(float64) Vec
	for _, sign := range []float64{1, -1} {
		at = append(at, func(v float64) Vec {
			s, c := math.Sincos(v)
			r := b.R0 + b.M*c
			return foot.AddScaled(b.Z0+b.M*s, b.Frame.Z).AddScaled(sign*math.Sqrt(max(0, r*r-h*h)), side)
		})
	}
	gap := func(v float64) float64 { return b.R0 + b.M*math.Cos(v) - math.Abs(h) }
	m.trace(family{
		lo: 0, hi: 2 * math.Pi, periodic: true,
		sheets: []sheet{{[]func(float64) float64{gap}, at}},
	})
}

func (m *meeting) ellipse(a, b *carrier, cos float64) {
	n := a.Frame.Z
	f := family{lo: 0, hi: 2 * math.Pi, periodic: true}
	m.add(f.loop(func(u float64) Vec {
		p := b.P(u, 0)
		return p.AddScaled((a.D-n.Dot(p))/cos, b.Frame.Z)
	}))
}
