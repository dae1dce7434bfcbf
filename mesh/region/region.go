package region

import (
	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// Vec is a point or direction, mm.
type Vec = mesh.Vec

// Solid is a boundary in regions. Indices point into its own lists.
type Solid struct {
	Boundary *brep.Boundary
	Vertices []Vec // ends of edges, exact; on a closed edge that nothing else meets, any point of it
	Edges    []*Edge
	Faces    []*Face
	Shells   []Shell
}

// Shape is what a curve is.
type Shape uint8

// The shapes of curves.
const (
	Line    Shape = iota
	Circle        // or an arc of one
	Ellipse       // or an arc of one
	Free          // any other curve, known as where its two carriers meet
)

// Edge is as much of one curve as lies between the same two faces, joined where the
// boundary has it in parts.
type Edge struct {
	Shape  Shape
	V0, V1 int     // equal on a closed edge
	T0, T1 float64 // T0 < T1: length in mm on a line, else an angle in radians

	// A line is At(t) = Center + t·X, the others Center + A·cos t·X + B·sin t·Y, with X
	// and Y of length 1 at right angles; A = B on a circle, A > B on an ellipse.
	Center, X, Y Vec
	A, B         float64

	At      func(t float64) Vec
	Tangent func(t float64) Vec // dAt/dt

	Carriers [2]*solid.Carrier // of the faces on both sides; the same one on a seam
	Faces    [2]int
	Seam     bool // not of the solid: it cuts a face open, which uses it twice
}

// Use is an edge as a face's border runs along it: from V1 to V0 where Reversed. The face
// lies on the left, seen against the carrier's normal N, whatever Negative says.
type Use struct {
	Edge     int
	Reversed bool
}

// Face is one connected region of a carrier, bordered by closed loops.
type Face struct {
	Carrier  *solid.Carrier
	Negative bool     // the outward normal is -N
	Roles    []string // of the leaves that bear it, sorted, without doubles

	// Loops are the borders, the outer one first. One that goes all the way around the
	// axis has two, or one where it reaches a pole or tip, before the others; once Cut,
	// the outer one holds the seam. A whole ball or ring has none before it is Cut.
	Loops []Loop

	// Around: the face goes all the way around the carrier's axis. Wraps is how many of
	// its first loops do.
	Around bool
	Wraps  int

	// Seam is the angle u at which a face that goes Around was Cut. A ring that holes at
	// most interrupt has a second seam, at V[0].
	Seam float64

	// The range of the carrier's parameters on the face (solid.Carrier.UV), each without
	// a jump: U[1]-U[0] is 2π where it goes Around.
	U, V [2]float64

	tip [2]bool // it holds the lower, the upper tip of its carrier (tip.go)
	cut bool
}

// Loop is a closed run of edges.
type Loop []Use

// Shell is a connected set of faces. A shell of negative volume is a void within
// another.
type Shell struct {
	Faces  []int
	Volume float64 // exact, mm³
}
