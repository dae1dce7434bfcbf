package tess

import (
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

const planeKind = solid.Plane

// slabWork holds what slabs needs per face.
type slabWork struct {
	wall   []int32   // of a local vertex, or -1
	off    []int32   // vertices on no wall
	beside []float64 // true u of those that count as on one but are not quite
	slabOf []int32   // of a segment
	onWall groups    // vertices by wall, ascending in v
	inSlab groups    // segments by slab
	place  []int32   // of a vertex along its wall
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

// findWalls notes which vertices lie on a wall, and in which order. Width is that
// of a slab, mm.
func (m *faceMaker) findWalls(walls int, width float64) {
	w := &m.slab
	w.wall, w.off, w.beside = w.wall[:0], w.off[:0], w.beside[:0]
	for i, u := range m.u {
		eps := 1e-9 // of the apex's own vertices
		if i < len(m.eps) {
			eps = m.eps[i] / width
		}
		r, on := nearestWhole(u, eps)
		if !on {
			w.off = append(w.off, int32(i))
			w.wall = append(w.wall, -1)
			continue
		}
		if math.Abs(u-r) > grain/width {
			w.beside = append(w.beside, u)
		}
		m.u[i] = r
		w.wall = append(w.wall, int32(modulo(int(r), walls)))
	}
	m.alignRulings(walls)
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

// sameRuling is the difference in wall steps up to which vertices lie on one
// ruling: far above rounding, and far below the lattice for any radius within
// Reach.
const sameRuling = 1e-9

// alignRulings gives vertices off the walls that lie on one ruling the same u to
// the bit, that of the wall if one of them stands for the crossing of a wall
// beside it: rounding would make facets between them that have no other area.
func (m *faceMaker) alignRulings(walls int) {
	w := &m.slab
	sortBy(w.off, m.u)
	for k, i := range w.off {
		u := m.u[i]
		for _, x := range w.beside {
			if math.Abs(u-x) < sameRuling {
				r := math.Round(u)
				m.u[i], w.wall[i] = r, int32(modulo(int(r), walls))
			}
		}
		if k > 0 && w.wall[i] < 0 {
			if x := m.u[w.off[k-1]]; math.Abs(u-x) < sameRuling {
				m.u[i] = x
			}
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

// flatten is the scale of v in a slab's chart. Surfaces do not curve along their
// rulings, so length counts for nothing there in the metric of the deviation
// (see doc.go); a little keeps the chart plane. Facets then reach from edge to
// edge rather than along one: a chord along a curved edge lies below the surface
// where the edge's own vertices do not, and at an acute edge may come out of
// the other face.
const flatten = 1e-3

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
		j := p.add(i, (d+.5)*width, flatten*m.v[i])
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

// throughApex closes the outline in the chart of a cone whose apex lies inside
// the face or on its outline. There u has no value, and the line v = v(apex) stands for one point:
// the outline runs along it, from wall to wall, all around where the apex is
// inside, else from the edge that arrives there to the one that leaves.
func (m *faceMaker) throughApex(walls int) {
	c := m.face.Carrier
	if c.Kind != solid.Cone {
		return
	}
	tip := c.P(0, -c.R0/c.DR)
	apex := slices.IndexFunc(m.id, func(id int32) bool { return m.shared[id].Dist(tip) < grain })
	if apex < 0 {
		if m.face.Apex {
			m.aroundApex(walls, tip)
		}
		return
	}
	for k := range m.seg {
		if int(m.seg[k][1]) == apex {
			m.acrossApex(walls, int32(apex), k)
		}
	}
	m.u[apex] = .5 // off any wall: nothing uses this vertex any more
}

// apexSense is the way in u along the line of the apex that has the face on the
// left: forwards if the face lies above.
func (m *faceMaker) apexSense() float64 { return math.Copysign(1, m.face.Carrier.DR) }

// aroundApex adds the line of an apex inside the face.
func (m *faceMaker) aroundApex(walls int, tip Vec) {
	c := m.face.Carrier
	m.own = append(m.own, tip)
	first := int32(len(m.id))
	for k := range walls {
		x := m.append(^int32(len(m.own)-1), float64(k), -c.R0/c.DR)
		if next := first + int32((k+1)%walls); m.apexSense() > 0 {
			m.seg = append(m.seg, [2]int32{x, next})
		} else {
			m.seg = append(m.seg, [2]int32{next, x})
		}
	}
}

// acrossApex joins segment k, which ends in the apex, to the next one that
// starts there, by a chain of copies of the apex.
func (m *faceMaker) acrossApex(walls int, apex int32, k int) {
	c := m.face.Carrier
	sense, n := m.apexSense(), float64(walls)
	wall := func(u float64) float64 { // most edges that end in an apex are rulings along walls
		if r, on := nearestWhole(u, 1e-6); on {
			return r
		}
		return u
	}
	u0 := wall(m.u[m.seg[k][0]])
	leave, turn := -1, n+1
	for j, s := range m.seg {
		if s[0] != apex {
			continue
		}
		if d := (wall(m.u[s[1]]) - u0) * sense; d-n*math.Floor(d/n) < turn {
			leave, turn = j, d-n*math.Floor(d/n)
		}
	}
	if leave < 0 {
		return // an open outline: found out later
	}
	x := m.append(m.id[apex], u0, -c.R0/c.DR)
	m.seg[k][1] = x
	for w := math.Floor(u0*sense+1e-6) + 1; w < (u0*sense+turn)-1e-6; w++ {
		y := m.append(m.id[apex], w*sense, -c.R0/c.DR)
		m.seg = append(m.seg, [2]int32{x, y})
		x = y
	}
	y := m.append(m.id[apex], u0+turn*sense, -c.R0/c.DR)
	m.seg = append(m.seg, [2]int32{x, y})
	m.seg[leave][0] = y
}

func modulo(a, n int) int {
	if a %= n; a < 0 {
		a += n
	}
	return a
}
