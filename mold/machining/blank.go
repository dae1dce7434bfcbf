package machining

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
)

// onBlock: a point that lies no further inside the block than this, mm, lies on it.
const onBlock = 1e-3

// square finds the faces that the blank has before the first of the counted clampings:
// flat outer faces on the smallest block around the piece, which lies along the mold's
// axes or along the way that the piece is drawn off, whichever leaves less to be cut.
// A shop squares a blank anyhow, to have something to measure and clamp by; asking the
// tool to reach such a face once more would count a clamping that nobody makes.
func (b *bench) square() {
	up := mesh.Vec{0, 0, 1}
	best, most := []int(nil), 0.0
	frames := [][]mesh.Vec{{{1, 0, 0}, {0, 1, 0}, up}}
	if p := (mesh.Vec{b.piece.Pull[0], b.piece.Pull[1], 0}); p.Norm() > upright {
		frames = append(frames, []mesh.Vec{p.Unit(), up.Cross(p.Unit()), up})
	}
	for _, axes := range frames {
		var list []int
		sum := 0.0
		for _, a := range axes {
			for _, i := range slices.Concat(b.outermost(a), b.outermost(a.Scale(-1))) {
				list, sum = append(list, i), sum+b.faces[i].area
			}
		}
		if sum > most*(1+1e-9) {
			best, most = list, sum
		}
	}
	for _, i := range best {
		b.faces[i].squared = true
	}
}

// outermost are the flat outer faces square to d beyond which nothing of the piece lies.
func (b *bench) outermost(d mesh.Vec) (out []int) {
	far := math.Inf(-1)
	for _, e := range b.solid.Edges {
		for k := range cornerSpots + 1 {
			far = max(far, e.At(e.T0+(e.T1-e.T0)*float64(k)/cornerSpots).Dot(d))
		}
	}
	for i := range b.faces {
		f := &b.faces[i]
		if f.Carrier.Kind != solid.Plane || !slices.Contains(f.Roles, mold.RoleOuter) || slices.Contains(f.Roles, mold.RoleParting) {
			continue
		}
		u := f.Loops[0][0]
		if o := b.solid.Edges[u.Edge].At(b.solid.Edges[u.Edge].T0); outward(f.Face, o).Dot(d) > 1-upright && o.Dot(d) > far-onBlock {
			out = append(out, i)
		}
	}
	return out
}
