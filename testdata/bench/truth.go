package main

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// truth is a solid as the measure knows it. Faces are read from the tree, by the same
// question for each: does material lie on one side of this surface at this point? Edges
// come from the exact boundary that ours meshes; the tests hold those of the reference solid
// to their closed form. The volume comes from lines (volume.go). The mesher is not asked.
type truth struct {
	root    *solid.Node
	patches []*solid.Patch
	volume  float64    // mm³, once it is asked for (truthOf)
	edges   []mesh.Vec // points of true edges
	faces   []mesh.Vec // points of true faces
	near    *nearest   // the edges as lines, for points outside them
}

const (
	edgeStep = 0.4  // mm between points of a true edge
	lineSag  = 2e-5 // mm that a true edge is off the chords that stand for it
	faceStep = 1.5  // mm between points of a true face, as a rule
	onFace   = 1e-6 // mm that the foot of a point may lie off its surface by rounding
)

func newTruth(root *solid.Node, b *brep.Boundary) *truth {
	t := &truth{root: root}
	for _, l := range root.Leaves() {
		for i := range l.Patches {
			t.patches = append(t.patches, &l.Patches[i])
		}
	}
	var lines soup
	for _, e := range b.Edges {
		if len(e.Half) != 2 {
			continue
		}
		along := walk(e)
		t.edges = append(t.edges, thinned(along)...)
		for i, p := range along[1:] {
			lines = append(lines, [3]mesh.Vec{along[i], p, p})
		}
	}
	t.near = newNearest(lines)
	for _, p := range t.patches {
		t.cover(p)
	}
	return t
}

// walk returns points along an edge, its ends too, so close that chords between them
// stay within lineSag of it.
func walk(e *brep.Edge) []mesh.Vec {
	const rough = 64
	at := func(k float64) mesh.Vec { return e.Curve.At(e.T0 + (e.T1-e.T0)*k) }
	sag := 0.0
	for i := range rough {
		a, mid, b := at(float64(i)/rough), at((float64(i)+0.5)/rough), at(float64(i+1)/rough)
		sag = max(sag, mid.Dist(a.Add(b).Scale(0.5)))
	}
	// The sagitta goes with the square of the step.
	n := max(1, int(math.Ceil(rough*math.Sqrt(sag/lineSag))))
	if e.Curve.Line {
		n = max(1, int(at(0).Dist(at(1))/edgeStep))
	}
	out := make([]mesh.Vec, n+1)
	for i := range out {
		out[i] = at(float64(i) / float64(n))
	}
	return out
}

// thinned leaves out points of an edge that lie closer than edgeStep.
func thinned(along []mesh.Vec) []mesh.Vec {
	out := along[:1:1]
	for i, p := range along {
		if i == len(along)-1 || p.Dist(out[len(out)-1]) >= edgeStep {
			out = append(out, p)
		}
	}
	return out
}

// cover adds points of the patch that lie on the solid's surface.
func (t *truth) cover(p *solid.Patch) {
	l := p.Leaf
	if p.Elem < 0 {
		t.coverCap(p)
		return
	}
	e := &l.Elems[p.Elem]
	along := math.Hypot(e.B[0]-e.A[0], e.B[1]-e.A[1])
	if e.Arc {
		a, b := e.Angles()
		along = e.R * math.Abs(b-a)
	}
	across := l.Z1 - l.Z0
	if !l.Extruded {
		across = 2 * math.Pi * max(e.A[0], e.B[0])
	}
	t.grid(along, across, func(x, y float64) { t.add(p, l.At(p.Elem, x, y)) })
}

// coverCap adds points of a flat end of an extruded leaf.
func (t *truth) coverCap(p *solid.Patch) {
	l := p.Leaf
	lo, hi := solid.Point2{math.Inf(1), math.Inf(1)}, solid.Point2{math.Inf(-1), math.Inf(-1)}
	for _, e := range l.Elems {
		for i := range lo {
			lo[i], hi[i] = min(lo[i], e.A[i], e.B[i]), max(hi[i], e.A[i], e.B[i])
		}
	}
	z := l.Z0
	if p.Elem == solid.CapHigh {
		z = l.Z1
	}
	t.grid(hi[0]-lo[0], hi[1]-lo[1], func(x, y float64) {
		t.add(p, l.Frame.Global(mesh.Vec{lo[0] + x*(hi[0]-lo[0]), lo[1] + y*(hi[1]-lo[1]), z}))
	})
}

// grid calls f for shares of two lengths in steps. The odd shares keep the points off
// rims and planes of symmetry: there other faces begin, and which is meant is not known.
func (t *truth) grid(along, across float64, f func(x, y float64)) {
	n, m := max(5, int(along/faceStep)), max(7, int(across/faceStep))
	for i := range n {
		for j := range m {
			f((float64(i)+0.4709713)/float64(n), math.Mod((float64(j)+0.3719373)/float64(m)+0.6180339*float64(i), 1))
		}
	}
}

// add keeps p if the solid's surface runs there along the patch.
func (t *truth) add(on *solid.Patch, p mesh.Vec) {
	if t.bounds(on.Carrier, p) {
		t.faces = append(t.faces, p)
	}
}

// bounds reports whether a face of the solid lies on the surface c at its point q.
func (t *truth) bounds(c *solid.Carrier, q mesh.Vec) bool {
	b := t.root.Beside(c, q)
	return b == solid.Below || b == solid.Above
}

// distance of p to the true surface, mm: to the nearest foot on a surface that bears a
// face there, or to the nearest edge. What is near is looked for first.
func (t *truth) distance(p mesh.Vec) float64 {
	for reach := 0.05; ; reach *= 10 {
		if d := t.within(p, reach); d < reach || reach > 1e4 {
			return d
		}
	}
}

// within is the distance of p to the true surface, or reach where it is farther.
func (t *truth) within(p mesh.Vec, reach float64) float64 {
	best := reach
	for _, a := range t.patches {
		if away2(p, &a.Box) > best*best {
			continue
		}
		d := math.Abs(a.Carrier.F(p))
		if d >= best {
			continue
		}
		q := a.Carrier.Project(p)
		if a.Holds(q, onFace) && t.bounds(a.Carrier, q) {
			best = d
		}
	}
	if best <= onFace {
		return best
	}
	return t.near.within(p, best)
}
