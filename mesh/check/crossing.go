package check

import (
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"wheelmold/mesh"
)

// crossings reports the pairs of facets that have more in common than the
// vertices and edges they share.
//
// A hierarchy of boxes proposes pairs (tree.go), exact predicates judge them
// (exact.go). Vertices count by their places: two facets that stand on
// different vertices at one place share it.
func (a *audit) crossings(limit int) {
	t := newTree(a)
	// The number of parts is fixed, and each part stops by its own count: what
	// is found does not depend on the number of processors.
	const parts = 128
	found := make([][][2]int32, parts)
	var turn atomic.Int32
	var wg sync.WaitGroup
	for range min(parts, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for {
				i := int(turn.Add(1)) - 1
				if i >= parts {
					return
				}
				found[i] = t.search(a, i*t.leaves/parts, (i+1)*t.leaves/parts, limit)
			}
		})
	}
	wg.Wait()
	pairs := slices.Concat(found...)
	slices.SortFunc(pairs, func(x, y [2]int32) int {
		if x[0] != y[0] {
			return int(x[0] - y[0])
		}
		return int(x[1] - y[1])
	})
	for _, p := range pairs[:min(limit, len(pairs))] {
		a.r.Crossing.add(a.meeting(p[0], p[1]), int(p[0]), int(p[1]))
	}
}

// meeting returns a point near where two facets meet: the middle of the common
// part of their boxes.
func (a *audit) meeting(i, j int32) mesh.Vec {
	b, c := a.box(i), a.box(j)
	var p mesh.Vec
	for k := range p {
		p[k] = (max(b.Lo[k], c.Lo[k]) + min(b.Hi[k], c.Hi[k])) / 2
	}
	return p
}

// box returns the bounds of facet i.
func (a *audit) box(i int32) mesh.Box {
	t := &a.m.T[i]
	p, q, r := &a.m.V[t[0]], &a.m.V[t[1]], &a.m.V[t[2]]
	var b mesh.Box
	for k := range 3 {
		b.Lo[k], b.Hi[k] = min(p[k], q[k], r[k]), max(p[k], q[k], r[k])
	}
	return b
}

// cross reports whether the facets s and t, as align leaves them, meet in more
// than the vertices they share.
func (p *points) cross(s, t [3]int32, shared int) bool {
	switch shared {
	case 0:
		return p.meet(s, t)
	case 1:
		return p.meetBeyondVertex(s, t)
	case 2:
		return p.fold(s[0], s[1], s[2], t[2])
	}
	return true // the same three corners
}

// align reorders both facets so that shared corners come first, in the same
// order, and counts them. Which way a facet turns does not matter here.
func align(s, t [3]int32) (_, _ [3]int32, shared int) {
	for i := range 3 {
		for j := shared; j < 3; j++ {
			if s[i] == t[j] {
				s[i], s[shared] = s[shared], s[i]
				t[j], t[shared] = t[shared], t[j]
				shared++
				break
			}
		}
	}
	return s, t, shared
}

// fold reports whether two facets on the edge a, b, with tips c and d, lie on
// each other.
func (p *points) fold(a, b, c, d int32) bool {
	if p.apart(a, b, c, d) || p.orient3(a, b, c, d) != 0 {
		return false
	}
	x, y := p.plane(a, b, c)
	return p.orient2(x, y, a, b, c) == p.orient2(x, y, a, b, d)
}

// apart is a quick way to see that the tips c and d lie on opposite sides of
// the edge a, b: the tips' directions normal to the edge are more than a right
// angle apart. It says true only when that is certain.
func (p *points) apart(a, b, c, d int32) bool {
	o := p.v[a]
	e, u, w := p.v[b].Sub(o), p.v[c].Sub(o), p.v[d].Sub(o)
	m, n := e.Cross(u), e.Cross(w)
	dot := m.Dot(n)
	// Each cross product errs by less than 8·unit·|e|·|u| (three roundings in
	// differences and products, one sum, times √3 for the length); the dot
	// product of two such by less than 20·unit·|e|²·|u|·|w|. 64 leaves room.
	const bound = 64 * unit
	size := e.Dot(e) * math.Sqrt(u.Dot(u)*w.Dot(w))
	return size > tiny && dot < -bound*size
}

