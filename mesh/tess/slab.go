package tess

import (
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

const planeKind = solid.Plane

// slabWork holds what slabs needs per face.
type slabWork struct {
	wall   []int32 // of a local vertex, or -1
	slabOf []int32 // of a segment
	onWall groups  // vertices by wall, ascending in v
	inSlab groups  // segments by slab
	place  []int32 // of a vertex along its wall
	side   []int32
}

// slabs cuts a face of a cylinder or cone along its walls into slabs and
// triangulates each. Slab k lies between walls k and k+1; m.u counts in wall
// steps here.
func (m *faceMaker) slabs(walls int) error {
	c := m.face.Carrier
	step := 2 * math.Pi / float64(walls)
	for i := range m.u {
		m.u[i] /= step
	}
	m.throughApex(walls)
	w := &m.slab
	m.findWalls(walls, step*c.MaxR)
	if err := m.sortSegments(walls); err != nil {
		return err
	}
	m.balance = append(m.balance[:0], make([]int32, len(m.id))...)
	m.at = append(m.at[:0], make([]int32, len(m.id))...)
	for k := range walls {
		segs := w.inSlab.of(k)
		if len(segs) == 0 || m.plainSlab(k, walls, segs) {
			continue
		}
		if err := m.slabPolygon(k, walls, segs, step*c.MaxR); err != nil {
			return err
		}
	}
	return nil
}

// findWalls notes which vertices lie on a wall, and in which order.
func (m *faceMaker) findWalls(walls int, width float64) {
	w := &m.slab
	w.wall = w.wall[:0]
	for i, u := range m.u {
		eps := 1e-9 // of the apex's own vertices
		if i < len(m.eps) {
			eps = m.eps[i] / width
		}
		r, on := nearestWhole(u, eps)
		if !on {
			w.wall = append(w.wall, -1)
			continue
		}
		m.u[i] = r
		w.wall = append(w.wall, int32(modulo(int(r), walls)))
	}
	w.onWall.fill(walls, w.wall)
	w.place = slices.Grow(w.place[:0], len(m.u))[:len(m.u)]
	for k := range walls {
		on := w.onWall.of(k)
		sortBy(on, m.v)
		for i, x := range on {
			w.place[x] = int32(i)
		}
	}
}

// sortSegments assigns every segment to its slab. One along a wall belongs to
// the slab on its left.
func (m *faceMaker) sortSegments(walls int) error {
	w := &m.slab
	w.slabOf = w.slabOf[:0]
	n := float64(walls)
	for _, s := range m.seg {
		a, b := s[0], s[1]
		d := m.u[b] - m.u[a]
		d -= n * math.Round(d/n)
		k := int(math.Floor(m.u[a] + d/2))
		if w.wall[a] >= 0 && w.wall[a] == w.wall[b] && math.Abs(d) < .5 {
			k = int(m.u[a])
			if m.v[b] > m.v[a] {
				k--
			}
		} else if lo, hi := min(m.u[a], m.u[a]+d), max(m.u[a], m.u[a]+d); lo < float64(k)-1e-9 || hi > float64(k+1)+1e-9 {
			return errTwist
		}
		w.slabOf = append(w.slabOf, int32(modulo(k, walls)))
	}
	w.inSlab.fill(walls, w.slabOf)
	return nil
}

// plainSlab handles a slab crossed by one segment below and one above.
func (m *faceMaker) plainSlab(k, walls int, segs []int32) bool {
	if len(segs) != 2 {
		return false
	}
	w := &m.slab
	lo, hi := m.seg[segs[0]], m.seg[segs[1]]
	left, right := int32(k), int32((k+1)%walls)
	if w.wall[lo[0]] != left {
		lo, hi = hi, lo
	}
	a, b, c, d := lo[0], lo[1], hi[0], hi[1]
	if w.wall[a] != left || w.wall[b] != right || w.wall[c] != right || w.wall[d] != left {
		return false
	}
	if w.place[d] != w.place[a]+1 || w.place[c] != w.place[b]+1 {
		return false
	}
	m.emit(a, b, c)
	m.emit(a, c, d)
	return true
}

// slabPolygon triangulates the regions of a slab: its segments, and the parts of
// its walls inside the face.
func (m *faceMaker) slabPolygon(k, walls int, segs []int32, width float64) error {
	w, p := &m.slab, &m.poly
	p.reset()
	corner := func(i int32) int32 {
		if j := m.at[i]; j > 0 {
			return j - 1
		}
		d := m.u[i] - float64(k) - .5
		d -= float64(walls) * math.Round(d/float64(walls))
		j := p.add(i, (d+.5)*width, m.v[i])
		m.at[i] = j + 1
		return j
	}
	for _, s := range segs {
		e := m.seg[s]
		p.seg = append(p.seg, [2]int32{corner(e[0]), corner(e[1])})
		m.balance[e[0]]--
		m.balance[e[1]]++
	}
	err := m.wallPart(k, false, corner)
	if err == nil {
		err = m.wallPart((k+1)%walls, true, corner)
	}
	for _, i := range p.vert {
		if m.balance[i] != 0 && w.wall[i] < 0 {
			err = errParity
		}
		m.balance[i], m.at[i] = 0, 0
	}
	if err != nil {
		return err
	}
	return m.fill()
}

// wallPart adds the parts of a wall inside the face to the slab's outline: up
// on its right side, down on its left.
func (m *faceMaker) wallPart(k int, up bool, corner func(int32) int32) error {
	w, p := &m.slab, &m.poly
	on := w.onWall.of(k)
	start := int32(-1)
	for q := range on {
		i := q
		if !up {
			i = len(on) - 1 - q
		}
		x := on[i]
		if start >= 0 {
			p.seg = append(p.seg, [2]int32{start, corner(x)})
			start = corner(x)
		}
		switch m.balance[x] {
		case 0:
		case 1:
			if start >= 0 {
				return errParity
			}
			start = corner(x)
		case -1:
			if start < 0 {
				return errParity
			}
			start = -1
		default:
			return errParity
		}
	}
	if start >= 0 {
		return errParity
	}
	return nil
}

// throughApex closes the outline in the chart of a cone whose apex the face
// holds. There u has no value, and the line v = v(apex) stands for one point:
// the outline runs along it, from wall to wall, all around where the apex is
// inside, else from the edge that arrives there to the one that leaves.
func (m *faceMaker) throughApex(walls int) {
	c := m.face.Carrier
	if !m.face.Apex || c.Kind != solid.Cone {
		return
	}
	va := -c.R0 / c.DR
	sense := -1. // the face lies below the apex
	if c.DR > 0 {
		sense = 1
	}
	apex := int32(-1)
	for i := range m.id {
		if c.MaxR > 0 && math.Abs(m.v[i]-va) < grain {
			apex = int32(i)
		}
	}
	chain := func(id int32, u0, u1 float64) { // from u0 to u1 the way that sense says
		prev := m.append(id, u0, va)
		for k := math.Floor(u0*sense) + 1; k < u1*sense-1e-9; k++ {
			x := m.append(id, k*sense, va)
			m.seg = append(m.seg, [2]int32{prev, x})
			prev = x
		}
		m.seg = append(m.seg, [2]int32{prev, m.append(id, u1, va)})
	}
	if apex < 0 {
		q := c.P(0, va)
		m.own = append(m.own, q)
		chain(^int32(len(m.own)-1), 0, float64(walls)*sense)
		// One vertex, not two, closes the ring.
		last := int32(len(m.id) - 1)
		m.seg[len(m.seg)-1][1] = m.seg[len(m.seg)-walls][0]
		m.id, m.u, m.v = m.id[:last], m.u[:last], m.v[:last]
		return
	}
	// Each arrival at the apex goes on along the line to the nearest departure.
	n := float64(walls)
	var arrive, depart []int32
	for i, s := range m.seg {
		if s[1] == apex {
			arrive = append(arrive, int32(i))
		}
		if s[0] == apex {
			depart = append(depart, int32(i))
		}
	}
	for _, i := range arrive {
		u0 := m.u[m.seg[i][0]]
		best, turn := int32(-1), 2*n
		for _, j := range depart {
			d := (m.u[m.seg[j][1]] - u0) * sense
			d -= n * math.Floor(d/n)
			if d < turn {
				best, turn = j, d
			}
		}
		if best < 0 {
			return // an open outline: found out later
		}
		first := int32(len(m.id))
		chain(m.id[apex], u0, u0+turn*sense)
		m.seg[i][1], m.seg[best][0] = first, int32(len(m.id)-1)
	}
	// Nothing uses the outline's own apex any more; it must not count as lying on a wall.
	m.u[apex] = .5
	m.v[apex] = math.Inf(int(-sense))
}

func modulo(a, n int) int {
	if a %= n; a < 0 {
		a += n
	}
	return a
}
