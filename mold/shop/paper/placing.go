package paper

import (
	"math"
	"slices"

	"wheelmold/mold/drawing"
)

// on looks for places on a paper.
func (g *group) on(d *desk, r room, texts []bundle) (*layout, bool) {
	const perPage, perTurn = 2.0, 0.01
	var best *layout
	for turn, at := range g.corners(r) {
		p := r.empty()
		p.origin = at
		ok := true
		for i, b := range g.boxes {
			b = shifted(b, at)
			ok = ok && p.fits(b, viewGap/2)
			p.put("view "+clean(g.of[i].Caption), b)
		}
		if !ok {
			continue
		}
		left := p.panels(texts)
		l := &layout{scale: g.scale, group: g, first: p}
		for _, next := range d.rooms[:r.paper+1] { // the smallest of those that take the fewest
			if len(l.later) != 1 {
				if later := further(next, left); l.later == nil || len(later) < len(l.later) {
					l.later = later
				}
			}
		}
		l.cost = papers[r.paper].cost + g.cost() + perPage*float64(len(l.later)) + perTurn*float64(turn)
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
func (g *group) corners(r room) (out []Point) {
	f := r.frame.Grow(-inset)
	w, h := sizeOf(f)
	tw, th := sizeOf(r.title)
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
	room
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

// empty is a page with nothing but the title block.
func (r room) empty() *placing {
	p := &placing{room: r}
	p.put("title block", r.title)
	return p
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

// noteWidths are those to which notes are wrapped, mm, the best first: within the frame
// of an A4. Tables are no wider.
var noteWidths = []float64{172, 130, 100, 80}

// Tables may stand in up to so many parts beside each other, of so many rows at least.
const (
	mostFolds   = 3
	leastFolded = 6
)

// worded is a panel in as many widths as may be tried, the best first.
type worded []*panel

// bundle are panels that stand on one page wherever they fit on one.
type bundle []worded

// wordings are a sheet's panels.
func wordings(s *Sheet, left []missed) (out []bundle) {
	byName := map[string]int{}
	for _, t := range tables(s, left) {
		x := table(&t, noteWidths[0])
		all := worded{x}
		for n := 2; n <= mostFolds && len(x.rows) >= n*leastFolded && folded(x, n).width <= 2*blockWidth; n++ {
			all = append(all, folded(x, n))
		}
		name, named := t.keep()
		i, known := byName[name]
		if !named || !known {
			i = len(out)
			out = append(out, nil)
		}
		if named {
			byName[name] = i
		}
		out[i] = append(out[i], all)
	}
	if len(s.Notes) == 0 {
		return out
	}
	var all worded
	for _, w := range noteWidths {
		all = append(all, notes(s.Notes, w))
	}
	return append(out, bundle{all})
}

// keep is what a table stands together by.
func (t *Table) keep() (name string, named bool) {
	switch {
	case t.Keep != "":
		return "keep " + t.Keep, true
	case len(t.Head) > 0 && t.Head[0] != "":
		return "head " + t.Head[0], true
	}
	return "", false
}

// panels places tables and notes, and returns those that found no room.
func (p *placing) panels(all []bundle) (rest []bundle) {
	for _, b := range all {
		if !p.bundle(b) {
			rest = append(rest, b)
		}
	}
	return rest
}

// bundle places a bundle whole, or nothing of it.
func (p *placing) bundle(b bundle) bool {
	taken, set := len(p.taken), len(p.panelsAt)
	for _, widths := range b {
		if !slices.ContainsFunc(widths, p.panel) {
			p.taken, p.panelsAt = p.taken[:taken], p.panelsAt[:set]
			return false
		}
	}
	return true
}

// panel finds the best place for a panel beside what is there.
func (p *placing) panel(x *panel) bool {
	f, h := p.frame.Grow(-inset), x.height()
	us, vs := []float64{f.Hi[0] - x.width, f.Lo[0]}, []float64{f.Hi[1], f.Lo[1] + h}
	for _, t := range p.taken {
		us = append(us, t.box.Lo[0]-apart-x.width, t.box.Hi[0]+apart, t.box.Lo[0], t.box.Hi[0]-x.width)
		vs = append(vs, t.box.Lo[1]-apart, t.box.Hi[1]+apart+h, t.box.Hi[1], t.box.Lo[1]+h)
	}
	beyond := func(lo, hi float64) func(float64) bool {
		return func(x float64) bool { return x < lo-1e-6 || x > hi+1e-6 }
	}
	us = slices.DeleteFunc(us, beyond(f.Lo[0], f.Hi[0]-x.width))
	vs = slices.DeleteFunc(vs, beyond(f.Lo[1]+h, f.Hi[1]))
	best, bestCost := Point{}, math.Inf(1)
	for _, u := range us {
		for _, v := range vs {
			cost := f.Hi[0] - u - x.width + 0.5*(f.Hi[1]-v)
			switch {
			case p.further:
				cost = u + f.Hi[1] - v
			case x.low:
				cost = f.Hi[0] - u - x.width + 2*(v-h-f.Lo[1])
			}
			if cost < bestCost && p.fits(drawing.Box{Lo: Point{u, v - h}, Hi: Point{u + x.width, v}}, apart) {
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

// further are the pages on which panels go on. A bundle that no page holds comes apart.
func further(r room, rest []bundle) (out []*placing) {
	var p *placing
	for _, b := range rest {
		if p != nil && p.bundle(b) {
			continue
		}
		p = r.empty()
		p.further = true
		out = append(out, p)
		if p.bundle(b) {
			continue
		}
		for _, widths := range b {
			more := p.long(widths)
			if out = append(out, more...); len(more) > 0 {
				p = more[len(more)-1]
			}
		}
	}
	return out
}

// long places a panel that may be longer than a page, and returns the pages on which it
// goes on.
func (p *placing) long(widths worded) (more []*placing) {
	if slices.ContainsFunc(widths, p.panel) {
		return nil
	}
	for x := widths[0]; x != nil; {
		if p.panel(x) {
			break
		}
		// Above the title block, which is as wide as the panel may be.
		first, other := x.split(p.frame.Hi[1] - inset - p.title.Hi[1] - apart - 1)
		if !p.panel(first) {
			if len(p.panelsAt) > 0 {
				p = p.room.empty()
				p.further = true
				more = append(more, p)
				continue
			}
			p.set(first, Point{p.frame.Lo[0] + inset, p.frame.Hi[1] - inset}) // a row higher than the page
		}
		x = other
	}
	return more
}
