package outline

import (
	"iter"
	"math"
)

// Stretch is the least part of a path: a straight line, or an arc of half a turn at
// most.
type Stretch struct {
	From, To Point
	Center   Point   // of an arc
	Radius   float64 // of an arc, mm; 0: straight
	Sweep    float64 // angle by which an arc turns, radians, positive counterclockwise
}

// Stretches returns the stretches along the path, in order. Curves that are neither
// straight nor round come as the chords between their points.
func (p *Path) Stretches() iter.Seq[Stretch] {
	return func(yield func(Stretch) bool) {
		a := p.Start
		for i := range p.Segments {
			if !p.Segments[i].stretches(a, yield) {
				return
			}
			a = p.Segments[i].To
		}
	}
}

// stretches yields those of a segment that starts at a.
func (s *Segment) stretches(a Point, yield func(Stretch) bool) bool {
	if s.Radius > 0 {
		w := Stretch{a, s.To, s.Center, s.Radius, s.Sweep(a)}
		if math.Abs(w.Sweep) > halfTurn {
			return yield(w.Part(0, .5)) && yield(w.Part(.5, 1))
		}
		return yield(w)
	}
	for _, q := range s.Via {
		if !yield(Stretch{From: a, To: q}) {
			return false
		}
		a = q
	}
	return yield(Stretch{From: a, To: s.To})
}

// halfTurn allows for the rounding of half a circle.
const halfTurn = math.Pi * (1 + 1e-9)

// At returns the point at a share of the length.
func (s *Stretch) At(share float64) Point {
	switch {
	case share == 0:
		return s.From
	case share == 1:
		return s.To
	case s.Radius > 0:
		return onCircle(s.Center, s.Radius, angle(s.Center, s.From)+share*s.Sweep)
	}
	return Point{s.From[0] + share*(s.To[0]-s.From[0]), s.From[1] + share*(s.To[1]-s.From[1])}
}

// Length returns the length, mm.
func (s *Stretch) Length() float64 {
	if s.Radius > 0 {
		return s.Radius * math.Abs(s.Sweep)
	}
	return dist(s.From, s.To)
}

// Heading returns the direction at a share of the length, of no particular length.
func (s *Stretch) Heading(share float64) Point {
	if s.Radius > 0 {
		d := minus(s.At(share), s.Center)
		return Point{-d[1] * s.Sweep, d[0] * s.Sweep}
	}
	return minus(s.To, s.From)
}

// Part returns the stretch between two shares of the length.
func (s *Stretch) Part(from, to float64) Stretch {
	out := *s
	out.From, out.To, out.Sweep = s.At(from), s.At(to), s.Sweep*(to-from)
	return out
}

// Share returns where p, which lies on the stretch's line or circle, lies along it, as
// a share of the length: beyond its ends below 0 or above 1.
func (s *Stretch) Share(p Point) float64 {
	if s.Radius == 0 {
		d := minus(s.To, s.From)
		if l := dot(d, d); l > 0 {
			return dot(minus(p, s.From), d) / l
		}
		return 0
	}
	// Measured from the middle, so that the jump lies opposite.
	m, q := minus(s.At(.5), s.Center), minus(p, s.Center)
	return .5 + math.Atan2(cross(m, q), dot(m, q))/s.Sweep
}

// Bears reports whether p lies on the stretch to within a distance in mm, and where
// along it, as a share of the length.
func (s *Stretch) Bears(p Point, within float64) (share float64, on bool) {
	off := 0.0
	if s.Radius > 0 {
		off = dist(p, s.Center) - s.Radius
	} else {
		d := minus(s.To, s.From)
		off = cross(d, minus(p, s.From)) / math.Hypot(d[0], d[1])
	}
	share = s.Share(p)
	slack := within / s.Length()
	return share, math.Abs(off) < within && share > -slack && share < 1+slack
}

// Nearest returns the point of the stretch that is the nearest to p. On an arc, shares
// run from its middle both ways, so that beyond its ends the nearer one is taken.
func (s *Stretch) Nearest(p Point) Point { return s.At(min(max(s.Share(p), 0), 1)) }

// Swept returns the area that a line from o covers as it runs along the stretch, mm²,
// positive counterclockwise.
func (s *Stretch) Swept(o Point) float64 {
	twice := cross(minus(s.From, o), minus(s.To, o))
	if s.Radius > 0 {
		twice += s.Radius * s.Radius * (s.Sweep - math.Sin(s.Sweep))
	}
	return twice / 2
}

