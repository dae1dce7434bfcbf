package mold

import (
	"math"

	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// Slack of the wall check, mm: dimensions are rounded to the lattice one by one,
// and the distance is found by search.
const wallSlack = 2e-3

// clearances checks, with the leaves' exact distances, that features keep their
// walls from each other, the cavity's land, and a wall to the outline's sides.
func clearances(m *Mold) params.Faults {
	var out params.Faults
	cuts := m.Split.Cuts
	for i := range cuts {
		a := &cuts[i]
		out = append(out, sideWall(m, a)...)
		for k := range i {
			b := &cuts[k]
			if a.Group == b.Group || a.may(b) || b.may(a) {
				continue
			}
			need := m.Layout.wall
			if b.Group == "cavity" || a.Group == "cavity" {
				need = m.Layout.land
			}
			if a.Group == groupMark || b.Group == groupMark {
				need = m.Job.Process.MinWall
			}
			if !a.Box.Overlaps(b.Box, need) {
				continue
			}
			if d := nodeDist(a.Node, b.Node, need); d < need-wallSlack {
				out = append(out, params.Fault{Path: a.Path, Value: a.Name, Allowed: "at least " + mm(need) + " from " + b.Name,
					Cause: "they come within " + mm(d) + "; make room with " + a.Path + " or " + b.Path})
			}
		}
	}
	return out
}

// may reports whether a is meant to run into b.
func (a *Cut) may(b *Cut) bool {
	for _, g := range a.May {
		if g == b.Group {
			return true
		}
	}
	return false
}

// sideWall checks a feature that does not open at the side against the outline.
func sideWall(m *Mold, c *Cut) params.Faults {
	if c.Sides || c.Node.Op != solid.OpLeaf {
		return nil
	}
	block := m.Block
	if block.Op == solid.OpUnion {
		block = block.Kids[0]
	}
	least := math.Inf(1)
	l := c.Node.Leaf
	for e := range l.Elems {
		for k := 0; k <= 24; k++ {
			for _, s := range []float64{0, .5, 1} {
				p := l.At(e, s, float64(k)/24)
				q := block.Leaf.Frame.Local(p)
				least = min(least, -solid.SignedDist2(block.Leaf.Elems, q[0], q[1]))
			}
		}
	}
	if need := m.Layout.wall; least < need-wallSlack {
		return params.Faults{{Path: c.Path, Value: c.Name, Allowed: "at least " + mm(need) + " inside the outline",
			Cause: "it comes within " + mm(least) + " of the outer face; raise mold.size or change " + c.Path}}
	}
	return nil
}

// nodeDist is the least distance between two features' leaves; 0 where they
// meet. Beyond far the result is only known to exceed it.
func nodeDist(a, b *solid.Node, far float64) float64 {
	least := math.Inf(1)
	for _, x := range taken(a) {
		for _, y := range taken(b) {
			if x.Box.Overlaps(y.Box, far) {
				least = min(least, leafDist(x, y), leafDist(y, x))
			}
		}
	}
	return max(least, 0)
}

// taken are the leaves that bound what a cut takes away; the ribs that a cavity
// leaves standing are not among them.
func taken(n *solid.Node) []*solid.Leaf {
	if n.Op == solid.OpMinus {
		n = n.Kids[0]
	}
	return n.Leaves()
}

// leafDist is the least of b's exact distance over a's surface: a coarse grid
// on every segment, then a pattern search from the best point of each.
func leafDist(a, b *solid.Leaf) float64 {
	least := math.Inf(1)
	for e := range a.Elems {
		const ns, nt = 4, 24
		best, bs, bt := math.Inf(1), 0.0, 0.0
		try := func(s, t float64) bool {
			s = min(max(s, 0), 1)
			if a.Extruded {
				t = min(max(t, 0), 1)
			}
			if d := b.Dist(a.At(e, s, t)); d < best {
				best, bs, bt = d, s, t
				return true
			}
			return false
		}
		for i := 0; i <= ns; i++ {
			for k := 0; k <= nt; k++ {
				try(float64(i)/ns, float64(k)/nt)
			}
		}
		for h := 1.0; h > 1e-4; {
			s, t := bs, bt
			moved := try(s+h/ns, t) || try(s-h/ns, t) || try(s, t+h/nt) || try(s, t-h/nt)
			if !moved {
				h /= 2
			}
		}
		least = min(least, best)
	}
	return least
}
