package field

import (
	"math"

	"github.com/deadsy/sdfx/sdf"
	v2 "github.com/deadsy/sdfx/vec/v2"

	"wheelmold/mesh/solid"
)

// outline is a leaf's line/arc outline as an exact plane field. The library's
// own polygons will not do: they facet arcs, and an edge on the axis of
// revolution reads as surface.
type outline struct {
	elems []solid.Elem
	box   sdf.Box2
}

func newOutline(elems []solid.Elem) *outline {
	inf := math.Inf(1)
	o := &outline{elems: elems, box: sdf.Box2{Min: v2.Vec{X: inf, Y: inf}, Max: v2.Vec{X: -inf, Y: -inf}}}
	for i := range elems {
		for _, p := range stations(&elems[i]) {
			q := v2.Vec{X: p[0], Y: p[1]}
			o.box.Min, o.box.Max = o.box.Min.Min(q), o.box.Max.Max(q)
		}
	}
	return o
}

// Evaluate returns the signed distance to the outline, mm.
func (o *outline) Evaluate(p v2.Vec) float64 { return solid.SignedDist2(o.elems, p.X, p.Y) }

// BoundingBox returns the outline's own box.
func (o *outline) BoundingBox() sdf.Box2 { return o.box }

var compass = [4]solid.Point2{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}

// stations are the points of a segment where either coordinate has an extreme:
// its ends, and the points of an arc where it runs parallel to a coordinate
// axis.
func stations(e *solid.Elem) []solid.Point2 {
	pts := []solid.Point2{e.A, e.B}
	if !e.Arc {
		return pts
	}
	for _, d := range compass {
		if within(e, d) {
			pts = append(pts, solid.Point2{e.C[0] + e.R*d[0], e.C[1] + e.R*d[1]})
		}
	}
	return pts
}

// within reports whether the arc passes through direction d from its center.
func within(e *solid.Elem, d solid.Point2) bool {
	after := (e.A[0]-e.C[0])*d[1] - (e.A[1]-e.C[1])*d[0]
	before := d[0]*(e.B[1]-e.C[1]) - d[1]*(e.B[0]-e.C[0])
	if e.CCW {
		return after >= 0 && before >= 0
	}
	return after <= 0 && before <= 0
}
