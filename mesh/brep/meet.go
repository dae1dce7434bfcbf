package brep

import (
	"math"

	"wheelmold/mesh/solid"
)

// meeting is everything that two carriers have in common.
type meeting struct {
	tracks  []*track
	touches []Vec // isolated points of contact
	// unsolved: the pair has no closed form here; its patches must be shown to
	// stay apart.
	unsolved bool
}

func (m *meeting) add(c *Curve)        { m.tracks = append(m.tracks, newTrack(c)) }
func (m *meeting) touch(p Vec)         { m.touches = append(m.touches, p) }
func onAxis(c *carrier, h float64) Vec { return c.Frame.O.AddScaled(h, c.Frame.Z) }

type carrier = solid.Carrier

// meet intersects two carriers in closed form along a parameter of one of them.
func meet(a, b *carrier) *meeting {
	m := &meeting{}
	if a.Kind > b.Kind {
		a, b = b, a
	}
	switch {
	case b.Kind == solid.Plane:
		m.planes(a, b)
	case a.Kind == solid.Plane:
		m.plane(a, b)
	case solid.Coaxial(a, b):
		m.coaxial(a, b)
	case a.Kind == solid.Sphere:
		m.spheres(a, b)
	case a.Kind == solid.Cylinder:
		m.cylinder(a, b)
	default:
		m.slices(a, b)
	}
	return m
}

func (m *meeting) planes(a, b *carrier) {
	na, nb := a.Frame.Z, b.Frame.Z
	d := na.Cross(nb)
	if d.Norm() < dirTol {
		return
	}
	o := nb.Cross(d).Scale(a.D).AddScaled(b.D, d.Cross(na)).Scale(1 / d.Dot(d))
	m.add(lineThrough(o, d))
}

func (m *meeting) spheres(a, b *carrier) {
	ca, cb := onAxis(a, a.Z0), onAxis(b, b.Z0)
	d := ca.Dist(cb)
	if d < carrierTol {
		return
	}
	n := cb.Sub(ca).Scale(1 / d)
	k := (d*d + a.M*a.M - b.M*b.M) / (2 * d)
	foot := ca.AddScaled(k, n)
	switch gap := min(a.M+b.M-d, d-math.Abs(a.M-b.M)); {
	case math.Abs(gap) < tangentGap:
		m.touch(foot)
	case gap > 0:
		m.add(circleAbout(foot, n, math.Sqrt(max(0, a.M*a.M-k*k))))
	}
}

// radiusAt is the radius of a carrier of revolution at height h of its own
// frame; sign picks the outer (+1) or inner (-1) half of a torus.
func radiusAt(c *carrier, h, sign float64) float64 {
	switch c.Kind {
	case solid.Cylinder:
		return c.R0
	case solid.Cone:
		return c.R0 + (h-c.Z0)*c.DR/c.DZ
	}
	return c.R0 + sign*math.Sqrt(max(0, c.M*c.M-(h-c.Z0)*(h-c.Z0)))
}

// halves lists the signs for radiusAt that can give a positive radius.
func radiusSigns(c *carrier) []float64 {
	if c.Kind == solid.Torus && c.R0 > 0 {
		return []float64{1, -1}
	}
	return []float64{1}
}

// reachesAxis reports whether radiusAt may fall to zero and below.
func reachesAxis(c *carrier) bool {
	return c.Kind == solid.Cone || c.Kind == solid.Torus && c.R0 < c.M
}

// heights is the range of heights in use, in c's own frame, widened by odd
// amounts so that no curve ends where a patch does.
func heights(c *carrier) (lo, hi float64) { return c.H0 - .1234, c.H1 + .1321 }

// apex is the tip of a cone.
func apex(c *carrier) Vec { return onAxis(c, c.Z0-c.R0*c.DZ/c.DR) }

// pointAt is the point of the half plane along e at (r, z) of c's frame.
func pointAt(c *carrier, e Vec, r, z float64) Vec { return onAxis(c, z).AddScaled(r, e) }
