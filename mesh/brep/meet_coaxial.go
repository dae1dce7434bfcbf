package brep

import (
	"math"

	"wheelmold/mesh/solid"
)

// profilePoint is a point common to two profiles in one half plane.
type profilePoint struct {
	r, z   float64
	smooth bool // the profiles are tangent there
}

// coaxial carriers meet in circles, one for each common point of their profiles.
func (m *meeting) coaxial(a, b *carrier) {
	shift := b.Frame.O.Sub(a.Frame.O).Dot(a.Frame.Z)
	for _, q := range profilePoints(a, b, shift) {
		switch c := onAxis(a, q.z); {
		case q.r > carrierTol:
			k := circleAbout(c, a.Frame.Z, q.r)
			k.Smooth = q.smooth
			m.add(k)
		case q.r > -carrierTol:
			m.touch(c)
		}
	}
}

// profileLine is a straight profile: a point and a unit direction.
type profileLine struct{ r, z, dr, dz float64 }

func asLine(c *carrier, shift float64) (profileLine, bool) {
	switch c.Kind {
	case solid.Cylinder:
		return profileLine{c.R0, 0, 0, 1}, true
	case solid.Cone:
		return profileLine{c.R0, c.Z0 + shift, c.DR, c.DZ}, true
	}
	return profileLine{}, false
}

// profilePoints intersects the profiles of a and b, b's raised by shift.
func profilePoints(a, b *carrier, shift float64) []profilePoint {
	la, aStraight := asLine(a, 0)
	lb, bStraight := asLine(b, shift)
	switch {
	case aStraight && bStraight:
		return lineWithLine(la, lb)
	case aStraight:
		return lineWithArc(la, b, shift)
	case bStraight:
		return lineWithArc(lb, a, 0)
	}
	return arcWithArc(a, b, shift)
}

func lineWithLine(a, b profileLine) []profilePoint {
	det := a.dr*b.dz - a.dz*b.dr
	if math.Abs(det) < dirTol {
		return nil
	}
	t := ((b.r-a.r)*b.dz - (b.z-a.z)*b.dr) / det
	return []profilePoint{{r: a.r + t*a.dr, z: a.z + t*a.dz}}
}

func lineWithArc(l profileLine, c *carrier, shift float64) []profilePoint {
	z0 := c.Z0 + shift
	t := (c.R0-l.r)*l.dr + (z0-l.z)*l.dz
	r, z := l.r+t*l.dr, l.z+t*l.dz
	d := math.Hypot(r-c.R0, z-z0)
	switch {
	case d > c.M+tangentGap:
		return nil
	case d > c.M-tangentGap:
		return []profilePoint{{r, z, true}}
	}
	h := math.Sqrt(c.M*c.M - d*d)
	return []profilePoint{{r + h*l.dr, z + h*l.dz, false}, {r - h*l.dr, z - h*l.dz, false}}
}

func arcWithArc(a, b *carrier, shift float64) []profilePoint {
	dr, dz := b.R0-a.R0, b.Z0+shift-a.Z0
	d := math.Hypot(dr, dz)
	if d < carrierTol {
		return nil
	}
	dr, dz = dr/d, dz/d
	k := (d*d + a.M*a.M - b.M*b.M) / (2 * d)
	r, z := a.R0+k*dr, a.Z0+k*dz
	switch gap := min(a.M+b.M-d, d-math.Abs(a.M-b.M)); {
	case gap < -tangentGap:
		return nil
	case gap < tangentGap:
		return []profilePoint{{r, z, true}}
	}
	h := math.Sqrt(max(0, a.M*a.M-k*k))
	return []profilePoint{{r - h*dz, z + h*dr, false}, {r + h*dz, z - h*dr, false}}
}
