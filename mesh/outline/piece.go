package outline

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
)

type vec = mesh.Vec

// W is the view's normal, toward the viewer.
func (v View) W() vec { return v.U.Cross(v.V) }

// At returns where a point of space is drawn.
func (v View) At(p vec) Point {
	q := p.Sub(v.O)
	return Point{v.U.Dot(q), v.V.Dot(q)}
}

// piece is a segment with its start. An arc here may turn by any angle, up to a
// whole turn.
type piece struct {
	from Point
	Segment
	sweep float64
}

// piece draws the use of an edge.
func (v View) piece(vertices []vec, e brep.FaceEdge, tol float64) piece {
	from, to := e.Ends()
	t0, t1 := e.Edge.T0, e.Edge.T1
	if e.Reversed {
		t0, t1 = t1, t0
	}
	return v.curve(e.Edge.Curve, t0, t1, vertices[from], vertices[to], tol)
}

// levelSine: a circle tilted less than this against the view is drawn as one.
const levelSine = 1e-9

// curve draws a curve from t0 to t1, with its exact ends.
func (v View) curve(c *brep.Curve, t0, t1 float64, from, to vec, tol float64) piece {
	p := piece{from: v.At(from), Segment: Segment{To: v.At(to)}}
	switch {
	case c.Line:
	case c.Radius > 0 && c.Normal.Cross(v.W()).Norm() < levelSine:
		p.Center, p.Radius, p.sweep = v.At(c.Center), c.Radius, t1-t0
		if c.Normal.Dot(v.W()) < 0 {
			p.sweep = -p.sweep
		}
		p.CCW = p.sweep > 0
	default:
		p.Via = v.via(c, t0, t1, tol)
	}
	return p
}

// via returns points on the curve between t0 and t1, so close that no chord is
// farther than tol from it.
func (v View) via(c *brep.Curve, t0, t1, tol float64) []Point {
	const parts = 4 // halves of an S would be told from a line by no middle
	s := sampler{at: func(t float64) Point { return v.At(c.At(t)) }, tol: tol}
	a := s.at(t0)
	for k := range parts {
		from, to := t0+(t1-t0)*float64(k)/parts, t0+(t1-t0)*float64(k+1)/parts
		b := s.at(to)
		s.split(from, to, a, b, 12)
		s.points = append(s.points, b)
		a = b
	}
	return s.points[:len(s.points)-1]
}

type sampler struct {
	at     func(t float64) Point
	tol    float64
	points []Point
}

// split adds the points between a at t0 and b at t1, halving until the curve keeps
// within the tolerance of its chord at three places, with a fifth to spare for what
// lies between them.
func (s *sampler) split(t0, t1 float64, a, b Point, depth int) {
	m := s.at((t0 + t1) / 2)
	off := max(chordDist(m, a, b), chordDist(s.at(t0+(t1-t0)/4), a, b), chordDist(s.at(t0+(t1-t0)*.75), a, b))
	if depth == 0 || off <= .8*s.tol {
		return
	}
	s.split(t0, (t0+t1)/2, a, m, depth-1)
	s.points = append(s.points, m)
	s.split((t0+t1)/2, t1, m, b, depth-1)
}

// chordDist is the distance of p from the straight piece a-b.
func chordDist(p, a, b Point) float64 {
	s := Stretch{From: a, To: b}
	return dist(p, s.Nearest(p))
}

// sameLine is how far pieces of one line or circle may lie apart, mm.
const sameLine = 1e-8

// join takes q, which follows p, into p where both are parts of one line or circle.
func (p *piece) join(q piece) bool {
	switch {
	case p.Via != nil || q.Via != nil || p.Radius > 0 != (q.Radius > 0):
		return false
	case p.Radius == 0:
		if chordDist(p.To, p.from, q.To) > sameLine || dist(p.from, q.To) < max(dist(p.from, p.To), dist(q.from, q.To)) {
			return false
		}
	default:
		if p.CCW != q.CCW || dist(p.Center, q.Center) > sameLine || abs(p.Radius-q.Radius) > sameLine || abs(p.sweep+q.sweep) > 2*math.Pi+1e-9 {
			return false
		}
	}
	p.To, p.sweep = q.To, p.sweep+q.sweep
	return true
}

// closedPath makes a path of a loop of pieces. It starts where two pieces meet that
// are not parts of one line or circle.
func closedPath(loop []piece) Path {
	run := loop[:1]
	for _, q := range loop[1:] {
		if !run[len(run)-1].join(q) {
			run = append(run, q)
		}
	}
	if n := len(run) - 1; n > 0 && run[n].join(run[0]) {
		run[0], run = run[n], run[:n]
	}
	out := Path{Start: run[0].from, Closed: true}
	for _, q := range run {
		out.add(q)
	}
	return out
}

// add appends a piece; an arc of more than half a turn as two halves.
func (p *Path) add(q piece) {
	if q.Radius > 0 && abs(q.sweep) > halfTurn {
		half := q.Segment
		half.To = onCircle(q.Center, q.Radius, angle(q.Center, q.from)+q.sweep/2)
		p.Segments = append(p.Segments, half)
	}
	p.Segments = append(p.Segments, q.Segment)
}

func abs(x float64) float64 { return math.Abs(x) }
