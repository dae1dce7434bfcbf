package machining

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/region"
)

// seam is an edge with the faces on both sides of it.
type seam struct {
	edge *region.Edge
	face [2]int
	back [2]bool // the face lies on the left of the edge run from its end
}

// meeting is how the faces of an edge meet at one of its points.
type meeting struct {
	p    mesh.Vec
	dir  mesh.Vec    // along the edge
	n    [2]mesh.Vec // out of the solid
	in   [2]mesh.Vec // from the edge into each face
	bend float64     // degrees of material between the faces: 180 where they are smooth
}

// smooth: faces that turn by less, degrees, make no edge for a tool.
const smooth = 1.2

// hollow tells whether the edge is an inner one.
func (x *meeting) hollow() bool { return x.bend > 180+smooth }

// seams lists the edges that part two faces, in the order of the solid's.
func seams(solid *region.Solid) []seam {
	out := make([]seam, len(solid.Edges))
	uses := make([]int, len(out))
	for i, f := range solid.Faces {
		for _, l := range f.Loops {
			for _, u := range l {
				if k := uses[u.Edge]; k < 2 {
					out[u.Edge].edge = solid.Edges[u.Edge]
					out[u.Edge].face[k], out[u.Edge].back[k] = i, u.Reversed
					uses[u.Edge]++
				}
			}
		}
	}
	kept := out[:0]
	for i, s := range out {
		if uses[i] == 2 && s.face[0] != s.face[1] {
			kept = append(kept, s)
		}
	}
	return kept
}

// at tells how the faces meet at a share of the edge's length.
func (b *bench) at(s *seam, share float64) meeting {
	t := s.edge.T0 + share*(s.edge.T1-s.edge.T0)
	x := meeting{p: s.edge.At(t), dir: s.edge.Tangent(t).Unit()}
	for k := range 2 {
		f := b.solid.Faces[s.face[k]]
		x.n[k] = outward(f, x.p)
		along := x.dir
		if s.back[k] {
			along = along.Scale(-1)
		}
		x.in[k] = f.Carrier.N(x.p).Cross(along)
	}
	// The angle from one face to the other through the material.
	x.bend = math.Acos(max(-1, min(1, x.in[0].Dot(x.in[1])))) * 180 / math.Pi
	hollow := x.n[1].Dot(x.in[0]) > 0
	if x.bend < smooth { // folded over: the faces are tangent, and where one runs tells
		const aside = 0.1 // mm
		f, g := b.solid.Faces[s.face[0]], b.solid.Faces[s.face[1]]
		hollow = g.Carrier.F(f.Carrier.Project(x.p.AddScaled(aside, x.in[0]))) > 0 != g.Negative
	}
	if hollow {
		x.bend = 360 - x.bend
	}
	return x
}

// length of an edge in mm: exact on lines and circles, else by chords, short by about the
// square of their turn.
func length(e *region.Edge) float64 {
	switch e.Shape {
	case region.Line:
		return e.T1 - e.T0
	case region.Circle:
		return e.A * (e.T1 - e.T0)
	}
	const steps = 64
	sum := 0.0
	for i := range steps {
		a, c := float64(i)/steps, float64(i+1)/steps
		sum += e.At(e.T0 + a*(e.T1-e.T0)).Dist(e.At(e.T0 + c*(e.T1-e.T0)))
	}
	return sum
}
