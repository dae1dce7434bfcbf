package release

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// places are where lines are read: none if nothing that stays reaches past where what
// moves begins.
func (t *track) places() [][2]float64 {
	box, ok := t.common()
	if !ok {
		return nil
	}
	const grid, part = 40, 7
	out := lattice(box, grid)
	for _, l := range slices.Concat(t.moving, t.rigid) {
		for _, f := range standing(l.node) {
			if b, ok := overlap(t.seen(f.Box), box); ok {
				out = append(out, lattice(b, part)...)
			}
		}
	}
	if t.frame.Z[2] != 0 {
		return append(out, t.rings(box)...)
	}
	return append(out, t.bands(box)...)
}

// common is the box across the pull in which what moves may meet what stays.
func (t *track) common() (mesh.Box, bool) {
	a, b := mesh.EmptyBox(), mesh.EmptyBox()
	for i := range t.moving {
		a = a.Join(t.moving[i].box)
	}
	for i := range t.rigid {
		if r := &t.rigid[i]; r.box.Hi[2] > a.Lo[2]+touching {
			b = b.Join(r.box)
		}
	}
	return overlap(a, b)
}

// overlap is what two boxes share across the pull.
func overlap(a, b mesh.Box) (mesh.Box, bool) {
	for i := range 2 {
		a.Lo[i], a.Hi[i] = max(a.Lo[i], b.Lo[i]), min(a.Hi[i], b.Hi[i])
	}
	return a, a.Lo[0] < a.Hi[0] && a.Lo[1] < a.Hi[1]
}

// lattice is n by n places in a box, off its middle, where faces along the pull lie.
func lattice(b mesh.Box, n int) [][2]float64 {
	const off = 0.381966 // of a mesh; the golden section meets no round part of it
	at := func(axis, k int) float64 {
		return b.Lo[axis] + (b.Hi[axis]-b.Lo[axis])*(float64(k)+off)/float64(n)
	}
	out := make([][2]float64, 0, n*n)
	for i := range n {
		for k := range n {
			out = append(out, [2]float64{at(0, i), at(1, k)})
		}
	}
	return out
}

// standing are the leaves of which a solid is made, without what is taken from it.
func standing(n *solid.Node) []*solid.Leaf {
	if n.Op == solid.OpLeaf {
		return []*solid.Leaf{n.Leaf}
	}
	kids := n.Kids
	if n.Op == solid.OpMinus {
		kids = kids[:1]
	}
	var out []*solid.Leaf
	for _, k := range kids {
		out = append(out, standing(k)...)
	}
	return out
}

// seen is a box in the track's frame.
func (t *track) seen(b mesh.Box) mesh.Box {
	out := mesh.EmptyBox()
	for _, p := range b.Corners() {
		out = out.Include(t.frame.Local(p))
	}
	return out
}

// along is a frame whose Z is a pull. Its Y is the mold's axis if the pull is level.
func along(pull mesh.Vec) solid.Frame {
	if pull[2] != 0 {
		return solid.AxisFrame(mesh.Vec{}, pull)
	}
	z, y := pull.Unit(), mesh.Vec{0, 0, 1}
	return solid.Frame{X: y.Cross(z), Y: y, Z: z}
}

// rings are places about the mold's axis, at the radii where outlines step.
func (t *track) rings(box mesh.Box) [][2]float64 {
	const turns, first = 12, 0.1 // rad, off the axes
	reach := math.Hypot(max(-box.Lo[0], box.Hi[0]), max(-box.Lo[1], box.Hi[1]))
	var out [][2]float64
	for _, r := range between(t.steps(0), 0, reach) {
		for k := range turns {
			sin, cos := math.Sincos(first + 2*math.Pi*float64(k)/turns)
			out = append(out, [2]float64{r * cos, r * sin})
		}
	}
	return out
}

// bands are places across the mold, at the heights where outlines step.
func (t *track) bands(box mesh.Box) [][2]float64 {
	const n = 48
	var out [][2]float64
	for _, z := range between(t.steps(1), box.Lo[1], box.Hi[1]) {
		for k := range n {
			out = append(out, [2]float64{box.Lo[0] + (box.Hi[0]-box.Lo[0])*(float64(k)+0.5)/n, z})
		}
	}
	return out
}

// steps are the radii (0) or the heights (1) of the corners of outlines about the mold's
// axis, mm.
func (t *track) steps(coordinate int) []float64 {
	var out []float64
	for _, l := range slices.Concat(t.moving, t.rigid) {
		for _, f := range l.node.Leaves() {
			z := f.Frame.Z[2]
			if f.Extruded || math.Abs(z) != 1 || f.Frame.O[0] != 0 || f.Frame.O[1] != 0 {
				continue
			}
			for _, e := range f.Elems {
				out = append(out, [2]float64{e.A[0], f.Frame.O[2] + z*e.A[1]}[coordinate])
			}
		}
	}
	return out
}

// between are values inside every two neighbors of steps from lo to hi: at both ends and
// in the middle. What is straight between steps is worst at one of the ends.
func between(steps []float64, lo, hi float64) []float64 {
	steps = slices.DeleteFunc(append(steps, lo, hi), func(s float64) bool { return s < lo || s > hi })
	slices.Sort(steps)
	var out []float64
	for i := 1; i < len(steps); i++ {
		a, b := steps[i-1], steps[i]
		if b-a > 2*aslant {
			out = append(out, (a+b)/2)
		}
		if b-a > 2*inset {
			out = append(out, a+inset, b-inset)
		}
	}
	return out
}
