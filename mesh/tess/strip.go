package tess

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// A band with outline in it is taken apart at the angles where it is free from
// it. Such a gap lies either outside, or inside from row to row. Inside, the
// part between the first and the last pair of facing row vertices is stitched
// like a plain band; what remains around the outline are small polygons.

// stripWork holds what one band needs.
type stripWork struct {
	block   []blockedRange
	blockOf []int32 // of a free segment
	cut     []cut
	low, up []rowNode
	chart   strip
	free    []int32    // outline off the rows
	along   []rowNode  // ends of outline along them
	line    [2]rowLine // lower and upper row, with the outline along them
}

// blockedRange is a range of angles that the outline touches.
type blockedRange struct{ a, b float64 }

// cut opens the band's polygons at a gap: at an angle outside the face, or along
// two spokes, edges from row to row that bound a stitched part.
type cut struct {
	after       int // the block before the gap
	outside     bool
	angle       float64 // where outside
	left, right spoke
}

// spoke joins a vertex of the lower row to one of the upper. Where the outline
// leaves no room it may lead by two vertices of the outline instead: from the
// lower row to the first, and from the second to the upper row.
type spoke struct {
	low, up rowNode
	via     []rowNode
}

// unwrap returns the angle of the point (u, v) counted on from the cut.
func (c *cut) unwrap(m *faceMaker, u, v float64) float64 {
	if c.outside {
		return from(c.angle, u)
	}
	s := &c.right
	p, q := s.low, s.up
	height := func(v float64) float64 { return solid.WrapAngle(v - m.v[s.low.vert]) }
	h := height(v)
	for _, n := range s.via {
		if height(m.v[n.vert]) <= h {
			p = n
		} else {
			q = n
			break
		}
	}
	k := 0.
	if bottom, top := height(m.v[p.vert]), height(m.v[q.vert]); top > bottom {
		k = max(0, min(1, (h-bottom)/(top-bottom)))
	}
	return from(p.u+k*(q.u-p.u), u)
}

// turnEps is the rounding allowed for in comparing angles, radians.
const turnEps = 1e-9

// from returns the angle u ≥ base equal to x but for full turns, within turnEps.
func from(base, x float64) float64 {
	d := x - base
	d -= 2 * math.Pi * math.Floor(d/(2*math.Pi))
	if d > 2*math.Pi-turnEps {
		d -= 2 * math.Pi
	}
	return base + d
}

func (m *faceMaker) fillBand(p *rowPlan, j int) error {
	w := &m.band
	s := &w.strip
	lo, hi := m.splitOutline(p, j)
	if len(s.free) == 0 {
		switch {
		case lo.full && hi.full:
			m.stitchRing(p, j, lo, hi)
			return nil
		case len(lo.arcs)+len(hi.arcs) == 0 && !lo.full && !hi.full:
			return nil
		}
		return errParity
	}
	m.findBlocks()
	if err := m.findCuts(p, j, lo, hi); err != nil {
		return err
	}
	if len(s.cut) == 0 {
		c, ok := m.bridge(p, j, lo, hi)
		if !ok {
			return errNoCut
		}
		s.cut = append(s.cut, c)
	}
	for i := range s.cut {
		if err := m.stripPolygon(p, j, lo, hi, &s.cut[i], &s.cut[(i+1)%len(s.cut)], len(s.cut) == 1); err != nil {
			return err
		}
	}
	return nil
}

