package tess

import (
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// bandWork holds what bands needs per face.
type bandWork struct {
	row    []int32 // of a local vertex, or -1
	bandOf []int32 // of a segment
	onRow  groups  // outline vertices by row, ascending in u
	inBand groups  // segments by band
	lines  []rowLine
	loose  []int32 // vertices of one row where the outline is open
	strip  stripWork
}

// rowLine is the part of a row inside the face: a full ring or arcs, each a run
// of vertices with ascending angle.
type rowLine struct {
	full  bool
	known bool
	arcs  [][]rowNode
}

type rowNode struct {
	u    float64 // ascending along the arc, not wrapped
	vert int32
	off  bool // not a point of the plan's lattice
}

// total is the angle that the line's arcs cover.
func (l *rowLine) total() float64 {
	if l.full { // a pole has no arc
		return 2 * math.Pi
	}
	t := 0.
	for _, a := range l.arcs {
		t += a[len(a)-1].u - a[0].u
	}
	return t
}

// bands cuts a face of a torus or sphere along the rows of its plan into bands
// and triangulates each.
func (m *faceMaker) bands(p *rowPlan) error {
	m.findRows(p)
	if err := m.sortIntoBands(p); err != nil {
		return err
	}
	m.balance = append(m.balance[:0], make([]int32, len(m.id))...)
	if err := m.rowLines(p); err != nil {
		return err
	}
	m.at = append(m.at[:0], make([]int32, 2*len(m.id))...)
	for j := range p.bands() {
		if err := m.fillBand(p, j); err != nil {
			return err
		}
	}
	return nil
}

// findRows notes which vertices of the outline lie on a row, and in which order.
func (m *faceMaker) findRows(p *rowPlan) {
	w := &m.band
	w.row = w.row[:0]
	for i, v := range m.v {
		j, on := p.find(v, m.eps[i]/m.face.Carrier.M)
		if on && !p.pole(j) {
			m.v[i] = p.v[j]
			w.row = append(w.row, int32(j))
		} else {
			w.row = append(w.row, -1)
		}
	}
	w.onRow.fill(len(p.v), w.row)
	for j := range p.v {
		sortBy(w.onRow.of(j), m.u)
	}
}

// sortIntoBands assigns every segment to its band. One along a row belongs to
// the band on its left.
func (m *faceMaker) sortIntoBands(p *rowPlan) error {
	w := &m.band
	eps := grain / m.face.Carrier.M
	w.bandOf = w.bandOf[:0]
	for _, s := range m.seg {
		a, b := w.row[s[0]], w.row[s[1]]
		var j int
		switch {
		case a < 0 && b < 0:
			j = p.band(m.v[s[0]], eps)
			if p.band(m.v[s[1]], eps) != j {
				return errTwist
			}
		case a < 0 || b < 0:
			off, on := s[0], int(b)
			if b < 0 {
				off, on = s[1], int(a)
			}
			j = p.band(m.v[off], eps)
			if on != j && on != p.above(j) {
				return errTwist
			}
		case a == b:
			j = int(a)
			if solid.WrapAngle(m.u[s[1]]-m.u[s[0]]) < 0 {
				j = p.below(j)
			}
		case p.above(int(a)) == int(b):
			j = int(a)
		case p.above(int(b)) == int(a):
			j = int(b)
		default:
			return errTwist
		}
		w.bandOf = append(w.bandOf, int32(j))
	}
	w.inBand.fill(p.bands(), w.bandOf)
	return nil
}

// rowLines finds, for every row, which part of it lies inside the face. Where
// the outline within a band ends on the row, the part between two ends is
// inside. Where it ends nowhere the whole row is in or out, and the band below
// tells: going round the axis, its lower line, its outline and its upper line
// must close.
func (m *faceMaker) rowLines(p *rowPlan) error {
	w := &m.band
	n := len(p.v)
	w.lines = slices.Grow(w.lines[:0], n)[:n]
	for j := range w.lines {
		w.lines[j] = rowLine{}
	}
	if !p.cyclic {
		for i, j := range [2]int{0, n - 1} {
			w.lines[j] = rowLine{full: m.face.Poles[i], known: true}
		}
	}
	for j := range p.bands() {
		if err := m.linesFromBand(p, j); err != nil {
			return err
		}
	}
	return m.propagate(p)
}

// linesFromBand settles the rows on which the outline of band j ends.
func (m *faceMaker) linesFromBand(p *rowPlan, j int) error {
	w := &m.band
	segs := w.inBand.of(j)
	if len(segs) == 0 {
		return nil
	}
	for _, s := range segs {
		m.balance[m.seg[s][0]]--
		m.balance[m.seg[s][1]]++
	}
	// Above the lower row the outline enters an arc where it runs down to the
	// row, and leaves it where it runs up; below the upper row the reverse.
	err := m.lineFromEnds(p, j, 1)
	if err == nil {
		err = m.lineFromEnds(p, p.above(j), -1)
	}
	for _, s := range segs {
		for _, x := range m.seg[s] {
			if m.balance[x] != 0 && w.row[x] < 0 {
				err = errParity
			}
			m.balance[x] = 0
		}
	}
	return err
}

// lineFromEnds makes the arcs of row j from the vertices where the outline of
// the band on one side of it ends: an arc starts where balance·side is 1.
func (m *faceMaker) lineFromEnds(p *rowPlan, j int, side int32) error {
	w := &m.band
	w.loose = w.loose[:0]
	for _, x := range w.onRow.of(j) {
		switch b := m.balance[x]; b {
		case 0:
		case 1, -1:
			w.loose = append(w.loose, x)
		default:
			return errParity
		}
	}
	k := len(w.loose)
	if k == 0 {
		return nil
	}
	first := 0
	if m.balance[w.loose[0]]*side < 0 {
		first = 1
	}
	l := &w.lines[j]
	if k%2 == 1 || l.known && len(l.arcs) != k/2 {
		return errParity
	}
	for i := 0; i < k; i += 2 {
		a, b := w.loose[(first+i)%k], w.loose[(first+i+1)%k]
		if m.balance[a]*side != 1 || m.balance[b]*side != -1 {
			return errParity
		}
		if l.known { // found from the other side already: must agree
			if c := l.arcs[(i/2)%len(l.arcs)]; c[0].vert != a || c[len(c)-1].vert != b {
				return errParity
			}
			continue
		}
		l.arcs = append(l.arcs, m.rowArc(p, j, a, b))
	}
	l.known = true
	return nil
}

// propagate settles the rows that no outline ends on.
func (m *faceMaker) propagate(p *rowPlan) error {
	w := &m.band
	n := len(p.v)
	first := slices.IndexFunc(w.lines, func(l rowLine) bool { return l.known })
	if first < 0 {
		first = 0
		w.lines[0].full = m.fullSomewhere(p)
		w.lines[0].known = true
		m.ringIfFull(p, 0)
	}
	for i := range p.bands() {
		j := i
		if p.cyclic {
			j = (first + i) % n
		}
		turn := 0.
		for _, s := range w.inBand.of(j) {
			turn += solid.WrapAngle(m.u[m.seg[s][1]] - m.u[m.seg[s][0]])
		}
		upper := (w.lines[j].total() + turn) / (2 * math.Pi)
		k := p.above(j)
		l := &w.lines[k]
		if l.known {
			if math.Abs(upper-l.total()/(2*math.Pi)) > 1e-3 {
				return errFlux
			}
			continue
		}
		r, ok := nearestWhole(upper, 1e-3)
		if !ok || r < 0 || r > 1 {
			return errFlux
		}
		l.known, l.full = true, r == 1
		m.ringIfFull(p, k)
	}
	return nil
}

// fullSomewhere decides whether the first row of a torus lies inside a face
// whose outline ends on no row. If part of the outline runs around the axis, the
// face lies on its left, above or below. Else it is made of loops, which are
// holes if they run clockwise; without any, the torus is whole.
func (m *faceMaker) fullSomewhere(p *rowPlan) bool {
	w := &m.band
	area := 0.
	for j := p.bands() - 1; j >= 0; j-- {
		turn := 0.
		for _, s := range w.inBand.of(j) {
			a, b := m.seg[s][0], m.seg[s][1]
			du := solid.WrapAngle(m.u[b] - m.u[a])
			turn += du
			area -= du * (solid.WrapAngle(m.v[a]-p.v[j]) + solid.WrapAngle(m.v[b]-p.v[j])) / 2
		}
		if math.Abs(turn) > math.Pi {
			return turn > 0
		}
	}
	return area <= 0
}

func (m *faceMaker) ringIfFull(p *rowPlan, j int) {
	l := &m.band.lines[j]
	if l.full && !p.pole(j) {
		l.arcs = append(l.arcs, m.rowRing(p, j))
	}
}

// lattice makes the point of row j at angle u.
func (m *faceMaker) lattice(p *rowPlan, j int, u float64) rowNode {
	return rowNode{u, m.inside(m.face.Carrier.P(u, p.v[j]), u, p.v[j]), false}
}

// rowRing returns the whole of row j, ending with its first vertex again.
func (m *faceMaker) rowRing(p *rowPlan, j int) []rowNode {
	if on := m.band.onRow.of(j); len(on) > 0 { // the outline touches the row
		return m.rowArc(p, j, on[0], on[0])
	}
	var out []rowNode
	for k := range p.n[j] {
		out = append(out, m.lattice(p, j, p.angle(j, k)))
	}
	return append(out, rowNode{out[0].u + 2*math.Pi, out[0].vert, false})
}

// crowded is how near to a vertex of the outline a lattice point of the row is
// left out, in steps of the row. The point beyond it moves to the middle of the
// gap, which is then 1.1 steps at most.
const crowded = .25

// rowArc returns the part of row j from vertex a up to vertex b, once around if
// they are the same.
func (m *faceMaker) rowArc(p *rowPlan, j int, a, b int32) []rowNode {
	on := m.band.onRow.of(j)
	i := slices.Index(on, a)
	out := []rowNode{{m.u[a], a, p.offLattice(j, m.u[a])}}
	for u := m.u[a]; ; {
		i++
		turn := 0.
		if i == len(on) {
			i = 0
		}
		x := on[i]
		for turn = 0; m.u[x]+turn <= u; {
			turn += 2 * math.Pi
		}
		out = m.rowGap(p, j, out, m.u[x]+turn)
		u = m.u[x] + turn
		out = append(out, rowNode{u, x, p.offLattice(j, u)})
		if x == b {
			return out
		}
	}
}

// rowGap appends lattice points between the last node of out and the angle end.
func (m *faceMaker) rowGap(p *rowPlan, j int, out []rowNode, end float64) []rowNode {
	step := 2 * math.Pi / float64(p.n[j])
	begin := out[len(out)-1].u
	gap := (end - begin) / step
	k0 := (begin - p.start[j]) / step // begin in steps
	first, last := math.Ceil(k0+1e-3), math.Floor(k0+gap-1e-3)
	if last < first {
		return out
	}
	// Distances of the lattice from both ends, in steps.
	head, tail := first-k0, k0+gap-last
	k := last - first + 1
	for x := range int(k) {
		at, off := first+float64(x), false
		switch {
		case x == 0 && head < crowded:
			continue
		case x == int(k)-1 && tail < crowded:
			continue
		case x == 1 && head < crowded && int(k) > 3:
			at, off = at-head/2, true
		case x == int(k)-2 && tail < crowded && int(k) > 3:
			at, off = at+tail/2, true
		}
		n := m.lattice(p, j, p.start[j]+at*step)
		n.off = off
		out = append(out, n)
	}
	return out
}
