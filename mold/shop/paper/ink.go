package paper

import (
	"math"
	"strings"

	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

// Widths of lines, mm: ISO 128-2.
const (
	wide   = 0.5
	narrow = 0.25
	bold   = 0.7  // the frame, and the ends of cutting planes
	fine   = 0.18 // hatching
)

// ink is what has been drawn so far, mm of paper, v upward.
type ink struct {
	strokes []Stroke
	texts   []Text
	blocks  []block    // texts and symbols of views
	leaders [][2]Point // and lines that belong to those
}

// add draws another's ink, moved.
func (k *ink) add(o *ink, by Point) {
	for _, s := range o.strokes {
		s.Paths = moved(s.Paths, by)
		k.strokes = append(k.strokes, s)
	}
	for _, t := range o.texts {
		t.At = plus(t.At, by)
		k.texts = append(k.texts, t)
	}
	for _, b := range o.blocks {
		k.blocks = append(k.blocks, block{b.name, shifted(b.box, by)})
	}
	for _, l := range o.leaders {
		k.leaders = append(k.leaders, [2]Point{plus(l[0], by), plus(l[1], by)})
	}
}

func (k *ink) path(width float64, paths ...outline.Path) {
	k.strokes = append(k.strokes, Stroke{Paths: paths, Width: width})
}

// line draws a line through points.
func (k *ink) line(width float64, points ...Point) { k.path(width, through(points...)) }

func (k *ink) lines(width float64, lines ...[2]Point) {
	var paths []outline.Path
	for _, l := range lines {
		paths = append(paths, through(l[0], l[1]))
	}
	if len(paths) > 0 {
		k.path(width, paths...)
	}
}

func (k *ink) dashed(width float64, dashes []float64, paths ...outline.Path) {
	k.strokes = append(k.strokes, Stroke{Paths: paths, Width: width, Dashes: dashes})
}

func (k *ink) fill(paths ...outline.Path) {
	k.strokes = append(k.strokes, Stroke{Paths: paths, Filled: true})
}

func (k *ink) rectangle(width float64, b drawing.Box) {
	k.path(width, ringOf(b))
}

// blank keeps lines from running through what is written later.
func (k *ink) blank(b drawing.Box) {
	k.strokes = append(k.strokes, Stroke{Paths: []outline.Path{ringOf(b)}, Filled: true, Blank: true})
}

// arrow is a narrow closed arrowhead, ISO 129-1.
func (k *ink) arrow(tip, dir Point) {
	const half = 0.42
	back := minus(tip, times(dir, drawing.ArrowLength))
	side := Point{-dir[1] * half, dir[0] * half}
	k.fill(through(tip, plus(back, side), minus(back, side), tip))
}

// writing is how a line of text is set.
type writing struct {
	size   float64
	bold   bool
	anchor Anchor
	dir    Point // zero: to the right
}

// write sets a line of text, signs that the type lacks as lines, and returns what it
// covers.
func (k *ink) write(s string, at Point, w writing) drawing.Box {
	if w.dir == (Point{}) {
		w.dir = Point{1, 0}
	}
	long := widthOf(s, w.size, w.bold)
	start := minus(at, times(w.dir, long*map[Anchor]float64{Start: 0, Middle: 0.5, End: 1}[w.anchor]))
	up := Point{-w.dir[1], w.dir[0]}
	box := drawing.NoBox()
	for _, x := range []float64{0, long} {
		p := plus(start, times(w.dir, x))
		box = box.Include(plus(p, times(up, capHeight*w.size)), minus(p, times(up, descent*w.size)))
	}
	pieces := parted(s)
	if len(pieces) == 1 && signs[[]rune(pieces[0])[0]] == nil {
		k.texts = append(k.texts, Text{s, at, w.dir, w.size, w.bold, w.anchor})
		return box
	}
	for _, p := range pieces {
		if draw := signs[[]rune(p)[0]]; draw != nil {
			k.sign(draw, start, w)
		} else {
			// Blanks at the ends are not drawn, and not every reader keeps them.
			word := strings.TrimLeft(p, " ")
			lead := widthOf(p[:len(p)-len(word)], w.size, w.bold)
			if word = strings.TrimRight(word, " "); word != "" {
				k.texts = append(k.texts, Text{word, plus(start, times(w.dir, lead)), w.dir, w.size, w.bold, Start})
			}
		}
		start = plus(start, times(w.dir, widthOf(p, w.size, w.bold)))
	}
	return box
}

// parted is a text in pieces of which each is one sign that is drawn or has none.
func parted(s string) (out []string) {
	from := 0
	for i, r := range s {
		if signs[r] == nil {
			continue
		}
		if i > from {
			out = append(out, s[from:i])
		}
		out = append(out, string(r))
		from = i + len(string(r))
	}
	if from < len(s) {
		out = append(out, s[from:])
	}
	return out
}

func through(points ...Point) outline.Path {
	p := outline.Path{Start: points[0], Closed: len(points) > 2 && points[0] == points[len(points)-1]}
	for _, q := range points[1:] {
		p.Segments = append(p.Segments, outline.Segment{To: q})
	}
	return p
}

func ringOf(b drawing.Box) outline.Path {
	return through(b.Lo, Point{b.Hi[0], b.Lo[1]}, b.Hi, Point{b.Lo[0], b.Hi[1]}, b.Lo)
}

func circle(c Point, r float64) outline.Path {
	start := Point{c[0] + r, c[1]}
	return outline.Path{Start: start, Closed: true, Segments: []outline.Segment{{To: start, Center: c, Radius: r, CCW: true}}}
}

// moved are paths moved by a vector.
func moved(paths []outline.Path, by Point) []outline.Path { return placedAt(paths, 1, by) }

// placedAt are paths scaled and then moved.
func placedAt(paths []outline.Path, scale float64, by Point) []outline.Path {
	to := func(p Point) Point { return plus(times(p, scale), by) }
	out := make([]outline.Path, len(paths))
	for i, p := range paths {
		q := outline.Path{Start: to(p.Start), Closed: p.Closed, Segments: make([]outline.Segment, len(p.Segments))}
		for k, s := range p.Segments {
			t := outline.Segment{To: to(s.To), Radius: s.Radius * scale, CCW: s.CCW}
			if s.Radius > 0 {
				t.Center = to(s.Center)
			}
			for _, v := range s.Via {
				t.Via = append(t.Via, to(v))
			}
			q.Segments[k] = t
		}
		out[i] = q
	}
	return out
}

func shifted(b drawing.Box, by Point) drawing.Box {
	return drawing.Box{Lo: plus(b.Lo, by), Hi: plus(b.Hi, by)}
}

func plus(a, b Point) Point               { return Point{a[0] + b[0], a[1] + b[1]} }
func minus(a, b Point) Point              { return Point{a[0] - b[0], a[1] - b[1]} }
func times(a Point, k float64) Point      { return Point{a[0] * k, a[1] * k} }
func dist(a, b Point) float64             { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
func unit(a Point) Point                  { return times(a, 1/math.Hypot(a[0], a[1])) }
func sizeOf(b drawing.Box) (w, h float64) { return b.Hi[0] - b.Lo[0], b.Hi[1] - b.Lo[1] }
