package paper

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"wheelmold/mold/drawing"
)

// papers are those of ISO 216, and what it is worth to do with a smaller one: A4 and A3
// come out of the printers that workshops have.
var papers = []struct {
	name          string
	width, height float64
	cost          float64
}{
	{"A4", 210, 297, 0}, {"A3", 420, 297, 2}, {"A2", 594, 420, 12}, {"A1", 841, 594, 20}, {"A0", 1189, 841, 28},
}

// Margins of the frame, mm: ISO 5457.
const (
	bindingMargin = 20.0
	margin        = 10.0
	apart         = 6.0  // between blocks
	inset         = 4.0  // of blocks from the frame
	viewGap       = 10.0 // between views
)

func frameIn(width, height float64) drawing.Box {
	return drawing.Box{Lo: Point{bindingMargin, margin}, Hi: Point{width - margin, height - margin}}
}

// Lay lays sheets out, in their order. What does not fit on a sheet's first page goes on
// on pages of the same size.
func Lay(sheets ...Sheet) ([]*Page, error) {
	var pages []*Page
	var of []*Sheet
	for i := range sheets {
		s := &sheets[i]
		laid, err := lay(s)
		if err != nil {
			return nil, fmt.Errorf("sheet %q: %w", s.ID, err)
		}
		for range laid {
			of = append(of, s)
		}
		pages = append(pages, laid...)
	}
	for i, p := range pages {
		p.finish(of[i], strconv.Itoa(i+1)+" of "+strconv.Itoa(len(pages)))
	}
	return pages, nil
}

// layout is a way to lay a sheet out, and how far it is from what one would wish.
type layout struct {
	paper int
	scale float64
	group *group
	first *placing
	later []*placing
	cost  float64
}

// lay finds the best paper and scale for a sheet.
func lay(s *Sheet) ([]*Page, error) {
	if len(s.Views)+len(s.Tables)+len(s.Notes) == 0 {
		return nil, errors.New("there is nothing to draw")
	}
	var best *layout
	for _, scale := range scalesFor(s) {
		g := arrange(s, scale)
		for i := range papers {
			if best != nil && papers[i].cost+g.cost() >= best.cost {
				break
			}
			l, ok := g.on(s, i)
			if ok && (best == nil || l.cost < best.cost) {
				best = l
			}
		}
	}
	if best == nil {
		return nil, errors.New("its views fit on no paper up to A0, or have no size")
	}
	return best.pages(s), nil
}

// scalesFor are the scales at which a sheet's largest view is neither a dot nor larger
// than any paper, the largest first.
func scalesFor(s *Sheet) (out []float64) {
	if len(s.Views) == 0 {
		return []float64{1}
	}
	const least, most = 12, 1100 // mm of paper
	l := 0.0
	for i := range s.Views {
		w, h := sizeOf(frameOf(&s.Views[i], zoom(&s.Views[i])))
		l = max(l, w, h)
	}
	for _, x := range drawing.Scales {
		if l*x >= least && l*x <= most {
			out = append(out, x)
		}
	}
	return out
}

func zoom(v *View) float64 { return cmp.Or(v.Zoom, 1) }

// group is a sheet's views laid out at a scale and beside each other: mm of paper from
// its lower left corner.
type group struct {
	scale         float64
	views         []*ground
	at            []Point // where their origins lie
	boxes         []drawing.Box
	width, height float64
	missed        []missed
	largest       float64 // view, mm of paper
}

// captionHeight is what a view's caption takes above it.
const captionHeight = captionSize * 1.8

