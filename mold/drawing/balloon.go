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
	r = coarse(r)
	n, border := named{text: text}, r
	if window != [2]Point{} {
		for i := range 2 {
			lo[i], hi[i] = max(lo[i], window[0][i]), min(hi[i], window[1][i])
		}
		border = append(slices.Clip(r), block(window[0][0], window[0][1], window[1][0], window[1][1]))
	}
	n.border = linesOf(border)
	const grid = 20
	for i := range grid {
		for j := range grid {
			p := Point{lo[0] + (hi[0]-lo[0])*(float64(i)+.5)/grid, lo[1] + (hi[1]-lo[1])*(float64(j)+.5)/grid}
			if r.Contains(p) {
				n.tips = append(n.tips, spot{p, border.Away(p)})
			}
		}
	}
	slices.SortStableFunc(n.tips, func(a, b spot) int { return -cmp.Compare(a.clear, b.clear) })
	return n, len(n.tips) > 0 && lo[0] < hi[0] && lo[1] < hi[1]
}

// coarse is about a region, by straight lines only: few, for they only keep texts off.
func coarse(r outline.Region) (out outline.Region) {
	const part = 1. / 500 // of the region's size that a line may cut off
	lo, hi := r.Bounds()
	within := dist(lo, hi) * part
	for _, path := range r {
		all := corners(path, math.Pi/8)
		kept := all[:1:1]
		for i, p := range all[1 : len(all)-1] {
			chord := outline.Stretch{From: kept[len(kept)-1], To: all[i+2]}
			if dist(p, chord.Nearest(p)) > within {
				kept = append(kept, p)
			}
		}
		out = append(out, ring(kept...))
	}
	return out
}

// linesOf are the straight lines of paths that have no others.
func linesOf(paths []outline.Path) (out [][2]Point) {
	for _, p := range paths {
		for s := range p.Stretches() {
			out = append(out, [2]Point{s.From, s.To})
		}
	}
	return out
}
