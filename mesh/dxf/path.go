package dxf

import (
	"math"

	"wheelmold/mesh/outline"
)

// Of returns the entity that a path is.
func Of(p outline.Path) Entity {
	if c, ok := wholeCircle(p); ok {
		return c
	}
	if len(p.Segments) == 1 && p.Segments[0].Via == nil && !p.Closed {
		s := p.Segments[0]
		if s.Radius == 0 {
			return Line{p.Start, s.To}
		}
		from, to := p.Start, s.To
		if !s.CCW {
			from, to = to, from
		}
		return Arc{s.Center, s.Radius, degrees(s.Center, from), degrees(s.Center, to)}
	}
	return polyline(p)
}

// sameCircle is how far centers and radii of one circle's arcs may lie apart, mm.
const sameCircle = 1e-8

// wholeCircle tells whether a path goes around one circle once.
func wholeCircle(p outline.Path) (Circle, bool) {
	if !p.Closed {
		return Circle{}, false
	}
	sweep, from := 0.0, p.Start
	first := p.Segments[0]
	for _, s := range p.Segments {
		if s.Radius == 0 || dist(s.Center, first.Center) > sameCircle || math.Abs(s.Radius-first.Radius) > sameCircle {
			return Circle{}, false
		}
		sweep += s.Sweep(from)
		from = s.To
	}
	return Circle{first.Center, first.Radius}, math.Abs(math.Abs(sweep)-2*math.Pi) < 1e-9
}

// joint is how near the end of a closed path lies to its start, mm.
const joint = 1e-6

func polyline(p outline.Path) Polyline {
	out := Polyline{Closed: p.Closed, Vertices: []Vertex{{At: p.Start}}}
	from := p.Start
	for _, s := range p.Segments {
		if s.Radius > 0 {
			out.Vertices[len(out.Vertices)-1].Bulge = math.Tan(s.Sweep(from) / 4)
		}
		for _, q := range s.Via {
			out.Vertices = append(out.Vertices, Vertex{At: q})
		}
		out.Vertices = append(out.Vertices, Vertex{At: s.To})
		from = s.To
	}
	if n := len(out.Vertices) - 1; p.Closed && n > 1 && dist(from, p.Start) < joint {
		out.Vertices = out.Vertices[:n]
	}
	return out
}

// Path returns the run as a path, so that it can be measured.
func (p Polyline) Path() outline.Path {
	out := outline.Path{Start: p.Vertices[0].At, Closed: p.Closed}
	for i, v := range p.Vertices {
		k := i + 1
		if k == len(p.Vertices) {
			if !p.Closed {
				break
			}
			k = 0
		}
		out.Segments = append(out.Segments, leaving(v, p.Vertices[k].At))
	}
	return out
}

// leaving is the segment from a vertex to the next.
func leaving(v Vertex, to Point) outline.Segment {
	s := outline.Segment{To: to}
	if v.Bulge == 0 {
		return s
	}
	// The center lies left of the chord by half the chord over the tangent of half the
	// angle, which is 2b/(1-b²) of the bulge b.
	d := Point{to[0] - v.At[0], to[1] - v.At[1]}
	b := v.Bulge
	k := (1 - b*b) / (4 * b)
	s.Center = Point{(v.At[0]+to[0])/2 - k*d[1], (v.At[1]+to[1])/2 + k*d[0]}
	s.Radius, s.CCW = dist(v.At, s.Center), b > 0
	return s
}

func degrees(c, p Point) float64 {
	a := math.Atan2(p[1]-c[1], p[0]-c[0]) * 180 / math.Pi
	if a < 0 {
		a += 360
	}
	return a
}

func dist(p, q Point) float64 { return math.Hypot(p[0]-q[0], p[1]-q[1]) }

func (l Line) bounds(f func(Point)) { f(l.From); f(l.To) }
func (d Dot) bounds(f func(Point))  { f(d.At) }
func (t Text) bounds(f func(Point)) { f(t.At) }

func (c Circle) bounds(f func(Point)) {
	f(Point{c.Center[0] - c.Radius, c.Center[1] - c.Radius})
	f(Point{c.Center[0] + c.Radius, c.Center[1] + c.Radius})
}

func (a Arc) bounds(f func(Point)) {
	at := func(deg float64) Point {
		s, c := math.Sincos(deg * math.Pi / 180)
		return Point{a.Center[0] + a.Radius*c, a.Center[1] + a.Radius*s}
	}
	p := outline.Path{Start: at(a.From), Segments: []outline.Segment{{To: at(a.To), Center: a.Center, Radius: a.Radius, CCW: true}}}
	box(p, f)
}

func (p Polyline) bounds(f func(Point)) { box(p.Path(), f) }

func box(p outline.Path, f func(Point)) {
	lo, hi := outline.Region{p}.Bounds()
	f(lo)
	f(hi)
}