// arrange lays the views out and puts them in rows and columns.
func arrange(s *Sheet, scale float64) *group {
	g := &group{scale: scale}
	for i := range s.Views {
		v := &s.Views[i]
		x := layView(v, scale*zoom(v))
		if caption := captionOf(v, scale); caption != "" {
			middle := (x.frame.Lo[0] + x.frame.Hi[0]) / 2
			b := x.write(caption, Point{middle, x.extent.Hi[1] + captionHeight - captionSize}, writing{size: captionSize, bold: true, anchor: Middle})
			x.take("caption "+caption, b)
		}
		g.views = append(g.views, x)
		g.missed = append(g.missed, x.missed...)
		w, h := sizeOf(x.frame)
		g.largest = max(g.largest, w, h)
	}
	us := tracks(s, g.views, 0)
	vs := tracks(s, g.views, 1)
	g.width, g.height = us.total, vs.total
	for i := range s.Views {
		at := Point{us.at[i], vs.at[i]}
		g.at = append(g.at, at)
		g.boxes = append(g.boxes, shifted(g.views[i].extent, at))
	}
	return g
}

func captionOf(v *View, scale float64) string {
	c := shortened(v.Caption, captionSize, true, captionWidth)
	if v.Zoom > 0 && v.Zoom != 1 {
		c = strings.TrimSpace(c + " (" + drawing.ScaleName(scale*v.Zoom) + ")")
	}
	return c
}

// placed are the places of views along one axis.
type placed struct {
	at    []float64
	total float64
}

// tracks puts views in columns (axis 0) or rows (axis 1), whose origins lie on one
// line; free ones stand in the middle.
func tracks(s *Sheet, views []*ground, axis int) placed {
	type track struct{ lo, hi, free float64 }
	byIndex := map[int]*track{}
	index := func(i int) int {
		if axis == 0 {
			return s.Views[i].Column
		}
		return -s.Views[i].Row // rows run downward
	}
	var order []int
	for i, v := range views {
		t := byIndex[index(i)]
		if t == nil {
			t = &track{lo: math.Inf(1), hi: math.Inf(-1)}
			byIndex[index(i)] = t
			order = append(order, index(i))
		}
		lo, hi := v.extent.Lo[axis], v.extent.Hi[axis]
		if s.Views[i].Free {
			t.free = max(t.free, hi-lo)
		} else {
			t.lo, t.hi = min(t.lo, lo), max(t.hi, hi)
		}
	}
	slices.Sort(order)
	p := placed{at: make([]float64, len(views))}
	for n, k := range order {
		t := byIndex[k]
		if t.lo > t.hi {
			t.lo, t.hi = 0, 0
		}
		if n > 0 {
			p.total += viewGap
		}
		w := max(t.hi-t.lo, t.free)
		middle := p.total + w/2
		for i, v := range views {
			if index(i) != k {
				continue
			}
			if p.at[i] = middle - (t.lo+t.hi)/2; s.Views[i].Free {
				p.at[i] = middle - (v.extent.Lo[axis]+v.extent.Hi[axis])/2
			}
		}
		p.total += w
	}
	return p
}

// cost is how far the views themselves are from what one would wish: too small to be
// read, or with things that found no room.
func (g *group) cost() float64 {
	const readable = 90.0 // mm of paper that the largest view should have
	cost := 1.5 * float64(len(g.missed))
	if len(g.views) > 0 && g.largest < readable {
		cost += 3 * math.Log2(readable/g.largest)
	}
	return cost
}

// on looks for places on a paper.
func (g *group) on(s *Sheet, paper int) (*layout, bool) {
	const perPage, perTurn = 3.0, 0.01
	size := papers[paper]
	frame := frameIn(size.width, size.height)
	title := drawing.Box{Lo: Point{frame.Hi[0] - blockWidth, frame.Lo[1]}, Hi: Point{frame.Hi[0], frame.Lo[1] + blockHeight(s)}}
	w, _ := sizeOf(frame)
	texts := wordings(s, g.missed, min(w-2*inset, blockWidth))
	var best *layout
	for turn, at := range g.corners(frame, title) {
		p := &placing{frame: frame, origin: at}
		p.put("title block", title)
		ok := true
		for i, b := range g.boxes {
			b = shifted(b, at)
			ok = ok && p.fits(b, viewGap/2)
			p.put("view "+clean(s.Views[i].Caption), b)
		}
		if !ok {
			continue
		}
		left := p.panels(texts)
		l := &layout{paper: paper, scale: g.scale, group: g, first: p}
		l.later = further(frame, title, left)
		l.cost = size.cost + g.cost() + perPage*float64(len(l.later)) + perTurn*float64(turn)
		if best == nil || l.cost < best.cost {
			best = l
		}
		if len(left) == 0 {
			break
		}
	}
	return best, best != nil
}

