// Package outline reads flat outlines off a solid's exact boundary: where a
// plane cuts it, the edges of its faces, and those that show from one side. It
// measures them, and finds where they meet and how far they lie apart (Stretch).
//
// It guarantees true geometry: straight lines and circles come as such, with ends
// on the boundary's exact vertices; every other curve comes as points that lie on
// it to 1e-7 mm, so close that no chord is farther from it than the tolerance
// asked for. It does not remove hidden lines (see Edges), and it draws nothing.
package outline

import "wheelmold/mesh"

// Point is a place on a view, mm.
type Point = [2]float64

// View is a plane to draw on, seen against its normal U×V: a point p of space is
// drawn at (U·(p-O), V·(p-O)). U and V are of length 1 and at right angles.
type View struct{ O, U, V mesh.Vec }

// Path is a run of segments, each of which starts where the one before ends.
type Path struct {
	Start    Point
	Segments []Segment
	Closed   bool // it ends where it starts
}

// Segment is one part of a path: a straight line to To; an arc where Radius > 0;
// any other curve where there are points between.
type Segment struct {
	To     Point
	Center Point // of an arc
	Radius float64
	CCW    bool    // the way an arc turns, u to v
	Via    []Point // of any other curve, in order, between its ends
}

// Region is the area inside closed paths, by the even-odd rule. Outer paths run
// counterclockwise, holes clockwise.
type Region []Path
