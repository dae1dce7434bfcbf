package paper

import (
	"math"

	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

// signWidth is how wide a drawn sign stands in a line, of the type's size.
const signWidth = 0.86

// signs are those that common type lacks, in lines within a square of side 1 on the
// base line: counterbore, countersink and depth as ISO 129-1 draws them, and flatness.
var signs = map[rune][][]Point{
	'⊔': {{{0.02, 0.85}, {0.02, 0.05}, {0.98, 0.05}, {0.98, 0.85}}},
	'⌵': {{{0, 0.9}, {0.5, 0.05}, {1, 0.9}}},
	'↓': {{{0.15, 1}, {0.85, 1}}, {{0.5, 1}, {0.5, 0}}, {{0.22, 0.38}, {0.5, 0}, {0.78, 0.38}}},
	'↧': {{{0.15, 1}, {0.85, 1}}, {{0.5, 1}, {0.5, 0}}, {{0.22, 0.38}, {0.5, 0}, {0.78, 0.38}}},
	'⏥': {{{0, 0.15}, {0.7, 0.15}, {1, 0.85}, {0.3, 0.85}, {0, 0.15}}},
}

// sign draws a sign in a line of text.
func (k *ink) sign(lines [][]Point, start Point, w writing) {
	side := capHeight * w.size
	up := Point{-w.dir[1], w.dir[0]}
	off := (signWidth*w.size - side) / 2
	for _, l := range lines {
		var at []Point
		for _, p := range l {
			at = append(at, plus(plus(start, times(w.dir, off+side*p[0])), times(up, side*p[1])))
		}
		k.line(lettering, at...)
	}
}

// lettering is the width of lines that stand for letters, a tenth of their height.
const lettering = 0.25

// symbol draws the symbol of a geometrical tolerance in the square of a side around a
// middle.
func (k *ink) symbol(s Symbol, middle Point, side float64) {
	h := side / 2
	at := func(u, v float64) Point { return Point{middle[0] + u*h, middle[1] + v*h} }
	line := func(points ...Point) { k.line(lettering, points...) }
	switch s {
	case Flatness:
		line(at(-1, -0.6), at(0.4, -0.6), at(1, 0.6), at(-0.4, 0.6), at(-1, -0.6))
	case Parallelism:
		line(at(-0.75, -0.8), at(0.15, 0.8))
		line(at(-0.15, -0.8), at(0.75, 0.8))
	case Perpendicularity:
		line(at(-0.8, -0.8), at(0.8, -0.8))
		line(at(0, -0.8), at(0, 0.9))
	case Position:
		k.path(lettering, circle(middle, 0.6*h))
		line(at(-1, 0), at(1, 0))
		line(at(0, -1), at(0, 1))
	case Concentricity:
		k.path(lettering, circle(middle, 0.9*h), circle(middle, 0.45*h))
	case Runout:
		line(at(-0.7, -0.7), at(0.7, 0.7))
		k.arrow(at(0.7, 0.7), Point{math.Sqrt2 / 2, math.Sqrt2 / 2})
	case Cylindricity:
		k.path(lettering, circle(middle, 0.5*h))
		line(at(-1, -0.8), at(-0.25, 0.8))
		line(at(0.25, -0.8), at(1, 0.8))
	case Roundness:
		k.path(lettering, circle(middle, 0.85*h))
	case Profile:
		arc := outline.Path{Start: at(0.9, -0.4), Closed: true}
		arc.Segments = []outline.Segment{
			{To: at(-0.9, -0.4), Center: at(0, -0.4), Radius: 0.9 * h, CCW: true}, {To: at(0.9, -0.4)},
		}
		k.path(lettering, arc)
	}
}

// Sizes of the mark of a machined surface, for capitals of 2.5 mm (ISO 21920-1): of
// its short leg, and of its long one.
const (
	finishLow  = 3.5
	finishHigh = 7.5
)

var tan60 = math.Sqrt(3)

// finishWidth is how wide the mark is with its text.
func finishWidth(text string) float64 {
	return (finishLow+finishHigh)/tan60 + widthOf(text, typeSize, false) + 1.5
}

// finish draws the mark with a lower left corner, its text below its upper line.
func (k *ink) finish(text string, corner Point) {
	foot := plus(corner, Point{finishLow / tan60, 0})
	left := plus(foot, Point{-finishLow / tan60, finishLow})
	top := plus(foot, Point{finishHigh / tan60, finishHigh})
	end := Point{corner[0] + finishWidth(text), top[1]}
	k.line(lettering, left, foot, top, end)
	k.line(lettering, left, plus(foot, Point{finishLow / tan60, finishLow}))
	k.write(text, Point{top[0] + 0.6, top[1] - capHeight*typeSize - 1}, writing{size: typeSize})
}

// frameHeight is that of a tolerance frame and of a datum's, twice its capitals.
const frameHeight = 5.0

// controlWidths are the widths of a tolerance frame's fields.
func controlWidths(c *Control) []float64 {
	w := []float64{frameHeight + 1, widthOf(c.Value, typeSize, false) + 2}
	for _, d := range c.Datums {
		w = append(w, max(frameHeight, widthOf(d, typeSize, false)+2))
	}
	return w
}

// control draws a tolerance frame with a lower left corner.
func (k *ink) control(c *Control, corner Point) {
	w := controlWidths(c)
	at := corner
	for i, x := range w {
		b := drawing.Box{Lo: at, Hi: plus(at, Point{x, frameHeight})}
		k.rectangle(narrow, b)
		middle := plus(at, Point{x / 2, frameHeight / 2})
		switch i {
		case 0:
			k.symbol(c.Symbol, middle, frameHeight-1.8)
		case 1:
			k.letter(c.Value, middle)
		default:
			k.letter(c.Datums[i-2], middle)
		}
		at[0] += x
	}
}

// letter writes a text around a middle.
func (k *ink) letter(s string, middle Point) {
	k.write(s, Point{middle[0], middle[1] - capHeight*typeSize/2}, writing{size: typeSize, anchor: Middle})
}

// projection draws the symbol of the first-angle or third-angle method, ISO 5456-2: a
// truncated cone from the side and from its small end, within 22 by 9 mm around a
// middle. The view of the end, which is on the left, stands on the right by the
// first angle and on the left by the third.
func (k *ink) projection(third bool, middle Point) {
	const large, small, long, apart, past = 3.6, 1.8, 7.0, 10.0, 1.2
	way := 1.0
	if third {
		way = -1
	}
	cone, end := plus(middle, Point{-way * apart / 2, 0}), plus(middle, Point{way * apart / 2, 0})
	at := func(u, v float64) Point { return plus(cone, Point{u, v}) }
	k.line(narrow, at(-long/2, -small), at(long/2, -large), at(long/2, large), at(-long/2, small), at(-long/2, -small))
	k.path(narrow, circle(end, large), circle(end, small))
	across := Point{large + past, 0}
	k.dashed(fine, axisDashes,
		through(at(-long/2-past, 0), at(long/2+past, 0)),
		through(minus(end, across), plus(end, across)),
		through(Point{end[0], end[1] - large - past}, Point{end[0], end[1] + large + past}))
}

// Dashes of lines, mm drawn and left out: ISO 128-2 types 02 and 08.
var (
	hiddenDashes = []float64{3, 0.8}
	axisDashes   = []float64{6, 0.8, 0.3, 0.8}
)
