package field

import (
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// mark is a line or circle in plan, seen along z, across which the length of a
// ray in the solid may break: the outline of a leaf, or an edge of it.
type mark struct {
	circle bool
	x, y   float64   // center of the circle; unit normal of the line
	d      float64   // radius; distance of the line from the pole
	room   solid.Box // of the leaf, relative to the pole: beyond it the mark means nothing
}

// counts reports whether the mark means anything at the point at distance r and
// angle a from the pole.
func (m *mark) counts(r, a float64) bool {
	sn, cs := math.Sincos(a)
	x, y := r*cs, r*sn
	const slack = 1e-6 // mm, far above rounding; a break too many does no harm
	return x > m.room.Lo[0]-slack && x < m.room.Hi[0]+slack && y > m.room.Lo[1]-slack && y < m.room.Hi[1]+slack
}

// plan holds the marks of a solid and the points where they may end, both
// relative to the pole of polar coordinates.
type plan struct {
	pole   solid.Point2
	marks  []mark
	points []solid.Point2
}

// newPlan collects the marks of every leaf whose axis is upright or level. A
// leaf that leans has none, save for its balls: there the quadrature refines
// blindly.
func newPlan(leaves []*solid.Leaf, pole solid.Point2) *plan {
	p := &plan{pole: pole}
	for _, l := range leaves {
		first := len(p.marks)
		switch level := math.Abs(l.Frame.Z[2]) < straight; {
		case lean(l) < straight && l.Extruded:
			p.outline(l, xy(l.Frame.X), xy(l.Frame.Y))
		case lean(l) < straight:
			for _, s := range leafStations(l) {
				p.circle(l.Frame, solid.Point2{}, solid.Point2{}, solid.Point2{}, s[0])
			}
		case level && l.Extruded:
			p.levelBar(l)
		case level:
			p.levelSpindle(l)
		case !l.Extruded:
			p.balls(l)
		}
		o := solid.Vec{pole[0], pole[1]}
		for i := first; i < len(p.marks); i++ {
			p.marks[i].room = solid.Box{Lo: l.Box.Lo.Sub(o), Hi: l.Box.Hi.Sub(o)}
		}
	}
	return p
}

func xy(v solid.Vec) solid.Point2 { return solid.Point2{v[0], v[1]} }

// at returns the frame's origin + a·u + b·v in plan, relative to the pole.
func (p *plan) at(f solid.Frame, u, v, ab solid.Point2) solid.Point2 {
	return solid.Point2{
		f.O[0] - p.pole[0] + ab[0]*u[0] + ab[1]*v[0],
		f.O[1] - p.pole[1] + ab[0]*u[1] + ab[1]*v[1],
	}
}

func (p *plan) circle(f solid.Frame, u, v, c solid.Point2, r float64) {
	q := p.at(f, u, v, c)
	p.marks = append(p.marks, mark{circle: true, x: q[0], y: q[1], d: r})
}

// line marks the line through q along the unit direction u.
func (p *plan) line(q, u solid.Point2) {
	n := solid.Point2{-u[1], u[0]}
	p.marks = append(p.marks, mark{x: n[0], y: n[1], d: n[0]*q[0] + n[1]*q[1]})
}

// outline marks a leaf's outline drawn in plan with axes u and v.
func (p *plan) outline(l *solid.Leaf, u, v solid.Point2) {
	for i := range l.Elems {
		e := &l.Elems[i]
		for _, s := range stations(e) {
			p.points = append(p.points, p.at(l.Frame, u, v, s))
		}
		if e.Arc {
			p.circle(l.Frame, u, v, e.C, e.R)
			continue
		}
		a, b := p.at(l.Frame, u, v, e.A), p.at(l.Frame, u, v, e.B)
		h := math.Hypot(b[0]-a[0], b[1]-a[1])
		p.line(a, solid.Point2{(b[0] - a[0]) / h, (b[1] - a[1]) / h})
	}
}

// levelSpindle marks a solid of revolution that lies on its side: its own
// outline to both sides of the axis, and its circles seen edge-on.
func (p *plan) levelSpindle(l *solid.Leaf) {
	axis := xy(l.Frame.Z)
	side := solid.Point2{-axis[1], axis[0]}
	p.outline(l, side, axis)
	p.outline(l, solid.Point2{-side[0], -side[1]}, axis)
	for _, s := range leafStations(l) {
		p.line(p.at(l.Frame, side, axis, s), side)
	}
}

// balls marks the spherical parts of a leaf, which look the same from everywhere.
func (p *plan) balls(l *solid.Leaf) {
	for i := range l.Elems {
		if e := &l.Elems[i]; e.Arc && e.C[0] == 0 {
			p.circle(l.Frame, solid.Point2{}, xy(l.Frame.Z), e.C, e.R)
		}
	}
}

// levelBar marks an extrusion that lies on its side: the lines along it through
// its corners and crests, and its two ends.
func (p *plan) levelBar(l *solid.Leaf) {
	axis := xy(l.Frame.Z)
	side := solid.Point2{-axis[1], axis[0]}
	dot := func(v solid.Vec) float64 { return v[0]*side[0] + v[1]*side[1] }
	kx, ky := dot(l.Frame.X), dot(l.Frame.Y)
	var across []float64
	for i := range l.Elems {
		e := &l.Elems[i]
		across = append(across, kx*e.A[0]+ky*e.A[1], kx*e.B[0]+ky*e.B[1])
		if c := kx*e.C[0] + ky*e.C[1]; e.Arc {
			across = append(across, c-e.R, c+e.R)
		}
	}
	for _, a := range across {
		p.line(p.at(l.Frame, side, axis, solid.Point2{a, 0}), axis)
		p.points = append(p.points,
			p.at(l.Frame, side, axis, solid.Point2{a, l.Z0}), p.at(l.Frame, side, axis, solid.Point2{a, l.Z1}))
	}
	p.line(p.at(l.Frame, side, axis, solid.Point2{0, l.Z0}), side)
	p.line(p.at(l.Frame, side, axis, solid.Point2{0, l.Z1}), side)
}

// radii returns the sorted distances from the pole, up to most, at which a
// circle about it begins to meet a mark or passes the end of one.
func (p *plan) radii(most float64) []float64 {
	rs := []float64{0, most}
	for _, m := range p.marks {
		dir := math.Atan2(m.y, m.x)
		near, far := m.d, m.d // along dir: the foot of a line, or a circle's ends
		if m.circle {
			c := math.Hypot(m.x, m.y)
			near, far = c-m.d, c+m.d
		}
		for _, r := range []float64{near, far} {
			if m.counts(r, dir) {
				rs = append(rs, math.Abs(r))
			}
		}
	}
	for _, q := range p.points {
		rs = append(rs, math.Hypot(q[0], q[1]))
	}
	return distinct(rs, 0, most)
}

// angles returns the sorted angles at which the circle of radius r about the
// pole crosses a mark, as breaks of one full turn.
func (p *plan) angles(r float64) []float64 {
	var as []float64
	for _, m := range p.marks {
		x, dir := m.d/r, math.Atan2(m.y, m.x)
		if m.circle {
			c := math.Hypot(m.x, m.y)
			if c < merge {
				continue
			}
			x = (r*r + c*c - m.d*m.d) / (2 * r * c) // the law of cosines
		}
		if math.Abs(x) < 1 {
			half := math.Acos(x)
			for _, a := range []float64{dir - half, dir + half} {
				if m.counts(r, a) {
					as = append(as, solid.WrapAngle(a))
				}
			}
		}
	}
	if len(as) == 0 {
		return []float64{-math.Pi, -math.Pi / 2, 0, math.Pi / 2, math.Pi}
	}
	first := slices.Min(as)
	for i := range as { // one turn that begins on a break
		if as[i] < first {
			as[i] += 2 * math.Pi
		}
	}
	return distinct(append(as, first+2*math.Pi), first, first+2*math.Pi)
}

// merge: breaks nearer than this are one (mm or radians). A panel this narrow
// holds less of any solid than the tolerances below.
const merge = 1e-7

// distinct returns the values within [lo, hi] in order, without near doubles,
// and with lo and hi as its ends.
func distinct(xs []float64, lo, hi float64) []float64 {
	slices.Sort(xs)
	out := []float64{lo}
	for _, x := range xs {
		if x > out[len(out)-1]+merge && x < hi-merge {
			out = append(out, x)
		}
	}
	return append(out, hi)
}
