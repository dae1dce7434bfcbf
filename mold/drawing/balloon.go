package drawing

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh/outline"
)

// spot is a point inside an area, and how far the border is, mm of the mold.
type spot struct {
	p     Point
	clear float64
}

// Ways in which a leader may run and how long it may be, mm of paper.
var (
	leaderAngles  = 24
	leaderLengths = []float64{6, 9, 12, 16, 20, 25, 31, 38, 46, 56, 68, 82}
)

// balloons places all names: in their area where there is room, else beside what is
// drawn, or those of small things within it where no line runs, with as short a leader
// as crosses little. It returns those that found no room.
func (h *sheet) balloons(d *Drawing, names []named) (missed []string) {
	for _, n := range names {
		for _, l := range n.border {
			h.borders = append(h.borders, [2]Point{scaled(l[0], h.scale), scaled(l[1], h.scale)})
		}
	}
	missed = append(h.column(d, names, -1), h.column(d, names, 1)...)
	for _, n := range names {
		if inColumn(n) {
			continue
		}
		b, ok := h.inside(n)
		if !ok {
			b, ok = h.outside(n)
		}
		if !ok {
			missed = append(missed, n.text)
			continue
		}
		h.add(d, b)
	}
	return missed
}

// add puts a balloon on the drawing.
func (h *sheet) add(d *Drawing, b Balloon) {
	l := NameLabel(b.Text, scaled(b.At, h.scale))
	h.texts = append(h.texts, l.Box().Grow(0.4))
	if leader, ok := b.Leader(h.scale); ok {
		h.lines = append(h.lines, leader)
	}
	h.extent = h.extent.Include(l.Box().Lo, l.Box().Hi)
	d.Balloons = append(d.Balloons, b)
}

// inside looks for a place in the area that holds the whole text.
func (h *sheet) inside(n named) (Balloon, bool) {
	if len(n.border) == 0 {
		return Balloon{}, false
	}
	for _, t := range n.tips {
		l := NameLabel(n.text, scaled(t.p, h.scale))
		box := l.Box().Grow(1)
		if t.clear*h.scale < 2 || h.onText(box) || h.onLine(box) || h.onExtension(box) {
			continue
		}
		if !slices.ContainsFunc(n.border, func(l [2]Point) bool {
			return box.MeetsLine([2]Point{scaled(l[0], h.scale), scaled(l[1], h.scale)})
		}) {
			return Balloon{n.text, t.p, t.p}, true
		}
	}
	return Balloon{}, false
}

// outside looks for the best of many places around.
func (h *sheet) outside(n named) (Balloon, bool) {
	const (
		perCrossing = 9  // mm of leader that one crossing is worth
		covers      = 12 // mm that it is worth not to cover what is drawn
	)
	frame := h.frame.Grow(0.8)
	best, bestCost := Balloon{}, math.Inf(1)
	for i, t := range n.tips {
		if i >= 10 {
			break
		}
		tip := scaled(t.p, h.scale)
		for _, length := range leaderLengths {
			for k := range leaderAngles { // half a step off, so that none is level or upright
				sn, cs := math.Sincos(2 * math.Pi * (float64(k) + .5) / float64(leaderAngles))
				at := plus(tip, Point{length * cs, length * sn})
				cost := length + 0.3*float64(i)
				if cost >= bestCost {
					continue
				}
				l := NameLabel(n.text, at)
				box := l.Box().Grow(0.8)
				if box.Meets(frame) {
					if cost += covers; !n.small || cost >= bestCost || h.onBorder(box) {
						continue
					}
				}
				if h.onText(box) || h.onLine(box) || h.onExtension(box) || !h.fits(h.extent.Include(box.Lo, box.Hi)) {
					continue
				}
				b := Balloon{n.text, t.p, scaled(at, 1/h.scale)}
				leader, ok := b.Leader(h.scale)
				if !ok || h.underText(leader) {
					continue
				}
				if cost += perCrossing * float64(h.crossings(leader)); cost < bestCost {
					best, bestCost = b, cost
				}
			}
		}
	}
	return best, !math.IsInf(bestCost, 1)
}

// area names an area: its tips are points of a grid inside it, those farthest from
// the border first. Only what lies in the window counts.
func area(text string, r outline.Region, window [2]Point) (named, bool) {
	lo, hi := r.Bounds()
	n := named{text: text, border: chordsOf(r)}
	own := n.border
	if window != [2]Point{} {
		for i := range 2 {
			lo[i], hi[i] = max(lo[i], window[0][i]), min(hi[i], window[1][i])
		}
		a, c := window[0], window[1]
		b, d := Point{c[0], a[1]}, Point{a[0], c[1]}
		n.border = append(slices.Clip(own), [2]Point{a, b}, [2]Point{b, c}, [2]Point{c, d}, [2]Point{d, a})
	}
	const grid = 20
	for i := range grid {
		for j := range grid {
			p := Point{lo[0] + (hi[0]-lo[0])*(float64(i)+.5)/grid, lo[1] + (hi[1]-lo[1])*(float64(j)+.5)/grid}
			if encloses(own, p) {
				n.tips = append(n.tips, spot{p, clearance(p, n.border)})
			}
		}
	}
	slices.SortStableFunc(n.tips, func(a, b spot) int { return -cmp.Compare(a.clear, b.clear) })
	return n, len(n.tips) > 0 && lo[0] < hi[0] && lo[1] < hi[1]
}

// chordsOf are the border's straight lines, and chords of its curves: few, for they
// only keep texts off.
func chordsOf(paths []outline.Path) (out [][2]Point) {
	const (
		part = math.Pi / 8 // of an arc
		skip = 4           // points of other curves for one chord
	)
	for _, p := range paths {
		from := p.Start
		at := from
		to := func(q Point) {
			out = append(out, [2]Point{at, q})
			at = q
		}
		for _, s := range p.Segments {
			if s.Radius > 0 {
				a, sweep := math.Atan2(from[1]-s.Center[1], from[0]-s.Center[0]), s.Sweep(from)
				parts := int(math.Ceil(math.Abs(sweep)/part - 1e-9))
				for k := 1; k < parts; k++ {
					to(onCircle(s.Center, s.Radius, a+sweep*float64(k)/float64(parts)))
				}
			}
			for k := skip - 1; k < len(s.Via); k += skip {
				to(s.Via[k])
			}
			to(s.To)
			from = s.To
		}
	}
	return out
}

// encloses tells whether closed runs of lines hold a point, by the even-odd rule.
func encloses(lines [][2]Point, p Point) (in bool) {
	for _, l := range lines {
		if a, b := l[0], l[1]; (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(p[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

// points are a path's corners, points of its curves among them.
func points(p outline.Path) []Point {
	out := []Point{p.Start}
	from := p.Start
	for _, s := range p.Segments {
		if s.Radius > 0 {
			const parts = 16
			a := math.Atan2(from[1]-s.Center[1], from[0]-s.Center[0])
			for k := 1; k < parts; k++ {
				out = append(out, onCircle(s.Center, s.Radius, a+s.Sweep(from)*float64(k)/parts))
			}
		}
		out = append(append(out, s.Via...), s.To)
		from = s.To
	}
	return out
}

// clearance is how far the nearest line is.
func clearance(p Point, lines [][2]Point) float64 {
	best := math.Inf(1)
	for _, l := range lines {
		d, q := minus(l[1], l[0]), minus(p, l[0])
		t := 0.0
		if n := dot(d, d); n > 0 {
			t = min(1, max(0, dot(q, d)/n))
		}
		q = minus(q, scaled(d, t))
		best = min(best, dot(q, q))
	}
	return math.Sqrt(best)
}
