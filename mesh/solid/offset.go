package solid

import "math"

// Offset returns an outline whose every segment lies d further out, to the right of
// the way that the outline runs: lines parallel, arcs about the same center. Corners
// are mitered; arcs that curve outward go on along their circle up to there, those
// that curve inward straight, since their own circle would turn away. An open outline
// runs from the first corner to the last, whose own segment counts for nothing, and
// its ends move square to it. A line along r or z stays on an exact one.
//
// It is not ok where a segment has no length left, and two arcs that meet in a corner
// must meet smoothly.
func (p Profile) Offset(d float64, closed bool) (Profile, bool) {
	runs := p.runs(closed)
	n := len(runs)
	corners := make([]Point2, n+1)
	ok := true
	for i := range runs {
		s := &runs[i]
		if i == 0 && !closed {
			corners[0] = s.out(s.a, d)
		}
		switch u := &runs[(i+1)%n]; {
		case i+1 < n || closed:
			var met bool
			corners[i+1], met = miter(s, u, d)
			ok = ok && met
		default:
			corners[n] = s.out(s.b, d)
		}
	}
	if closed {
		corners[0] = corners[n]
	}
	var out Profile
	for i := range runs {
		s := &runs[i]
		if s.led && corners[i] == corners[i+1] { // the arc went on smoothly anyway
			continue
		}
		ok = ok && s.keeps(corners[i], corners[i+1], d)
		out = append(out, Corner{P: corners[i], Arc: s.arc, C: s.c, CCW: s.ccw, Role: s.role})
	}
	if !closed {
		out = append(out, Corner{P: corners[n]})
	}
	return out, ok
}

// run is one segment of an outline while it is moved: a line through a, or an arc.
type run struct {
	a, b Point2
	dir  Point2 // of a line
	arc  bool
	c    Point2
	r    float64
	ccw  bool
	role string
	led  bool // a lead
}

// runs are the segments of an outline, with leads before and after arcs that curve
// inward: lines that have no length before they are moved.
func (p Profile) runs(closed bool) []run {
	var out []run
	n := len(p)
	if !closed {
		n--
	}
	for i := range n {
		c, b := p[i], p[(i+1)%len(p)].P
		s := run{a: c.P, b: b, arc: c.Arc, c: c.C, ccw: c.CCW, role: c.Role}
		if !s.arc {
			h := math.Hypot(b[0]-c.P[0], b[1]-c.P[1])
			if h == 0 {
				continue
			}
			s.dir = Point2{(b[0] - c.P[0]) / h, (b[1] - c.P[1]) / h}
			out = append(out, s)
			continue
		}
		s.r = math.Hypot(c.P[0]-c.C[0], c.P[1]-c.C[1])
		if s.ccw {
			out = append(out, s)
			continue
		}
		in, to := s.lead(s.a), s.lead(s.b)
		s.a, s.b = in.a, to.a
		out = append(out, in, s, to)
	}
	return out
}

// level is the slope below which a lead is laid level, so that it sweeps a plane and
// not a cone that is nearly one: the arc then ends at its crest, less than r·1e-6
// further out or in.
const level = 1e-3

// lead is the line that goes on from an arc at p.
func (s *run) lead(p Point2) run {
	t := s.tangent(p)
	if math.Abs(t[1]) < level {
		t = Point2{math.Copysign(1, t[0]), 0}
		p = Point2{s.c[0], s.c[1] + math.Copysign(s.r, p[1]-s.c[1])}
	}
	return run{a: p, b: p, dir: t, role: s.role, led: true}
}

// tangent is the direction of travel at one of the run's points.
func (s *run) tangent(p Point2) Point2 {
	if !s.arc {
		return s.dir
	}
	x, y := (p[0]-s.c[0])/s.r, (p[1]-s.c[1])/s.r
	if s.ccw {
		return Point2{-y, x}
	}
	return Point2{y, -x}
}

// out is the run's point p, moved.
func (s *run) out(p Point2, d float64) Point2 {
	t := s.tangent(p)
	return Point2{p[0] + d*t[1], p[1] - d*t[0]}
}

// radius of an arc, moved.
func (s *run) radius(d float64) float64 {
	if s.ccw {
		return s.r + d
	}
	return s.r - d
}

// smoothCorner is the sine of a turn that rounding makes of none.
const smoothCorner = 1e-9

// miter is where two runs that follow each other meet once they are moved.
func miter(s, u *run, d float64) (Point2, bool) {
	t, v := s.tangent(s.b), u.tangent(u.a)
	cross := t[0]*v[1] - t[1]*v[0]
	switch {
	case math.Abs(cross) < smoothCorner && !s.arc:
		return s.out(s.b, d), true
	case math.Abs(cross) < smoothCorner:
		return u.out(u.a, d), true
	case s.arc && u.arc:
		return Point2{}, false
	case s.arc:
		return u.meets(s, u.a, d)
	case u.arc:
		return s.meets(u, s.b, d)
	}
	p, q := s.out(s.b, d), u.out(u.a, d)
	k := ((q[0]-p[0])*v[1] - (q[1]-p[1])*v[0]) / cross
	m := Point2{p[0] + k*t[0], p[1] + k*t[1]}
	return u.exactly(s.exactly(m, d), d), true
}

// meets is where the line, moved, meets a moved arc nearest to p.
func (s *run) meets(arc *run, p Point2, d float64) (Point2, bool) {
	q, r := s.out(s.a, d), arc.radius(d)
	along := (arc.c[0]-q[0])*s.dir[0] + (arc.c[1]-q[1])*s.dir[1]
	foot := Point2{q[0] + along*s.dir[0], q[1] + along*s.dir[1]}
	left := r*r - sq(foot[0]-arc.c[0]) - sq(foot[1]-arc.c[1])
	if r <= 0 || left < 0 {
		return Point2{}, false
	}
	h := math.Sqrt(left)
	if (p[0]-foot[0])*s.dir[0]+(p[1]-foot[1])*s.dir[1] < 0 {
		h = -h
	}
	return s.exactly(Point2{foot[0] + h*s.dir[0], foot[1] + h*s.dir[1]}, d), true
}

// exactly puts a point of the moved line on it to the bit, if it runs along r or z.
func (s *run) exactly(p Point2, d float64) Point2 {
	q := s.out(s.a, d)
	for i := range p {
		if s.dir[i] == 0 {
			p[i] = q[i]
		}
	}
	return p
}

// keeps tells whether the moved run from a to b still runs the same way.
func (s *run) keeps(a, b Point2, d float64) bool {
	if !s.arc {
		return (b[0]-a[0])*s.dir[0]+(b[1]-a[1])*s.dir[1] > 0
	}
	if s.radius(d) <= 0 {
		return false
	}
	turn := math.Atan2(b[1]-s.c[1], b[0]-s.c[0]) - math.Atan2(a[1]-s.c[1], a[0]-s.c[0])
	if !s.ccw {
		turn = -turn
	}
	for turn < 0 {
		turn += 2 * math.Pi
	}
	return turn > 0 && turn < 1.5*math.Pi // one that is turned round goes nearly all the way
}
