package paper

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

// said is what stands at the end of a leader: rows below each other, mm of paper.
type said struct {
	name string
	rows []saidRow
}

type saidRow struct {
	width, height float64
	under         bool                       // the leader's shelf runs below it
	draw          func(k *ink, corner Point) // its lower left
}

// textRow is a line of text on a shelf, or below one.
func textRow(s string, under bool) saidRow {
	s = clean(s)
	return saidRow{widthOf(s, typeSize, false), typeSize*capHeight + 2, under, func(k *ink, c Point) {
		k.write(s, plus(c, Point{0, 1}), writing{size: typeSize})
	}}
}

// rowsOf are those of a call-out.
func rowsOf(c *Callout) (rows []saidRow) {
	if strings.TrimSpace(c.Text) != "" {
		for _, line := range strings.Split(strings.TrimSpace(c.Text), "\n") {
			for _, part := range wrapped(line, typeSize, calloutWidth) {
				rows = append(rows, textRow(part, len(rows) == 0))
			}
		}
	}
	if c.Finish != "" {
		text := shortened(c.Finish, typeSize, false, markWidth)
		rows = append(rows, saidRow{finishWidth(text), finishHigh + 0.8, len(rows) == 0, func(k *ink, at Point) { k.finish(text, at) }})
	}
	if c.Control != nil {
		x := Control{c.Control.Symbol, shortened(c.Control.Value, typeSize, false, markWidth), nil}
		for _, d := range c.Control.Datums {
			x.Datums = append(x.Datums, shortened(d, typeSize, false, letterWidth))
		}
		w := 0.0
		for _, f := range controlWidths(&x) {
			w += f
		}
		rows = append(rows, saidRow{w, frameHeight + 1, false, func(k *ink, at Point) { k.control(&x, plus(at, Point{0, 0.5})) }})
	}
	if c.Datum != "" {
		text := shortened(c.Datum, typeSize, false, letterWidth)
		w := max(frameHeight, widthOf(text, typeSize, false)+2)
		rows = append(rows, saidRow{w, frameHeight + 1, false, func(k *ink, at Point) {
			at = plus(at, Point{0, 0.5})
			k.rectangle(narrow, drawing.Box{Lo: at, Hi: plus(at, Point{w, frameHeight})})
			k.letter(text, plus(at, Point{w / 2, frameHeight / 2}))
		}})
	}
	return rows
}

// laid is something said at the end of a leader that has its place.
type laid struct {
	tip, elbow Point
	shelf      Point // its far end
	box        drawing.Box
	left       bool // what is said stands left of the elbow
}

// lay lays it out at an elbow.
func (s *said) lay(tip, elbow Point) laid {
	const gap = 1.0
	l := laid{tip: tip, elbow: elbow, left: elbow[0] < tip[0]}
	w, h := s.size()
	first := s.rows[0]
	top := elbow[1] + first.height
	reach := gap
	if !first.under {
		top = elbow[1] + first.height/2
	} else {
		reach += first.width
	}
	u := elbow[0] + gap
	l.shelf = Point{elbow[0] + reach, elbow[1]}
	if l.left {
		u, l.shelf[0] = elbow[0]-gap-w, elbow[0]-reach
	}
	l.box = drawing.Box{Lo: Point{u, top - h}, Hi: Point{u + w, top}}
	return l
}

func (s *said) size() (w, h float64) {
	for _, r := range s.rows {
		w, h = max(w, r.width), h+r.height
	}
	return w, h
}

// draw draws what is said in its box, and returns what its rows cover.
func (s *said) draw(k *ink, l laid) (rows []drawing.Box) {
	v := l.box.Hi[1]
	for _, r := range s.rows {
		v -= r.height
		u := l.box.Lo[0]
		if l.left {
			u = l.box.Hi[0] - r.width
		}
		r.draw(k, Point{u, v})
		rows = append(rows, drawing.Box{Lo: Point{u, v}, Hi: Point{u + r.width, v + r.height}})
	}
	return rows
}

// tipAt is a place that a leader may point at, and how it may come.
type tipAt struct {
	p    Point
	dirs []Point // from the tip to the elbow
	cost float64 // mm of leader that another place would be worth

	outside bool // it is on a face, to which leaders come from outside
}

// leaderLengths are those tried, mm of paper.
var leaderLengths = []float64{6, 8, 10, 13, 16, 20, 25, 31, 38, 46, 56, 68, 82, 100, 120}

