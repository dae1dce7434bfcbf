package tess

import (
	"math"
	"slices"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// nearEnd is how close to another vertex of the same edge a point is left out,
// mm: less than grain, so that what it stood for counts as met, and about the
// lattice step, within which vertices would weld.
const nearEnd = 5e-5

// edgeSplitter turns an edge into a polyline.
type edgeSplitter struct {
	tol    float64
	t      []float64 // parameters that need a vertex
	sample []Vec     // points at evenly spaced parameters
	params []float64 // of the polyline
	points []Vec
}

// split returns the inner vertices of the edge's polyline, from V0 to V1, valid
// until the next call: where the edge crosses walls and rows of the faces at its
// sides, and between them as the tolerance demands.
func (s *edgeSplitter) split(e *brep.Edge, end Vec, faces []*brep.Face, walls []faceWalls) []Vec {
	s.params, s.points = s.params[:0], s.points[:0]
	if e.Curve.Line && !needsBreaks(e, faces, walls) {
		return nil
	}
	s.t = append(s.t[:0], e.T0, e.T1)
	s.sample = s.sample[:0]
	if !s.parallel(e, faces, walls) {
		for _, h := range e.Half {
			s.crossings(e, faces[h.Face].Carrier, walls[h.Face])
		}
	}
	slices.Sort(s.t)
	s.params = append(s.params, e.T0)
	s.points = append(s.points, e.Curve.At(e.T0))
	for i := 1; i < len(s.t); i++ {
		if a, b := s.t[i-1], s.t[i]; b > a {
			s.refine(e, a, b, end, 0)
		}
	}
	s.checkCrossings(e, end, faces, walls)
	return s.points[1:]
}

// checkCrossings adds vertices where a chord still crosses a wall or row: a
// bulge over it and back may fall between the samples of crossings, and show up
// only once a vertex lies on the bulge.
func (s *edgeSplitter) checkCrossings(e *brep.Edge, end Vec, faces []*brep.Face, walls []faceWalls) {
	if len(s.sample) == 0 {
		return
	}
	s.t = s.t[:0]
	for _, h := range e.Half {
		w := walls[h.Face]
		c := faces[h.Face].Carrier
		if w.none() || isParallel(e, c) || w.n > 0 && e.Curve.Line {
			continue
		}
		for i, p := range s.points {
			q, t := end, e.T1
			if i+1 < len(s.points) {
				q, t = s.points[i+1], s.params[i+1]
			}
			s.between(e, c, w, s.params[i], t, p, q, 1e-7)
		}
	}
	if len(s.t) == 0 {
		return
	}
	s.t = append(s.t, s.params...)
	slices.Sort(s.t)
	s.params, s.points = s.params[:0], s.points[:0]
	s.params, s.points = append(s.params, e.T0), append(s.points, e.Curve.At(e.T0))
	for _, t := range s.t {
		if t > e.T0 {
			s.put(e, t, end)
		}
	}
}

// needsBreaks: a straight edge needs none but where it crosses rows; on
// cylinders and cones it is a ruling, along a wall if it meets one.
func needsBreaks(e *brep.Edge, faces []*brep.Face, walls []faceWalls) bool {
	for _, h := range e.Half {
		if walls[h.Face].rows != nil {
			return true
		}
	}
	return false
}

// put appends the point at t unless it is too near to the one before or the end.
func (s *edgeSplitter) put(e *brep.Edge, t float64, end Vec) {
	if t >= e.T1 {
		return
	}
	p := e.Curve.At(t)
	if p.Dist(s.points[len(s.points)-1]) > nearEnd && p.Dist(end) > nearEnd {
		s.params, s.points = append(s.params, t), append(s.points, p)
	}
}

// refine puts points into (a, b] so that no chord is farther from the curve than
// the tolerance, and none turns sharply (a chord across a tiny oval does not).
func (s *edgeSplitter) refine(e *brep.Edge, a, b float64, end Vec, depth int) {
	at := e.Curve.At
	A, B, M := at(a), at(b), at((a+b)/2)
	chord := A.Dist(B)
	sag := M.Dist(A)
	if chord > 1e-4 {
		sag = M.Sub(A).Cross(B.Sub(A)).Norm() / chord
	}
	// 0.13 of the chord is the sagitta of a 60° arc: ovals keep six sides.
	excess := max(sag/s.tol, sag/(.13*max(chord, 1e-4)))
	if excess <= 1.0001 || depth > 12 || (chord < 1e-4 && sag < 1e-3) {
		s.put(e, b, end)
		return
	}
	k := min(64, max(2, int(math.Ceil(math.Sqrt(excess*.98)))))
	for i := range k {
		s.refine(e, a+(b-a)*float64(i)/float64(k), a+(b-a)*float64(i+1)/float64(k), end, depth+1)
	}
}

// isParallel reports whether the edge is a circle about c's axis.
func isParallel(e *brep.Edge, c *solid.Carrier) bool {
	q := e.Curve
	if c.Kind == solid.Plane || q.Radius <= 0 {
		return false
	}
	// As brep's and solid's tolerances for one axis: 1e-9 in direction, 1e-7 mm.
	return q.Normal.Cross(c.Frame.Z).Norm() < 1e-9 && q.Center.Sub(c.Frame.O).Cross(c.Frame.Z).Norm() < 1e-7
}

// parallel handles a circle about the axis of a face at its side, on which u is
// linear in t. Walls of a cylinder or cone decide its points; where there are
// none, the row of a torus or sphere, or its own radius. It reports false for
// any other edge.
func (s *edgeSplitter) parallel(e *brep.Edge, faces []*brep.Face, walls []faceWalls) bool {
	type lattice struct {
		c     *solid.Carrier
		n     int
		start float64
	}
	var rowed lattice
	any, other := false, false
	for _, h := range e.Half {
		c, w := faces[h.Face].Carrier, walls[h.Face]
		switch {
		case c.Kind == solid.Plane:
		case !isParallel(e, c):
			other = true
		case w.n > 0:
			s.evenly(e, c, w.n, 0)
			any = true
		default:
			n, start := s.rowCount(e, c, w.rows)
			if n > rowed.n {
				rowed = lattice{c, n, start}
			}
		}
	}
	if rowed.n == 0 && !any {
		return false
	}
	if other { // a circle for one side only: the other side's walls cut it too
		for _, h := range e.Half {
			if c := faces[h.Face].Carrier; !isParallel(e, c) {
				s.crossings(e, c, walls[h.Face])
			}
		}
	}
	if rowed.n > 0 && !any {
		s.evenly(e, rowed.c, rowed.n, rowed.start)
	}
	return true
}

// rowCount is the lattice for a parallel of a torus or sphere: that of the row
// it lies on, else what facets beside it need.
func (s *edgeSplitter) rowCount(e *brep.Edge, c *solid.Carrier, p *rowPlan) (int, float64) {
	_, v := c.UV(e.Curve.At(e.T0))
	own := wallCount(e.Curve.Radius, s.tol)
	j, on := p.find(v, grain/c.M)
	if on && c.Kind == solid.Sphere && p.n[j] > 1 {
		return p.n[j], p.start[j]
	}
	if c.Kind == solid.Sphere {
		cos := math.Cos(v)
		return max(own, roundCount(int(math.Ceil(2*math.Pi*cos*math.Sqrt(c.M/(6*s.tol)))))), 0
	}
	return own, 0
}

// evenly adds the parameters at angles start + 2πk/n about c's axis.
func (s *edgeSplitter) evenly(e *brep.Edge, c *solid.Carrier, n int, start float64) {
	step := 2 * math.Pi / float64(n)
	sense := math.Copysign(1, e.Curve.Normal.Dot(c.Frame.Z))
	u0, _ := c.UV(e.Curve.At(e.T0))
	a := (u0 - start) / step
	b := a + sense*(e.T1-e.T0)/step
	for k := math.Ceil(min(a, b) - 1e-9); k <= max(a, b)+1e-9; k++ {
		if t := e.T0 + (k-a)*step*sense; t > e.T0 && t < e.T1 {
			s.t = append(s.t, t)
		}
	}
}

// crossSamples is how many pieces of an edge are searched for crossings of walls
// and rows. A bulge over a wall and back within a piece goes unseen here.
const crossSamples = 32

// crossings adds the parameters where the edge crosses walls or rows of c.
func (s *edgeSplitter) crossings(e *brep.Edge, c *solid.Carrier, w faceWalls) {
	if w.none() || w.n > 0 && e.Curve.Line || isParallel(e, c) {
		return // a ruling crosses no wall, and a parallel no row
	}
	if len(s.sample) == 0 {
		for k := 0; k <= crossSamples; k++ {
			s.sample = append(s.sample, e.Curve.At(e.T0+(e.T1-e.T0)*float64(k)/crossSamples))
		}
	}
	at := func(k int) float64 { return e.T0 + (e.T1-e.T0)*float64(k)/crossSamples }
	for k := range crossSamples {
		s.between(e, c, w, at(k), at(k+1), s.sample[k], s.sample[k+1], -1e-9)
	}
}

// between adds the parameters between t0 and t1, where the edge passes p and q,
// at which it crosses a wall or row farther than margin (radians) from both.
func (s *edgeSplitter) between(e *brep.Edge, c *solid.Carrier, w faceWalls, t0, t1 float64, p, q Vec, margin float64) {
	g0 := w.param(c, p)
	g1 := g0 + solid.WrapAngle(w.param(c, q)-g0)
	lo, hi := min(g0, g1), max(g0, g1)
	if hi-lo < 1e-12 {
		return
	}
	w.levels(lo+margin, hi-margin, func(level float64) {
		t := root(func(t float64) float64 {
			return solid.WrapAngle(w.param(c, e.Curve.At(t)) - level)
		}, t0, t1, g0-level, g1-level)
		if t > e.T0 && t < e.T1 {
			s.t = append(s.t, t)
		}
	})
}

// levels calls f for every wall or row angle from lo to hi.
func (w faceWalls) levels(lo, hi float64, f func(float64)) {
	if w.n > 0 {
		step := 2 * math.Pi / float64(w.n)
		for k := math.Ceil(lo / step); k*step <= hi; k++ {
			f(k * step)
		}
		return
	}
	p := w.rows
	turn := 0.
	if p.cyclic {
		turn = 2 * math.Pi * math.Floor((lo-p.v[0])/(2*math.Pi))
	}
	j, _ := slices.BinarySearch(p.v, lo-turn)
	for {
		if j == len(p.v) {
			if !p.cyclic {
				return
			}
			j, turn = 0, turn+2*math.Pi
		}
		if p.v[j]+turn > hi {
			return
		}
		f(p.v[j] + turn)
		j++
	}
}

// root finds the zero of g between x and y, where it has the values gx and gy,
// by false position (Illinois), then bisection.
func root(g func(float64) float64, x, y, gx, gy float64) float64 {
	const zero = 1e-13 // radians; at 1 m from the axis 1e-10 mm
	if math.Abs(gx) <= 1e-9 || gx*gy >= 0 && math.Abs(gx) < math.Abs(gy) {
		return x
	}
	if math.Abs(gy) <= 1e-9 || gx*gy >= 0 {
		return y
	}
	for k := 0; k < 60 && y-x > 1e-14*(1+math.Abs(x)); k++ {
		m := (x*gy - y*gx) / (gy - gx)
		if k > 12 || !(m > x && m < y) {
			m = (x + y) / 2
		}
		gm := g(m)
		if math.Abs(gm) < zero {
			return m
		}
		if (gm > 0) == (gx > 0) {
			x, gx, gy = m, gm, gy/2
		} else {
			y, gy, gx = m, gm, gx/2
		}
	}
	return (x + y) / 2
}
