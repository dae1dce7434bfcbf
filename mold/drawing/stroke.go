package drawing

import (
	"math"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
)

// stroke is a straight line or an arc of at most a quarter turn: part of a border
// that has its area on the left.
type stroke struct {
	from, to Point
	center   Point
	radius   float64 // of an arc; 0: straight
	sweep    float64 // angle by which an arc turns, counterclockwise positive
	kind     string  // what lies beyond it, see flash.ExitKind
}

// touch in mm is how far apart two places may be that are one: edges merged in
// mesh/brep lie within 1e-7, the lattice of designed lengths is 6e-5.
const touch = 1e-6

// chord in mm is how far the chords of a curve that is neither straight nor round
// may lie from it: far below what can be drawn.
const chord = 1e-3

// strokesOf draws an edge that lies in a plane parallel to the view's; backward from
// its second end to its first.
func strokesOf(v outline.View, b *brep.Boundary, e *brep.Edge, backward bool, kind string) []stroke {
	c, t0, t1 := e.Curve, e.T0, e.T1
	from, to := v.At(b.Vertices[e.V0]), v.At(b.Vertices[e.V1])
	if backward {
		t0, t1, from, to = t1, t0, to, from
	}
	n := 1
	switch {
	case c.Line:
	case c.Radius > 0:
		n = int(math.Ceil(math.Abs(t1-t0) / (math.Pi/2 + 1e-9)))
	default:
		n = chords(c, t0, t1)
	}
	out := make([]stroke, n)
	at := from
	for k := range out {
		next := to
		if k < n-1 {
			next = v.At(c.At(t0 + (t1-t0)*float64(k+1)/float64(n)))
		}
		out[k] = stroke{from: at, to: next, kind: kind}
		if c.Radius > 0 {
			out[k].center, out[k].radius, out[k].sweep = v.At(c.Center), c.Radius, (t1-t0)/float64(n)
			if c.Normal.Dot(v.W()) < 0 {
				out[k].sweep *= -1
			}
		}
		at = next
	}
	return out
}

// chords is into how many equal parts of its parameter a curve is to be cut.
func chords(c *brep.Curve, t0, t1 float64) int {
	const most = 256
	for n := 4; n < most; n *= 2 {
		worst := 0.0
		for k := range n {
			a, m, b := c.At(t0+(t1-t0)*float64(k)/float64(n)), c.At(t0+(t1-t0)*(float64(k)+.5)/float64(n)), c.At(t0+(t1-t0)*float64(k+1)/float64(n))
			d := b.Sub(a)
			worst = max(worst, m.Sub(a).Cross(d).Norm()/d.Norm())
		}
		if worst < chord {
			return n
		}
	}
	return most
}

func cross(a, b Point) float64          { return a[0]*b[1] - a[1]*b[0] }
func polar(c Point, r, a float64) Point { return Point{c[0] + r*math.Cos(a), c[1] + r*math.Sin(a)} }

func (s *stroke) angle() float64 {
	d := minus(s.from, s.center)
	return math.Atan2(d[1], d[0])
}

// at is the point at a share of the stroke's length.
func (s *stroke) at(f float64) Point {
	switch {
	case f == 0:
		return s.from
	case f == 1:
		return s.to
	case s.radius > 0:
		return polar(s.center, s.radius, s.angle()+f*s.sweep)
	}
	return Point{s.from[0] + f*(s.to[0]-s.from[0]), s.from[1] + f*(s.to[1]-s.from[1])}
}

func (s *stroke) length() float64 {
	if s.radius > 0 {
		return s.radius * math.Abs(s.sweep)
	}
	return dist(s.from, s.to)
}

// heading at a share of the length, of no particular length.
func (s *stroke) heading(f float64) Point {
	if s.radius > 0 {
		d := minus(s.at(f), s.center)
		return Point{-d[1] * s.sweep, d[0] * s.sweep}
	}
	return minus(s.to, s.from)
}

// part is the stroke between two shares of its length.
func (s *stroke) part(f, g float64) stroke {
	out := *s
	out.from, out.to, out.sweep = s.at(f), s.at(g), s.sweep*(g-f)
	return out
}

