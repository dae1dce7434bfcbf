package outline

import "math"

// Area returns the area in mm², by Green's theorem: arcs are exact, other curves
// count as the chords between their points. Holes, which run clockwise, take away.
func (r Region) Area() float64 {
	if len(r) == 0 {
		return 0
	}
	o, twice := r[0].Start, 0.0 // from near by, for the sake of digits
	for _, p := range r {
		p.walk(func(s stretch) {
			twice += (s.a[0]-o[0])*(s.b[1]-o[1]) - (s.b[0]-o[0])*(s.a[1]-o[1])
			if s.r > 0 {
				twice += s.r * s.r * (s.sweep - math.Sin(s.sweep))
			}
		})
	}
	return twice / 2
}

// Bounds returns the corners of the region's box, arcs' extremes included; lo
// exceeds hi where the region is empty.
func (r Region) Bounds() (lo, hi Point) {
	lo, hi = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	include := func(p Point) {
		for i, x := range p {
			lo[i], hi[i] = min(lo[i], x), max(hi[i], x)
		}
	}
	for _, p := range r {
		p.walk(func(s stretch) {
			include(s.a)
			include(s.b)
			if s.r == 0 {
				return
			}
			for _, d := range [4]Point{{s.r, 0}, {0, s.r}, {-s.r, 0}, {0, -s.r}} {
				if q := (Point{s.c[0] + d[0], s.c[1] + d[1]}); s.beyondChord(q) {
					include(q)
				}
			}
		})
	}
	return lo, hi
}

// Contains reports whether p lies inside, by the even-odd rule. On the border it
// gives one of the two answers.
func (r Region) Contains(p Point) bool {
	in := false
	for _, path := range r {
		path.walk(func(s stretch) {
			if s.passes(p) {
				in = !in
			}
		})
	}
	return in
}

// passes reports whether a ray from p toward +u meets the stretch an odd number of
// times: the ray meets its chord, or p lies between chord and arc, but not both.
// Both ask on which side of the chord p lies, and get one answer.
func (s *stretch) passes(p Point) bool {
	left := s.left(p)
	odd := s.a[1] <= p[1] && s.b[1] > p[1] && left || s.b[1] <= p[1] && s.a[1] > p[1] && !left
	if s.r > 0 && math.Hypot(p[0]-s.c[0], p[1]-s.c[1]) < s.r && left == (s.sweep < 0) {
		odd = !odd
	}
	return odd
}

// left reports whether p lies left of the chord from a to b; a point on it lies
// where one just above it would, or just right of it on a chord that is not level.
func (s *stretch) left(p Point) bool {
	dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
	cross := dx*(p[1]-s.a[1]) - dy*(p[0]-s.a[0])
	return cross > 0 || cross == 0 && (dy < 0 || dy == 0 && dx > 0)
}

// beyondChord reports whether a point of the circle belongs to the arc.
func (s *stretch) beyondChord(q Point) bool {
	cross := (s.b[0]-s.a[0])*(q[1]-s.a[1]) - (s.b[1]-s.a[1])*(q[0]-s.a[0])
	return cross < 0 == (s.sweep > 0)
}

// stretch is a straight piece from a to b, or an arc of half a turn at most.
type stretch struct {
	a, b, c  Point
	r, sweep float64 // of an arc; the sweep is positive counterclockwise
}

// walk calls f on every straight piece and arc along the path.
func (p *Path) walk(f func(stretch)) {
	a := p.Start
	for _, s := range p.Segments {
		switch {
		case s.Radius > 0:
			sweep := s.Sweep(a)
			if math.Abs(sweep) > halfTurn {
				m := onCircle(s.Center, s.Radius, angle(s.Center, a)+sweep/2)
				f(stretch{a, m, s.Center, s.Radius, sweep / 2})
				a, sweep = m, sweep/2
			}
			f(stretch{a, s.To, s.Center, s.Radius, sweep})
		default:
			for _, q := range s.Via {
				f(stretch{a: a, b: q})
				a = q
			}
			f(stretch{a: a, b: s.To})
		}
		a = s.To
	}
}

// halfTurn allows for the rounding of half a circle.
const halfTurn = math.Pi * (1 + 1e-9)

// Sweep returns the angle by which the arc turns from its start, radians, positive
// counterclockwise; one that ends where it starts makes a whole turn.
func (s *Segment) Sweep(from Point) float64 {
	d := angle(s.Center, s.To) - angle(s.Center, from)
	switch {
	case s.CCW && d <= 0:
		d += 2 * math.Pi
	case !s.CCW && d >= 0:
		d -= 2 * math.Pi
	}
	return d
}

func angle(c, p Point) float64 { return math.Atan2(p[1]-c[1], p[0]-c[0]) }

// onCircle keeps quarter turns exact.
func onCircle(c Point, r, a float64) Point {
	sn, cs := math.Sincos(a)
	for _, x := range []*float64{&sn, &cs} {
		if k := math.Round(*x); math.Abs(*x-k) < 1e-12 {
			*x = k
		}
	}
	return Point{c[0] + r*cs, c[1] + r*sn}
}

func dist(p, q Point) float64 { return math.Hypot(p[0]-q[0], p[1]-q[1]) }
