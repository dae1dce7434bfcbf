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
