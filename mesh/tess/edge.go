package tess

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// edgeSplitter turns an edge into a polyline.
type edgeSplitter struct {
	tol    float64
	faces  []*brep.Face
	walls  []faceWalls
	e      *brep.Edge
	start  Vec          // of the edge
	end    Vec          // of the edge
	breaks []breakAt    // where vertices are needed
	sample []Vec        // points at evenly spaced parameters
	line   []lineVertex // the polyline's vertices, but for the end
	ends   uint8        // sides on whose walls the end stands
	merged bool         // a vertex stands for one that was asked for nearby
}

// sides of an edge, as bits: bit i for Half[i].
type breakAt struct {
	t     float64
	sides uint8 // the faces on whose walls or rows the edge is at t
}

// lineVertex is a vertex of a polyline.
type lineVertex struct {
	Vec
	t     float64
	sides uint8 // the faces on whose walls or rows it stands, if perhaps not exactly
}

// spacing is the least distance between vertices of an edge, mm: eight lattice
// steps, below which they could change order when they are rounded. Where an
// edge crosses walls of its two faces closer to each other, one vertex stands for
// both crossings.
const spacing = 8 * solid.Lattice

// split finds the polyline of an edge, s.line and s.ends, valid until the next
// call: where the edge crosses walls and rows of the faces at its sides, and
// between them as the tolerance demands.
func (s *edgeSplitter) split(e *brep.Edge, start, end Vec) {
	s.e, s.start, s.end = e, start, end
	s.breaks, s.sample = s.breaks[:0], s.sample[:0]
	s.begin()
	if e.Curve.Line && !s.needsBreaks() {
		return
	}
	if !s.parallel() {
		for i := range e.Half {
			s.crossings(i)
		}
	}
	s.rebuild()
	if s.merged { // chords have grown a little
		s.breaks = s.breaks[:0]
		s.rebuild()
	}
}

// begin starts the polyline with the edge's first vertex.
func (s *edgeSplitter) begin() {
	s.line = append(s.line[:0], lineVertex{s.start, s.e.T0, 0})
	s.ends, s.merged = 0, false
}

// need asks for a vertex at t, on walls of the given sides.
func (s *edgeSplitter) need(t float64, sides uint8) {
	if t > s.e.T0 && t < s.e.T1 {
		s.breaks = append(s.breaks, breakAt{t, sides})
	}
}

// sortBreaks orders the breaks and joins those at one place.
func (s *edgeSplitter) sortBreaks() {
	slices.SortFunc(s.breaks, func(a, b breakAt) int {
		if c := cmp.Compare(a.t, b.t); c != 0 {
			return c
		}
		return int(a.sides) - int(b.sides)
	})
	n := 0
	for _, b := range s.breaks {
		if n > 0 && b.t-s.breaks[n-1].t < 1e-12*(s.e.T1-s.e.T0) {
			s.breaks[n-1].sides |= b.sides // walls of both sides cross here
			continue
		}
		s.breaks[n] = b
		n++
	}
	s.breaks = s.breaks[:n]
}

// rebuild makes the polyline anew from its vertices and the breaks.
func (s *edgeSplitter) rebuild() {
	first, ends := s.line[0].sides, s.ends
	for _, v := range s.line {
		s.need(v.t, v.sides)
	}
	s.sortBreaks()
	s.begin()
	s.line[0].sides, s.ends = first, ends
	t := s.e.T0
	for _, b := range s.breaks {
		if b.t > t {
			s.refine(t, b.t, b.sides, 0)
			t = b.t
		}
	}
	s.refine(t, s.e.T1, 0, 0)
}

// needsBreaks: a straight edge needs none but where it crosses rows; on
// cylinders and cones it is a ruling, along a wall if it meets one.
func (s *edgeSplitter) needsBreaks() bool {
	for _, h := range s.e.Half {
		if s.walls[h.Face].rows != nil {
			return true
		}
	}
	return false
}

