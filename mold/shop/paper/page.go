package paper

import (
	"strconv"

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

// frame is the line around all that is drawn.
func (p *Page) frame() drawing.Box {
	return drawing.Box{Lo: Point{bindingMargin, margin}, Hi: Point{p.Width - margin, p.Height - margin}}
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

// Box is what the text covers on the page.
func (t *Text) Box() drawing.Box {
	var k ink
	return k.write(t.Text, t.At, writing{t.Size, t.Bold, t.Anchor, t.Dir})
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

// touch in mm is what boxes may share by rounding.
const touch = 1e-6

// Collisions names the texts and blocks of a page that cover each other, and those that
// leave the frame: none, if Lay did its work.
func (p *Page) Collisions() (out []string) {
	frame := p.frame()
	var texts []block
	for i := range p.Texts {
		t := &p.Texts[i]
		texts = append(texts, block{strconv.Quote(t.Text), t.Box()})
	}
	for _, all := range [][]block{texts, p.inner, p.blocks} {
		for i, a := range all {
			if c := frame.Include(a.box.Lo, a.box.Hi); c != frame && a.name != strconv.Quote(p.Size) {
				out = append(out, a.name+" leaves the frame")
			}
			for _, b := range all[:i] {
				if a.box.Grow(-touch).Meets(b.box) {
					out = append(out, a.name+" and "+b.name+" cover each other")
				}
			}
		}
	}
	for _, l := range p.leaders {
		for _, b := range p.inner {
			if b.box.Grow(-0.2).MeetsLine(l) {
				out = append(out, "a line runs through "+b.name)
			}
		}
	}
	return out
}
