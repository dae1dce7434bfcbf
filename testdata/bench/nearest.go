package main

import (
	"math"
	"slices"

	"wheelmold/mesh"
)

// nearest finds the distance of points to a mesh. It shares no code with the audit of
// mesh/check.
type nearest struct {
	tri  soup
	node []box
}

// box is a node of a binary tree: a leaf holds triangles lo up to hi, another has the
// nodes next and after.
type box struct {
	mesh.Box
	lo, hi int
	after  int // 0 for a leaf
}

// few is the number of triangles in a leaf.
const few = 4

func newNearest(s soup) *nearest {
	n := &nearest{tri: slices.Clone(s)}
	n.build(0, len(s))
	return n
}

// build splits triangles lo up to hi in the middle of their longest side.
func (n *nearest) build(lo, hi int) {
	b := box{Box: mesh.EmptyBox(), lo: lo, hi: hi}
	for _, t := range n.tri[lo:hi] {
		b.Box = b.Include(t[0]).Include(t[1]).Include(t[2])
	}
	id := len(n.node)
	n.node = append(n.node, b)
	if hi-lo <= few {
		return
	}
	axis, size := 0, b.Hi.Sub(b.Lo)
	for i := range size {
		if size[i] > size[axis] {
			axis = i
		}
	}
	mid := split(n.tri[lo:hi], axis, b.Lo[axis]+size[axis]/2) + lo
	n.build(lo, mid)
	n.node[id].after = len(n.node)
	n.build(mid, hi)
}

// split brings triangles whose middle lies below x to the front and returns how many,
// or halves the list where that would leave one side empty.
func split(tri soup, axis int, x float64) int {
	k := 0
	for i, t := range tri {
		if t[0][axis]+t[1][axis]+t[2][axis] < 3*x {
			tri[i], tri[k] = tri[k], t
			k++
		}
	}
	if k == 0 || k == len(tri) {
		return len(tri) / 2
	}
	return k
}

// distance of p to the mesh, mm.
func (n *nearest) distance(p mesh.Vec) float64 { return n.within(p, math.Inf(1)) }

// within is the distance of p to the mesh, or reach where it is farther.
func (n *nearest) within(p mesh.Vec, reach float64) float64 {
	best := reach * reach
	var room [96]int
	todo := append(room[:0], 0)
	for len(todo) > 0 {
		id := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		b := &n.node[id]
		if away2(p, &b.Box) >= best {
			continue
		}
		if b.after == 0 {
			for i := b.lo; i < b.hi; i++ {
				best = min(best, toTriangle2(p, &n.tri[i]))
			}
			continue
		}
		x, y := id+1, b.after
		if away2(p, &n.node[x].Box) < away2(p, &n.node[y].Box) {
			x, y = y, x
		}
		todo = append(todo, x, y)
	}
	return math.Sqrt(best)
}

// away2 is the squared distance of p to a box.
func away2(p mesh.Vec, b *mesh.Box) float64 {
	s := 0.0
	for i, x := range p {
		d := max(0, b.Lo[i]-x, x-b.Hi[i])
		s += d * d
	}
	return s
}

// toTriangle2 is the squared distance of p to a triangle: to its plane where the foot
// lies inside, else to its nearest side.
func toTriangle2(p mesh.Vec, t *[3]mesh.Vec) float64 {
	n := t[1].Sub(t[0]).Cross(t[2].Sub(t[0]))
	best, inside := math.Inf(1), n != mesh.Vec{}
	for i := range t {
		a, u := t[i], t[(i+1)%3].Sub(t[i])
		w := p.Sub(a)
		if n.Dot(u.Cross(w)) < 0 {
			inside = false
		}
		k := 0.0
		if l := u.Dot(u); l > 0 {
			k = max(0, min(1, w.Dot(u)/l))
		}
		d := w.AddScaled(-k, u)
		best = min(best, d.Dot(d))
	}
	if inside {
		h := n.Dot(p.Sub(t[0]))
		best = min(best, h*h/n.Dot(n))
	}
	return best
}
