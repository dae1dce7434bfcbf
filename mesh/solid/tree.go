package solid

import (
	"fmt"

	"wheelmold/mesh"
)

// Op is the operation of a tree node.
type Op uint8

// Operations. Minus takes every later child from the first.
const (
	OpLeaf Op = iota
	OpUnion
	OpIntersect
	OpMinus
)

// Node is a node of the CSG tree. Trees share leaves and subtrees freely.
type Node struct {
	Op   Op
	Leaf *Leaf
	Kids []*Node

	box Box // of a union: what lies outside concerns none of its parts
}

// Union, Intersect and Minus build nodes.
func Union(kids ...*Node) *Node {
	n := &Node{Op: OpUnion, Kids: kids}
	n.box = n.Bounds()
	return n
}

// Intersect is the common part of its arguments.
func Intersect(kids ...*Node) *Node { return &Node{Op: OpIntersect, Kids: kids} }

// Minus is a without every one of b.
func Minus(a *Node, b ...*Node) *Node {
	if len(b) == 0 {
		return a
	}
	return &Node{Op: OpMinus, Kids: append([]*Node{a}, b...)}
}

// Bits tell where material lies beside a carrier at one of its points.
type Bits uint8

// Below is the side that -N points to, Above the side of +N.
const (
	Below Bits = 1 << iota
	Above
)

// Beside reports whether material lies just below and just above carrier c at
// its point q. Leaves with a patch of c through q answer by orientation, the
// others by inside or outside, so that no step off the surface is needed.
func (n *Node) Beside(c *Carrier, q Vec) Bits {
	switch n.Op {
	case OpLeaf:
		return n.Leaf.beside(c, q)
	case OpUnion:
		var o Bits
		if !n.box.Contains(q, 1e-6) {
			return o
		}
		for _, k := range n.Kids {
			if o |= k.Beside(c, q); o == Below|Above {
				break
			}
		}
		return o
	case OpIntersect:
		o := Below | Above
		for _, k := range n.Kids {
			if o &= k.Beside(c, q); o == 0 {
				break
			}
		}
		return o
	}
	o := n.Kids[0].Beside(c, q)
	for _, k := range n.Kids[1:] {
		if o == 0 {
			break
		}
		o &^= k.Beside(c, q)
	}
	return o
}

func (l *Leaf) beside(c *Carrier, q Vec) Bits {
	if !l.Box.Contains(q, 1e-6) {
		return 0
	}
	for i := range l.Patches {
		if p := &l.Patches[i]; p.Carrier.ID == c.ID && p.Holds(q, mergeTol) {
			if p.Sign > 0 {
				return Below
			}
			return Above
		}
	}
	if l.Dist(q) < 0 {
		return Below | Above
	}
	return 0
}

// Contains reports whether p lies inside, for p off every surface.
func (n *Node) Contains(p Vec) bool {
	switch n.Op {
	case OpLeaf:
		return n.Leaf.Contains(p)
	case OpUnion:
		if !n.box.Contains(p, 1e-6) {
			return false
		}
		for _, k := range n.Kids {
			if k.Contains(p) {
				return true
			}
		}
		return false
	case OpIntersect:
		for _, k := range n.Kids {
			if !k.Contains(p) {
				return false
			}
		}
		return true
	}
	if !n.Kids[0].Contains(p) {
		return false
	}
	for _, k := range n.Kids[1:] {
		if k.Contains(p) {
			return false
		}
	}
	return true
}

// Bounds returns a box that holds the solid, mm. It is tight where nothing that
// is taken away holds a whole extreme; Lo exceeds Hi where an intersection is
// seen to be empty.
func (n *Node) Bounds() Box {
	if n.Op == OpLeaf {
		return n.Leaf.Box
	}
	if len(n.Kids) == 0 { // a union of nothing
		return mesh.EmptyBox()
	}
	b := n.Kids[0].Bounds()
	for _, k := range n.Kids[1:] {
		switch n.Op {
		case OpUnion:
			b = b.Join(k.Bounds())
		case OpIntersect:
			c := k.Bounds()
			for i := range c.Lo {
				b.Lo[i], b.Hi[i] = max(b.Lo[i], c.Lo[i]), min(b.Hi[i], c.Hi[i])
			}
		}
	}
	return b
}

// Leaves returns every leaf of the tree once, in the order of first mention.
func (n *Node) Leaves() []*Leaf {
	var out []*Leaf
	seen := map[*Leaf]bool{}
	var walk func(*Node)
	walk = func(n *Node) {
		if n.Op == OpLeaf && !seen[n.Leaf] {
			seen[n.Leaf] = true
			out = append(out, n.Leaf)
		}
		for _, k := range n.Kids {
			walk(k)
		}
	}
	walk(n)
	return out
}

// String shows the tree's shape, for messages and tests.
func (n *Node) String() string {
	if n.Op == OpLeaf {
		return n.Leaf.Name
	}
	s := [...]string{"", "union", "intersect", "minus"}[n.Op] + "("
	for i, k := range n.Kids {
		if i > 0 {
			s += ", "
		}
		s += fmt.Sprint(k)
	}
	return s + ")"
}
