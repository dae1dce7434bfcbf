package svg

import (
	"math"
	"strconv"
	"strings"

	"wheelmold/mesh/outline"
)

// number writes mm of paper to a thousandth: far below what a line is wide.
func number(v float64) string {
	v = math.Round(v*1000) / 1000
	return strconv.FormatFloat(v+0, 'f', -1, 64) // +0: no "-0"
}

// onPaper places points of the view on the paper: mm, v downward.
type onPaper struct {
	scale float64
	left  float64 // of the paper, from the view's origin
	top   float64
}

// at places a point given in mm of paper, v upward.
func (t onPaper) at(p point) point { return point{p[0] - t.left, t.top - p[1]} }

// of places a point given in mm of the mold.
func (t onPaper) of(p point) point { return t.at(point{p[0] * t.scale, p[1] * t.scale}) }

func pair(p point) string { return number(p[0]) + " " + number(p[1]) }

// data is the path data of paths: lines as L, arcs as A in parts of half a turn at
// most, so that no flag has to tell a large arc from a small one, other curves as L
// through their points.
func (t onPaper) data(paths []outline.Path) string {
	var b strings.Builder
	for _, p := range paths {
		b.WriteString("M" + pair(t.of(p.Start)))
		for s := range p.Stretches() {
			t.stretch(&b, s)
		}
		if p.Closed {
			b.WriteString("Z")
		}
	}
	return b.String()
}

func (t onPaper) stretch(b *strings.Builder, s outline.Stretch) {
	to := pair(t.of(s.To))
	if s.Radius == 0 {
		b.WriteString("L" + to)
		return
	}
	// The way an arc turns is the same to the eye; SVG counts it with v downward.
	flags := " 0 0 1 "
	if s.Sweep > 0 {
		flags = " 0 0 0 "
	}
	r := number(s.Radius * t.scale)
	b.WriteString("A" + r + " " + r + flags + to)
}
