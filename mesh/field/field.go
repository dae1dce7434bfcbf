// Package field reads a labeled solid as a distance field, built from sdfx
// primitives; it is the one place that imports that library.
//
// It guarantees a continuous, 1-Lipschitz field: negative inside, positive
// outside, zero on every face, and never larger in magnitude than the distance
// to the surface, so that a ball of radius |Distance| about a point holds no
// surface. Beside a single revolved leaf the value is the distance itself; past
// the edge of an extrusion and after a boolean it is only that bound.
//
// It does not say which face is near (mesh/solid does), and it makes no mesh
// (mesh/tess does): a mesh drawn from a field bevels every edge.
package field

import (
	"github.com/deadsy/sdfx/sdf"
	v3 "github.com/deadsy/sdfx/vec/v3"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// Field is the distance field of one solid.
type Field struct {
	root *solid.Node
	sdf  sdf.SDF3
	box  mesh.Box
}

// New returns the field of a solid, or an error that names the leaf that makes
// no solid.
func New(n *solid.Node) (*Field, error) {
	s, err := Lower(n)
	if err != nil {
		return nil, err
	}
	return &Field{root: n, sdf: s, box: n.Bounds()}, nil
}

// Distance returns the field at p in mm: a bound of the distance to the surface,
// negative inside.
func (f *Field) Distance(p mesh.Vec) float64 {
	return f.sdf.Evaluate(v3.Vec{X: p[0], Y: p[1], Z: p[2]})
}

// Inside reports whether p lies strictly inside.
func (f *Field) Inside(p mesh.Vec) bool { return f.Distance(p) < 0 }

// Bounds returns a box that holds the solid, mm; it may be larger than needed,
// and Lo exceeds Hi where an intersection is seen to be empty.
func (f *Field) Bounds() mesh.Box { return f.box }