// meetBeyondVertex judges two facets that share their first vertex only. What
// they have in common is convex and holds that vertex; if it holds more, its
// far end lies on the side opposite the vertex in one of them.
func (p *points) meetBeyondVertex(s, t [3]int32) bool {
	t1, t2 := p.orient3(s[0], s[1], s[2], t[1]), p.orient3(s[0], s[1], s[2], t[2])
	if t1*t2 > 0 {
		return false
	}
	s1, s2 := 0, 0
	if t1 != 0 || t2 != 0 {
		s1, s2 = p.orient3(t[0], t[1], t[2], s[1]), p.orient3(t[0], t[1], t[2], s[2])
		if s1*s2 > 0 {
			return false
		}
	}
	return p.pierce(t[1], t[2], t1, t2, s) || p.pierce(s[1], s[2], s1, s2, t)
}

// meet judges two facets that share no vertex: if they have a point in common,
// then a side of one has a point in common with the other.
func (p *points) meet(s, t [3]int32) bool {
	ts, strict := p.sides(s, t)
	if strict {
		return false
	}
	if ts == [3]int{} {
		return p.meetInPlane(s, t)
	}
	ss, strict := p.sides(t, s)
	if strict {
		return false
	}
	for i := range 3 {
		j := (i + 1) % 3
		if p.pierce(t[i], t[j], ts[i], ts[j], s) || p.pierce(s[i], s[j], ss[i], ss[j], t) {
			return true
		}
	}
	return false
}

// meetInPlane judges two facets in one plane: convex figures there are apart
// only if a side of one has the other strictly beyond it.
func (p *points) meetInPlane(s, t [3]int32) bool {
	x, y := p.plane(s[0], s[1], s[2])
	return !p.beyondSide(x, y, s, t[:]) && !p.beyondSide(x, y, t, s[:])
}

// beyondSide reports whether some side of the facet t has all of vs strictly
// beyond it, seen in the coordinates x and y.
func (p *points) beyondSide(x, y int, t [3]int32, vs []int32) bool {
	turn := p.orient2(x, y, t[0], t[1], t[2])
sides:
	for i := range 3 {
		for _, v := range vs {
			if p.orient2(x, y, t[i], t[(i+1)%3], v) != -turn {
				continue sides
			}
		}
		return true
	}
	return false
}

// sides tells on which side of the plane of s the corners of t lie, and whether
// all lie strictly on the same.
func (p *points) sides(s, t [3]int32) (side [3]int, strict bool) {
	for i := range 3 {
		side[i] = p.orient3(s[0], s[1], s[2], t[i])
	}
	return side, side[0] != 0 && side[0] == side[1] && side[1] == side[2]
}

// pierce reports whether the segment a, b has a point in common with the facet
// t, borders included. sa and sb are the sides of its plane on which a and b lie.
func (p *points) pierce(a, b int32, sa, sb int, t [3]int32) bool {
	switch {
	case sa*sb > 0:
		return false
	case sa == 0 && sb == 0:
		return p.overlap(a, b, t)
	}
	// The line through a and b passes the facet's sides all on the same hand.
	left, right := false, false
	for i := range 3 {
		switch p.orient3(a, b, t[i], t[(i+1)%3]) {
		case 1:
			left = true
		case -1:
			right = true
		}
		if left && right {
			return false
		}
	}
	return true
}

// overlap reports whether the segment a, b has a point in common with the facet
// t in whose plane it lies.
func (p *points) overlap(a, b int32, t [3]int32) bool {
	x, y := p.plane(t[0], t[1], t[2])
	if p.beyondSide(x, y, t, []int32{a, b}) {
		return false
	}
	s := p.orient2(x, y, a, b, t[0])
	return s == 0 || s != p.orient2(x, y, a, b, t[1]) || s != p.orient2(x, y, a, b, t[2])
}

// plane returns two coordinates in which the facet a, b, c keeps an area.
func (p *points) plane(a, b, c int32) (x, y int) {
	o := p.v[a]
	n := p.v[b].Sub(o).Cross(p.v[c].Sub(o))
	k := 2
	for i := range 2 {
		if math.Abs(n[i]) > math.Abs(n[k]) {
			k = i
		}
	}
	// The largest component shows an area unless rounding made it all.
	for range 3 {
		x, y = (k+1)%3, (k+2)%3
		if p.orient2(x, y, a, b, c) != 0 {
			break
		}
		k = x
	}
	return x, y
}
