// Package flat draws the pieces of a mold and the hub flat, for a shop's DXF: outlines,
// pockets and hole patterns on layers named in plain words, 1:1 in millimeters.
//
// What is drawn is read off each piece's exact boundary as it leaves the machine: stock
// to lap and hole compensation are in it. Views have the names, the orientation and the
// origin of those on the sheets for the shop (mold/views), and holes the marks of its
// tables beside them (mold/holes):
//
//   - of a plate, the inside first, then the outside;
//   - of what lies around the axis, the inside, each parting face that is not square to
//     that view, both ends, and sides into which something is cut; all but the first ones
//     are left out where they would show nothing but the outline;
//   - of the hub, the half section for turning, then both ends.
//
// The first view's origin is the file's; others stand to its right, by a multiple of 10
// mm. Notes below a view state that, and how its x and y run in the closed mold. Of the
// hub's section the origin is on the axis at the lower end face, x along the axis and y
// the radius.
//
// The outline is one closed polyline, the contour of all that is seen. Whole holes that
// open to the viewer are circles of their true diameter with a point at their center,
// halves of holes arcs. Of all else the lines are drawn that show (mesh/sight). Lines,
// arcs and circles are exact, but for corners of an outline within 0.0025 mm of each other,
// which are one; other curves keep within Tolerance. Depths, threads and fits are not in a
// flat file, nor is what only shows from another side, as the slope of a draft.
package flat

import (
	"fmt"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/dxf"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/views"
)

// Tolerance is how far chords may lie from curves that are neither straight nor round,
// mm: far below what a mill holds.
const Tolerance = 0.002

// File is the drawing of one piece.
type File struct {
	Name    string // "base.dxf"
	Piece   string
	Views   []View
	Drawing *dxf.Drawing
}

// View is one view of a piece on its drawing.
type View struct {
	Name    string
	Plane   outline.View  // with the view's origin as O; zero for the hub's half section
	Shift   outline.Point // of the view's origin from the file's, mm
	Outline outline.Path  // about the view's origin

	items []item
	drawn []outline.Path // of the items that are lines
	about []string       // notes
}

// item is something drawn, about the view's origin.
type item struct {
	layer  string
	entity dxf.Entity
}

// Of draws the pieces of a mold whose exact boundaries it gets, as they leave the machine
// (mold.Made.RawFaces or mold.Checked.RawFaces), in the order of the mold's pieces.
func Of(m *mold.Mold, raw map[string]*brep.Boundary) ([]File, error) {
	var pieces []*mold.Piece
	for i := range m.Pieces {
		if raw[m.Pieces[i].Name] != nil {
			pieces = append(pieces, &m.Pieces[i])
		}
	}
	out := make([]File, len(pieces))
	errs := make([]error, len(pieces))
	inparallel.Do(len(out), func(i int) {
		out[i], errs[i] = piece(m, pieces[i], raw[pieces[i].Name])
	})
	for i, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("drawing of %s: %w", pieces[i].Name, err)
		}
	}
	return out, nil
}

func piece(m *mold.Mold, p *mold.Piece, b *brep.Boundary) (File, error) {
	f := File{Name: p.Name + ".dxf", Piece: p.Name}
	s, err := newSubject(m, p, b)
	if err != nil {
		return f, err
	}
	if p.Kind == mold.Hub {
		section, err := s.halfSection()
		if err != nil {
			return f, err
		}
		f.Views = append(f.Views, section)
	}
	for _, l := range s.looks() {
		v, err := s.view(l)
		if err != nil {
			return f, fmt.Errorf("%s: %w", l.Name, err)
		}
		if l.always || v.tells() {
			f.Views = append(f.Views, v)
		}
	}
	s.mark(f.Views)
	notes := s.general()
	f.Drawing = f.draw(notes, f.arrange(notes))
	return f, nil
}

// tells whether a view shows more than the piece's own shape.
func (v *View) tells() bool {
	for _, it := range v.items {
		switch it.layer {
		case Outline, Edges, Origin, CenterLines:
		default:
			return true
		}
	}
	return false
}

// look is a view that may be drawn.
type look struct {
	views.View
	always bool
}

// plane is the view's plane through its origin.
func (l *look) plane() outline.View {
	p := l.Plane
	p.O = l.Origin
	return p
}
