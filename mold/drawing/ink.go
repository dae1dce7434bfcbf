package drawing

import "math"

// Ink is how a dimension lies on paper, mm, v upward, from the view's origin.
type Ink struct {
	Lines  [][2]Point // thin ones, the dimension line first
	Arrows []Arrow
	Label  Label
}

// Arrow is an arrowhead.
type Arrow struct {
	Tip Point
	Dir Point // the way it points, of length 1
}

// ArrowLength is the length of an arrowhead, mm of paper.
const ArrowLength = arrow

// Ink lays a dimension out at a scale, as ISO 129-1 has it: arrowheads between the
// extension lines, or outside where there is no room; the text above its line, read
// from below or from the right, or beyond the arrows.
func (d *Dim) Ink(scale float64) Ink {
	if d.Kind == Diameter || d.Kind == Radius {
		return d.round(scale)
	}
	p, q := scaled(d.From, scale), scaled(d.To, scale)
	a, t := Point{1, 0}, d.At*scale
	switch d.Kind {
	case Plumb:
		a, t = Point{0, 1}, -d.At*scale
	case Aligned:
		if a = scaled(minus(q, p), 1/dist(p, q)); a[0] < -1e-9 || (a[0] < 1e-9 && a[1] < 0) {
			a = scaled(a, -1)
		}
		t += dot(p, Point{-a[1], a[0]})
	}
	b := Point{-a[1], a[0]}
	if dot(p, a) > dot(q, a) {
		p, q = q, p
	}
	at := func(s, t float64) Point { return plus(scaled(a, s), scaled(b, t)) }
	s0, s1 := dot(p, a), dot(q, a)
	ink, lo, hi := d.along(a, s0, s1, func(s, up float64) Point { return at(s, t+up) })
	ink.Lines = [][2]Point{{at(lo, t), at(hi, t)}}
	for _, e := range []Point{p, q} {
		from := dot(e, b)
		if way := math.Copysign(1, t-from); math.Abs(t-from) > 2*extendGap {
			s := dot(e, a)
			ink.Lines = append(ink.Lines, [2]Point{at(s, from+way*extendGap), at(s, t+way*extendPast)})
		}
	}
	return ink
}

// beside is what stands beside the value: the name, or what stands for it.
func (d *Dim) beside() string {
	if d.Bare {
		return d.Key
	}
	return d.Name
}

// least is the distance of two points that has room for two arrowheads.
const least = 2*arrow + 1.5

// along puts arrows and text on a dimension line that runs in direction a from s0 to
// s1, and returns how far the line has to reach.
func (d *Dim) along(a Point, s0, s1 float64, at func(s, up float64) Point) (ink Ink, lo, hi float64) {
	label := Label{Text: d.Text(), Dir: a}
	lo, hi = s0, s1
	back := scaled(a, -1)
	ink.Arrows = []Arrow{{at(s0, 0), back}, {at(s1, 0), a}}
	clear := 1.5 // from the point to a text beyond it
	if s1-s0 < least {
		ink.Arrows = []Arrow{{at(s0, 0), a}, {at(s1, 0), back}}
		lo, hi, clear = s0-tail, s1+tail, arrow+1
	}
	label.Name = d.beside()
	w := label.Width()
	middle := (s0 + s1) / 2
	switch {
	case w <= s1-s0-2:
	case d.Beside < 0:
		middle = s0 - clear - w/2
		lo = min(lo, middle-w/2)
	default:
		middle = s1 + clear + w/2
		hi = max(hi, middle+w/2)
	}
	label.At = at(middle, textAbove)
	ink.Label = label
	return ink, lo, hi
}

// round lays out a dimension across a circle, or from its center: a line that leaves
// the circle at To and ends in a shelf under the text.
func (d *Dim) round(scale float64) Ink {
	p, q := scaled(d.From, scale), scaled(d.To, scale)
	dir := scaled(minus(q, p), 1/dist(p, q))
	back := scaled(dir, -1)
	ink := Ink{Label: Label{Text: d.Text(), Name: d.beside(), Dir: Point{1, 0}}}
	start := p
	switch outside := dist(p, q) < least; {
	case d.Kind == Radius && outside:
		ink.Arrows = []Arrow{{q, back}}
	case d.Kind == Radius:
		ink.Arrows = []Arrow{{q, dir}}
	case outside:
		ink.Arrows = []Arrow{{p, dir}, {q, back}}
		start = plus(p, scaled(back, tail))
	default:
		ink.Arrows = []Arrow{{p, back}, {q, dir}}
	}
	elbow := plus(q, scaled(dir, tail))
	w := ink.Label.Width() + 1
	if dir[0] < 0 {
		w = -w
	}
	ink.Lines = [][2]Point{{start, elbow}, {elbow, plus(elbow, Point{w, 0})}}
	ink.Label.At = plus(elbow, Point{w / 2, textAbove})
	return ink
}
