package paper

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"wheelmold/mold/drawing"
	"wheelmold/mold/portable"
)

// group is a sheet's views laid out at a scale and beside each other: mm of paper from
// its lower left corner.
type group struct {
	scale         float64
	of            []*View
	views         []*ground
	at            []Point // where their origins lie
	boxes         []drawing.Box
	width, height float64
	missed        []missed
	largest       float64  // view, mm of paper
	details       []bundle // which stand where there is room
}

// add adds a view of which nothing but its extent is known.
func (g *group) add(v *View, scale float64) {
	b := frameOf(v, v.scaleBeside(scale))
	g.of, g.boxes = append(g.of, v), append(g.boxes, b)
	g.measure(v, b)
}

// arrange puts the views in their rows and columns. These close up where no view stands
// in their way, first along one axis, with whole tracks along the other, then along
// that.
func (g *group) arrange(first int) *group {
	out := *g
	out.at, out.boxes = nil, nil
	lines := [2]*lined{tracks(g.of, g.boxes, 0), tracks(g.of, g.boxes, 1)}
	second := 1 - first
	lines[second].spread()
	lines[first].close(g.boxes, first, lines[second])
	lines[second].close(g.boxes, second, lines[first])
	all := drawing.NoBox()
	for i, b := range g.boxes {
		b = shifted(b, Point{lines[0].of(i), lines[1].of(i)})
		all = all.Include(b.Lo, b.Hi)
	}
	for i, b := range g.boxes {
		at := minus(Point{lines[0].of(i), lines[1].of(i)}, all.Lo)
		out.at, out.boxes = append(out.at, at), append(out.boxes, shifted(b, at))
	}
	out.width, out.height = sizeOf(all)
	return &out
}

// captionHeight is what a view's caption takes above it.
const captionHeight = captionSize * 1.8

// layViews lays the views out, none in its place yet.
func layViews(s *Sheet, scale float64, slim bool) *group {
	g := &group{scale: scale}
	for i := range s.Views {
		v := &s.Views[i]
		x := layView(v, v.scaleBeside(scale), slim)
		if caption := captionOf(v, scale); caption != "" {
			middle := (x.frame.Lo[0] + x.frame.Hi[0]) / 2
			b := x.write(caption, Point{middle, x.extent.Hi[1] + captionHeight - captionSize}, writing{size: captionSize, bold: true, anchor: Middle})
			x.take("caption "+caption, b)
		}
		g.missed = append(g.missed, x.missed...)
		if s.floats(v) {
			g.details = append(g.details, bundle{{x.panel("view " + clean(v.Caption))}})
			continue
		}
		g.of, g.views, g.boxes = append(g.of, v), append(g.views, x), append(g.boxes, x.extent)
		g.measure(v, x.frame)
	}
	return g
}

// floats tells whether a view stands wherever there is room: a detail of others.
func (s *Sheet) floats(v *View) bool {
	return v.Window != nil && slices.ContainsFunc(s.Views, func(o View) bool { return o.Window == nil })
}

// panel is a view that is placed as tables are.
func (g *ground) panel(name string) *panel {
	w, h := sizeOf(g.extent)
	corner := Point{g.extent.Lo[0], g.extent.Hi[1]}
	return &panel{name: name, width: w, rows: []band{{h, func(k *ink, at Point) { k.add(&g.ink, minus(at, corner)) }}}}
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

// lined are rows or columns of views, from below or from the left.
type lined struct {
	track []int     // of each view
	in    []float64 // where its origin lies in its track
	start []float64 // of each track
	width []float64
}

// of is where a view's origin lies.
func (l *lined) of(i int) float64 { return l.start[l.track[i]] + l.in[i] }

// tracks are the columns (axis 0) or rows (axis 1) of a sheet: views with their origins
// on one line; free ones stand in the middle.
func tracks(views []*View, boxes []drawing.Box, axis int) *lined {
	index := func(i int) int {
		if axis == 0 {
			return views[i].Column
		}
		return -views[i].Row // rows run downward
	}
	var order []int
	for i := range boxes {
		order = append(order, index(i))
	}
	slices.Sort(order)
	order = slices.Compact(order)
	l := &lined{track: make([]int, len(boxes)), in: make([]float64, len(boxes)), start: make([]float64, len(order)), width: make([]float64, len(order))}
	for n, k := range order {
		lo, hi, free := math.Inf(1), math.Inf(-1), 0.0
		for i, b := range boxes {
			switch {
			case index(i) != k:
			case views[i].Free:
				free = max(free, b.Hi[axis]-b.Lo[axis])
			default:
				lo, hi = min(lo, b.Lo[axis]), max(hi, b.Hi[axis])
			}
		}
		if lo > hi {
			lo, hi = 0, 0
		}
		l.width[n] = max(hi-lo, free)
		for i, b := range boxes {
			if index(i) != k {
				continue
			}
			l.track[i], l.in[i] = n, l.width[n]/2-(lo+hi)/2
			if views[i].Free {
				l.in[i] = l.width[n]/2 - (b.Lo[axis]+b.Hi[axis])/2
			}
		}
	}
	return l
}

// spread puts tracks beside each other, as if each were full.
func (l *lined) spread() {
	at := 0.0
	for n, w := range l.width {
		l.start[n] = at
		at += w + viewGap
	}
}

// close puts tracks as near to each other as views that stand in each other's way allow,
// by their places along the other axis.
func (l *lined) close(boxes []drawing.Box, axis int, across *lined) {
	other := 1 - axis
	beside := func(i, k int) bool {
		a, b := across.of(i), across.of(k)
		return a+boxes[i].Lo[other] < b+boxes[k].Hi[other]+viewGap && b+boxes[k].Lo[other] < a+boxes[i].Hi[other]+viewGap
	}
	for n := range l.start {
		at := 0.0
		if n > 0 {
			at = l.start[n-1]
		}
		for i := range boxes {
			for k := range boxes {
				if l.track[i] < n && l.track[k] == n && beside(i, k) {
					at = max(at, l.of(i)+boxes[i].Hi[axis]+viewGap-boxes[k].Lo[axis]-l.in[k])
				}
			}
		}
		l.start[n] = at
	}
}

// cost is how far the views themselves are from what one would wish: too small to be
// read, or with things that found no room. Holes, slots and balls of a large mold are
// hardly larger than those of a small one, so that they are specks below half size even
// where the view is not small.
func (g *group) cost() float64 {
	const (
		readable = 100.0 // mm of paper that the largest view should have
		half     = 1. / 2
	)
	cost := 1.5 * float64(len(g.missed))
	if len(g.boxes) == 0 {
		return cost
	}
	small := 6.0
	if g.scale >= 1 {
		small = 3 // as large as life at least
	}
	return cost + small*max(0, portable.Log2(readable/g.largest)) + 3.5*max(0, portable.Log2(half/g.scale))
}
