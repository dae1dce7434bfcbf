// Package dxf writes flat drawings as DXF of release 12, which every shop's program
// reads, and reads such files back.
//
// It guarantees true geometry in millimeters, at full precision: a whole circle is a
// CIRCLE, a single line or arc a LINE or ARC, and every other run one POLYLINE whose
// arcs are bulges, tan of a quarter of their angle (90°: 0.41421356, 180°: 1). Only
// curves that are neither straight nor round become chords, between the points that
// mesh/outline put on them to its tolerance. The same drawing gives the same bytes.
//
// What release 12 knows and later ones do not agree on: names of layers are capitals,
// digits, "-", "_" and "$", 31 at most; text is of an unnamed code page, so that all but
// ASCII is escaped as \U+XXXX. It has no code for units. The header states them all
// the same as later releases do ($INSUNITS 4, $MEASUREMENT 1), which programs of today
// read in a file of any release, and others should pass over; a drawing ought to say in
// a text that it is in millimeters.
//
// It does not write blocks, dimensions, hatches or anything in space. Read takes what
// Write makes and refuses the rest.
package dxf

import "wheelmold/mesh/outline"

// Point is a place on the drawing, mm.
type Point = outline.Point

// Linetype is how the lines of a layer are drawn.
type Linetype string

// Line types. Shops know them by these names.
const (
	Continuous Linetype = "CONTINUOUS"
	Center     Linetype = "CENTER" // long dash, short dash
	Hidden     Linetype = "HIDDEN" // dashes
)

// Layer is a named part of a drawing.
type Layer struct {
	Name     string // capitals, digits, - _ $; at most 31
	Color    int    // of the usual index: 1 red … 7 black or white, up to 255
	Linetype Linetype
}

// Drawing is what a file holds, in order. The layer "0", which every file has, need not
// be listed.
type Drawing struct {
	Layers []Layer
	Items  []Item
}

// Item is an entity on its layer.
type Item struct {
	Layer  string
	Entity Entity
}

// Entity is one of Line, Arc, Circle, Polyline, Text and Dot.
type Entity interface {
	// bounds calls f on points whose box holds the entity; of a text, on its beginning.
	bounds(f func(Point))
	faults() error
	write(w *writer, layer string)
}

// Line is a straight line.
type Line struct{ From, To Point }

// Arc is an arc that runs counterclockwise, by angles in degrees from +x.
type Arc struct {
	Center   Point
	Radius   float64 // mm
	From, To float64 // degrees
}

// Circle is a whole circle; Radius in mm.
type Circle struct {
	Center Point
	Radius float64
}

// Polyline is a run of lines and arcs.
type Polyline struct {
	Closed   bool // from the last vertex back to the first
	Vertices []Vertex
}

// Vertex is a corner of a polyline.
type Vertex struct {
	At Point
	// Bulge is tan(θ/4) of the arc that leaves the vertex, θ positive counterclockwise; 0:
	// a straight line.
	Bulge float64
}

// Text is one line of text that begins at At and is Height mm tall.
type Text struct {
	At     Point
	Height float64
	Value  string
}

// Dot is a single point: a place to drill.
type Dot struct{ At Point }

// Add puts an entity on a layer.
func (d *Drawing) Add(layer string, e Entity) { d.Items = append(d.Items, Item{layer, e}) }

// AddPath puts a path on a layer as the one entity that it is.
func (d *Drawing) AddPath(layer string, p outline.Path) { d.Add(layer, Of(p)) }
