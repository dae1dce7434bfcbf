package region

import (
	"math"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// path is a curve that is known only as where two carriers meet, from one vertex to
// another: one of the boundary's curves, or several that go on as each other.
type path struct {
	carriers [2]*solid.Carrier
	pieces   []piece
	s0, s1   float64
	closed   bool
}

// piece is a range of a path on one of the boundary's curves: at s the curve's own
// parameter is a + (s-s0)·rate, with a rate of 1 or -1.
type piece struct {
	c        *brep.Curve
	s0, s1   float64
	a, rate  float64
	from, to Vec // exact
}

// endTol: an end of a curve nearer to its vertex than this is the vertex itself, known
// better there than the curve, mm. Farther ones are contacts known only roughly.
const endTol = 2e-6

// newPath strings parts together.
func newPath(parts []part, vertices []Vec, carriers [2]*solid.Carrier) *path {
	w := &path{carriers: carriers}
	for i, p := range parts {
		a, b, from, to := p.T0, p.T1, vertices[p.V0], vertices[p.V1]
		if p.reversed {
			a, b, from, to = b, a, to, from
		}
		q := piece{c: p.Curve, a: a, rate: math.Copysign(1, b-a), from: from, to: to}
		if i == 0 {
			w.s0, w.s1 = min(a, b), min(a, b)
		} else if last := &w.pieces[len(w.pieces)-1]; last.runsInto(&q) {
			last.s1 += math.Abs(b - a)
			last.to, w.s1 = to, last.s1
			continue
		}
		q.s0 = w.s1
		q.s1 = q.s0 + math.Abs(b-a)
		w.s1 = q.s1
		w.pieces = append(w.pieces, q)
	}
	w.closed = parts[0].start() == parts[len(parts)-1].stop()
	return w
}

// runsInto reports whether q is no more than the next part of p's curve.
func (p *piece) runsInto(q *piece) bool {
	if p.c != q.c || p.rate*q.rate < 0 {
		return false
	}
	gap := p.at(p.s1) - q.a
	if p.c.Closed {
		turn := p.c.T1 - p.c.T0
		gap -= turn * math.Round(gap/turn)
	}
	return math.Abs(gap) < 1e-9
}

func (p part) start() int {
	if p.reversed {
		return p.V1
	}
	return p.V0
}

func (p part) stop() int {
	if p.reversed {
		return p.V0
	}
	return p.V1
}

// at is the curve's own parameter at s.
func (p *piece) at(s float64) float64 { return p.a + (s-p.s0)*p.rate }

// find returns the piece at s, and s less whole turns of a closed path.
func (w *path) find(s float64) (*piece, float64) {
	if w.closed && (s < w.s0 || s > w.s1) {
		turn := w.s1 - w.s0
		s -= turn * math.Floor((s-w.s0)/turn)
	}
	i := 0
	for i+1 < len(w.pieces) && s > w.pieces[i].s1 {
		i++
	}
	return &w.pieces[i], s
}

// At is the point at s.
func (w *path) At(s float64) Vec {
	p, s := w.find(s)
	q := p.c.At(p.at(s))
	switch {
	case s == p.s0 && q.Dist(p.from) < endTol:
		return p.from
	case s == p.s1 && q.Dist(p.to) < endTol:
		return p.to
	}
	return q
}

// flatSine: where two carriers meet at less than this, their normals no longer tell
// which way the curve runs.
const flatSine = 1e-3

// Tangent is dAt/ds: its direction is across the normals of both carriers, its length
// the speed by differences.
func (w *path) Tangent(s float64) Vec {
	p, s := w.find(s)
	d := derivative(p.c, p.at(s)).Scale(p.rate)
	q := w.At(s)
	n := w.carriers[0].N(q).Cross(w.carriers[1].N(q))
	if l := n.Norm(); l > flatSine {
		n = n.Scale(1 / l)
		return n.Scale(d.Dot(n))
	}
	return d
}

// stencil are the weights of the derivative at node i of five evenly spaced values.
var stencil = [5][5]float64{
	{-25. / 12, 4, -3, 4. / 3, -1. / 4},
	{-1. / 4, -5. / 6, 3. / 2, -1. / 2, 1. / 12},
	{1. / 12, -2. / 3, 0, 2. / 3, -1. / 12},
	{-1. / 12, 1. / 2, -3. / 2, 5. / 6, 1. / 4},
	{1. / 4, -4. / 3, 3, -4, 25. / 12},
}

// derivative is dAt/dt by five points, all of them on the curve: beyond an end a branch
// would run back on itself.
func derivative(c *brep.Curve, t float64) Vec {
	h := (c.T1 - c.T0) / 1024
	i := 2
	if !c.Closed {
		i -= int(max(0, math.Ceil((c.T0-t)/h+2)))
		i += int(max(0, math.Ceil((t-c.T1)/h+2)))
		i = max(0, min(4, i))
	}
	var d Vec
	for k, x := range stencil[i] {
		if x != 0 {
			d = d.AddScaled(x/h, c.At(t+float64(k-i)*h))
		}
	}
	return d
}
