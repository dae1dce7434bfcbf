package outline

import (
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// Section returns the exact section of a solid by the view's plane, as it shows
// when all in front of the plane is taken away: where the plane runs along a face,
// the face belongs to the section if its material lies behind, on the side of -W.
// tol bounds the distance of chords from curves that are no circles, mm. A plane
// within 5e-5 mm of a parallel face of the model is taken for that face's, and one
// that nearly but not quite passes a vertex, or nearly touches, gives way by up to
// 7 lattice steps (0.0005 mm) to behind. The error names what could not be resolved.
func Section(ev *brep.Evaluator, root *solid.Node, v View, tol float64) (Region, error) {
	s, err := ev.Section(root, v.O, v.W())
	if err != nil {
		return nil, err
	}
	return v.region(s.Vertices, s.Edges, tol), nil
}

// Face returns the faces of a boundary that lie in the view's plane and are turned
// to the viewer, toward W: the mating face of a piece with all that opens in it.
// tol is as for Section, and so is how near the plane must be.
func Face(b *brep.Boundary, v View, tol float64) Region {
	var out Region
	w := v.W()
	for _, f := range b.Faces {
		c := f.Carrier
		if c.Kind != solid.Plane || abs(c.F(v.O)) > onPlane || outward(f, v.O).Dist(w) > 1e-9 {
			continue
		}
		uses := f.Edges
		if f.Negative { // on the left against the carrier's normal, not against W
			uses = reversed(uses)
		}
		out = append(out, v.region(b.Vertices, uses, tol)...)
	}
	return out
}

// onPlane is the distance below which a plane is taken for a parallel face's, mm,
// as in brep.
const onPlane = 5e-5

// outward is the normal of the face at p, away from the material.
func outward(f *brep.Face, p vec) vec {
	n := f.Carrier.N(p)
	if f.Negative {
		return n.Scale(-1)
	}
	return n
}

func reversed(uses []brep.FaceEdge) []brep.FaceEdge {
	out := make([]brep.FaceEdge, len(uses))
	for i, e := range uses {
		out[i] = brep.FaceEdge{Edge: e.Edge, Reversed: !e.Reversed}
	}
	return out
}

// region chains edges that lie in the view's plane, with the area on their left.
func (v View) region(vertices []vec, uses []brep.FaceEdge, tol float64) Region {
	var out Region
	for _, loop := range v.loops(vertices, uses) {
		run := make([]piece, len(loop))
		for i, e := range loop {
			run[i] = v.piece(vertices, e, tol)
		}
		out = append(out, closedPath(run))
	}
	return out
}