// splitOutline lists the outline of band j that does not run along its rows, and
// returns the two rows with the outline that does.
func (m *faceMaker) splitOutline(p *rowPlan, j int) (lo, hi *rowLine) {
	w := &m.band
	s := &w.strip
	k := p.above(j)
	s.free = s.free[:0]
	s.along = slices.Grow(s.along[:0], 2*len(w.inBand.of(j)))
	s.line[0], s.line[1] = w.lines[j], w.lines[k]
	for i := range s.line {
		s.line[i].arcs = append([][]rowNode(nil), s.line[i].arcs...)
	}
	turn := [2]float64{}
	for _, x := range w.inBand.of(j) {
		e := m.seg[x]
		if w.row[e[0]] < 0 || w.row[e[0]] != w.row[e[1]] {
			s.free = append(s.free, x)
			continue
		}
		side, row, a, b := 0, j, e[0], e[1]
		if int(w.row[a]) == k {
			side, row, a, b = 1, k, b, a // the band above lies on its left
		}
		d := solid.WrapAngle(m.u[b] - m.u[a])
		n := len(s.along)
		s.along = append(s.along, rowNode{m.u[a], a, p.offLattice(row, m.u[a])}, rowNode{m.u[a] + d, b, p.offLattice(row, m.u[b])})
		s.line[side].arcs = append(s.line[side].arcs, s.along[n:n+2:n+2])
		turn[side] += d
	}
	for i := range s.line {
		l := &s.line[i]
		if turn[i] == 0 {
			continue
		}
		if math.Abs(l.total()-2*math.Pi) < 1e-6 {
			l.full = true
			u := l.arcs[0][0].u
			ring := l.within(nil, u, u+2*math.Pi-2*turnEps)
			l.arcs = append(l.arcs[:0], append(ring, rowNode{ring[0].u + 2*math.Pi, ring[0].vert, ring[0].off}))
		}
	}
	return &s.line[0], &s.line[1]
}

// stitchRing joins two whole rows, or a row and a pole.
func (m *faceMaker) stitchRing(p *rowPlan, j int, lo, hi *rowLine) {
	k := p.above(j)
	switch {
	case p.pole(k):
		tip := m.poleVertex(p, k)
		m.fan(lo.arcs[0], tip, true)
	case p.pole(j):
		tip := m.poleVertex(p, j)
		m.fan(hi.arcs[0], tip, false)
	default:
		a, b := lo.arcs[0], hi.arcs[0]
		// Start the upper ring at the vertex nearest to the lower one's first.
		n := len(b) - 1
		r, best := 0, math.Inf(1)
		for i := range n {
			if d := math.Abs(solid.WrapAngle(b[i].u - a[0].u)); d < best {
				r, best = i, d
			}
		}
		s := &m.band.strip
		s.up = s.up[:0]
		u0 := a[0].u + solid.WrapAngle(b[r].u-a[0].u)
		for i := 0; i <= n; i++ {
			q := b[(r+i)%n]
			u := u0 + (q.u - b[r].u)
			if r+i >= n {
				u += 2 * math.Pi
			}
			s.up = append(s.up, rowNode{u, q.vert, q.off})
		}
		m.stitch(a, s.up)
	}
}

// stitch fills the strip between two chains of vertices, ascending in u, with
// facets that have one edge on a chain. Of two diagonals it takes the shorter,
// which makes the strip Delaunay.
func (m *faceMaker) stitch(lo, hi []rowNode) {
	i, k := 0, 0
	for i+1 < len(lo) || k+1 < len(hi) {
		if k+1 == len(hi) || i+1 < len(lo) && math.Abs(lo[i+1].u-hi[k].u) <= math.Abs(hi[k+1].u-lo[i].u) {
			m.facet(&lo[i], &lo[i+1], &hi[k])
			i++
		} else {
			m.facet(&lo[i], &hi[k+1], &hi[k])
			k++
		}
	}
}

// fan joins a chain to a tip above or below it.
func (m *faceMaker) fan(ring []rowNode, tip int32, above bool) {
	t := rowNode{vert: tip}
	for i := 0; i+1 < len(ring); i++ {
		if above {
			m.facet(&ring[i], &ring[i+1], &t)
		} else {
			m.facet(&ring[i+1], &ring[i], &t)
		}
	}
}

// facet emits a triangle; one between lattice points sags as planned.
func (m *faceMaker) facet(a, b, c *rowNode) {
	n := len(m.tri)
	m.emit(a.vert, b.vert, c.vert)
	if (a.off || b.off || c.off) && len(m.tri) > n {
		m.suspect = append(m.suspect, int32(n))
	}
}

