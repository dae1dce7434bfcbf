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

// nodeDist is the least distance between two features' leaves, not positive
// where they meet. Beyond far the result is only known to exceed it.
func nodeDist(a, b *solid.Node, far float64) float64 {
	least := math.Inf(1)
	for _, x := range taken(a) {
		for _, y := range taken(b) {
			if !x.Box.Overlaps(y.Box, far) {
				continue
			}
			// The smaller leaf's surface is searched; two flat-sided ones may meet
			// with a face of either, so both are.
			if size(x) > size(y) {
				x, y = y, x
			}
			least = min(least, leafDist(x, y, far))
			if x.Extruded { // its caps are not searched
				least = min(least, leafDist(y, x, far))
			}
		}
	}
	return least
}

func size(l *solid.Leaf) float64 { return l.Box.Lo.Dist(l.Box.Hi) }

// taken are the leaves that bound what a cut takes away; the ribs that a cavity
// leaves standing are not among them.
func taken(n *solid.Node) []*solid.Leaf {
	if n.Op == solid.OpMinus {
		n = n.Kids[0]
	}
	return n.Leaves()
}

// The grid of the search on each segment: along it, and around or up.
const alongSteps, aroundSteps = 4, 24

// leafDist is the least of b's exact distance over a's surface: a coarse grid
// on every segment, then, where the grid's own spacing leaves it open whether
// the distance exceeds far, a pattern search from the best point.
func leafDist(a, b *solid.Leaf, far float64) float64 {
	least := math.Inf(1)
	for _, pa := range a.Patches {
		if pa.Elem < 0 || !pa.Box.Overlaps(b.Box, far) {
			continue
		}
		p := search{a: a, b: b, elem: pa.Elem, d: math.Inf(1)}
		for i := 0; i <= alongSteps; i++ {
			for k := 0; k <= aroundSteps; k++ {
				p.try(float64(i)/alongSteps, float64(k)/aroundSteps)
			}
		}
		if p.d-p.spacing() < far {
			p.refine()
		}
		least = min(least, p.d)
	}
	return least
}

// search is a minimization over one segment's surface.
type search struct {
	a, b *solid.Leaf
	elem int
	d    float64
	s, t float64
}

func (p *search) try(s, t float64) bool {
	s = min(max(s, 0), 1)
	if p.a.Extruded {
		t = min(max(t, 0), 1)
	}
	if d := p.b.Dist(p.a.At(p.elem, s, t)); d < p.d {
		p.d, p.s, p.t = d, s, t
		return true
	}
	return false
}

// spacing bounds how far a surface point lies from the grid: the distance is
// 1-Lipschitz, so it cannot fall by more between grid points.
func (p *search) spacing() float64 {
	e := &p.a.Elems[p.elem]
	along := math.Hypot(e.B[0]-e.A[0], e.B[1]-e.A[1])
	if e.Arc {
		t0, t1 := e.Angles()
		along = e.R * math.Abs(t1-t0)
	}
	around := 2 * math.Pi * max(e.A[0], e.B[0])
	if p.a.Extruded {
		around = p.a.Z1 - p.a.Z0
	}
	return along/(2*alongSteps) + around/(2*aroundSteps)
}

func (p *search) refine() {
	for h := 1.0; h > 1e-4; {
		s, t := p.s, p.t
		if !p.try(s+h/alongSteps, t) && !p.try(s-h/alongSteps, t) && !p.try(s, t+h/aroundSteps) && !p.try(s, t-h/aroundSteps) {
			h /= 2
		}
	}
}
