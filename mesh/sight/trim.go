package sight

import (
	"math"
	"slices"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

const (
	// smoothSine: faces that meet at less than this angle go on smoothly. Rounding
	// to the lattice leaves tangent outlines off by 1e-4 or so.
	smoothSine = 1e-3
	// sliver: where faces meet smoothly but for rounding, they turn from the viewer a
	// little apart; what lies between is no line, mm.
	sliver = .05
	// onIt: a point nearer than this to a silhouette lies on it, mm.
	onIt = 1e-5
	// turnSteps samples an edge to see where a face beside it turns.
	turnSteps = 48
)

func outward(f *brep.Face, p vec) vec {
	n := f.Carrier.N(p)
	if f.Negative {
		return n.Scale(-1)
	}
	return n
}

// turns returns the parameters inside the edge at which the face beside it turns from
// the viewer.
func (d *drawing) turns(e *brep.Edge, f *brep.Face) []float64 {
	if e.Curve.Line || f.Carrier.Kind == solid.Plane {
		return nil // constant along it
	}
	var out []float64
	for _, turned := range factors(f.Carrier, d.w) {
		out = append(out, roots(e.T0, e.T1, turnSteps, func(t float64) float64 { return turned(e.Curve.At(t)) })...)
	}
	return out
}

// roots returns where a function passes zero between a and b, and where a sample of
// it is zero beside one that is not.
func roots(a, b float64, steps int, f func(float64) float64) []float64 {
	var out []float64
	at := func(k int) float64 { return a + (b-a)*float64(k)/float64(steps) }
	zero := func(y float64) bool { return math.Abs(y) < edgeOn }
	was := f(a)
	for k := 1; k <= steps; k++ {
		y := f(at(k))
		switch {
		case zero(y) && !zero(was) && k < steps:
			out = append(out, at(k))
		case zero(was) && !zero(y) && k > 1:
			out = append(out, at(k-1))
		case !zero(y) && !zero(was) && (y < 0) != (was < 0):
			out = append(out, bisect(at(k-1), at(k), func(t float64) bool { return (f(t) < 0) == (was < 0) }))
		}
		was = y
	}
	return slices.Compact(out)
}

// bisect is where a condition that holds at a ceases to hold on the way to b.
func bisect(a, b float64, holds func(float64) bool) float64 {
	for range 60 {
		m := (a + b) / 2
		if m == a || m == b {
			break
		}
		if holds(m) {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}

// edge returns the lines that an edge gives: a sharp one as a whole, of a smooth one
// what is a contour.
func (d *drawing) edge(e *brep.Edge, turns []float64) []*stroke {
	slices.Sort(turns)
	whole := d.part(e, e.T0, e.T1)
	whole.turns = turns
	if !d.smooth(e) {
		whole.contour = len(turns) > 0 || d.contour(e, (e.T0+e.T1)/2)
		return []*stroke{whole}
	}
	whole.silhouette = true
	var out []*stroke
	a := e.T0
	for _, b := range append(turns, e.T1) {
		if m := (a + b) / 2; d.contour(e, m) && (len(turns) == 0 || e.Curve.At(a).Dist(e.Curve.At(m)) > sliver) {
			s := d.part(e, a, b)
			s.silhouette, s.contour = true, true
			out = append(out, s)
		}
		a = b
	}
	return out
}

func (d *drawing) part(e *brep.Edge, t0, t1 float64) *stroke {
	c := e.Curve
	s := &stroke{at: c.At, t0: t0, t1: t1, from: c.At(t0), to: c.At(t1),
		line: c.Line, radius: c.Radius, center: c.Center, normal: c.Normal, carriers: e.Carriers}
	if t0 == e.T0 {
		s.from = d.b.Vertices[e.V0]
	}
	if t1 == e.T1 {
		s.to = d.b.Vertices[e.V1]
	}
	return s
}

func (d *drawing) smooth(e *brep.Edge) bool {
	for _, k := range [3]float64{.21, .5, .83} {
		p := e.Curve.At(e.T0 + (e.T1-e.T0)*k)
		a, b := outward(d.b.Faces[e.Half[0].Face], p), outward(d.b.Faces[e.Half[1].Face], p)
		if a.Cross(b).Norm() > smoothSine || a.Dot(b) < 0 {
			return false
		}
	}
	return true
}

// contour reports whether, at t, not both faces beside the edge are turned to the
// viewer, and not both away.
func (d *drawing) contour(e *brep.Edge, t float64) bool {
	p := e.Curve.At(t)
	a, b := outward(d.b.Faces[e.Half[0].Face], p).Dot(d.w), outward(d.b.Faces[e.Half[1].Face], p).Dot(d.w)
	return min(a, b) <= edgeOn && max(a, b) >= -edgeOn
}

// onSilhouette returns the points of an edge at which a silhouette of the face may
// begin: where the face turns, and ends of the edge at which it just does.
func (d *drawing) onSilhouette(f *brep.Face, e *brep.Edge, turns []float64) []vec {
	if f.Carrier.Kind == solid.Plane {
		return nil
	}
	var out []vec
	for _, t := range turns {
		out = append(out, e.Curve.At(t))
	}
	for _, v := range [2]int{e.V0, e.V1} {
		if p := d.b.Vertices[v]; math.Abs(f.Carrier.N(p).Dot(d.w)) < onIt {
			out = append(out, p)
		}
	}
	return out
}

// trim returns the parts of a contour that lie on the face. It leaves the face only at
// the points where the face's border turns; the tree tells which parts are on it.
func (d *drawing) trim(f *brep.Face, c contour, border []vec) []*stroke {
	cuts := slices.Clone(c.starts)
	for _, p := range border {
		if t := c.param(p); c.at(t).Dist(p) < onIt {
			cuts = append(cuts, t)
		}
	}
	slices.Sort(cuts)
	cuts = slices.CompactFunc(cuts, func(a, b float64) bool { return c.at(a).Dist(c.at(b)) < onIt })
	if c.closed {
		if len(cuts) == 0 {
			cuts = []float64{0}
		}
		cuts = append(cuts, cuts[0]+2*math.Pi)
	}
	var out []*stroke
	for i := 1; i < len(cuts); i++ {
		q := c.at((cuts[i-1] + cuts[i]) / 2)
		if bits := d.b.Root.Beside(f.Carrier, q); bits == solid.Below && !f.Negative || bits == solid.Above && f.Negative {
			s := c.stroke
			s.t0, s.t1, s.from, s.to = cuts[i-1], cuts[i], c.at(cuts[i-1]), c.at(cuts[i])
			s.contour, s.silhouette = true, true
			out = append(out, &s)
		}
	}
	return out
}
