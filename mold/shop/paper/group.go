package paper

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"wheelmold/mold/drawing"
)

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

// add adds a view of which nothing but its extent is known.
func (g *group) add(v *View, scale float64) {
	b := frameOf(v, v.scaleBeside(scale))
	g.boxes = append(g.boxes, b)
	g.measure(v, b)
}

// arrange puts the views in their rows and columns.
func (g *group) arrange(s *Sheet) {
	us, vs := tracks(s, g.boxes, 0), tracks(s, g.boxes, 1)
	g.width, g.height = us.total, vs.total
	for i := range g.boxes {
		at := Point{us.at[i], vs.at[i]}
		g.at = append(g.at, at)
		g.boxes[i] = shifted(g.boxes[i], at)
	}
}

// captionHeight is what a view's caption takes above it.
const captionHeight = captionSize * 1.8

// arrange lays the views out and puts them in rows and columns.
func arrange(s *Sheet, scale float64) *group {
	g := &group{scale: scale}
	for i := range s.Views {
		v := &s.Views[i]
		x := layView(v, v.scaleBeside(scale))
		if caption := captionOf(v, scale); caption != "" {
			middle := (x.frame.Lo[0] + x.frame.Hi[0]) / 2
			b := x.write(caption, Point{middle, x.extent.Hi[1] + captionHeight - captionSize}, writing{size: captionSize, bold: true, anchor: Middle})
			x.take("caption "+caption, b)
		}
		g.views = append(g.views, x)
		g.missed = append(g.missed, x.missed...)
		g.boxes = append(g.boxes, x.extent)
		g.measure(v, x.frame)
	}
	g.arrange(s)
	return g
}

// measure counts a view among those that should not be small: details are not.
func (g *group) measure(v *View, b drawing.Box) {
	if w, h := sizeOf(b); v.Scale == 0 || g.largest == 0 {
		g.largest = max(g.largest, w/zoom(v), h/zoom(v))
	}
}

func zoom(v *View) float64 { return cmp.Or(v.Zoom, 1) }

// scaleBeside is the scale of a view on a sheet of a scale.
func (v *View) scaleBeside(scale float64) float64 { return cmp.Or(v.Scale, scale*zoom(v)) }

func captionOf(v *View, scale float64) string {
	c := shortened(v.Caption, captionSize, true, captionWidth)
	if own := v.scaleBeside(scale); own != scale {
		c = strings.TrimSpace(c + " (" + drawing.ScaleName(own) + ")")
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
func tracks(s *Sheet, boxes []drawing.Box, axis int) placed {
	type track struct{ lo, hi, free float64 }
	byIndex := map[int]*track{}
	index := func(i int) int {
		if axis == 0 {
			return s.Views[i].Column
		}
		return -s.Views[i].Row // rows run downward
	}
	var order []int
	for i, v := range boxes {
		t := byIndex[index(i)]
		if t == nil {
			t = &track{lo: math.Inf(1), hi: math.Inf(-1)}
			byIndex[index(i)] = t
			order = append(order, index(i))
		}
		lo, hi := v.Lo[axis], v.Hi[axis]
		if s.Views[i].Free {
			t.free = max(t.free, hi-lo)
		} else {
			t.lo, t.hi = min(t.lo, lo), max(t.hi, hi)
		}
	}
	slices.Sort(order)
	p := placed{at: make([]float64, len(boxes))}
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
		for i, v := range boxes {
			if index(i) != k {
				continue
			}
			if p.at[i] = middle - (t.lo+t.hi)/2; s.Views[i].Free {
				p.at[i] = middle - (v.Lo[axis]+v.Hi[axis])/2
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
	if len(g.boxes) > 0 && g.largest < readable {
		cost += 3 * math.Log2(readable/g.largest)
	}
	return cost
}
