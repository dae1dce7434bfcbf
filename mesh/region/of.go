package region

import (
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// Of reads the natural regions of a boundary, without seams. The error is an
// *InternalError.
func Of(b *brep.Boundary) (*Solid, error) {
	w := &builder{
		Solid:   &Solid{Boundary: b},
		named:   make(map[*brep.Curve]*Edge, len(b.Edges)),
		uses:    make([][]Use, len(b.Faces)),
		patches: map[int][]*solid.Patch{},
	}
	for _, l := range b.Root.Leaves() {
		for i := range l.Patches {
			p := &l.Patches[i]
			w.patches[p.Carrier.ID] = append(w.patches[p.Carrier.ID], p)
		}
	}
	w.readEdges()
	w.joinEdges()
	w.keepVertices()
	for k := range b.Faces {
		if err := w.regions(k); err != nil {
			return nil, err
		}
	}
	w.gatherShells()
	return w.Solid, nil
}
