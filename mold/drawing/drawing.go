// Package drawing draws the mold on paper: sections, parting planes and maps of
// flash, with dimensions and balloons, as plain data in the mold's millimeters.
//
// Every line comes from the exact boundary (mesh/outline). A dimension's value is the
// model's number wherever the model has one, and tests hold it to the lines. What has
// none is measured on exact lines: the least land, and the widths of lands and of
// hexagonal recesses where a plane crosses them. What is drawn of flash and air is
// what their analyses say. It makes no picture: mold/drawing/svg does.
package drawing

import "wheelmold/mesh/outline"

// Point is a place on a drawing, mm of the mold, v upward.
type Point = outline.Point

// Drawing is one view of the mold.
type Drawing struct {
	ID       string // letters, digits and dashes, unique among a mold's drawings
	Title    string
	Note     string // what is seen, where it is cut, how exact it is
	View     outline.View
	Areas    []Area // painted in this order
	Lines    []Line
	Dims     []Dim
	Balloons []Balloon
	Marks    []Mark

	// Scale is mm of paper for a mm of the mold, for which dimensions and balloons
	// were laid out; 0: for any.
	Scale float64
	// Window is what is shown of a view that is only drawn in part: the lower left
	// and the upper right corner. Both zero: all of it.
	Window [2]Point
}

// Look is what an area or a line is; how it is painted is the writer's choice.
type Look string

// Looks of areas.
const (
	Cut    Look = "cut"    // cut material, hatched in the way of its piece
	Face   Look = "face"   // a face seen from above
	Liquid Look = "liquid" // urethane that is not rubber of the wheel: sprue, vents
	Air    Look = "air"    // trapped air
	Wet10  Look = "wet-10" // wetted in 1 to 5 of 10 casts
	Wet50  Look = "wet-50" // in 5 to 9 of 10
	Wet90  Look = "wet-90" // in 9 of 10 or more
	Whole  Look = "whole"  // bolts and balls, which are not cut by custom
)

// Looks of lines.
const (
	Visible Look = "visible"
	Hidden  Look = "hidden"
	Axis    Look = "axis"    // center lines
	Seam    Look = "seam"    // edge that the liquid wets
	Parting Look = "parting" // where two pieces meet
	Level   Look = "level"   // of the liquid
)

// Area is an area that is painted.
type Area struct {
	Look   Look
	Of     string // the piece's name; "rubber", "ball", "bolt", "seal" and the like
	Region outline.Region
}

// Line is lines that are drawn alike.
type Line struct {
	Look  Look
	Of    string
	Paths []outline.Path
}

// DimKind is how a dimension measures.
type DimKind string

// Kinds of dimensions.
const (
	Across   DimKind = "along u"  // distance along u
	Plumb    DimKind = "along v"  // distance along v
	Aligned  DimKind = "aligned"  // distance of the two points
	Diameter DimKind = "diameter" // From and To are opposite points of a circle
	Radius   DimKind = "radius"   // From is the center, To a point of the circle
)

// Dim is a dimension between two points of the drawing.
type Dim struct {
	Kind     DimKind
	From, To Point
	// At is where the dimension line runs: v of a dimension along u, u of one along
	// v, the distance beside the line of an aligned one. Of others it is unused.
	At    float64
	Value float64 // mm, from the model
	Name  string  // what is measured: "cavity diameter"

	// Says stands in place of the value in millimeters and inches, where a fit or a
	// tolerance has to: "Ø22 H7 (+0.021 / 0)".
	Says string

	// Turned: the points are opposite ones of something round seen from the side, so
	// that the distance carries a Ø.
	Turned bool
	// Beside is the end beyond which a text stands that finds no room between the
	// arrows: -1 the left or lower one, else the other.
	Beside int
	// Bare: the name has no room beside the value. The letter Key stands there, and the
	// key below the drawing tells its meaning.
	Bare bool
	Key  string
}

// Balloon is a name with a leader to what it names.
type Balloon struct {
	Text string // a word or two: "shell A"
	Tip  Point  // on the thing
	At   Point  // middle of the text
}

// MarkKind is what a mark points out.
type MarkKind string

// Kinds of marks.
const (
	Trap   MarkKind = "trap"    // top of trapped air
	Drill  MarkKind = "drill"   // a vent that would free it
	Narrow MarkKind = "narrow"  // where the land is least
	WayOut MarkKind = "way out" // an exit of a parting line
)

// Mark is a place that is pointed out, with a short text.
type Mark struct {
	Kind MarkKind
	At   Point
	Text string
}
