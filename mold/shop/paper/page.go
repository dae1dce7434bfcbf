package paper

import (
	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

// Page is one laid-out page: all that is drawn, in mm of paper from the lower left
// corner, v upward.
type Page struct {
	ID            string // the sheet's; "base-2" where its tables go on
	Title         string
	Size          string  // "A3"
	Width, Height float64 // mm
	Scale         float64 // mm of paper for a mm of the mold
	Strokes       []Stroke
	Texts         []Text

	blocks  []block    // views, tables, notes, the title block
	inner   []block    // texts and symbols of views
	leaders [][2]Point // lines that belong to those
}

// Stroke is paths drawn alike, or filled with black.
type Stroke struct {
	Paths  []outline.Path
	Width  float64   // mm
	Dashes []float64 // mm drawn and left out in turn; nil: solid
	Filled bool      // inside by the even-odd rule, with no line around
	Blank  bool      // filled with white, over what lies below
}

// Text is a line of text.
type Text struct {
	Text   string
	At     Point // on the base line, where Anchor says
	Dir    Point // the way it reads, of length 1
	Size   float64
	Bold   bool
	Anchor Anchor
}

// Anchor is the part of a text that stands at its place.
type Anchor int

// Anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// block is what nothing else may cover.
type block struct {
	name string
	box  drawing.Box
}