// poleVertex makes the vertex at the sphere's pole on row j.
func (m *faceMaker) poleVertex(p *rowPlan, j int) int32 {
	v := p.v[j]
	i := m.inside(m.face.Carrier.P(0, v), 0, v)
	m.at = append(m.at, 0, 0)
	return i
}

// findBlocks merges the angles that the outline covers.
func (m *faceMaker) findBlocks() {
	s := &m.band.strip
	segs := s.free
	s.block = s.block[:0]
	for _, x := range segs {
		a, b := m.segRange(x)
		s.block = append(s.block, blockedRange{a, b})
	}
	slices.SortFunc(s.block, func(x, y blockedRange) int { return cmp.Compare(x.a, y.a) })
	n := 0
	for _, b := range s.block[1:] {
		if l := &s.block[n]; b.a <= l.b+turnEps {
			l.b = max(l.b, b.b)
		} else {
			n++
			s.block[n] = b
		}
	}
	s.block = s.block[:n+1]
	for len(s.block) > 1 && s.block[len(s.block)-1].b-2*math.Pi >= s.block[0].a-turnEps {
		last := &s.block[len(s.block)-1]
		last.b = max(last.b, s.block[0].b+2*math.Pi)
		s.block = s.block[1:]
	}
	s.blockOf = s.blockOf[:0]
	for _, x := range segs {
		a, _ := m.segRange(x)
		k, at := slices.BinarySearchFunc(s.block, a, func(b blockedRange, a float64) int { return cmp.Compare(b.a, a) })
		if !at {
			k--
		}
		if k < 0 {
			k = len(s.block) - 1 // wrapped round
		}
		s.blockOf = append(s.blockOf, int32(k))
	}
}

// segRange returns the angles that a segment covers, the first in [-π, π].
func (m *faceMaker) segRange(x int32) (a, b float64) {
	e := m.seg[x]
	a = m.u[e[0]]
	d := solid.WrapAngle(m.u[e[1]] - a)
	if d < 0 {
		return solid.WrapAngle(a + d), solid.WrapAngle(a+d) - d
	}
	return a, a + d
}

// covers reports whether the line covers the angle u.
func (l *rowLine) covers(u float64) bool {
	for _, a := range l.arcs {
		if from(a[0].u, u) < a[len(a)-1].u {
			return true
		}
	}
	return false
}

// within appends the nodes of the line from angle a to b, ends included.
func (l *rowLine) within(dst []rowNode, a, b float64) []rowNode {
	first := len(dst)
	for _, arc := range l.arcs {
		for _, n := range arc {
			if u := from(a-turnEps, n.u); u <= b+turnEps {
				dst = append(dst, rowNode{u, n.vert, n.off})
			}
		}
	}
	run := dst[first:]
	slices.SortStableFunc(run, func(x, y rowNode) int { return cmp.Compare(x.u, y.u) })
	// A ring lists its first vertex twice.
	run = slices.CompactFunc(run, func(x, y rowNode) bool { return x.vert == y.vert })
	return dst[:first+len(run)]
}

// findCuts goes through the gaps between blocks: those inside are stitched
// between their spokes.
func (m *faceMaker) findCuts(p *rowPlan, j int, lo, hi *rowLine) error {
	s := &m.band.strip
	s.cut = s.cut[:0]
	k := p.above(j)
	n := len(s.block)
	for i := range s.block {
		a := s.block[i].b
		b := s.block[(i+1)%n].a
		if i+1 == n {
			b += 2 * math.Pi
		}
		if b-a < turnEps {
			continue
		}
		mid := (a + b) / 2
		in := !p.pole(j) && lo.covers(mid) || p.pole(j) && hi.covers(mid)
		if !p.pole(j) && !p.pole(k) && in != hi.covers(mid) {
			return errParity
		}
		if !in {
			s.cut = append(s.cut, cut{after: i, outside: true, angle: mid})
			continue
		}
		if c, ok := m.spokes(p, j, a, b, lo, hi); ok {
			c.after = i
			s.cut = append(s.cut, c)
		}
	}
	return nil
}