// corners are places where the group's lower left corner may lie, the best first: in
// the middle of the room there is, or moved to its edges.
func (g *group) corners(frame, title drawing.Box) (out []Point) {
	f := frame.Grow(-inset)
	w, h := sizeOf(f)
	tw, th := sizeOf(title)
	free := w - g.width
	us := []float64{f.Lo[0] + free/2, f.Lo[0] + (w-tw-apart-g.width)/2, f.Lo[0], f.Hi[0] - g.width}
	vs := []float64{f.Lo[1] + th + (h-th-g.height)/2, f.Hi[1] - g.height, f.Lo[1] + (h-g.height)/2, f.Lo[1]}
	for _, v := range vs {
		for _, u := range us {
			out = append(out, Point{u, v})
		}
	}
	return out
}

// placing is a page on which blocks find their places.
type placing struct {
	frame    drawing.Box
	origin   Point // of the group of views
	taken    []block
	panelsAt []panelAt
	further  bool // it is not the sheet's first: panels begin at the upper left
}

// panelAt is a panel with its upper left corner.
type panelAt struct {
	*panel
	at Point
}

func (p *placing) put(name string, b drawing.Box) { p.taken = append(p.taken, block{name, b}) }

// set puts a panel at its upper left corner.
func (p *placing) set(x *panel, corner Point) {
	p.put(x.name, x.boxAt(corner))
	p.panelsAt = append(p.panelsAt, panelAt{x, corner})
}

// fits tells whether a box lies inside the frame and keeps off what is there.
func (p *placing) fits(b drawing.Box, gap float64) bool {
	f := p.frame.Grow(-inset + 1e-6)
	if b.Lo[0] < f.Lo[0] || b.Lo[1] < f.Lo[1] || b.Hi[0] > f.Hi[0] || b.Hi[1] > f.Hi[1] {
		return false
	}
	b = b.Grow(gap - 1e-6)
	return !slices.ContainsFunc(p.taken, func(t block) bool { return t.box.Meets(b) })
}

// noteWidths are those to which notes are wrapped, mm, the best first.
var noteWidths = []float64{172, 130, 100, 80}

// Tables may stand in up to so many parts beside each other, of so many rows at least.
const (
	mostFolds   = 3
	leastFolded = 6
)

// wordings are a sheet's panels, each in as many widths as may be tried.
func wordings(s *Sheet, left []missed, most float64) (out [][]*panel) {
	for _, x := range panels(s, left, most) {
		all := []*panel{x}
		for n := 2; n <= mostFolds && len(x.rows) >= n*leastFolded && folded(x, n).width <= 2*blockWidth; n++ {
			all = append(all, folded(x, n))
		}
		out = append(out, all)
	}
	if len(s.Notes) == 0 {
		return out
	}
	var all []*panel
	for _, w := range noteWidths {
		all = append(all, notes(s.Notes, w))
	}
	return append(out, all)
}

// panels places tables and notes, and returns those that found no room.
func (p *placing) panels(all [][]*panel) (rest []*panel) {
	for _, widths := range all {
		if !slices.ContainsFunc(widths, p.panel) {
			rest = append(rest, widths[0])
		}
	}
	return rest
}