// put appends the point at t; if it is too near to the vertex before or the end,
// that one stands for it.
func (s *edgeSplitter) put(t float64, sides uint8) {
	if t >= s.e.T1 {
		return
	}
	p := s.e.Curve.At(t)
	last := &s.line[len(s.line)-1]
	switch {
	case p.Dist(s.end) < spacing:
		s.ends |= sides
		s.merged = true
	case p.Dist(last.Vec) < spacing:
		last.sides |= sides
		s.merged = true
	default:
		s.line = append(s.line, lineVertex{p, t, sides})
	}
}

// refine puts points into (a, b] so that no chord is farther from the curve than
// the tolerance, and none turns sharply (a chord across a tiny oval does not).
// The sides are those of b.
func (s *edgeSplitter) refine(a, b float64, sides uint8, depth int) {
	excess := s.excess(a, b)
	if excess <= 1.0001 || depth > 12 {
		s.put(b, sides)
		return
	}
	k := min(64, max(2, int(math.Ceil(math.Sqrt(excess*.98)))))
	for i := 1; i < k; i++ {
		s.refine(a+(b-a)*float64(i-1)/float64(k), a+(b-a)*float64(i)/float64(k), 0, depth+1)
	}
	s.refine(a+(b-a)*float64(k-1)/float64(k), b, sides, depth+1)
}

// excess returns by how much the chord from a to b is farther from the curve
// than it may be: 1 if just as far.
func (s *edgeSplitter) excess(a, b float64) float64 {
	at := s.e.Curve.At
	p, q := at(a), at(b)
	pq := q.Sub(p)
	chord := pq.Norm()
	short := max(chord, 1e-4)
	sag := func(t float64) float64 {
		m := at(t).Sub(p)
		if chord < 1e-4 { // a closed curve, or a stretch too short to matter
			return m.Norm()
		}
		return m.Cross(pq).Norm() / chord
	}
	// 0.13 of the chord is the sagitta of a 60° arc: ovals keep six sides.
	limit := min(s.tol, .13*short)
	if s.e.Curve.Radius == 0 {
		limit *= .98 // it may be bent most between the samples
	}
	x := sag((a+b)/2) / limit
	if x > .15 && x <= 1.0001 && s.e.Curve.Radius == 0 { // it may be bent more on one side
		for _, k := range [4]float64{.12, .3, .7, .88} {
			x = max(x, sag((1-k)*a+k*b)/limit)
		}
	}
	if chord < 1e-4 && x*limit < 1e-3 {
		return 0
	}
	if x <= 1.0001 && chord > 1e-4 {
		x = max(x, s.chartSag(p, q, at((a+b)/2)))
	}
	return x
}

