// Package flat draws the pieces of a mold and the hub flat, for a shop's DXF: outlines,
// pockets and hole patterns on layers named in plain words, 1:1 in millimeters.
//
// What is drawn is read off each piece's exact boundary as it leaves the machine: stock
// to lap and hole compensation are in it. Each view is seen square to a face from
// outside the piece, and never mirrored:
//
//   - of a plate, the inside first, looked at against its pull, then the outside;
//   - of what lies around the axis, each parting face, then both ends, then sides into
//     which something is cut; a view that would show nothing but the outline is left out;
//   - of the hub, the half section for turning, then both ends.
//
// The first view's origin is the file's; others stand to its right, by a multiple of 10
// mm that a note states. The origin is the wheel's axis, for views along it; else the
// axis and the tread's lower face. Of the hub's section it is the axis and the lower end
// face, x along the axis and y the radius.
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

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/dxf"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/inparallel"
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
	Plane   outline.View  // zero for the hub's half section
	Shift   outline.Point // of the view's origin from the file's, mm
	Outline outline.Path  // about the view's origin

	items []item
	about []string // notes
}

// item is something drawn, about the view's origin.
type item struct {
	layer  string
	entity dxf.Entity
}

// Of draws every piece of a mold, by its exact boundaries as they leave the machine
// (mold.Made.RawFaces or mold.Checked.RawFaces), in the order of the mold's pieces.
func Of(m *mold.Mold, raw map[string]*brep.Boundary) ([]File, error) {
	out := make([]File, len(m.Pieces))
	errs := make([]error, len(m.Pieces))
	inparallel.Do(len(out), func(i int) {
		p := &m.Pieces[i]
		out[i], errs[i] = piece(m, p, raw[p.Name])
	})
	for i, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("drawing of %s: %w", m.Pieces[i].Name, err)
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
			return f, fmt.Errorf("%s: %w", l.name, err)
		}
		if l.always || v.tells() {
			f.Views = append(f.Views, v)
		}
	}
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
	name   string
	w      mesh.Vec // toward the viewer
	always bool
	where  string
}

// plane is the view's plane: the wheel's axis upright where it lies in it, else x to the
// right, both as seen from w.
func (l *look) plane() outline.View {
	up := mesh.Vec{0, 0, 1}
	if u := up.Cross(l.w); u.Norm() > 0.5 {
		return outline.View{U: tidy(u.Unit()), V: up}
	}
	x := mesh.Vec{1, 0, 0}
	return outline.View{U: x, V: tidy(l.w.Cross(x))}
}

// tidy drops what is left of zeros by rounding.
func tidy(v mesh.Vec) mesh.Vec {
	for i, x := range v {
		if x < 1e-15 && x > -1e-15 {
			v[i] = 0
		}
	}
	return v
}