// panel finds the best place for a panel beside what is there.
func (p *placing) panel(x *panel) bool {
	f := p.frame.Grow(-inset)
	us, vs := []float64{f.Hi[0] - x.width, f.Lo[0]}, []float64{f.Hi[1], f.Lo[1] + x.height()}
	for _, t := range p.taken {
		us = append(us, t.box.Lo[0]-apart-x.width, t.box.Hi[0]+apart, t.box.Lo[0], t.box.Hi[0]-x.width)
		vs = append(vs, t.box.Lo[1]-apart, t.box.Hi[1]+apart+x.height(), t.box.Hi[1], t.box.Lo[1]+x.height())
	}
	best, bestCost := Point{}, math.Inf(1)
	for _, u := range us {
		for _, v := range vs {
			cost := f.Hi[0] - u - x.width + 0.5*(f.Hi[1]-v)
			switch {
			case p.further:
				cost = u + f.Hi[1] - v
			case x.low:
				cost = f.Hi[0] - u - x.width + 2*(v-x.height()-f.Lo[1])
			}
			if cost < bestCost && p.fits(x.boxAt(Point{u, v}), apart) {
				best, bestCost = Point{u, v}, cost
			}
		}
	}
	if math.IsInf(bestCost, 1) {
		return false
	}
	p.set(x, best)
	return true
}

// further are the pages on which panels go on.
func further(frame, title drawing.Box, rest []*panel) (out []*placing) {
	var p *placing
	fresh := func() {
		p = &placing{frame: frame, further: true}
		p.put("title block", title)
		out = append(out, p)
	}
	for len(rest) > 0 {
		x := rest[0]
		if p != nil && p.panel(x) {
			rest = rest[1:]
			continue
		}
		fresh()
		if p.panel(x) {
			rest = rest[1:]
			continue
		}
		// Above the title block, which is as wide as the panel may be.
		first, other := x.split(frame.Hi[1] - inset - title.Hi[1] - apart - 1)
		if !p.panel(first) { // a row higher than the page
			p.set(first, Point{frame.Lo[0] + inset, frame.Hi[1] - inset})
		}
		if rest = rest[1:]; other != nil {
			rest = append([]*panel{other}, rest...)
		}
	}
	return out
}

// pages are a layout's.
func (l *layout) pages(s *Sheet) (out []*Page) {
	for i, p := range append([]*placing{l.first}, l.later...) {
		size := papers[l.paper]
		page := &Page{ID: s.ID, Title: clean(s.Title), Size: size.name, Width: size.width, Height: size.height, Scale: l.scale, blocks: p.taken}
		var k ink
		if i == 0 {
			for n, v := range l.group.views {
				at := plus(l.group.at[n], p.origin)
				k.add(&v.ink, at)
				for _, line := range v.lines {
					page.leaders = append(page.leaders, [2]Point{plus(line[0], at), plus(line[1], at)})
				}
			}
			page.inner = k.blocks
		} else {
			page.ID += "-" + strconv.Itoa(i+1)
			page.Title += ", continued"
		}
		for _, x := range p.panelsAt {
			x.draw(&k, x.at)
		}
		page.Strokes, page.Texts = k.strokes, k.texts
		out = append(out, page)
	}
	return out
}

// finish adds the frame, the centering marks and the title block.
func (p *Page) finish(s *Sheet, number string) {
	const markLong = 5.0
	var k ink
	f := frameIn(p.Width, p.Height)
	k.rectangle(bold, f)
	u, v := p.Width/2, p.Height/2
	k.lines(bold, [2]Point{{u, f.Lo[1] - markLong}, {u, f.Lo[1]}}, [2]Point{{u, f.Hi[1]}, {u, f.Hi[1] + markLong}},
		[2]Point{{f.Lo[0] - markLong, v}, {f.Lo[0], v}}, [2]Point{{f.Hi[0], v}, {f.Hi[0] + markLong, v}})
	scale := drawing.ScaleName(p.Scale)
	if len(s.Views) == 0 {
		scale = "–"
	}
	k.titleBlock(s, p.Title, scale, number, Point{f.Hi[0], f.Lo[1]})
	k.write(p.Size, Point{f.Hi[0], f.Lo[1] - 5}, writing{size: typeSize, anchor: End})
	p.Strokes = append(p.Strokes, k.strokes...)
	p.Texts = append(p.Texts, k.texts...)
}