// leader finds the best place for what is said, with as short a leader as crosses
// little. Outside the view's outline is best; within it nothing may be covered.
func (g *ground) leader(s *said, tips []tipAt) (best laid, ok bool) {
	const (
		perCrossing = 9.0  // mm of leader that a crossing of another dimension's line is worth
		perEdge     = 1.0  // that of a line of the view
		through     = 25.0 // that it is worth not to come through what is cut
		perHeight   = 0.4  // for each mm by which the view gets higher
	)
	perWidth := 0.4 // and wider
	if g.slim {
		perWidth = 2
	}
	within := 10.0 // that it is worth to stand outside
	if g.window != nil {
		within = 60
	}
	bestCost := math.Inf(1)
	for _, t := range tips {
		for _, d := range t.dirs {
			for _, length := range leaderLengths {
				cost := length + t.cost
				if cost >= bestCost {
					break
				}
				l := s.lay(t.p, plus(t.p, times(d, length)))
				box := l.box.Grow(0.9)
				if box.Meets(g.frame) {
					cost += within
				}
				if t.outside && g.inMaterial(plus(t.p, times(d, 0.5))) {
					cost += through
				}
				w, h := growth(g.extent, l.box)
				cost += perWidth*w + perHeight*h
				if cost >= bestCost || !g.free(box) || slices.ContainsFunc(g.extensions, box.MeetsLine) {
					continue
				}
				line := [2]Point{l.elbow, t.p}
				if g.underText(line) || g.underText([2]Point{l.elbow, l.shelf}) {
					continue
				}
				cost += perCrossing*float64(g.crossings(line)) + perEdge*float64(g.edges.along(t.p, l.elbow))
				if cost < bestCost {
					best, bestCost = l, cost
				}
			}
		}
	}
	return best, !math.IsInf(bestCost, 1)
}

func (g *ground) inMaterial(p Point) bool {
	return slices.ContainsFunc(g.cuts, func(r outline.Region) bool { return r.Contains(p) })
}

// growth is by how much a box has to grow to hold another, mm.
func growth(b, c drawing.Box) (w, h float64) {
	w, h = sizeOf(b)
	w2, h2 := sizeOf(b.Include(c.Lo, c.Hi))
	return w2 - w, h2 - h
}

// point draws a leader with what is said.
func (g *ground) point(s *said, l laid) {
	g.line(narrow, l.tip, l.elbow, l.shelf)
	for _, row := range s.draw(&g.ink, l) {
		g.take(s.name, row)
	}
	g.lines = append(g.lines, [2]Point{l.tip, l.elbow}, [2]Point{l.elbow, l.shelf})
	g.extent = g.extent.Include(l.elbow, l.shelf)
}

// fan are directions in which a leader may run, none level or upright.
func fan() (out []Point) {
	for _, a := range []float64{45, 60, 30, 75, 15} {
		for _, turn := range []float64{a, 180 - a, -a, a - 180} {
			sn, cs := math.Sincos(turn * math.Pi / 180)
			out = append(out, Point{cs, sn})
		}
	}
	return out
}

// tips are the places at which a call-out's leader may point: its own, or any of a small
// circle that runs through it.
func (g *ground) tips(c *Callout) []tipAt {
	const small = 10.0
	tip := times(c.Tip, g.scale)
	s, ok := g.pathAt(tip)
	switch {
	case c.OnFace || !ok:
	case c.Datum != "":
		h := unit(s.Heading(s.Share(tip)))
		across := Point{-h[1], h[0]}
		return []tipAt{{tip, []Point{across, times(across, -1)}, 0, true}}
	case s.Radius > 0 && s.Radius < small:
		return g.around(s.Center, tip, s.Radius)
	}
	return []tipAt{{tip, fan(), 0, !c.OnFace}}
}

// callout places a call-out.
func (g *ground) callout(c *Callout) {
	s := &said{"call-out", rowsOf(c)}
	if len(s.rows) == 0 {
		return
	}
	l, ok := g.leader(s, g.tips(c))
	if !ok {
		l, ok = g.leader(s, []tipAt{{times(c.Tip, g.scale), fan(), 0, false}})
	}
	if !ok {
		g.missed = append(g.missed, missed{"call-out", c.words()})
		return
	}
	g.point(s, l)
	way := unit(minus(l.tip, l.elbow))
	switch {
	case c.Datum != "":
		g.triangle(l.tip, way)
	case c.OnFace:
		g.fill(circle(l.tip, 0.6))
	default:
		g.arrow(l.tip, way)
	}
}

// words are a call-out's in one line.
func (c *Callout) words() string {
	var out []string
	if c.Text != "" {
		out = append(out, c.Text)
	}
	if c.Finish != "" {
		out = append(out, c.Finish)
	}
	if x := c.Control; x != nil {
		out = append(out, strings.TrimSpace(string(x.Symbol)+" "+x.Value+" "+strings.Join(x.Datums, " ")))
	}
	if c.Datum != "" {
		out = append(out, "datum "+c.Datum)
	}
	return strings.Join(out, ", ")
}

// pathAt is the stretch of the view's lines that runs through a place on paper.
func (g *ground) pathAt(p Point) (outline.Stretch, bool) {
	for i := range g.paths {
		for s := range g.paths[i].Stretches() {
			if _, on := s.Bears(p, 0.02); on && s.Length() > 0 {
				return s, true
			}
		}
	}
	return outline.Stretch{}, false
}

