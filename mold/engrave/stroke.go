package engrave

import (
	"math"

	"wheelmold/mesh/solid"
)

// bend is a point of a stroke's middle line, with the radius of the bend there;
// 0 is a sharp corner. The first and last point of a stroke do not bend.
type bend struct{ x, y, r float64 }

// path is the middle line of one stroke.
type path []bend

// run is a straight or circular part of a middle line. Runs join smoothly
// beside an arc, and at a sharp corner elsewhere.
type run struct {
	a, b solid.Point2
	arc  bool
	c    solid.Point2
	ccw  bool
}

// runs replaces every bend by its arc.
func (p path) runs() []run {
	var out []run
	at := solid.Point2{p[0].x, p[0].y}
	for i := 1; i < len(p); i++ {
		to := solid.Point2{p[i].x, p[i].y}
		if i == len(p)-1 || p[i].r == 0 {
			out = append(out, run{a: at, b: to})
			at = to
			continue
		}
		u, v := unit(at, to), unit(to, solid.Point2{p[i+1].x, p[i+1].y})
		turn := cross(u, v)
		t := p[i].r * math.Abs(turn) / (1 + dot(u, v)) // r·tan of half the turn
		start, end := along(to, u, -t), along(to, v, t)
		side := math.Copysign(p[i].r, turn)
		arc := run{a: start, b: end, arc: true, c: along(start, left(u), side), ccw: turn > 0}
		if at != start {
			out = append(out, run{a: at, b: start})
		}
		out = append(out, arc)
		at = end
	}
	return out
}

// outline returns the stroke of half width h about the path. Level strokes end
// square, all others level, and the outside of a sharp corner reaches h to the
// sides, above and below, and no farther.
func (p path) outline(h float64) solid.Profile {
	rs := p.runs()
	n := len(rs)
	var out solid.Profile
	add := func(pts ...solid.Point2) {
		for _, q := range pts {
			out = out.LineTo(q[0], q[1])
		}
	}
	// Out along the right side, back along the left.
	add(ending(rs[0], rs[0].a, -h))
	for i, r := range rs {
		pts := []solid.Point2{ending(r, r.b, -h)}
		if i < n-1 {
			pts = joint(r, rs[i+1], -h)
		}
		out = bring(out, r, pts, r.ccw)
	}
	add(ending(rs[n-1], rs[n-1].b, h))
	for i := n - 1; i > 0; i-- {
		pts := joint(rs[i-1], rs[i], h)
		if len(pts) == 2 {
			pts[0], pts[1] = pts[1], pts[0]
		}
		out = bring(out, rs[i], pts, !rs[i].ccw)
	}
	last := ending(rs[0], rs[0].a, h)
	return bring(out, rs[0], []solid.Point2{last}, !rs[0].ccw)
}

// bring runs the outline on beside r to the first of pts, and straight on to
// the others.
func bring(out solid.Profile, r run, pts []solid.Point2, ccw bool) solid.Profile {
	if r.arc {
		out = out.ArcTo(pts[0][0], pts[0][1], r.c[0], r.c[1], ccw)
	} else {
		out = out.LineTo(pts[0][0], pts[0][1])
	}
	for _, q := range pts[1:] {
		out = out.LineTo(q[0], q[1])
	}
	return out
}

// direction is the run's direction of travel at its end p.
func (r run) direction(p solid.Point2) solid.Point2 {
	if !r.arc {
		return unit(r.a, r.b)
	}
	d := left(unit(r.c, p))
	if !r.ccw {
		d = solid.Point2{-d[0], -d[1]}
	}
	return d
}

// ending returns the corner of a stroke's end p at h to the left of the run.
func ending(r run, p solid.Point2, h float64) solid.Point2 {
	d := r.direction(p)
	q := along(p, left(d), h)
	if d[0] == 0 || d[1] == 0 || r.arc {
		return q
	}
	return along(q, d, (p[1]-q[1])/d[1])
}

// joint returns the corners of the outline at h to the left of where r ends and
// s begins.
func joint(r, s run, h float64) []solid.Point2 {
	v := r.b
	u, w := r.direction(v), s.direction(v)
	if r.arc || s.arc {
		return []solid.Point2{along(v, left(u), h)}
	}
	p, q := along(v, left(u), h), along(v, left(w), h)
	turn := cross(u, w)
	m := along(p, u, cross(from(p, q), w)/turn) // the lines beside r and s meet
	if (turn > 0) == (h > 0) {
		return []solid.Point2{m} // the inside
	}
	reach := math.Abs(h)
	for k := range m {
		if over := m[k] - v[k]; math.Abs(over) > reach+1e-9 {
			limit := v[k] + math.Copysign(reach, over)
			return []solid.Point2{along(p, u, (limit-p[k])/u[k]), along(q, w, (limit-q[k])/w[k])}
		}
	}
	return []solid.Point2{m}
}

func from(a, b solid.Point2) solid.Point2 { return solid.Point2{b[0] - a[0], b[1] - a[1]} }

func unit(a, b solid.Point2) solid.Point2 {
	d := from(a, b)
	h := math.Hypot(d[0], d[1])
	return solid.Point2{d[0] / h, d[1] / h}
}

func along(p, u solid.Point2, t float64) solid.Point2 {
	return solid.Point2{p[0] + t*u[0], p[1] + t*u[1]}
}

func left(u solid.Point2) solid.Point2 { return solid.Point2{-u[1], u[0]} }
func dot(u, v solid.Point2) float64    { return u[0]*v[0] + u[1]*v[1] }
func cross(u, v solid.Point2) float64  { return u[0]*v[1] - u[1]*v[0] }
