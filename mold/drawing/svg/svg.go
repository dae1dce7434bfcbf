// Package svg writes a drawing as one SVG element: a file by itself, or a part of a
// page that may hold many of them.
//
// It guarantees that it is drawn to a scale of ISO 5455, in millimeters of paper;
// that circles are arcs and other curves go through the points they came with; that
// nothing needs color to be told apart; and that no text of a job gets in unescaped.
// It has no scripts, no style sheets and no style attributes. Text sizes are those
// of common sans-serif faces, estimated.
//
// Lines take the color of the text around the drawing. Classes let a page change the
// rest: d-paper (the background, and what covers others), d-halo (around text),
// d-tint and d-of-NAME (areas and lines by what they belong to), d-LOOK, d-hatch,
// d-dim, d-balloon, d-mark, d-key.
package svg

import (
	"errors"
	"io"
	"math"
	"strconv"

	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
	"wheelmold/mold/drawing/svg/element"
)

type point = drawing.Point

// Line widths of ISO 128-2, mm of paper.
const (
	wide   = "0.5"
	narrow = "0.25"
	fine   = "0.13" // where areas are only known in steps
	margin = 1.0    // around all that is drawn
)

// Write writes a drawing at the scale for which it was laid out, or, if that is none
// or too large for drawing.Paper, at the largest that is not. The error names what
// cannot be drawn.
func Write(w io.Writer, d *drawing.Drawing) error {
	p, err := newPicture(d)
	if err != nil {
		return err
	}
	p.write()
	_, err = w.Write(p.Bytes())
	return err
}

// picture is a drawing on its way to paper.
type picture struct {
	element.Writer
	d      *drawing.Drawing
	id     string
	keys   []key
	hatch  hatching
	place  element.Placing
	width  float64 // of all, mm
	height float64
	view   drawing.Box // without margins and key, v upward
}

func newPicture(d *drawing.Drawing) (*picture, error) {
	p := &picture{d: d, id: "d-" + drawing.Slug(d.ID), hatch: hatching{ids: map[string]string{}}}
	for _, s := range drawing.Scales {
		if d.Scale > 0 && s > d.Scale*(1+1e-9) {
			continue
		}
		if p.fit(s); p.width <= drawing.Paper.Width && p.height <= drawing.Paper.Height {
			break
		}
	}
	if b := p.view; !(b.Lo[0] <= b.Hi[0] && b.Lo[1] <= b.Hi[1]) || math.IsInf(p.width+p.height, 0) || math.IsNaN(p.width+p.height) {
		return nil, errors.New("drawing " + strconv.Quote(d.ID) + ": there is nothing to draw, or it has no size")
	}
	return p, nil
}

// fit lays the paper around the drawing at a scale.
func (p *picture) fit(scale float64) {
	p.place.Scale = scale
	p.view = p.d.Extent(scale)
	p.width = p.view.Hi[0] - p.view.Lo[0] + 2*margin
	p.keys = p.legend(math.Max(p.width, leastKey))
	for _, k := range p.keys {
		p.width = math.Max(p.width, k.width()+2*margin)
	}
	p.height = p.view.Hi[1] - p.view.Lo[1] + 2*margin + keyPitch*float64(rows(p.keys))
	middle := (p.view.Lo[0] + p.view.Hi[0]) / 2
	p.place.Left = middle - p.width/2
	p.place.Top = p.view.Hi[1] + margin
}

func (p *picture) write() {
	title, desc := p.id+"-title", p.id+"-desc"
	p.Open("svg", "xmlns", "http://www.w3.org/2000/svg", "class", "drawing", "role", "img", "aria-labelledby", title+" "+desc,
		"width", element.Number(p.width)+"mm", "height", element.Number(p.height)+"mm", "viewBox", "0 0 "+element.Number(p.width)+" "+element.Number(p.height),
		"font-family", "Arial, Helvetica, 'Liberation Sans', sans-serif", "font-size", element.Number(drawing.TypeSize),
		"fill", "none", "stroke", "currentColor", "stroke-width", narrow, "stroke-linejoin", "round")
	p.Text("title", p.d.Title, "id", title)
	p.Text("desc", p.d.Note, "id", desc)
	p.definitions()
	p.Empty("rect", "class", "d-paper", "width", element.Number(p.width), "height", element.Number(p.height), "fill", "#fff", "stroke", "none")
	if p.windowed() {
		p.Open("g", "clip-path", "url(#"+p.id+"-window)")
	} else {
		p.Open("g")
	}
	for i := range p.d.Areas {
		p.area(&p.d.Areas[i])
	}
	for _, l := range p.d.Lines {
		p.line(l)
	}
	p.Close("g")
	p.breaks()
	p.dims()
	for _, b := range p.d.Balloons {
		p.balloon(b)
	}
	for i, m := range p.d.Marks {
		p.mark(m.Kind, i+1, p.place.Of(m.At), m.Text)
	}
	p.key()
	p.Close("svg")
}

func (p *picture) windowed() bool { return p.d.Window != [2]point{} }

// definitions are the patterns and the window.
func (p *picture) definitions() {
	for i := range p.d.Areas {
		p.hatch.of(p.id, &p.d.Areas[i])
	}
	p.Open("defs")
	p.hatch.write(&p.Writer)
	if p.windowed() {
		p.Open("clipPath", "id", p.id+"-window")
		lo, hi := p.window()
		p.Empty("rect", "x", element.Number(lo[0]), "y", element.Number(hi[1]), "width", element.Number(hi[0]-lo[0]), "height", element.Number(lo[1]-hi[1]))
		p.Close("clipPath")
	}
	p.Close("defs")
}

