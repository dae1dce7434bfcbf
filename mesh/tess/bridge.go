package tess

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// bridge finds a cut where the outline leaves no gap: from a vertex of each row
// that bounds the band to the nearest vertex of the outline that can be seen from
// there, or between the rims of a ring that touches no row.
func (m *faceMaker) bridge(p *rowPlan, j int, lo, hi *rowLine) (cut, bool) {
	c := cut{after: len(m.band.strip.block) - 1}
	ok := false
	r := m.chart(p, j, &cut{outside: true, angle: -math.Pi})
	switch low, up := lo.nodes(0), hi.nodes(0); {
	case len(low) > 0 && len(up) > 0:
		var q, t rowNode
		var n, o rowNode
		if n, q, ok = m.bridgeFrom(r, low, true); ok {
			o, t, ok = m.bridgeFrom(r, hi.nodes(n.u), false)
			turn := n.u + solid.WrapAngle(o.u-n.u) - o.u
			o.u, t.u = o.u+turn, t.u+turn
		}
		c.right = spoke{n, o, []rowNode{q, t}}
	case len(up) > 0:
		c.right.up, c.right.low, ok = m.bridgeFrom(r, up, false)
	default:
		if len(low) == 0 {
			low = m.rim()
		}
		c.right.low, c.right.up, ok = m.bridgeFrom(r, low, true)
	}
	c.left = c.right
	return c, ok
}

// nodes lists the vertices of the line, those nearest to angle u first.
func (l *rowLine) nodes(u float64) []rowNode {
	var out []rowNode
	for _, a := range l.arcs {
		out = append(out, a...)
	}
	slices.SortStableFunc(out, func(a, b rowNode) int {
		return cmp.Compare(math.Abs(solid.WrapAngle(a.u-u)), math.Abs(solid.WrapAngle(b.u-u)))
	})
	return out
}

// forward reports whether a segment runs the way of u: then the face lies above.
func (m *faceMaker) forward(x int32) bool {
	return solid.WrapAngle(m.u[m.seg[x][1]]-m.u[m.seg[x][0]]) > 0
}

// rim lists the vertices of the outline that have the face above.
func (m *faceMaker) rim() []rowNode {
	var out []rowNode
	for _, x := range m.band.strip.free {
		if v := m.seg[x][0]; m.forward(x) {
			out = append(out, rowNode{m.u[v], v, true})
		}
	}
	return out
}

// bridgeFrom finds one of the nodes from which a vertex of the outline that has
// the face between is seen: above the node if up is set, else below.
func (m *faceMaker) bridgeFrom(r *strip, nodes []rowNode, up bool) (n, far rowNode, ok bool) {
	y := func(vert int32) float64 { return solid.WrapAngle(m.v[vert]-r.v0) * r.ys }
	for _, n := range nodes {
		at := func(vert int32) point2 {
			return point2{solid.WrapAngle(m.u[vert]-n.u) * r.xs, y(vert)}
		}
		q := m.nearestSeen(at, at(n.vert), func(x int32) bool { return m.forward(x) != up })
		if q >= 0 && y(q) != y(n.vert) && (y(q) > y(n.vert)) == up {
			return n, rowNode{n.u + solid.WrapAngle(m.u[q]-n.u), q, true}, true
		}
	}
	return n, far, false
}

// nearestSeen returns the nearest to p of the vertices at which wanted segments
// of the free outline start, if no segment hides it, in the given chart about p;
// or -1.
func (m *faceMaker) nearestSeen(at func(int32) point2, p point2, wanted func(int32) bool) int32 {
	s := &m.band.strip
	best, least := int32(-1), math.Inf(1)
	for _, x := range s.free {
		if !wanted(x) {
			continue
		}
		q := at(m.seg[x][0])
		if d := math.Hypot(q[0]-p[0], q[1]-p[1]); d < least && d > 0 {
			best, least = m.seg[x][0], d
		}
	}
	if best < 0 {
		return -1
	}
	q := at(best)
	for _, x := range s.free {
		a, b := at(m.seg[x][0]), at(m.seg[x][1])
		if math.Abs(b[0]-a[0]) > math.Pi*m.band.strip.chart.xs {
			continue // it lies on the far side, where the chart is cut
		}
		if m.seg[x][0] == best || m.seg[x][1] == best || a == p || b == p {
			continue
		}
		if orient(p, q, a)*orient(p, q, b) <= 0 && orient(a, b, p)*orient(a, b, q) <= 0 {
			return -1
		}
	}
	return best
}
