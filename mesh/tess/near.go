package tess

import (
	"cmp"
	"fmt"
	"math"
	"math/bits"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// Facets sag off their faces, so where two faces come closer than that their
// facets may cross. Planar faces do not sag, and their outlines are kept apart by
// the triangulation; so only pairs with a curved face are looked at, and of those
// only the facets near the other face's carrier.

// crossingError says that facets of two faces cut through each other.
type crossingError struct {
	a, b string // features
	at   Vec
}

func (e *crossingError) Error() string {
	return fmt.Sprintf("the facets of %s and %s cross at (%.3f, %.3f, %.3f) mm: the features come too close there for this mesh tolerance", e.a, e.b, e.at[0], e.at[1], e.at[2])
}

// crossings looks for facets that cross. Facets of one face are consecutive.
func (w *work) crossings(m *mesh.Mesh) error {
	n := len(w.b.Faces)
	c := &crossingSearch{m: m, tol: w.tol, first: make([]int, n+1), box: make([]solid.Box, n)}
	for i := range c.box {
		c.box[i] = mesh.EmptyBox()
	}
	for i, t := range m.T {
		f := m.Label[i]
		c.first[f+1] = i + 1
		for _, v := range t {
			c.box[f] = c.box[f].Include(m.V[v])
		}
	}
	for f := range n {
		c.first[f+1] = max(c.first[f+1], c.first[f])
	}
	for a, f := range w.b.Faces {
		for b := a + 1; b < n; b++ {
			g := w.b.Faces[b]
			if f.Carrier.Kind == solid.Plane && g.Carrier.Kind == solid.Plane || !c.box[a].Overlaps(c.box[b], 0) {
				continue
			}
			if i := c.pair(a, b, f.Carrier, g.Carrier); i >= 0 {
				p := center(m, i)
				return &crossingError{featureAt(w.b, f, p), featureAt(w.b, g, p), p}
			}
		}
	}
	return nil
}

type crossingSearch struct {
	m     *mesh.Mesh
	tol   float64
	first []int // facets of face f are first[f] up to first[f+1]
	box   []solid.Box
	a, b  []boxed
}

// boxed is a facet with its box.
type boxed struct {
	solid.Box
	tri int32
}

// pair returns a facet of face a that crosses one of face b, or -1.
func (c *crossingSearch) pair(a, b int, ca, cb *solid.Carrier) int {
	common := c.box[a]
	for i := range common.Lo {
		common.Lo[i] = max(common.Lo[i], c.box[b].Lo[i])
		common.Hi[i] = min(common.Hi[i], c.box[b].Hi[i])
	}
	if ca.Kind == solid.Plane { // its facets are not near the other as a rule
		a, b, ca, cb = b, a, cb, ca
	}
	c.a = c.near(c.a[:0], a, common, cb)
	if len(c.a) == 0 {
		return -1
	}
	c.b = c.near(c.b[:0], b, common, ca)
	axis := 0
	for i := range common.Lo {
		if common.Hi[i]-common.Lo[i] > common.Hi[axis]-common.Lo[axis] {
			axis = i
		}
	}
	byStart := func(x, y boxed) int {
		if d := cmp.Compare(x.Lo[axis], y.Lo[axis]); d != 0 {
			return d
		}
		return int(x.tri - y.tri)
	}
	slices.SortFunc(c.a, byStart)
	slices.SortFunc(c.b, byStart)
	return c.sweep(axis)
}

// near appends the facets of face f that reach into the box and may touch
// facets of the other face, which lie within the tolerance of its carrier.
func (c *crossingSearch) near(dst []boxed, f int, box solid.Box, other *solid.Carrier) []boxed {
	slack := c.tol + 2*rounding
	if other.Kind == solid.Plane {
		slack = rounding // its facets do not sag
	}
	for i := c.first[f]; i < c.first[f+1]; i++ {
		t := c.m.T[i]
		p, q, r := &c.m.V[t[0]], &c.m.V[t[1]], &c.m.V[t[2]]
		if !reaches(p, q, r, &box) || clear3(other, [3]Vec{*p, *q, *r}, slack) {
			continue
		}
		dst = append(dst, boxed{solid.Box{Lo: *p, Hi: *p}.Include(*q).Include(*r), int32(i)})
	}
	return dst
}

// reaches reports whether the box of three points overlaps another.
func reaches(p, q, r *Vec, box *solid.Box) bool {
	for i, lo := range box.Lo {
		hi := box.Hi[i]
		if p[i] < lo && q[i] < lo && r[i] < lo || p[i] > hi && q[i] > hi && r[i] > hi {
			return false
		}
	}
	return true
}

// clear3 reports whether a facet surely stays off the carrier by more than slack
// or, of a plane, on one side of it.
func clear3(c *solid.Carrier, p [3]Vec, slack float64) bool {
	f := [3]float64{c.F(p[0]), c.F(p[1]), c.F(p[2])}
	switch c.Kind {
	case solid.Plane:
		// Vertices of the plane's own edges are rounded to it or next to it.
		return min(f[0], f[1], f[2]) >= -slack || max(f[0], f[1], f[2]) <= slack
	case solid.Torus:
		m := p[0].Add(p[1]).Add(p[2]).Scale(1. / 3)
		return math.Abs(c.F(m)) > slack+max(m.Dist(p[0]), m.Dist(p[1]), m.Dist(p[2]))
	}
	// F is convex: at most its largest corner value, at least any tangent plane.
	if max(f[0], f[1], f[2]) < -slack {
		return true
	}
	m := p[0].Add(p[1]).Add(p[2]).Scale(1. / 3)
	n := c.N(m)
	return c.F(m)+min(n.Dot(p[0].Sub(m)), n.Dot(p[1].Sub(m)), n.Dot(p[2].Sub(m))) > slack
}

// sweep compares the facets of both lists that overlap along the axis.
func (c *crossingSearch) sweep(axis int) int {
	start := 0
	widest := 0.
	for _, y := range c.b {
		widest = max(widest, y.Hi[axis]-y.Lo[axis])
	}
	for _, x := range c.a {
		for start < len(c.b) && c.b[start].Lo[axis] < x.Lo[axis]-widest {
			start++
		}
		for _, y := range c.b[start:] {
			if y.Lo[axis] > x.Hi[axis] {
				break
			}
			if x.Overlaps(y.Box, 0) && cross(c.m, c.m.T[x.tri], c.m.T[y.tri]) {
				return int(x.tri)
			}
		}
	}
	return -1
}

// cross reports whether two facets cut through each other: a side of one passes
// from one side of the other to the other side, between its corners. Touching is
// not crossing. Exact for vertices on the lattice.
func cross(m *mesh.Mesh, s, t [3]int32) bool {
	a := [3]Vec{m.V[s[0]], m.V[s[1]], m.V[s[2]]}
	b := [3]Vec{m.V[t[0]], m.V[t[1]], m.V[t[2]]}
	sa, mixed := sides(b, a)
	if !mixed {
		return false
	}
	sb, mixed := sides(a, b)
	return mixed && (pierces(a, sa, b) || pierces(b, sb, a))
}

// sides tells on which side of the plane of t each corner of s lies, and whether
// they lie on both.
func sides(t, s [3]Vec) (side [3]int, mixed bool) {
	lo, hi := 0, 0
	for i, p := range s {
		side[i] = orient3(t[0], t[1], t[2], p)
		lo, hi = min(lo, side[i]), max(hi, side[i])
	}
	return side, lo < 0 && hi > 0
}

// pierces reports whether a side of s, whose corners lie on the given sides of
// the plane of t, passes through the inside of t.
func pierces(s [3]Vec, side [3]int, t [3]Vec) bool {
	for i := range s {
		k := (i + 1) % 3
		if side[i]*side[k] >= 0 {
			continue
		}
		u := orient3(s[i], s[k], t[0], t[1])
		if u != 0 && u == orient3(s[i], s[k], t[1], t[2]) && u == orient3(s[i], s[k], t[2], t[0]) {
			return true
		}
	}
	return false
}

// orient3 is the sign of the volume of the tetrahedron abcd, exact for points on
// the lattice within Reach: in lattice steps their differences have 26 bits, the
// minors below 53, so only the last sum can round.
func orient3(a, b, c, d Vec) int {
	const unit = 1 / solid.Lattice
	x, y, z := b.Sub(a).Scale(unit), c.Sub(a).Scale(unit), d.Sub(a).Scale(unit)
	n := x.Cross(y)
	det := n.Dot(z)
	size := math.Abs(n[0]*z[0]) + math.Abs(n[1]*z[1]) + math.Abs(n[2]*z[2])
	// Three products and two sums round, each by ε at most.
	if e := 5 * epsilon * size; det > e || -det > e {
		return int(math.Copysign(1, det))
	}
	return dotSign(n, z)
}

// dotSign is the sign of the exact scalar product of two vectors of whole
// numbers below 2⁵³ and 2²⁶.
func dotSign(n, z Vec) int {
	var hi, lo uint64
	for i := range n {
		h, l := bits.Mul64(uint64(math.Abs(n[i])), uint64(math.Abs(z[i])))
		if (n[i] < 0) != (z[i] < 0) {
			var borrow uint64
			lo, borrow = bits.Sub64(lo, l, 0)
			hi, _ = bits.Sub64(hi, h, borrow)
		} else {
			var carry uint64
			lo, carry = bits.Add64(lo, l, 0)
			hi, _ = bits.Add64(hi, h, carry)
		}
	}
	switch {
	case int64(hi) < 0:
		return -1
	case hi|lo == 0:
		return 0
	}
	return 1
}
