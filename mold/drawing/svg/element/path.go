package element

import (
	"math"
	"strconv"
	"strings"

	"wheelmold/mesh/outline"
)

// Number writes mm of paper to a thousandth: far below what a line is wide.
func Number(v float64) string {
	v = math.Round(v*1000) / 1000
	return strconv.FormatFloat(v+0, 'f', -1, 64) // +0: no "-0"
}

// Pair writes a point.
func Pair(p outline.Point) string { return Number(p[0]) + " " + Number(p[1]) }

// Placing places points of a view on the paper: mm, v downward.
type Placing struct {
	Scale     float64 // mm of paper for a mm of what is drawn
	Left, Top float64 // of the paper, mm of paper from the view's origin
}

// At places a point given in mm of paper, v upward.
func (t Placing) At(p outline.Point) outline.Point { return outline.Point{p[0] - t.Left, t.Top - p[1]} }

// Of places a point given in mm of what is drawn.
func (t Placing) Of(p outline.Point) outline.Point {
	return t.At(outline.Point{p[0] * t.Scale, p[1] * t.Scale})
}

// Data is the path data of paths: lines as L, arcs as A in parts of half a turn at
// most, so that no flag has to tell a large arc from a small one, other curves as L
// through their points.
func (t Placing) Data(paths []outline.Path) string {
	var b strings.Builder
	for _, p := range paths {
		b.WriteString("M" + Pair(t.Of(p.Start)))
		for s := range p.Stretches() {
			t.stretch(&b, s)
		}
		if p.Closed {
			b.WriteString("Z")
		}
	}
	return b.String()
}

func (t Placing) stretch(b *strings.Builder, s outline.Stretch) {
	to := Pair(t.Of(s.To))
	if s.Radius == 0 {
		b.WriteString("L" + to)
		return
	}
	// The way an arc turns is the same to the eye; SVG counts it with v downward.
	flags := " 0 0 1 "
	if s.Sweep > 0 {
		flags = " 0 0 0 "
	}
	r := Number(s.Radius * t.Scale)
	b.WriteString("A" + r + " " + r + flags + to)
}
