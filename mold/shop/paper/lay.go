package paper

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"wheelmold/mold/drawing"
	"wheelmold/mold/inparallel"
)

// papers are those of ISO 216, and what it is worth to do with a smaller one: A4 and A3
// come out of the printers that workshops have. A2 is for what would be small on A3 even
// if its tables went on on another page.
var papers = []struct {
	name          string
	width, height float64
	cost          float64
}{
	{"A4", 210, 297, 0}, {"A3", 420, 297, 2}, {"A2", 594, 420, 7}, {"A1", 841, 594, 14}, {"A0", 1189, 841, 21},
}

// Margins of the frame, mm: ISO 5457.
const (
	bindingMargin = 20.0
	margin        = 10.0
	apart         = 6.0 // between blocks
	inset         = 4.0 // of blocks from the frame
	viewGap       = 8.0 // between views
)

// room is a paper with what every sheet has on it.
type room struct {
	paper        int
	frame, title drawing.Box
}

func roomOn(paper int, s *Sheet) room {
	p := papers[paper]
	f := drawing.Box{Lo: Point{bindingMargin, margin}, Hi: Point{p.width - margin, p.height - margin}}
	return room{paper, f, drawing.Box{Lo: Point{f.Hi[0] - blockWidth, f.Lo[1]}, Hi: Point{f.Hi[0], f.Lo[1] + blockHeight(s)}}}
}

// Lay lays sheets out, in their order. What does not fit on a sheet's first page goes on
// on an A4, or on pages of the same size. Sheets whose views are of the same sizes, as
// those of twins, come at the same scale on the same paper wherever they all can.
func Lay(sheets ...Sheet) ([]*Page, error) {
	laid := make([]*layout, len(sheets))
	errs := make([]error, len(sheets))
	inparallel.Do(len(sheets), func(i int) {
		if laid[i], errs[i] = lay(&sheets[i], nil); errs[i] != nil {
			errs[i] = fmt.Errorf("sheet %q: %w", sheets[i].ID, errs[i])
		}
	})
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	agree(sheets, laid)
	var pages []*Page
	var of []*Sheet
	for i, l := range laid {
		own := l.pages(&sheets[i])
		pages, of = append(pages, own...), append(of, slices.Repeat([]*Sheet{&sheets[i]}, len(own))...)
	}
	for i, p := range pages {
		p.finish(of[i], strconv.Itoa(i+1)+" of "+strconv.Itoa(len(pages)))
	}
	return pages, nil
}

// layout is a way to lay a sheet out, and how far it is from what one would wish.
type layout struct {
	scale float64
	group *group
	first *placing
	later []*placing
	cost  float64
}

// desk is a sheet with what all its layouts share.
type desk struct {
	*Sheet
	rooms []room   // on each of the papers
	texts []bundle // where all has found room in the views
}

func newDesk(s *Sheet) *desk {
	d := &desk{Sheet: s, texts: wordings(s, nil)}
	for i := range papers {
		d.rooms = append(d.rooms, roomOn(i, s))
	}
	return d
}

// choice is a scale and a paper.
type choice struct {
	scale float64
	paper int
}

func (l *layout) choice() choice { return choice{l.scale, l.first.paper} }

// lay finds the best paper and scale for a sheet, or the best layout at those given.
func lay(s *Sheet, only *choice) (*layout, error) {
	if len(s.Views)+len(s.Tables)+len(s.Notes) == 0 {
		return nil, errors.New("there is nothing to draw")
	}
	d := newDesk(s)
	var best *layout
	for _, x := range d.scales() {
		if only != nil && x.scale != only.scale {
			continue
		}
		for _, slim := range []bool{false, true} {
			if best != nil && x.least+little >= best.cost {
				break
			}
			if l := layViews(s, x.scale, slim).best(d, best, only); l != nil {
				best = l
			}
		}
	}
	if best == nil {
		return nil, errors.New("its views fit on no paper up to A0, or have no size")
	}
	return best, nil
}

// little is a cost for which another layout is not worth its while.
const little = 0.1

// best is the layout of views on the best paper, if it is better than what there is.
func (g *group) best(d *desk, best *layout, only *choice) (better *layout) {
	texts := d.texts
	if len(g.missed) > 0 {
		texts = wordings(d.Sheet, g.missed)
	}
	texts = slices.Concat(g.details, texts)
	for first := range 2 {
		placed := g.arrange(first)
		for i := range papers {
			if only != nil && i != only.paper {
				continue
			}
			if best != nil && papers[i].cost+g.cost()+little >= best.cost {
				break
			}
			if l, ok := placed.on(d, d.rooms[i], texts); ok && (best == nil || l.cost < best.cost) {
				best, better = l, l
			}
		}
	}
	return better
}

// try is a scale, and the least that it may cost.
type try struct{ scale, least float64 }

// scales are those at which a sheet's views, without anything around them, fit
// on a paper and are no dots: those that may cost the least first.
func (d *desk) scales() (out []try) {
	s := d.Sheet
	if len(s.Views) == 0 {
		return []try{{scale: 1}}
	}
	const dot = 12 // mm of paper
	for _, scale := range drawing.Scales {
		bare := &group{scale: scale}
		for i := range s.Views {
			if v := &s.Views[i]; !s.floats(v) {
				bare.add(v, scale)
			}
		}
		if !(bare.largest >= dot) {
			continue
		}
		least := [2]*group{bare.arrange(0), bare.arrange(1)}
		width, height := min(least[0].width, least[1].width), min(least[0].height, least[1].height)
		for i, p := range papers {
			if w, h := sizeOf(d.rooms[i].frame.Grow(-inset)); width <= w && height <= h {
				out = append(out, try{scale, p.cost + bare.cost()})
				break
			}
		}
	}
	slices.SortStableFunc(out, func(a, b try) int { return cmp.Compare(a.least, b.least) })
	return out
}

// pages are a layout's.
func (l *layout) pages(s *Sheet) (out []*Page) {
	for i, p := range append([]*placing{l.first}, l.later...) {
		size := papers[p.paper]
		page := &Page{ID: s.ID, Title: clean(s.Title), Size: size.name, Width: size.width, Height: size.height, Scale: l.scale, blocks: p.taken}
		var k ink
		if i == 0 {
			for n, v := range l.group.views {
				k.add(&v.ink, plus(l.group.at[n], p.origin))
			}
		} else {
			page.ID += "-" + strconv.Itoa(i+1)
			page.Title += ", continued"
		}
		for _, x := range p.panelsAt {
			x.draw(&k, x.at)
		}
		page.inner, page.leaders = k.blocks, k.leaders
		page.Strokes, page.Texts = k.strokes, k.texts
		out = append(out, page)
	}
	return out
}

// finish adds the frame, the centering marks and the title block.
func (p *Page) finish(s *Sheet, number string) {
	const markLong = 5.0
	var k ink
	f := p.frame()
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
