package shop

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/sight"
	"wheelmold/mold"
	"wheelmold/mold/drawing"
	"wheelmold/mold/shop/paper"
	"wheelmold/mold/views"
)

// view is a view in the making. Its coordinates are the mold's along its u and v, counted
// from the wheel's axis and from the tread's lower face.
type view struct {
	paper.View
	look outline.View
	cut  bool // a section through the wheel's axis

	engraved []drawing.Box // where letters are cut into faces that are seen
}

// sag is how far chords may lie from curves that are neither straight nor round, mm:
// finer than any line of a drawing on paper of the piece's own size.
const sag = 0.01

// fromLeft is the plane of a section beside a view, on its right as the first-angle method
// has it (ISO 5456-2).
func fromLeft(p outline.View) outline.View { return outline.View{U: p.W(), V: p.V} }

// see adds a view with all lines, hidden ones too, and with its origin.
func (s *sheet) see(look views.View, row, column int) (*view, error) {
	v := s.add(look.Name, look.Plane, row, column)
	lines, err := sight.Lines(s.b, look.Plane, sag)
	if err != nil {
		return nil, err
	}
	seen, behind := s.letters(v)
	v.engraved = seen
	among := func(boxes []drawing.Box, p outline.Path) bool {
		return slices.ContainsFunc(boxes, func(b drawing.Box) bool { return within(b, p) })
	}
	visible := drawing.Line{Look: drawing.Visible, Of: s.piece.Name}
	hidden := drawing.Line{Look: drawing.Hidden, Of: s.piece.Name}
	engraved := drawing.Line{Look: paper.Engraved, Of: s.piece.Name}
	for _, l := range lines {
		switch {
		case l.Hidden && !among(seen, l.Path) && !among(behind, l.Path):
			hidden.Paths = append(hidden.Paths, l.Path)
		case l.Hidden:
		case among(seen, l.Path):
			engraved.Paths = append(engraved.Paths, l.Path)
		default:
			visible.Paths = append(visible.Paths, l.Path)
		}
	}
	v.Lines = append(v.Lines, visible, hidden)
	if len(engraved.Paths) > 0 {
		v.Lines = append(v.Lines, engraved)
	}
	s.markHoles(v)
	v.origin(look.Origin, look.Axes[0], look.Axes[1])
	return v, nil
}

// letters are where marks are engraved, in a view: in faces that are seen, and in others,
// where nobody reads them.
func (s *sheet) letters(v *view) (seen, behind []drawing.Box) {
	const around = 0.1 // mm, for points of curves
	for i := range s.pockets {
		p := &s.pockets[i]
		if p.Role != mold.RoleMark {
			continue
		}
		across := p.Dir.Cross(p.Along)
		var b drawing.Box
		for k := range 8 {
			side := func(bit int, x float64) float64 { return x * (float64(k>>bit&1) - .5) }
			q := v.at(p.At.AddScaled(side(0, p.Length), p.Along).AddScaled(side(1, p.Width), across).AddScaled(float64(k>>2)*p.Depth, p.Dir))
			if k == 0 {
				b = drawing.Box{Lo: q, Hi: q}
			}
			b = b.Include(q, q)
		}
		if b = b.Grow(around); p.Dir.Dot(v.look.W()) < -.9 {
			seen = append(seen, b)
		} else {
			behind = append(behind, b)
		}
	}
	return seen, behind
}

// within tells whether a path stays in a box.
func within(b drawing.Box, p outline.Path) bool {
	in := func(q point) bool { return q[0] > b.Lo[0] && q[1] > b.Lo[1] && q[0] < b.Hi[0] && q[1] < b.Hi[1] }
	return in(p.Start) && !slices.ContainsFunc(p.Segments, func(s outline.Segment) bool { return !in(s.To) })
}

func (s *sheet) add(caption string, look outline.View, row, column int) *view {
	v := &view{look: look}
	v.Caption, v.Row, v.Column = caption, row, column
	s.views = append(s.views, v)
	return v
}

type point = outline.Point

// at draws a point of the mold.
func (v *view) at(p mesh.Vec) point { return v.look.At(p) }

// measure adds a dimension along a direction of the mold, which lies along u or v.
func (v *view) measure(dir, from, to mesh.Vec, value float64, name string, with ...func(*paper.Dim)) {
	d := paper.Dim{Kind: drawing.Plumb, From: v.at(from), To: v.at(to), Value: value, Name: name}
	if math.Abs(v.look.U.Dot(dir)) > .5 {
		d.Kind = drawing.Across
	}
	for _, f := range with {
		f(&d)
	}
	v.Dims = append(v.Dims, d)
}

// Parts of dimensions.

func bounded(l limits) func(*paper.Dim) {
	return func(d *paper.Dim) { d.Fit, d.Tolerance = l.fit, l.tolerance }
}

func about(t float64) func(*paper.Dim) {
	return func(d *paper.Dim) { d.Tolerance = plusMinus(t) }
}

// exactly: with all digits that the model's lattice has, so that a radius and its diameter
// agree.
func exactly(d *paper.Dim) { d.Decimals = 4 }

// round: the distance is a diameter, seen from the side.
func round(d *paper.Dim) { d.Turned = true }

func after(text string) func(*paper.Dim) { return func(d *paper.Dim) { d.After = text } }

// axis adds a center line.
func (v *view) axis(from, to mesh.Vec) {
	path := outline.Path{Start: v.at(from), Segments: []outline.Segment{{To: v.at(to)}}}
	for i := range v.Lines {
		if l := &v.Lines[i]; l.Look == drawing.Axis {
			l.Paths = append(l.Paths, path)
			return
		}
	}
	v.Lines = append(v.Lines, drawing.Line{Look: drawing.Axis, Paths: []outline.Path{path}})
}

// cross marks a middle by two short center lines.
func (v *view) cross(at mesh.Vec, r float64) {
	v.axis(at.AddScaled(-r, v.look.U), at.AddScaled(r, v.look.U))
	v.axis(at.AddScaled(-r, v.look.V), at.AddScaled(r, v.look.V))
}

// markHoles names the holes that open toward the viewer.
func (s *sheet) markHoles(v *view) {
	for i := range s.holes {
		h := &s.holes[i]
		if h.Dir.Dot(v.look.W()) > -.9 {
			continue
		}
		r := 0.0
		for _, x := range h.Steps {
			r = max(r, x.D0/2, x.D1/2)
		}
		v.cross(h.At, r+1)
		v.Marks = append(v.Marks, paper.Mark{Text: h.Mark, At: v.at(h.At), R: r})
	}
}

// origin shows where coordinates count from, where no letters are engraved: both would be
// hard to read, and the view from the other side shows it.
func (v *view) origin(at mesh.Vec, x, y string) {
	const arrow = 26 // mm: as long as it gets on paper at 1:2, name included
	o := v.at(at)
	for _, b := range v.engraved {
		if b = b.Grow(1); b.MeetsLine([2]point{o, along(o, x, 0, arrow)}) || b.MeetsLine([2]point{o, along(o, y, 1, arrow)}) {
			return
		}
	}
	v.Origins = append(v.Origins, paper.Origin{At: o, U: x, V: y})
}

// along is the end of an axis' arrow of a length: backward where its name says so.
func along(o point, name string, axis int, long float64) point {
	if name[0] == '-' {
		long = -long
	}
	o[axis] += long
	return o
}
