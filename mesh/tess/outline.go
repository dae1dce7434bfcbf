package tess

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"wheelmold/mesh/brep"
)

// faceMaker makes the facets of one face after the other; its buffers live on.
//
// Vertices of the face are numbered locally: first those of its outline, then
// those that it makes itself inside.
type faceMaker struct {
	tol    float64
	shared []Vec // vertices of all edges, exact

	// For each of shared: the sides of its edge on whose walls it stands.
	sides []uint8

	face    *brep.Face
	eps     []float64 // of a local vertex: how near to a wall it is on it, mm
	id      []int32   // of a local vertex: index into shared, or ^index into own
	u, v    []float64 // surface parameters
	seg     [][2]int32
	own     []Vec      // vertices inside the face
	tri     [][3]int32 // local vertices, counter-clockwise against the carrier's N
	suspect []int32    // triangles whose sag is to be checked

	local   []int32 // local index of a shared vertex, valid where stamp matches
	stamp   []int32
	now     int32
	balance []int32 // per local vertex: segments in less segments out
	at      []int32 // of a local vertex in the polygon being cut out

	cdt  triangulator
	poly polygon
	slab slabWork
	band bandWork
	fix  repairWork
}

var (
	errParity   = errors.New("the outline crosses a wall an odd number of times")
	errTwist    = errors.New("the outline turns back across a wall")
	errTooClose = errors.New("outline segments overlap")
	errFlux     = errors.New("the outline does not close around the axis")
	errNoCut    = errors.New("no place to cut a ring open")
)

// polygon is a region to be cut into triangles: points of a chart, and the
// local vertices they stand for.
type polygon struct {
	pts  []point2
	vert []int32
	seg  [][2]int32
	out  [][3]int32
}

func (p *polygon) reset() {
	p.pts, p.vert, p.seg = p.pts[:0], p.vert[:0], p.seg[:0]
}

// add appends a corner and returns its index.
func (p *polygon) add(vert int32, x, y float64) int32 {
	p.pts = append(p.pts, point2{x, y})
	p.vert = append(p.vert, vert)
	return int32(len(p.vert) - 1)
}

// outline takes the polylines of a face's edges as its directed segments.
func (m *faceMaker) outline(f *brep.Face, uses []edgeUse, lines [][]int32) {
	m.face = f
	m.id, m.u, m.v, m.seg = m.id[:0], m.u[:0], m.v[:0], m.seg[:0]
	m.own, m.tri, m.suspect = m.own[:0], m.tri[:0], m.suspect[:0]
	if len(m.stamp) < len(m.shared) {
		m.local, m.stamp = make([]int32, len(m.shared)), make([]int32, len(m.shared))
		m.now = 0
	}
	m.now++
	m.eps = m.eps[:0]
	for _, e := range uses {
		line := lines[e.edge]
		a := m.vertex(line[0], e.side)
		for _, id := range line[1:] {
			b := m.vertex(id, e.side)
			if e.reversed {
				m.seg = append(m.seg, [2]int32{b, a})
			} else {
				m.seg = append(m.seg, [2]int32{a, b})
			}
			a = b
		}
	}
}

// vertex returns the local index of a shared vertex of an edge that has the face
// on the given side.
func (m *faceMaker) vertex(id int32, side uint8) int32 {
	if m.stamp[id] != m.now {
		m.stamp[id], m.local[id] = m.now, int32(len(m.id))
		p := m.shared[id]
		if m.face.Carrier.Kind == planeKind { // exact on axis-parallel planes
			p = snapped(p)
		}
		u, v := m.face.Carrier.UV(p)
		m.append(id, u, v)
		m.eps = append(m.eps, grain)
	}
	if m.sides[id]&side != 0 {
		m.eps[m.local[id]] = sticky
	}
	return m.local[id]
}

func (m *faceMaker) append(id int32, u, v float64) int32 {
	m.id, m.u, m.v = append(m.id, id), append(m.u, u), append(m.v, v)
	return int32(len(m.id) - 1)
}

// inside makes a vertex of the face's own.
func (m *faceMaker) inside(p Vec, u, v float64) int32 {
	m.own = append(m.own, p)
	return m.append(^int32(len(m.own)-1), u, v)
}

