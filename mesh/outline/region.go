package outline

import "math"

// Area returns the area in mm², by Green's theorem: arcs are exact, other curves
// count as the chords between their points. Holes, which run clockwise, take away.
func (r Region) Area() (area float64) {
	for _, p := range r {
		for s := range p.Stretches() {
			area += s.Swept(r[0].Start) // from near by, for the sake of digits
		}
	}
	return area
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
		for s := range p.Stretches() {
			include(s.From)
			include(s.To)
			if s.Radius == 0 {
				continue
			}
			for _, d := range [4]Point{{s.Radius, 0}, {0, s.Radius}, {-s.Radius, 0}, {0, -s.Radius}} {
				if q := plus(s.Center, d); s.beyondChord(q) {
					include(q)
				}
			}
		}
	}
	return lo, hi
}

// Contains reports whether p lies inside, by the even-odd rule. On the border it
// gives one of the two answers.
func (r Region) Contains(p Point) bool {
	in := false
	for _, path := range r {
		for s := range path.Stretches() {
			if s.Passes(p) {
				in = !in
			}
		}
	}
	return in
}

// Away returns how far p lies from the border, mm; infinite where there is none.
func (r Region) Away(p Point) float64 {
	best := math.Inf(1)
	for _, path := range r {
		for s := range path.Stretches() {
			if s.Radius == 0 || math.Abs(dist(p, s.Center)-s.Radius) < best {
				best = min(best, dist(p, s.Nearest(p)))
			}
		}
	}
	return best
}

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
