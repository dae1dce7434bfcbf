package contact

import (
	"math"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// Axes of a chart: a row holds v fixed, a column u.
const (
	axisU = 0
	axisV = 1
)

// point is a point of a chart, (u, v).
type point [2]float64

// piece is a part of an edge that is monotone in both coordinates.
type piece struct {
	a, b  point // ends, equal to the bit with those of its neighbors
	label int32
	size  float64 // straight: its length; arc: its radius
	// Arc: its center, and on which side of it the piece lies, ±1 per axis.
	arc  bool
	c    point
	side point
	// Any other curve: the parameters of a and b.
	curve  *brep.Curve
	frame  *solid.Frame
	ta, tb float64
}

// meets reports whether the line with coordinate fix at x crosses the piece,
// which holds its lower end and not its upper one.
func (p *piece) meets(fix int, x float64) bool { return (p.a[fix] <= x) != (p.b[fix] <= x) }

// cross returns where the line crosses it, and the part of the edge's unit
// normal that lies along the line.
func (p *piece) cross(fix int, x float64) (at, across float64) {
	along := 1 - fix
	switch {
	case p.curve != nil:
		return p.bisect(fix, x)
	case p.arc:
		d := x - p.c[fix]
		h := math.Sqrt(max(0, p.size*p.size-d*d))
		// A vertex may lie off the circle by what mesh/brep allows.
		return p.clamp(along, p.c[along]+p.side[along]*h), h / p.size
	}
	run := p.b[fix] - p.a[fix]
	at = p.a[along] + (x-p.a[fix])/run*(p.b[along]-p.a[along])
	return p.clamp(along, at), min(1, math.Abs(run)/p.size)
}

func (p *piece) clamp(along int, x float64) float64 {
	lo, hi := p.a[along], p.b[along]
	if lo > hi {
		lo, hi = hi, lo
	}
	return max(lo, min(hi, x))
}

// halvings bring a parameter range of a few hundred mm down to rounding.
const halvings = 48

// bisect finds the crossing of a curve that is neither line nor circle. The ends
// bracket it by their coordinates, which are exact, not by the curve's.
func (p *piece) bisect(fix int, x float64) (at, across float64) {
	ta, tb := p.ta, p.tb
	low := p.a[fix] <= x
	for range halvings {
		if m := (ta + tb) / 2; (p.chart(m)[fix] <= x) == low {
			ta = m
		} else {
			tb = m
		}
	}
	t := (ta + tb) / 2
	// The direction from a short chord, inside the piece: error 1e-8 of the bend.
	h := 1e-4 * (p.tb - p.ta)
	lo, hi := p.ta, p.tb
	if lo > hi {
		lo, hi = hi, lo
	}
	q, r := p.chart(max(lo, min(hi, t-h))), p.chart(max(lo, min(hi, t+h)))
	du, dv := r[axisU]-q[axisU], r[axisV]-q[axisV]
	d := point{du, dv}
	return p.clamp(1-fix, p.chart(t)[1-fix]), math.Abs(d[fix]) / math.Hypot(du, dv)
}

// chart returns the curve's point at t.
func (p *piece) chart(t float64) point { return chart(p.frame, p.curve.At(t)) }

func chart(f *solid.Frame, p solid.Vec) point { return point{p.Dot(f.X), p.Dot(f.Y)} }

// turnTol is how near to an end of an arc, in radians, a turning point is left
// out: the piece then fails to be monotone by r·turnTol²/2, far below rounding.
const turnTol = 1e-9

// arcPieces parts a circular edge from a to b at its extremes in u and v.
func arcPieces(out []piece, f *solid.Frame, e *brep.Edge, a, b point, label int32) []piece {
	c, r := chart(f, e.Curve.Center), e.Curve.Radius
	p := chart(f, e.Curve.At(e.T0))
	from := math.Atan2(p[1]-c[1], p[0]-c[0])
	sweep := e.T1 - e.T0
	if e.Curve.Normal.Dot(f.Z) < 0 { // seen from behind it runs clockwise
		a, b = b, a
		p = chart(f, e.Curve.At(e.T1))
		from = math.Atan2(p[1]-c[1], p[0]-c[0])
	}
	const quarter = math.Pi / 2
	add := func(q point, t0, t1 float64) {
		sn, cs := math.Sincos((t0 + t1) / 2)
		out = append(out, piece{a: a, b: q, label: label, size: r, arc: true, c: c, side: point{math.Copysign(1, cs), math.Copysign(1, sn)}})
		a = q
	}
	t := from
	for k := math.Ceil((from + turnTol) / quarter); k*quarter < from+sweep-turnTol; k++ {
		q := c
		switch int(k) & 3 {
		case 0:
			q[0] += r
		case 1:
			q[1] += r
		case 2:
			q[0] -= r
		case 3:
			q[1] -= r
		}
		add(q, t, k*quarter)
		t = k * quarter
	}
	add(b, t, from+sweep)
	return out
}

// curveSamples is how finely a curve is looked at for turning points; the
// curves at hand, sections of cones, cylinders and tori, turn a few times.
const curveSamples = 64

// curvePieces parts any other edge from a to b where it turns in u or v.
func curvePieces(out []piece, f *solid.Frame, e *brep.Edge, a, b point, label int32) []piece {
	whole := piece{label: label, curve: e.Curve, frame: f}
	at := func(k int) float64 { return e.T0 + (e.T1-e.T0)*float64(k)/curveSamples }
	var q [curveSamples + 1]point
	for k := range q {
		q[k] = whole.chart(at(k))
	}
	q[0], q[curveSamples] = a, b
	var turns []float64
	for k := 1; k < curveSamples; k++ {
		for i := range 2 {
			if d := q[k][i] - q[k-1][i]; d*(q[k+1][i]-q[k][i]) < 0 {
				turns = insert(turns, whole.extreme(i, at(k-1), at(k+1), d > 0))
			}
		}
	}
	t := e.T0
	for _, s := range append(turns, e.T1) {
		p := whole
		p.a, p.b, p.ta, p.tb = a, b, t, s
		if s < e.T1 {
			p.b = whole.chart(s)
		}
		out = append(out, p)
		a, t = p.b, s
	}
	return out
}

// insert keeps a short list in order.
func insert(list []float64, x float64) []float64 {
	list = append(list, x)
	for i := len(list) - 1; i > 0 && list[i] < list[i-1]; i-- {
		list[i], list[i-1] = list[i-1], list[i]
	}
	return list
}

// extreme finds the one turning point of coordinate i between t0 and t1, by
// golden section.
func (p *piece) extreme(i int, t0, t1 float64, highest bool) float64 {
	g := (math.Sqrt(5) - 1) / 2
	better := func(s, t float64) bool { return (p.chart(s)[i] > p.chart(t)[i]) == highest }
	for range halvings {
		s, t := t1-g*(t1-t0), t0+g*(t1-t0)
		if better(s, t) {
			t1 = t
		} else {
			t0 = s
		}
	}
	return (t0 + t1) / 2
}