func (p *picture) area(a *drawing.Area) {
	class := "d-area d-" + drawing.Slug(string(a.Look)) + " d-of-" + drawing.Slug(a.Of)
	data := p.place.Data(a.Region)
	if data == "" {
		return
	}
	color, opacity := tintOf(a)
	p.Open("g", "class", class)
	p.Text("title", a.Of)
	if over[a.Look] {
		p.Empty("path", "class", "d-paper", "d", data, "fill", "#fff", "stroke", "none")
	}
	p.Empty("path", "class", "d-tint", "d", data, "fill", color, "fill-opacity", opacity, "fill-rule", "evenodd", "stroke", "none")
	outline := []string{"d", data, "fill-rule", "evenodd", "stroke-width", lineOf[a.Look].width}
	if id := p.hatch.of(p.id, a); id != "" {
		outline = append(outline, "fill", "url(#"+id+")")
	}
	p.Empty("path", outline...)
	p.Close("g")
}

// over are the looks of what lies before other areas, whose tints must not show
// through: the key shows it on bare paper.
var over = map[drawing.Look]bool{drawing.Whole: true, drawing.Air: true, drawing.Wet10: true, drawing.Wet50: true, drawing.Wet90: true}

// stroke is how a line is drawn: ISO 128-2 types, dashes in mm.
type stroke struct{ width, dashes string }

// lineOf are the lines by look, and the outlines of areas.
var lineOf = map[drawing.Look]stroke{
	drawing.Visible: {wide, ""}, drawing.Parting: {wide, ""}, drawing.Seam: {"0.7", ""},
	drawing.Hidden: {narrow, "3 0.8"}, drawing.Axis: {narrow, "6 0.8 0.3 0.8"}, drawing.Level: {narrow, "1.5 0.6"},
	drawing.Cut: {wide, ""}, drawing.Whole: {wide, ""}, drawing.Face: {wide, ""},
	drawing.Liquid: {narrow, ""}, drawing.Air: {narrow, ""}, drawing.Wet10: {fine, ""}, drawing.Wet50: {fine, ""}, drawing.Wet90: {fine, ""},
}

func (p *picture) line(l drawing.Line) {
	data := p.place.Data(l.Paths)
	if data == "" {
		return
	}
	s, ok := lineOf[l.Look]
	if !ok {
		s = stroke{narrow, ""}
	}
	class := "d-line d-" + drawing.Slug(string(l.Look))
	if l.Of != "" {
		class += " d-of-" + drawing.Slug(l.Of)
	}
	a := []string{"class", class, "d", data, "stroke-width", s.width}
	if s.dashes != "" {
		a = append(a, "stroke-dasharray", s.dashes)
	}
	p.Empty("path", a...)
}

// cutOff tells on which sides the drawing goes on beyond its window: left, right,
// below, above.
func (p *picture) cutOff() (at [4]bool) {
	full := drawing.NoBox()
	for _, a := range p.d.Areas {
		lo, hi := a.Region.Bounds()
		full = full.Include(lo, hi)
	}
	const more = 1e-6 // mm
	lo, hi := p.d.Window[0], p.d.Window[1]
	return [4]bool{full.Lo[0] < lo[0]-more, full.Hi[0] > hi[0]+more, full.Lo[1] < lo[1]-more, full.Hi[1] > hi[1]+more}
}

// window is what is let through, on paper: all of the lines where nothing is cut off.
func (p *picture) window() (lo, hi point) {
	const whole = 1.0 // mm, more than any line is wide
	off := p.cutOff()
	lo, hi = p.place.Of(p.d.Window[0]), p.place.Of(p.d.Window[1])
	for i, side := range []*float64{&lo[0], &hi[0], &lo[1], &hi[1]} {
		if !off[i] {
			*side += []float64{-whole, whole, whole, -whole}[i]
		}
	}
	return lo, hi
}

// breaks closes a window with break lines on the sides where the drawing goes on.
func (p *picture) breaks() {
	if !p.windowed() {
		return
	}
	lo, hi := p.d.Window[0], p.d.Window[1]
	for i, is := range p.cutOff() {
		if !is {
			continue
		}
		a, b := lo, hi
		switch i {
		case 0:
			b[0] = lo[0]
		case 1:
			a[0] = hi[0]
		case 2:
			b[1] = lo[1]
		case 3:
			a[1] = hi[1]
		}
		d := zigzag(p.place.Of(a), p.place.Of(b))
		p.Empty("path", "class", "d-halo", "d", d, "stroke", "#fff", "stroke-width", "1.4")
		p.Empty("path", "class", "d-break", "d", d)
	}
}

// zigzag is a long break line with two kinks, ISO 128-2 type 01.1.
func zigzag(a, b point) string {
	const half, high, past = 1.2, 1.8, 2 // mm
	l := math.Hypot(b[0]-a[0], b[1]-a[1])
	u := point{(b[0] - a[0]) / l, (b[1] - a[1]) / l}
	at := func(s, t float64) string { return element.Pair(point{a[0] + u[0]*s - u[1]*t, a[1] + u[1]*s + u[0]*t}) }
	d := "M" + at(-past, 0)
	for _, f := range []float64{0.25, 0.75} {
		m := f * l
		d += "L" + at(m-half, 0) + "L" + at(m-half/2, high) + "L" + at(m+half/2, -high) + "L" + at(m+half, 0)
	}
	return d + "L" + at(l+past, 0)
}

// straight is path data of lines on paper, v upward.
func (p *picture) straight(lines ...[2]point) string {
	var paths []outline.Path
	for _, l := range lines {
		paths = append(paths, outline.Path{Start: l[0], Segments: []outline.Segment{{To: l[1]}}})
	}
	t := p.place
	t.Scale = 1
	return t.Data(paths)
}
