package paper

import (
	"math"
	"slices"

	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

// ground is a view being laid out at a scale, mm of paper from the view's origin.
type ground struct {
	ink
	scale      float64
	slim       bool        // what is said stands above and below rather than beside
	frame      drawing.Box // of the view's own lines and areas
	extent     drawing.Box // of all so far
	lines      [][2]Point  // dimension lines and leaders, which no text may cover
	extensions [][2]Point
	paths      []outline.Path // what leaders may point at
	cuts       []outline.Region
	window     *Round     // what alone is drawn, on paper; nil: all
	axes       [][2]Point // center lines
	edges      *raster    // of the view's own lines and hatching
	runs       []run
	late       []Text // on top of all lines
	missed     []missed
}

// missed is what found no room.
type missed struct{ name, text string }

// layView lays a view out at a scale.
func layView(v *View, scale float64, slim bool) *ground {
	g := &ground{scale: scale, slim: slim, frame: frameOf(v, scale)}
	if w := v.Window; w != nil {
		g.window = &Round{times(w.At, scale), w.R * scale}
	}
	g.extent = g.frame
	g.edges = newRaster(g.frame.Grow(2))
	g.shape(v)
	g.edges.sum()
	for i := range v.Cuts {
		g.cutting(&v.Cuts[i])
	}
	for i := range v.Details {
		g.detail(&v.Details[i])
	}
	for _, o := range v.Origins {
		g.origin(o)
	}
	g.dimensions(v.Dims)
	var unmarked []Mark
	for _, m := range v.Marks {
		if !g.mark(m, v.Marks) {
			unmarked = append(unmarked, m)
		}
	}
	for i := range v.Dims {
		if d := &v.Dims[i]; d.round() {
			g.roundDim(d)
		}
	}
	for _, m := range unmarked {
		g.markAside(m)
	}
	for i := range v.Callouts {
		g.callout(&v.Callouts[i])
	}
	for _, t := range g.late {
		g.blank(t.Box())
		g.texts = append(g.texts, t)
	}
	g.leaders = g.lines
	return g
}

// frameOf is the extent of a view's areas and lines on paper.
func frameOf(v *View, scale float64) drawing.Box {
	b := drawing.NoBox()
	include := func(r outline.Region) {
		if lo, hi := r.Bounds(); lo[0] <= hi[0] {
			b = b.Include(times(lo, scale), times(hi, scale))
		}
	}
	for _, a := range v.Areas {
		include(a.Region)
	}
	for _, l := range v.Lines {
		include(l.Paths)
	}
	if w := v.Window; w != nil {
		b = drawing.NoBox().Include(times(w.At, scale)).Grow(w.R * scale)
	}
	return b
}

// shape draws the view's own areas and lines.
func (g *ground) shape(v *View) {
	var of []string
	for _, a := range v.Areas {
		r := placedAt(a.Region, g.scale, Point{})
		if a.Look == drawing.Cut {
			n := slices.Index(of, a.Of)
			if n < 0 {
				n, of = len(of), append(of, a.Of)
			}
			g.cuts = append(g.cuts, r)
			lines := g.window.linesIn(hatched(r, n))
			g.ink.lines(fine, lines...)
			for _, l := range lines {
				g.edges.line(l[0], l[1])
			}
		}
		g.outline(wide, nil, r)
	}
	if g.window != nil {
		edge := circle(g.window.At, g.window.R)
		g.path(narrow, edge)
		g.keepOff(edge)
	}
	for _, l := range v.Lines {
		r := placedAt(l.Paths, g.scale, Point{})
		switch l.Look {
		case drawing.Axis:
			g.outline(narrow, axisDashes, r)
			for _, p := range g.window.pathsIn(r) {
				for s := range p.Stretches() {
					g.axes = append(g.axes, [2]Point{s.From, s.To})
				}
			}
		case drawing.Hidden:
			g.outline(narrow, hiddenDashes, r)
		case drawing.Level, Engraved:
			g.outline(narrow, nil, r)
		default:
			g.outline(wide, nil, r)
		}
	}
}

// outline draws paths, which texts then keep off.
func (g *ground) outline(width float64, dashes []float64, paths []outline.Path) {
	if paths = g.window.pathsIn(paths); len(paths) == 0 {
		return
	}
	g.dashed(width, dashes, paths...)
	if width == wide {
		g.paths = append(g.paths, paths...)
	}
	g.keepOff(paths...)
}

// keepOff keeps texts off paths.
func (g *ground) keepOff(paths ...outline.Path) {
	for i := range paths {
		for s := range paths[i].Stretches() {
			if s.Radius == 0 {
				g.edges.line(s.From, s.To)
				continue
			}
			n := max(2, s.Length()/cell*1.5)
			for k := range int(n) + 1 {
				g.edges.mark(s.At(float64(k) / float64(int(n))))
			}
		}
	}
}

// take keeps others off a place.
func (g *ground) take(name string, b drawing.Box) {
	g.blocks = append(g.blocks, block{name, b})
	g.extent = g.extent.Include(b.Lo, b.Hi)
}

// free tells whether a text may stand in a box: no line, no other text.
func (g *ground) free(b drawing.Box) bool {
	return !g.onBlock(b) && !g.edges.meets(b) && !slices.ContainsFunc(g.lines, b.MeetsLine)
}

func (g *ground) onBlock(b drawing.Box) bool {
	return slices.ContainsFunc(g.blocks, func(t block) bool { return t.box.Meets(b) })
}

func (g *ground) underText(l [2]Point) bool {
	return slices.ContainsFunc(g.blocks, func(t block) bool { return t.box.MeetsLine(l) })
}

// crossings counts the lines that another one crosses.
func (g *ground) crossings(l [2]Point) (n int) {
	for _, o := range slices.Concat(g.lines, g.extensions) {
		if drawing.Cross(l, o) {
			n++
		}
	}
	return n
}

// cutting draws the trace of a cutting plane: its ends thick, with arrows that point
// the way the section is seen, and a letter beside each. Where a center line runs, it
// stands for the rest.
func (g *ground) cutting(c *Cutting) {
	const past, thick, stem = 7.0, 5.0, 6.0
	text := shortened(c.Letter, captionSize, true, letterWidth)
	a, b := times(c.From, g.scale), times(c.To, g.scale)
	d, toward := unit(minus(b, a)), unit(c.Toward)
	a, b = minus(a, times(d, past)), plus(b, times(d, past))
	if !slices.ContainsFunc(g.axes, func(l [2]Point) bool { return along(l, [2]Point{a, b}) }) {
		g.dashed(narrow, axisDashes, through(a, b))
	}
	for i, end := range []Point{a, b} {
		in := times(d, float64(1-2*i))
		g.line(bold, end, plus(end, times(in, thick)))
		at := plus(end, times(in, thick/2))
		tail := minus(at, times(toward, stem))
		g.line(narrow, tail, at)
		g.arrow(at, toward)
		off := 1.2 + math.Abs(d[0])*widthOf(text, captionSize, true)/2 + math.Abs(d[1])*captionSize/2
		middle := minus(plus(tail, times(in, -off)), Point{0, capHeight * captionSize / 2})
		letter := g.write(text, middle, writing{size: captionSize, bold: true, anchor: Middle})
		g.take("letter of section "+text, letter)
		g.take("arrow of section "+text, drawing.NoBox().Include(tail, at).Grow(0.7))
		g.extent = g.extent.Include(end)
	}
}

// axisName is the middle of an axis' name beside its arrow, where no line runs if there
// is such a place.
func (g *ground) axisName(name string, tip, d Point) Point {
	w, h := widthOf(name, typeSize, true)/2+0.4, capHeight*typeSize/2+0.6
	side := Point{-d[1], d[0]}
	first := plus(plus(tip, times(d, 1)), times(side, 2.7))
	for _, along := range []float64{1, -2, 3.5, 6} {
		for _, off := range []float64{2.7, -2.7, 3.5, -3.5} {
			middle := plus(plus(tip, times(d, along)), times(side, off))
			if g.free(drawing.Box{Lo: minus(middle, Point{w, h}), Hi: plus(middle, Point{w, h})}) {
				return middle
			}
		}
	}
	return first
}

// origin draws where a table's coordinates start.
func (g *ground) origin(o Origin) {
	const long = 9.0
	at := times(o.At, g.scale)
	g.path(narrow, circle(at, 1.2))
	for i, name := range []string{o.U, o.V} {
		if name = shortened(name, typeSize, true, letterWidth); name == "" {
			continue
		}
		d := Point{}
		if d[i] = 1; name[0] == '-' {
			d[i], name = -1, name[1:]
		}
		tip := plus(at, times(d, long))
		g.line(wide, at, tip)
		g.arrow(plus(tip, times(d, drawing.ArrowLength)), d)
		middle := g.axisName(name, tip, d)
		b := g.write(name, minus(middle, Point{0, capHeight * typeSize / 2}), writing{size: typeSize, bold: true, anchor: Middle})
		g.take("axis "+name, b)
		g.lines = append(g.lines, [2]Point{at, plus(tip, times(d, drawing.ArrowLength))})
	}
}
