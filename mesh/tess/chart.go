package tess

import (
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// stripPolygon triangulates what lies between the right spoke of cut a and the
// left spoke of the next cut b; the same cut if it is the only one.
func (m *faceMaker) stripPolygon(p *rowPlan, j int, lo, hi *rowLine, a, b *cut, only bool) error {
	s := &m.band.strip
	m.poly.reset()
	r := m.chart(p, j, a)
	if len(m.at) < 2*len(m.id) {
		m.at = append(m.at, make([]int32, 2*len(m.id)-len(m.at))...)
	}
	if !a.outside && (p.pole(j) || p.pole(p.above(j))) {
		r.pole = a.pole(p, j).vert
	}
	// Chains along the rows.
	var endLow, endUp float64
	startLow, startUp := a.angle, a.angle
	if !a.outside {
		startLow, startUp = a.right.low.u, a.right.up.u
	}
	if b.outside {
		endLow, endUp = b.angle, b.angle
	} else {
		endLow, endUp = b.left.low.u, b.left.up.u
	}
	endLow, endUp = after(startLow, endLow, only), after(startUp, endUp, only)
	if p.pole(j) {
		r.poleEdge(a, b, only, true)
	} else {
		r.chain(lo, startLow, endLow, true)
	}
	if p.pole(p.above(j)) {
		r.poleEdge(a, b, only, false)
	} else {
		r.chain(hi, startUp, endUp, false)
	}
	// Spokes: down on the left side, up on the right.
	if !a.outside {
		r.spoke(&a.right, startLow, startUp, true)
	}
	if !b.outside {
		r.spoke(&b.left, endLow, endUp, false)
	}
	for i, x := range s.free {
		if !between(int(s.blockOf[i]), a.after, b.after, len(s.block), only) {
			continue
		}
		e := m.seg[x]
		d := solid.WrapAngle(m.u[e[1]] - m.u[e[0]])
		mid := a.unwrap(m, m.u[e[0]]+d/2, m.v[e[0]]+solid.WrapAngle(m.v[e[1]]-m.v[e[0]])/2)
		r.join(e[0], mid-d/2, e[1], mid+d/2)
	}
	return r.finish()
}

// between reports whether block k lies after gap a and before gap b.
func between(k, a, b, n int, only bool) bool {
	if only {
		return true
	}
	return modulo(k-a-1, n) < modulo(b-a, n)
}

// after returns the angle end past start; a full turn past it if only is set.
func after(start, end float64, only bool) float64 {
	e := from(start, end)
	if only && e-start < 1e-6 {
		e += 2 * math.Pi
	}
	return e
}

// strip is the chart of one polygon in a band.
type strip struct {
	m      *faceMaker
	base   float64 // angle at x = 0
	v0     float64 // at y = 0
	xs, ys float64 // mm^½ per radian
	turn   bool    // v counts up to a full turn from v0
	pole   int32   // the vertex that a row stands for, or -1
	used   []int32
}

// chart sets up the metric of the deviation (see quarterRows) for a band, where
// circles are round. Near a torus's crest the curvature around vanishes; the
// chart keeps a fifth of it, lest facets become needles.
func (m *faceMaker) chart(p *rowPlan, j int, a *cut) *strip {
	c := m.face.Carrier
	mid := p.v[j] + p.height(j)/2
	cos := math.Abs(math.Cos(mid))
	rad := math.Abs(c.R0 + c.M*math.Cos(mid))
	r := &m.band.strip.chart
	*r = strip{m: m, v0: p.v[j], xs: math.Sqrt(rad * max(cos, .04)), ys: math.Sqrt(c.M), turn: p.cyclic, pole: -1, used: r.used[:0]}
	if a.outside {
		r.base = a.angle
	} else {
		r.base = min(a.right.low.u, a.right.up.u)
		for _, n := range a.right.via { // or their two corners would be one
			r.base = min(r.base, n.u)
		}
	}
	return r
}

// corner returns the polygon's corner for a vertex at angle u. A vertex where a
// ring was cut open has two, and so has a pole where spokes end in it.
func (r *strip) corner(vert int32, u float64) int32 {
	m := r.m
	slot := 2 * vert
	if u > r.base+2*math.Pi-1e-6 || vert == r.pole && u > r.base+1e-6 {
		slot++
	}
	if k := m.at[slot]; k > 0 {
		return k - 1
	}
	dv := m.v[vert] - r.v0
	if r.turn && (dv < 0 || dv >= 2*math.Pi) {
		dv -= 2 * math.Pi * math.Floor(dv/(2*math.Pi))
	}
	k := m.poly.add(vert, (u-r.base)*r.xs, dv*r.ys)
	m.at[slot] = k + 1
	r.used = append(r.used, slot)
	return k
}

// join adds a side of the polygon, unless its reverse is there: then the two
// face each other with nothing between, and both go.
func (r *strip) join(a int32, ua float64, b int32, ub float64) {
	x, y := r.corner(a, ua), r.corner(b, ub)
	if x == y {
		return
	}
	p := &r.m.poly
	if i := slices.Index(p.seg, [2]int32{y, x}); i >= 0 {
		p.seg = slices.Delete(p.seg, i, i+1)
		return
	}
	p.seg = append(p.seg, [2]int32{x, y})
}

// spoke adds a spoke whose ends are at the given angles.
func (r *strip) spoke(s *spoke, low, up float64, down bool) {
	join := func(p rowNode, u float64, q rowNode, v float64) {
		if down {
			r.join(q.vert, v, p.vert, u)
		} else {
			r.join(p.vert, u, q.vert, v)
		}
	}
	if len(s.via) == 0 {
		join(s.low, low, s.up, up)
		return
	}
	p, q := s.via[0], s.via[1]
	join(s.low, low, p, p.u+low-s.low.u)
	join(q, q.u+up-s.up.u, s.up, up)
}

// chain adds the part of a row between two angles: forwards if it bounds the
// polygon from below.
func (r *strip) chain(l *rowLine, start, end float64, forward bool) {
	for _, arc := range l.arcs {
		for i := 0; i+1 < len(arc); i++ {
			u := from(start, arc[i].u)
			v := u + arc[i+1].u - arc[i].u
			if v > end+turnEps {
				continue
			}
			if forward {
				r.join(arc[i].vert, u, arc[i+1].vert, v)
			} else {
				r.join(arc[i+1].vert, v, arc[i].vert, u)
			}
		}
	}
}

// poleEdge adds the row that stands for a pole, if the face holds it.
func (r *strip) poleEdge(a, b *cut, only, low bool) {
	if a.outside || b.outside {
		return
	}
	p, q := a.right.up, b.left.up
	if low {
		p, q = a.right.low, b.left.low
	}
	end := after(p.u, q.u, only)
	if low {
		r.join(p.vert, p.u, q.vert, end)
	} else {
		r.join(q.vert, end, p.vert, p.u)
	}
}

// finish triangulates the polygon.
func (r *strip) finish() error {
	m := r.m
	for _, s := range r.used {
		m.at[s] = 0
	}
	if len(m.poly.seg) == 0 {
		return nil
	}
	m.dropUnused()
	n := len(m.tri)
	err := m.fill()
	for i := n; i < len(m.tri); i++ {
		m.suspect = append(m.suspect, int32(i))
	}
	return err
}

// dropUnused removes corners that no side of the polygon uses: they belong to
// sides that faced each other.
func (m *faceMaker) dropUnused() {
	p := &m.poly
	move := make([]int32, len(p.pts))
	for _, s := range p.seg {
		move[s[0]], move[s[1]] = 1, 1
	}
	n := int32(0)
	for i, used := range move {
		if used == 1 {
			p.pts[n], p.vert[n] = p.pts[i], p.vert[i]
			move[i] = n
			n++
		}
	}
	p.pts, p.vert = p.pts[:n], p.vert[:n]
	for i, s := range p.seg {
		p.seg[i] = [2]int32{move[s[0]], move[s[1]]}
	}
}