// chartSag is what excess is in the charts in which facets are laid out: near a
// sphere's pole a line straight in angle and latitude swerves from the curve, and
// would cross the outline on its other side if that is near.
func (s *edgeSplitter) chartSag(p, q, mid Vec) float64 {
	x := 0.
	for _, h := range s.e.Half {
		c := s.faces[h.Face].Carrier
		if c.Kind != solid.Sphere || isParallel(s.e, c) {
			continue
		}
		u0, v0 := c.UV(p)
		u1, v1 := c.UV(q)
		x = max(x, c.P(u0+solid.WrapAngle(u1-u0)/2, (v0+v1)/2).Dist(mid)/s.tol)
	}
	return x
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
func (s *edgeSplitter) parallel() bool {
	var c *solid.Carrier // of the row that offers most points
	n, start := 0, 0.
	walled, other := false, false
	for i, h := range s.e.Half {
		switch f, w := s.faces[h.Face], s.walls[h.Face]; {
		case w.none():
		case !isParallel(s.e, f.Carrier):
			other = true
		case w.n > 0:
			s.evenly(f.Carrier, w.n, 0, 1<<i)
			walled = true
		default:
			if k, from := s.rowCount(f.Carrier, w.rows); k > n {
				c, n, start = f.Carrier, k, from
			}
		}
	}
	if n == 0 && !walled {
		return false
	}
	if other { // a circle for one side only: the other side's walls cut it too
		for i := range s.e.Half {
			s.crossings(i)
		}
	}
	if !walled {
		s.evenly(c, n, start, 0)
	}
	return true
}

// rowCount is the lattice for a parallel of a torus or sphere: that of the row
// it lies on, else what facets beside it need.
func (s *edgeSplitter) rowCount(c *solid.Carrier, p *rowPlan) (int, float64) {
	_, v := c.UV(s.e.Curve.At(s.e.T0))
	own := wallCount(s.e.Curve.Radius, s.tol)
	if c.Kind == solid.Torus {
		return own, 0
	}
	if j, on := p.find(v, grain/c.M); on && !p.pole(j) {
		return p.n[j], p.start[j]
	}
	around := 2 * math.Pi * math.Cos(v) * math.Sqrt(c.M/(6*s.tol)) // see sphereRows
	return max(own, roundCount(int(math.Ceil(around)))), 0
}

// evenly asks for vertices at angles start + 2πk/n about c's axis.
func (s *edgeSplitter) evenly(c *solid.Carrier, n int, start float64, sides uint8) {
	step := 2 * math.Pi / float64(n)
	sense := math.Copysign(1, s.e.Curve.Normal.Dot(c.Frame.Z))
	u0, _ := c.UV(s.start)
	a := (u0 - start) / step
	b := a + sense*(s.e.T1-s.e.T0)/step
	for k := math.Ceil(min(a, b) - 1e-9); k <= max(a, b)+1e-9; k++ {
		s.need(s.e.T0+(k-a)*step*sense, sides)
	}
}

// crosses reports whether the edge may cross walls or rows of side i: a ruling
// crosses no wall, and a parallel no row.
func (s *edgeSplitter) crosses(i int) bool {
	f := s.e.Half[i].Face
	w, c := s.walls[f], s.faces[f].Carrier
	return !w.none() && !(w.n > 0 && s.e.Curve.Line) && !isParallel(s.e, c)
}

// crossSamples is how many pieces of an edge are searched for crossings of walls
// and rows. A bulge over a wall and back within a piece goes unseen; if a vertex
// falls on it all the same, the face fails and is tried again finer.
const crossSamples = 32

// crossings asks for vertices where the edge crosses walls or rows of side i.
func (s *edgeSplitter) crossings(i int) {
	if !s.crosses(i) {
		return
	}
	at := func(k int) float64 { return s.e.T0 + (s.e.T1-s.e.T0)*float64(k)/crossSamples }
	if len(s.sample) == 0 {
		for k := 0; k <= crossSamples; k++ {
			s.sample = append(s.sample, s.e.Curve.At(at(k)))
		}
	}
	for k := range crossSamples {
		s.between(i, at(k), at(k+1), s.sample[k], s.sample[k+1])
	}
}

// between asks for vertices between t0 and t1, where the edge passes p and q,
// wherever it crosses a wall or row of side i.
func (s *edgeSplitter) between(i int, t0, t1 float64, p, q Vec) {
	f := s.e.Half[i].Face
	w, c := s.walls[f], s.faces[f].Carrier
	g0 := w.param(c, p)
	g1 := g0 + solid.WrapAngle(w.param(c, q)-g0)
	lo, hi := min(g0, g1), max(g0, g1)
	if hi-lo < 1e-12 {
		return
	}
	const margin = 1e-9 // radians: a crossing at a sample is found from either side
	w.levels(lo-margin, hi+margin, func(level float64) {
		t := root(func(t float64) float64 {
			return solid.WrapAngle(w.param(c, s.e.Curve.At(t)) - level)
		}, t0, t1, g0-level, g1-level)
		s.need(t, 1<<i)
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