// Passes reports whether a ray from p toward +u meets the stretch an odd number of
// times: the ray meets its chord, or p lies between chord and arc, but not both. Both
// ask on which side of the chord p lies, and get one answer. Of a closed border, an
// odd number of stretches passes the points inside.
func (s *Stretch) Passes(p Point) bool {
	up, down := s.From[1] <= p[1] && s.To[1] > p[1], s.To[1] <= p[1] && s.From[1] > p[1]
	if s.Radius == 0 && !up && !down {
		return false
	}
	left := s.left(p)
	odd := up && left || down && !left
	if s.Radius > 0 && dist(p, s.Center) < s.Radius && left == (s.Sweep < 0) {
		odd = !odd
	}
	return odd
}

// left reports whether p lies left of the chord; a point on it lies where one just
// above it would, or just right of it on a chord that is not level.
func (s *Stretch) left(p Point) bool {
	d := minus(s.To, s.From)
	c := cross(d, minus(p, s.From))
	return c > 0 || c == 0 && (d[1] < 0 || d[1] == 0 && d[0] > 0)
}

// beyondChord reports whether a point of the circle belongs to the arc.
func (s *Stretch) beyondChord(q Point) bool {
	return cross(minus(s.To, s.From), minus(q, s.From)) < 0 == (s.Sweep > 0)
}

// sameCenter in mm: circles whose centers lie nearer are taken for one.
const sameCenter = 1e-6

// Crossings returns where the lines or circles of two stretches meet, beyond their
// ends too; none where they are one or touch within rounding.
func Crossings(s, t *Stretch) []Point {
	switch {
	case s.Radius == 0 && t.Radius == 0:
		d, e := minus(s.To, s.From), minus(t.To, t.From)
		w := cross(d, e)
		if math.Abs(w) < 1e-12*math.Hypot(d[0], d[1])*math.Hypot(e[0], e[1]) {
			return nil
		}
		return []Point{s.At(cross(minus(t.From, s.From), e) / w)}
	case s.Radius == 0:
		d := minus(s.To, s.From)
		l := math.Hypot(d[0], d[1])
		return circleAcross(t.Center, t.Radius, s.From, Point{d[0] / l, d[1] / l})
	case t.Radius == 0:
		return Crossings(t, s)
	}
	// Two circles share a chord at right angles to the line of their centers.
	d := minus(t.Center, s.Center)
	l := math.Hypot(d[0], d[1])
	if l < sameCenter {
		return nil
	}
	a := (l*l + s.Radius*s.Radius - t.Radius*t.Radius) / (2 * l)
	d = Point{d[0] / l, d[1] / l}
	return circleAcross(s.Center, s.Radius, Point{s.Center[0] + a*d[0], s.Center[1] + a*d[1]}, Point{-d[1], d[0]})
}

// circleAcross is where the line through o along the unit vector d cuts a circle.
func circleAcross(c Point, r float64, o, d Point) []Point {
	w := minus(o, c)
	b := dot(w, d)
	h := b*b - dot(w, w) + r*r
	if h <= 0 {
		return nil
	}
	h = math.Sqrt(h)
	return []Point{{o[0] + (h-b)*d[0], o[1] + (h-b)*d[1]}, {o[0] - (h+b)*d[0], o[1] - (h+b)*d[1]}}
}

// Apart returns the points of two stretches that are the nearest to each other: from
// places along one it goes to and fro between the nearest of both. Between arcs of more
// than a quarter turn it may find a place that is only the nearest around.
func Apart(s, t *Stretch) (p, q Point) {
	const places, turns, still = 5, 60, 1e-12
	best := math.Inf(1)
	for k := range places {
		a := s.At(float64(k) / (places - 1))
		var b Point
		for range turns {
			was := a
			b = t.Nearest(a)
			if a = s.Nearest(b); dist(a, was) < still {
				break
			}
		}
		if d := dist(a, b); d < best {
			best, p, q = d, a, b
		}
	}
	return p, q
}

func plus(a, b Point) Point    { return Point{a[0] + b[0], a[1] + b[1]} }
func minus(a, b Point) Point   { return Point{a[0] - b[0], a[1] - b[1]} }
func dot(a, b Point) float64   { return a[0]*b[0] + a[1]*b[1] }
func cross(a, b Point) float64 { return a[0]*b[1] - a[1]*b[0] }
