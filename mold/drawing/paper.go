package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Paper is the room for a drawing, mm: what is left of A4 and Letter alike.
var Paper = struct{ Width, Height float64 }{180, 240}

// Scales are those of ISO 5455, the largest first: mm of paper for a mm of the mold.
var Scales = []float64{50, 20, 10, 5, 2, 1, 1. / 2, 1. / 5, 1. / 10, 1. / 20, 1. / 50}

// ScaleName writes a scale as ISO 5455 does: "1:2".
func ScaleName(s float64) string {
	if s >= 1 {
		return strconv.FormatFloat(s, 'g', 6, 64) + ":1"
	}
	return "1:" + strconv.FormatFloat(1/s, 'g', 6, 64)
}

// Sizes of what is written, mm of paper. Capitals of common sans-serif faces are
// 0.72 of the type's size high, which makes them the 2.5 mm of ISO 3098.
const (
	TypeSize   = 3.5
	NameSize   = 3.0 // of the name beside a dimension
	ascent     = 0.75
	descent    = 0.22
	textAbove  = 1.0 // of a text's base line above its dimension line
	arrow      = 2.5 // length of an arrowhead
	tail       = 6.0 // of a dimension line beyond arrows that point inward
	extendPast = 1.5 // of an extension line, beyond its dimension line
	extendGap  = 0.8 // between the point and its extension line
)

// TextWidth estimates how wide a line of common sans-serif type of a size is, mm of
// paper: a tenth more than most faces take of digits.
func TextWidth(text string, size float64) float64 {
	em := 0.0
	for _, r := range text {
		switch {
		case strings.ContainsRune(" .,:;'|!ijlftrI[]()-", r):
			em += 0.36
		case strings.ContainsRune("mwMWØ@%–", r) || r >= 0x2e80:
			em += 0.88
		case r >= 'A' && r <= 'Z':
			em += 0.70
		default:
			em += 0.58
		}
	}
	return em * size
}

// Millimeters writes a length on a drawing: to a hundredth, without zeros behind.
func Millimeters(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100+0, 'f', -1, 64) // + 0: no minus before a zero
}

// Text is what a dimension says: millimeters, and inches to a thousandth in brackets,
// unless it Says something else.
func (d *Dim) Text() string {
	if d.Says != "" {
		return d.Says
	}
	sign := ""
	switch {
	case d.Kind == Diameter || d.Turned:
		sign = "Ø"
	case d.Kind == Radius:
		sign = "R"
	}
	return fmt.Sprintf("%s%s [%.3f]", sign, Millimeters(d.Value), d.Value/25.4)
}

// Box is an upright rectangle on paper, mm, v upward.
type Box struct{ Lo, Hi Point }

// NoBox contains nothing and grows by Include.
func NoBox() Box {
	return Box{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}
}

// Include returns the box grown to contain the points.
func (b Box) Include(ps ...Point) Box {
	for _, p := range ps {
		for i, x := range p {
			b.Lo[i], b.Hi[i] = min(b.Lo[i], x), max(b.Hi[i], x)
		}
	}
	return b
}

// Grow returns the box grown by d on all sides.
func (b Box) Grow(d float64) Box {
	return Box{Point{b.Lo[0] - d, b.Lo[1] - d}, Point{b.Hi[0] + d, b.Hi[1] + d}}
}

// Meets reports whether two boxes share an area.
func (b Box) Meets(c Box) bool {
	return b.Lo[0] < c.Hi[0] && c.Lo[0] < b.Hi[0] && b.Lo[1] < c.Hi[1] && c.Lo[1] < b.Hi[1]
}

// MeetsLine reports whether part of a straight line lies in the box: Liang and
// Barsky's clipping.
func (b Box) MeetsLine(l [2]Point) bool {
	t0, t1 := 0.0, 1.0
	for i := range 2 {
		d := l[1][i] - l[0][i]
		lo, hi := b.Lo[i]-l[0][i], b.Hi[i]-l[0][i]
		if d == 0 {
			if lo >= 0 || hi <= 0 {
				return false
			}
			continue
		}
		if d < 0 {
			lo, hi = hi, lo
		}
		t0, t1 = max(t0, lo/d), min(t1, hi/d)
	}
	return t0 < t1
}

// Label is a line of text on paper, mm, v upward.
type Label struct {
	Text string
	Name string // in smaller type behind it
	At   Point  // middle of the base line
	Dir  Point  // the way it reads, of length 1
}

// Width is about how long the label is.
func (l *Label) Width() float64 {
	w := TextWidth(l.Text, TypeSize)
	if l.Name != "" {
		w += TextWidth(" "+l.Name, NameSize)
	}
	return w
}

// Box is about what the label covers.
func (l *Label) Box() Box {
	a, b := scaled(l.Dir, l.Width()/2), Point{-l.Dir[1], l.Dir[0]}
	up, down := scaled(b, ascent*TypeSize), scaled(b, -descent*TypeSize)
	box := NoBox()
	for _, end := range []Point{plus(l.At, a), plus(l.At, scaled(a, -1))} {
		box = box.Include(plus(end, up), plus(end, down))
	}
	return box
}

func plus(a, b Point) Point                { return Point{a[0] + b[0], a[1] + b[1]} }
func minus(a, b Point) Point               { return Point{a[0] - b[0], a[1] - b[1]} }
func scaled(a Point, k float64) Point      { return Point{a[0] * k, a[1] * k} }
func dot(a, b Point) float64               { return a[0]*b[0] + a[1]*b[1] }
func dist(a, b Point) float64              { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
func between(a, b Point, t float64) Point  { return plus(scaled(a, 1-t), scaled(b, t)) }
func toward(a, b Point, far float64) Point { return plus(a, scaled(minus(b, a), far/dist(a, b))) }
