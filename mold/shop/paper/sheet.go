package paper

import (
	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

// Point is a place on a view, mm of the mold, or on a page, mm of paper; v upward.
type Point = outline.Point

// Sheet is one drawing sheet: what it says, before it is laid out.
type Sheet struct {
	ID     string // letters, digits and dashes, unique: "base"
	Title  string
	Views  []View
	Tables []Table
	Notes  []string // general notes, which are numbered
	// Fields are the title block's: piece, quantity, material, stock, general tolerance
	// and the like. The scale, the paper, the number of the sheet and the symbol of the
	// projection are added.
	Fields []Field
	// ThirdAngle: views are arranged by the third-angle method, else by the first-angle
	// one (ISO 5456-2). It only chooses the symbol: rows and columns are the views' own.
	ThirdAngle bool
}

// Field is one entry of a title block.
type Field struct{ Label, Value string }

// Table is rows of text below a line of heads.
type Table struct {
	Title string
	Head  []string
	Rows  [][]string
	Note  string // below it
	// Keep names what tables stand on one page with, wherever they fit on one: those of
	// the same name. Where it is empty, tables whose first column has the same head stay
	// together, as they tell of the same things: sizes of holes and their places.
	Keep string
}

// View is one drawing on a sheet, in mm of the mold.
type View struct {
	Caption string // above it: "seen from inside", "section A-A"

	// Row and Column say where it stands among the others: rows downward, columns to
	// the right. Views of one row have their v on one level, those of one column their
	// u, as their projection wants it.
	Row, Column int
	// Free: it is in projection with no other, as a section or a detail may be; it
	// stands in the middle of its row and column.
	Free bool
	// Zoom is how much larger than the others it is drawn: 2 for a detail; 0: as they.
	Zoom float64
	// Scale is the view's own, 5 for 5:1, whatever that of the others is; 0: theirs.
	Scale float64
	// Window is what alone is drawn of its areas and lines; nil: all. With a window it is
	// a detail of other views, and stands wherever there is room, in no row and column.
	Window *Round

	Areas    []drawing.Area // cut ones are hatched; others are outlines
	Lines    []drawing.Line // their Look may be Engraved
	Dims     []Dim
	Callouts []Callout
	Marks    []Mark
	Cuts     []Cutting
	Details  []Detail
	Origins  []Origin
}

// Engraved is the look of letters cut into a face: of thin lines, at which no leader
// points.
const Engraved drawing.Look = "engraved"

// Round is a circle, mm of the mold.
type Round struct {
	At Point
	R  float64
}

// Detail shows on a view what a detail shows larger: a thin circle with a letter.
type Detail struct {
	Round
	Letter string
}

// Side is the side of a view on which a dimension stands.
type Side int

// Sides of a view.
const (
	Any   Side = iota // whichever has room
	Below             // of dimensions along u
	Above
	Left // of dimensions along v
	Right
)

// Dim is a dimension that gets its place, and the turn of its leader if it is round,
// from the layout.
type Dim struct {
	Kind     drawing.DimKind
	From, To Point // as in drawing.Dim
	Side     Side
	Value    float64 // mm, from the model
	Name     string  // what is measured, for the table of those that find no room: "cavity diameter"

	Decimals  int    // most digits behind the point; 0: two, and three beside a fit
	Times     int    // how many there are alike; 0 and 1: not said
	Turned    bool   // the distance is the diameter of something round seen from the side
	Spherical bool   // of a ball: SØ, SR
	Fit       string // ISO 286: "h7"
	Tolerance string // "±0.3", "(0 / -0.021)"
	After     string // what else stands behind it: "through"
	Reference bool   // in parentheses: follows from others
}

// Callout points at a place and says something about it. Any of its parts may be
// there; they stand below each other at the end of one leader.
type Callout struct {
	Tip    Point
	OnFace bool // the leader ends in a dot on a face, not in an arrow on an edge

	// Text is one or more lines. The signs ⌀ ⊔ ⌵ ↓ ⏥ are drawn where the type lacks them:
	// diameter, counterbore, countersink, depth, flatness.
	Text string
	// Finish is what stands beside the mark of a machined surface (ISO 21920-1): "Ra 0.8".
	Finish string
	// Control is a tolerance frame (ISO 1101).
	Control *Control
	// Datum is a datum's letter (ISO 5459) in a frame, with a triangle on the tip.
	Datum string
}

// Control is a geometrical tolerance in its frame.
type Control struct {
	Symbol Symbol
	Value  string   // mm: "0.02", "Ø0.05"
	Datums []string // letters
}

// Symbol is what a geometrical tolerance is of, ISO 1101.
type Symbol string

// Symbols of geometrical tolerances.
const (
	Flatness         Symbol = "flatness"
	Parallelism      Symbol = "parallelism"
	Perpendicularity Symbol = "perpendicularity"
	Position         Symbol = "position"
	Concentricity    Symbol = "concentricity"
	Runout           Symbol = "runout"
	Cylindricity     Symbol = "cylindricity"
	Roundness        Symbol = "roundness"
	Profile          Symbol = "profile" // of a surface
)

// Mark is a short text beside a hole: its name in the hole table, "A1".
type Mark struct {
	Text string
	At   Point   // the hole's middle
	R    float64 // mm of the mold that the text keeps off
}

// Cutting is the trace of a cutting plane, from end to end, with its letter beside the
// arrows in which the section is seen.
type Cutting struct {
	From, To Point
	Letter   string
	Toward   Point // the way the arrows point
}

// Origin is where the coordinates of a table start, with the names of the axes.
type Origin struct {
	At   Point
	U, V string // "X", "Y" along +u and +v; "-X": the axis points the other way
}