// triangle is that of a datum, on the line that a leader comes to.
func (g *ground) triangle(tip, way Point) {
	const high, half = 2.6, 1.5
	side := Point{-way[1] * half, way[0] * half}
	foot := minus(tip, times(way, high))
	g.fill(through(plus(tip, side), minus(tip, side), foot, plus(tip, side)))
}

// roundDim places the dimension of a circle or an arc: its leader points at the
// middle from outside, or from within.
func (g *ground) roundDim(d *Dim) {
	s := &said{"dimension " + d.Name, []saidRow{textRow(d.Text(), true)}}
	from, to := times(d.From, g.scale), times(d.To, g.scale)
	center, r := from, dist(from, to)
	if d.Kind == drawing.Diameter {
		center, r = times(plus(from, to), 0.5), r/2
	}
	l, ok := g.leader(s, g.around(center, to, r))
	if !ok {
		g.missed = append(g.missed, missed{d.Name, d.Text()})
		return
	}
	g.point(s, l)
	g.arrow(l.tip, unit(minus(l.tip, l.elbow)))
}

// around are the places of a circle at which a leader may point: where the view has a
// line, or the one that is given.
func (g *ground) around(center, given Point, r float64) []tipAt {
	ways := func(p Point) []Point {
		out := unit(minus(p, center))
		if r < 8 {
			return []Point{out}
		}
		return []Point{out, times(out, -1)}
	}
	tips := []tipAt{{given, ways(given), 0, false}}
	if s, on := g.pathAt(given); !on || s.Radius == 0 {
		return tips
	}
	const every = 15
	for a := every / 2.0; a < 360; a += every {
		sn, cs := math.Sincos(a * math.Pi / 180)
		p := plus(center, Point{r * cs, r * sn})
		if math.Abs(sn) < 0.2 || math.Abs(cs) < 0.2 {
			continue // nearly level or upright
		}
		if s, on := g.pathAt(p); on && s.Radius > 0 && dist(s.Center, center) < 0.05 {
			tips = append(tips, tipAt{p, ways(p), 1, false})
		}
	}
	if d := unit(minus(given, center)); len(tips) > 1 && (math.Abs(d[0]) < 0.2 || math.Abs(d[1]) < 0.2) {
		tips[0].cost = 4 // a level leader is taken for a center line
	}
	return tips
}

// mark writes a hole's name in it, if it is large and holds no other, or beside it, if
// there is room near by.
func (g *ground) mark(m Mark, all []Mark) bool {
	text := shortened(m.Text, typeSize, false, markWidth)
	w, h := widthOf(text, typeSize, false), capHeight*typeSize
	holds := slices.ContainsFunc(all, func(o Mark) bool { return o != m && dist(o.At, m.At) < m.R })
	for _, middle := range placesOf(times(m.At, g.scale), m.R*g.scale, w, h, !holds) {
		box := drawing.Box{Lo: minus(middle, Point{w / 2, h/2 + descent*typeSize}), Hi: plus(middle, Point{w / 2, h / 2})}.Grow(0.5)
		if g.free(box) && !slices.ContainsFunc(g.extensions, box.MeetsLine) {
			b := g.write(text, minus(middle, Point{0, h / 2}), writing{size: typeSize, anchor: Middle})
			g.take("mark "+text, b)
			return true
		}
	}
	return false
}

// placesOf are middles of a text of a size for a circle, the best first: off its center
// lines within it where wanted, else around it, as near as keeps off it.
func placesOf(at Point, r, w, h float64, within bool) (out []Point) {
	const steps = 16
	around := func(u, v float64) {
		for k := range steps {
			sn, cs := math.Sincos((45 + 360./steps*float64(k)) * math.Pi / 180)
			out = append(out, Point{at[0] + u*cs, at[1] + v*sn})
		}
	}
	if within && r > w {
		around(0.6*r, 0.6*r)
	}
	for _, gap := range []float64{0.8, 1.6, 2.6, 4} {
		around(r+gap+w/2, r+gap+h/2)
	}
	return out
}

// markAside writes a hole's name at a leader.
func (g *ground) markAside(m Mark) {
	text := shortened(m.Text, typeSize, false, markWidth)
	s := &said{"mark " + text, []saidRow{textRow(text, true)}}
	at, r := times(m.At, g.scale), m.R*g.scale
	var tips []tipAt
	for _, d := range fan() {
		tips = append(tips, tipAt{plus(at, times(d, r)), []Point{d}, 0, false})
	}
	slices.SortStableFunc(tips, func(a, b tipAt) int { return -cmp.Compare(a.p[1], b.p[1]) })
	l, ok := g.leader(s, tips)
	if !ok {
		g.missed = append(g.missed, missed{"mark", text})
		return
	}
	g.point(s, l)
	g.arrow(l.tip, unit(minus(l.tip, l.elbow)))
}