// point returns the exact place of a local vertex.
func (m *faceMaker) point(i int32) Vec {
	if id := m.id[i]; id >= 0 {
		return m.shared[id]
	}
	return m.own[^m.id[i]]
}

// emit appends a triangle unless two corners are one vertex.
func (m *faceMaker) emit(a, b, c int32) {
	if x, y, z := m.id[a], m.id[b], m.id[c]; x != y && y != z && z != x {
		m.tri = append(m.tri, [3]int32{a, b, c})
	}
}

// flat triangulates a planar face.
func (m *faceMaker) flat() error {
	p := &m.poly
	p.reset()
	for i := range m.id {
		p.add(int32(i), m.u[i], m.v[i])
	}
	p.seg = append(p.seg, m.seg...)
	return m.fill()
}

// fill triangulates m.poly.
func (m *faceMaker) fill() error {
	p := &m.poly
	p.out = p.out[:0]
	if len(p.pts) > 4 || !p.few() {
		if !finite(p.pts) {
			return errTooClose
		}
		var err error
		if p.out, err = m.cdt.triangulate(p.out, p.pts, p.seg); err != nil {
			return err
		}
	}
	for _, t := range p.out {
		m.emit(p.vert[t[0]], p.vert[t[1]], p.vert[t[2]])
	}
	return nil
}

// thin is the least area of a facet made without the exact predicates, mm²: a
// thousand times the rounding error of one with sides of 300 mm.
const thin = 1e-8

// few cuts a triangle or convex quadrangle, and reports whether p was one.
func (p *polygon) few() bool {
	n := len(p.pts)
	if len(p.seg) != n || n < 3 {
		return false
	}
	var next, seen [4]int32
	for _, s := range p.seg {
		next[s[0]] = s[1]
		seen[s[0]] |= 1
		seen[s[1]] |= 2
	}
	for i := range n {
		if seen[i] != 3 {
			return false
		}
	}
	a := int32(0)
	b := next[a]
	c := next[b]
	d := next[c]
	o := func(i, j, k int32) float64 { return orient(p.pts[i], p.pts[j], p.pts[k]) }
	if n == 3 {
		if d != a || o(a, b, c) < thin {
			return false
		}
		p.out = append(p.out, [3]int32{a, b, c})
		return true
	}
	if next[d] != a || d == a || c == a || b == a {
		return false
	}
	ac, bd := min(o(a, b, c), o(a, c, d)), min(o(a, b, d), o(b, c, d))
	if max(ac, bd) < thin {
		return false
	}
	if ac >= bd*.999 { // of two equal diagonals always the same
		p.out = append(p.out, [3]int32{a, b, c}, [3]int32{a, c, d})
	} else {
		p.out = append(p.out, [3]int32{a, b, d}, [3]int32{b, c, d})
	}
	return true
}

// groups sorts items by a small key without allocation: item i has key[i], or -1.
type groups struct {
	start []int32
	item  []int32
}

// fill groups the items 0..len(key)-1 by key, in order of index within a group.
func (g *groups) fill(n int, key []int32) {
	g.start = append(g.start[:0], make([]int32, n+1)...)
	for _, k := range key {
		if k >= 0 {
			g.start[k+1]++
		}
	}
	for k := range n {
		g.start[k+1] += g.start[k]
	}
	total := int(g.start[n])
	g.item = slices.Grow(g.item[:0], total)[:total]
	for i := len(key) - 1; i >= 0; i-- { // from the end, so that starts slide into place
		if k := key[i]; k >= 0 {
			g.start[k+1]--
			g.item[g.start[k+1]] = int32(i)
		}
	}
	// Now start[k+1] is where group k begins.
	copy(g.start, g.start[1:])
	g.start[n] = int32(total)
}

func (g *groups) of(k int) []int32 { return g.item[g.start[k]:g.start[k+1]] }

// sortBy sorts vertices by a coordinate, then by index.
func sortBy(list []int32, x []float64) {
	if len(list) < 2 {
		return
	}
	slices.SortFunc(list, func(a, b int32) int {
		if c := cmp.Compare(x[a], x[b]); c != 0 {
			return c
		}
		return int(a - b)
	})
}

// nearestWhole returns the whole number nearest to x and whether it is within eps.
func nearestWhole(x, eps float64) (float64, bool) {
	r := math.Round(x)
	return r, math.Abs(x-r) < eps
}