// share is where p, which lies on the stroke's line or circle, lies along it; beyond
// its ends it is below 0 or above 1.
func (s *stroke) share(p Point) float64 {
	if s.radius == 0 {
		d := minus(s.to, s.from)
		return dot(minus(p, s.from), d) / dot(d, d)
	}
	// Measured from the middle, so that the jump lies opposite.
	m := minus(s.at(.5), s.center)
	q := minus(p, s.center)
	return .5 + math.Atan2(cross(m, q), dot(m, q))/s.sweep
}

// bears tells whether p lies on the stroke, and where along it.
func (s *stroke) bears(p Point) (f float64, on bool) {
	off := 0.0
	if s.radius > 0 {
		off = dist(p, s.center) - s.radius
	} else {
		d := minus(s.to, s.from)
		off = cross(d, minus(p, s.from)) / math.Hypot(d[0], d[1])
	}
	f = s.share(p)
	slack := touch / s.length()
	return f, math.Abs(off) < touch && f > -slack && f < 1+slack
}

// crossings are where the lines or circles of two strokes meet; none where they are
// one or touch within rounding, since the ends of strokes tell that.
func crossings(s, t *stroke) []Point {
	switch {
	case s.radius == 0 && t.radius == 0:
		d, e := minus(s.to, s.from), minus(t.to, t.from)
		w := cross(d, e)
		if math.Abs(w) < 1e-12*math.Hypot(d[0], d[1])*math.Hypot(e[0], e[1]) {
			return nil
		}
		return []Point{s.at(cross(minus(t.from, s.from), e) / w)}
	case s.radius == 0:
		d := minus(s.to, s.from)
		l := math.Hypot(d[0], d[1])
		return circleAcross(t.center, t.radius, s.from, Point{d[0] / l, d[1] / l})
	case t.radius == 0:
		return crossings(t, s)
	}
	// Two circles share a chord at right angles to the line of their centers.
	d := minus(t.center, s.center)
	l := math.Hypot(d[0], d[1])
	if l < touch {
		return nil
	}
	a := (l*l + s.radius*s.radius - t.radius*t.radius) / (2 * l)
	d = Point{d[0] / l, d[1] / l}
	return circleAcross(s.center, s.radius, Point{s.center[0] + a*d[0], s.center[1] + a*d[1]}, Point{-d[1], d[0]})
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

// turned is by how much the view from p to a point that runs along the stroke turns.
// p does not lie on it.
func (s *stroke) turned(p Point) float64 {
	a, b := minus(s.from, p), minus(s.to, p)
	w := math.Atan2(cross(a, b), dot(a, b))
	if s.radius > 0 && dist(p, s.center) < s.radius && cross(minus(s.to, s.from), minus(p, s.from))*s.sweep < 0 {
		w += math.Copysign(2*math.Pi, s.sweep) // between arc and chord
	}
	return w
}

// inside tells whether p, which lies on none of the strokes, lies in the area that
// they go round.
func inside(p Point, of []stroke) bool {
	w := 0.0
	for i := range of {
		w += of[i].turned(p)
	}
	return w > math.Pi
}

// swept is the area between a closed run of strokes and the origin, negative where
// it runs clockwise.
func swept(run []stroke) float64 {
	sum := 0.0
	for i := range run {
		s := &run[i]
		sum += cross(s.from, s.to) / 2
		if s.radius > 0 {
			sum += s.radius * s.radius / 2 * (s.sweep - math.Sin(s.sweep))
		}
	}
	return sum
}

// nearest is the point of the stroke that is the nearest to p. On an arc, shares run
// from its middle both ways, so that beyond its ends the nearer one is taken.
func (s *stroke) nearest(p Point) Point { return s.at(min(max(s.share(p), 0), 1)) }

// apart are the points of two strokes that are the nearest to each other: from places
// along one it goes to and fro between the nearest of both.
func apart(s, t *stroke) (p, q Point) {
	const places, turns = 5, 60
	best := math.Inf(1)
	for k := range places {
		a := s.at(float64(k) / (places - 1))
		var b Point
		for range turns {
			was := a
			b = t.nearest(a)
			if a = s.nearest(b); dist(a, was) < touch*touch {
				break
			}
		}
		if d := dist(a, b); d < best {
			best, p, q = d, a, b
		}
	}
	return p, q
}
