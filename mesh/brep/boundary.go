package brep

import "wheelmold/mesh/solid"

// Vec is a point or direction, mm.
type Vec = solid.Vec

// Box is an axis-aligned box, mm.
type Box = solid.Box

// Curve is one regular branch of the intersection of two carriers: a smooth
// map from [T0, T1] to points that lie on both.
type Curve struct {
	At     func(t float64) Vec
	T0, T1 float64
	Closed bool
	Line   bool    // a straight line; t is arc length
	Radius float64 // > 0: a circle about Center; t is the angle
	Center Vec
	Normal Vec  // of the circle's plane
	Smooth bool // the two carriers are tangent along the curve

	dir   Vec     // of a line
	ends  [2]Vec  // where fixed: the exact points at T0 and T1
	fixed [2]bool // open branch: ends at a turning point or a cone's tip
}

// Edge is a piece of a curve between two vertices along which the solid's
// surface turns from one carrier to another.
type Edge struct {
	Curve    *Curve
	T0, T1   float64
	V0, V1   int // indices into Boundary.Vertices; equal on a closed edge
	Mid      Vec // the point at (T0+T1)/2
	Carriers []*solid.Carrier
	Half     []HalfFace // exactly two on a live edge, none where nothing turns
}

// HalfFace is one of the two faces that meet in an edge.
type HalfFace struct {
	Face int // index into Boundary.Faces
	// Reversed: the face lies to the left of the edge run from V1 to V0; see Face.
	Reversed bool
}

// Face is all of one carrier on one side of which material lies: outward normal
// N, or -N where Negative. It may have several separate regions.
//
// Walking an edge from V0 to V1 (V1 to V0 where the half-face is Reversed) and
// looking against the carrier's N, the face lies on the left, whatever Negative
// says.
type Face struct {
	// Carrier is one of the model's, or a copy in other parameters: a sphere's
	// axis is turned where a pole would lie on an edge, a torus's v unwrapped
	// elsewhere where the jump would cross the face. A copy keeps the ID.
	Carrier  *solid.Carrier
	Negative bool
	Edges    []FaceEdge
	Roles    []string // roles of the patches that bear it, sorted, without doubles
	// Poles of a sphere that lie inside the face: [0] at -Z, [1] at +Z of the
	// carrier's frame. A whole sphere has both and no edge.
	Poles [2]bool
	// Apex of a cone lies inside the face, or on its border.
	Apex bool
	// AroundTube: a torus's face goes all the way round the tube somewhere, so
	// that no circle of constant v off the face cuts it open. A whole torus has
	// no edge.
	AroundTube bool

	inside []arc // AroundTube: the angles u at which v jumps inside the face
}

// FaceEdge is a use of an edge by a face.
type FaceEdge struct {
	Edge     *Edge
	Reversed bool
}

// Boundary is the exact boundary of one solid.
type Boundary struct {
	Root     *solid.Node
	Vertices []Vec // exact ends of edges
	Edges    []*Edge
	Faces    []*Face
}
