package brep

import (
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// Contacts in closed form. Most curves of a mold are lines and circles, most
// surfaces planes and cylinders; the search along a track is for the others.

// closed finds the contacts of the track with the carrier in closed form, and
// reports whether that is possible. The track does not lie on the carrier.
func (s *seeker) closed(tr *track, c *carrier) bool {
	switch {
	case c.Kind == solid.Plane:
		return s.plane(tr, c.Frame.Z, c.D)
	case tr.Line:
		return c.Kind == solid.Cylinder && s.lineCylinder(tr, c)
	case tr.Radius > 0 && tr.Normal.Cross(c.Frame.Z).Norm() < parallelSine:
		return s.parallelCircle(tr, c)
	}
	return false
}

// parallelSine is the sine below which two directions are one: a track of 1 m
// then strays by 1e-9 mm.
const parallelSine = 1e-12

func (s *seeker) reset(tr *track) { s.at, s.roots = tr.At, s.roots[:0] }

// plane finds the contacts of a line or circle with a plane in closed form. It
// reports whether the track is one of them.
func (s *seeker) plane(tr *track, n Vec, d float64) bool {
	s.reset(tr)
	switch {
	case tr.Line:
		if k := n.Dot(tr.dir); math.Abs(k) > 1e-12 {
			if t := (d - n.Dot(tr.At(0))) / k; t >= tr.T0 && t <= tr.T1 {
				s.roots = append(s.roots, t)
			}
		}
		return true
	case tr.Radius > 0:
		x, y := solid.Across(tr.Normal)
		a, b, c := tr.Radius*n.Dot(x), tr.Radius*n.Dot(y), d-n.Dot(tr.Center)
		s.harmonic(a, b, c, math.Sqrt(a*a+b*b))
		return true
	}
	return false
}

// harmonic adds the roots of a·cos t + b·sin t = c, with r = √(a²+b²); lengths in
// mm, so that a contact flatter than flatF is one.
func (s *seeker) harmonic(a, b, c, r float64) {
	switch gap := r - math.Abs(c); {
	case gap < -flatF || r < tangentGap:
	case gap <= flatF:
		s.roots = append(s.roots, inTurn(math.Atan2(c*b, c*a)))
	default:
		mid, half := math.Atan2(b, a), math.Atan2(math.Sqrt((r-c)*(r+c)), c)
		s.roots = append(s.roots, inTurn(mid-half), inTurn(mid+half))
		slices.Sort(s.roots)
	}
}

// lineCylinder: across the cylinder's axis the line passes it at a distance h,
// and is within its radius for the half chord √(R²-h²) on either side.
func (s *seeker) lineCylinder(tr *track, c *carrier) bool {
	s.reset(tr)
	axis := c.Frame.Z
	w, d := tr.At(0).Sub(c.Frame.O), tr.dir
	w, d = w.AddScaled(-w.Dot(axis), axis), d.AddScaled(-d.Dot(axis), axis)
	speed := d.Norm() // of the line seen along the axis
	if speed < parallelSine {
		return true
	}
	mid := -w.Dot(d) / (speed * speed)
	h := w.AddScaled(mid, d).Norm()
	add := func(t float64) {
		if t >= tr.T0 && t <= tr.T1 {
			s.roots = append(s.roots, t)
		}
	}
	switch gap := c.R0 - h; {
	case gap < -flatF:
	case gap <= flatF:
		add(mid)
	default:
		half := math.Sqrt(gap*(c.R0+h)) / speed
		add(mid - half)
		add(mid + half)
	}
	return true
}

// parallelCircle: about the carrier's own axis a circle keeps its distance;
// about a parallel one it meets a cylinder where two circles meet.
func (s *seeker) parallelCircle(tr *track, c *carrier) bool {
	s.reset(tr)
	w := tr.Center.Sub(c.Frame.O)
	w = w.AddScaled(-w.Dot(c.Frame.Z), c.Frame.Z)
	d := w.Norm()
	if d < parallelSine*1e3 {
		return true
	}
	if c.Kind != solid.Cylinder || d < tangentGap {
		return false
	}
	// The point at angle t lies √(d² + r² + 2r(w·x cos t + w·y sin t)) from the
	// axis. Divided by 2R, the equation is one of distances to first order.
	x, y := solid.Across(tr.Normal)
	k := tr.Radius / c.R0
	a, b := k*w.Dot(x), k*w.Dot(y)
	s.harmonic(a, b, ((c.R0-d)*(c.R0+d)-tr.Radius*tr.Radius)/(2*c.R0), k*d)
	return true
}

// inTurn returns x less the multiple of 2π that brings it to [0, 2π).
func inTurn(x float64) float64 { return x - 2*math.Pi*math.Floor(x/(2*math.Pi)) }