// spokes finds the first and last pair of facing vertices of the rows in the gap
// from a to b, and stitches what lies between.
func (m *faceMaker) spokes(p *rowPlan, j int, a, b float64, lo, hi *rowLine) (cut, bool) {
	s := &m.band.strip
	k := p.above(j)
	s.low = lo.within(s.low[:0], a, b)
	s.up = hi.within(s.up[:0], a, b)
	if p.pole(j) || p.pole(k) {
		return m.poleSpokes(p, j)
	}
	if len(s.low) == 0 || len(s.up) == 0 {
		return cut{}, false
	}
	i0, k0 := facing(s.low, s.up, 0, 0, 1)
	i1, k1 := facing(s.low, s.up, len(s.low)-1, len(s.up)-1, -1)
	i0, k0 = m.offOutline(i0, k0, 1)
	i1, k1 = m.offOutline(i1, k1, -1)
	if i0 < 0 || i1 < 0 {
		return cut{}, false
	}
	if i1 < i0 || k1 < k0 {
		i1, k1 = i0, k0
	}
	m.stitch(s.low[i0:i1+1], s.up[k0:k1+1])
	return cut{left: spoke{low: s.low[i0], up: s.up[k0]}, right: spoke{low: s.low[i1], up: s.up[k1]}}, true
}

// facing moves from vertices i and k in one direction while that brings them
// closer together.
func facing(lo, hi []rowNode, i, k, dir int) (int, int) {
	for {
		d := math.Abs(lo[i].u - hi[k].u)
		switch x, y := i+dir, k+dir; {
		case x >= 0 && x < len(lo) && math.Abs(lo[x].u-hi[k].u) < d-turnEps:
			i = x
		case y >= 0 && y < len(hi) && math.Abs(lo[i].u-hi[y].u) < d-turnEps:
			k = y
		default:
			return i, k
		}
	}
}

// offOutline moves a spoke off the outline at the end of a gap where the two run
// along one meridian, but the outline has vertices that the spoke has not.
func (m *faceMaker) offOutline(i, k, dir int) (int, int) {
	s := &m.band.strip
	lo, hi := s.low[i], s.up[k]
	if math.Abs(lo.u-hi.u) > turnEps {
		return i, k
	}
	touches := 0
	for _, x := range s.free {
		for _, v := range m.seg[x] {
			if v == lo.vert {
				touches |= 1
			}
			if v == hi.vert {
				touches |= 2
			}
		}
		if e := m.seg[x]; e == [2]int32{lo.vert, hi.vert} || e == [2]int32{hi.vert, lo.vert} {
			return i, k
		}
	}
	if touches != 3 {
		return i, k
	}
	x, y := i+dir, k+dir
	switch okx, oky := x >= 0 && x < len(s.low), y >= 0 && y < len(s.up); {
	case okx && (!oky || math.Abs(s.low[x].u-lo.u) <= math.Abs(s.up[y].u-hi.u)):
		return x, k
	case oky:
		return i, y
	}
	return -1, -1
}

// poleSpokes does the same beside a pole.
func (m *faceMaker) poleSpokes(p *rowPlan, j int) (cut, bool) {
	s := &m.band.strip
	ring, row := s.low, p.above(j)
	if p.pole(j) {
		ring, row = s.up, j
	}
	if len(ring) == 0 {
		return cut{}, false
	}
	var tip int32
	if i := slices.IndexFunc(s.cut, func(c cut) bool { return !c.outside }); i >= 0 {
		tip = s.cut[i].pole(p, j).vert // one vertex for all spokes
	} else {
		tip = m.poleVertex(p, row)
	}
	m.fan(ring, tip, !p.pole(j))
	a, b := ring[0], ring[len(ring)-1]
	if p.pole(j) {
		return cut{left: spoke{low: rowNode{a.u, tip, false}, up: a}, right: spoke{low: rowNode{b.u, tip, false}, up: b}}, true
	}
	return cut{left: spoke{low: a, up: rowNode{a.u, tip, false}}, right: spoke{low: b, up: rowNode{b.u, tip, false}}}, true
}

func (c *cut) pole(p *rowPlan, j int) rowNode {
	if p.pole(j) {
		return c.left.low
	}
	return c.left.up
}

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
