package flat

import (
	"fmt"
	"math"
	"slices"
	"unicode/utf8"

	"wheelmold/mesh/dxf"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
)

const (
	// between views at least, as a share of the first one's width; and mm.
	between, leastBetween = .1, 20.0
	// grid of the views' origins, mm.
	grid = 10.0
	// overhang of center lines beyond what is drawn, mm.
	overhang = 5.0
	// letter is how wide one is, as a share of its height, on the average.
	letter = .9
	// originSize is half the length of the cross at an origin, mm.
	originSize = 3.0
)

// axes marks the view's origin and draws the wheel's axis.
func (v *View) axes(k mold.Kind) {
	lo, hi := outline.Region{v.Outline}.Bounds()
	v.origin()
	v.path(CenterLines, straight(outline.Point{0, lo[1] - overhang}, outline.Point{0, hi[1] + overhang}))
	if k != mold.Shell {
		v.path(CenterLines, straight(outline.Point{lo[0] - overhang, 0}, outline.Point{hi[0] + overhang, 0}))
	}
}

func (v *View) origin() {
	const a = originSize
	v.path(Origin, straight(outline.Point{-a, 0}, outline.Point{a, 0}))
	v.path(Origin, straight(outline.Point{0, -a}, outline.Point{0, a}))
	v.add(Origin, dxf.Dot{})
}

// box is around all that the view shows.
func (v *View) box() (lo, hi outline.Point) {
	var d dxf.Drawing
	for _, it := range v.items {
		d.Add(it.layer, it.entity)
	}
	return d.Bounds()
}

// arrange puts the views beside each other, the first one's origin at the file's, and
// returns the height of notes below them, which find room there.
func (f *File) arrange(general []string) (height float64) {
	wide := 0.0
	for i := range f.Views {
		lo, hi := f.Views[i].box()
		wide = max(wide, hi[0]-lo[0])
	}
	height = textHeight(wide)
	x := 0.0
	for i := range f.Views {
		v := &f.Views[i]
		lo, hi := v.box()
		gap := max(leastBetween, between*(hi[0]-lo[0]))
		if i > 0 {
			v.Shift[0] = math.Ceil((x+gap-lo[0])/grid) * grid
		}
		for _, line := range v.lines(i == 0, general) {
			hi[0] = max(hi[0], lo[0]+letter*height*float64(utf8.RuneCountInString(line)))
		}
		x = v.Shift[0] + hi[0]
	}
	return height
}

// draw puts the views and what is said of them on one drawing.
func (f *File) draw(general []string, h float64) *dxf.Drawing {
	d := &dxf.Drawing{}
	low := math.Inf(1)
	for _, v := range f.Views {
		lo, _ := v.box()
		low = min(low, lo[1])
	}
	for i, v := range f.Views {
		for _, it := range v.items {
			d.Add(it.layer, shifted(it.entity, v.Shift))
		}
		lo, _ := v.box()
		at := outline.Point{lo[0] + v.Shift[0], low - 3*h}
		for _, line := range v.lines(i == 0, general) {
			d.Add(Notes, dxf.Text{At: at, Height: h, Value: line})
			at[1] -= 1.6 * h
		}
	}
	used := map[string]bool{}
	for _, it := range d.Items {
		used[it.Layer] = true
	}
	for _, l := range layers {
		if used[l.Name] {
			d.Layers = append(d.Layers, l)
		}
	}
	return d
}

// textHeight is that of notes below a view of a width, mm: such that a line of some forty
// letters fits, and legible at 1:1.
func textHeight(wide float64) float64 { return math.Round(min(max(wide/40, 2), 6)*2) / 2 }

// lines are what is written below a view.
func (v *View) lines(first bool, general []string) []string {
	out := slices.Clone(v.about)
	if first {
		return append(out, general...)
	}
	return append(out, fmt.Sprintf("this view's origin is at x %g mm, y %g mm", v.Shift[0], v.Shift[1]))
}

// general is what is said of the whole drawing.
func (s *subject) general() []string {
	out := []string{mold.Title(s.p.Name) + " of " + s.m.Job.Name, "1:1, millimeters", "depths and threads by the holes' marks, fits: see the shop drawing"}
	if s.p.Raw != s.p.Root {
		out = append(out, "as it leaves the machine")
	}
	return out
}

func plus(p, d outline.Point) outline.Point { return outline.Point{p[0] + d[0], p[1] + d[1]} }

// shifted moves an entity.
func shifted(e dxf.Entity, by outline.Point) dxf.Entity {
	switch e := e.(type) {
	case dxf.Line:
		return dxf.Line{From: plus(e.From, by), To: plus(e.To, by)}
	case dxf.Arc:
		e.Center = plus(e.Center, by)
		return e
	case dxf.Circle:
		e.Center = plus(e.Center, by)
		return e
	case dxf.Dot:
		return dxf.Dot{At: plus(e.At, by)}
	case dxf.Text:
		e.At = plus(e.At, by)
		return e
	case dxf.Polyline:
		e.Vertices = slices.Clone(e.Vertices)
		for i := range e.Vertices {
			e.Vertices[i].At = plus(e.Vertices[i].At, by)
		}
		return e
	}
	return e
}
