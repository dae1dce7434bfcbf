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

// Edge draws the use of an edge, from its beginning to its end. tol is as for Section.
func (v View) Edge(b *brep.Boundary, e brep.FaceEdge, tol float64) Path {
	p := v.piece(b.Vertices, e, tol)
	out := Path{Start: p.from}
	out.add(p)
	return out
}

// outward is the normal of the face at p, away from the material.
func outward(f *brep.Face, p vec) vec {
	n := f.Carrier.N(p)
	if f.Negative {
		return n.Scale(-1)
	}
	return n
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
