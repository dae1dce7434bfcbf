package drawing

import (
	"cmp"
	"math"
	"slices"
)

// column places the names that belong on a side (-1: left, 1: right) below each other
// beside all that is drawn, about in the order of what they name, so that no two
// leaders cross: as near as they keep clear of dimensions. Leaders run through marks
// only where there is no other way. It returns those names if there is no such place.
func (h *sheet) column(d *Drawing, names []named, side float64) (missed []string) {
	const pitch, nearest, farthest, step = 6.0, 5.0, 60.0, 2.0 // mm of paper
	names = slices.DeleteFunc(slices.Clone(names), func(n named) bool { return n.aside != side })
	slices.SortStableFunc(names, func(a, b named) int {
		return -cmp.Compare(math.Round(a.tips[0].p[1]*1e3), math.Round(b.tips[0].p[1]*1e3))
	})
	var vs []float64
	for _, n := range names {
		missed = append(missed, n.text)
		vs = append(vs, n.tips[0].p[1]*h.scale)
	}
	vs = spread(vs, pitch)
	keepOff := h.texts
	for _, texts := range [][]Box{keepOff, keepOff[len(d.Marks):]} { // marks come first
		for off := nearest; off < farthest; off += step {
			if h.columnAt(d, names, vs, side, off, texts) {
				return nil
			}
		}
	}
	return missed
}

// columnAt places a column so far from the drawing, if all of it finds room there.
// Leaders keep off the given texts.
func (h *sheet) columnAt(d *Drawing, names []named, vs []float64, side, off float64, texts []Box) bool {
	edge := map[float64]float64{-1: h.frame.Lo[0], 1: h.frame.Hi[0]}[side]
	out := make([]Balloon, len(names))
	put := func(i int, text string, tip Point) {
		at := Point{edge + side*(off+TextWidth(text, TypeSize)/2), vs[i]}
		out[i] = Balloon{text, tip, scaled(at, 1/h.scale)}
	}
	for i, n := range names {
		put(i, n.text, n.tips[0].p)
	}
	h.uncross(out, put)
	own := sheet{texts: slices.Clone(texts)}
	for _, b := range out {
		l := NameLabel(b.Text, scaled(b.At, h.scale))
		box := l.Box().Grow(0.6)
		leader, ok := b.Leader(h.scale)
		if !ok || h.onText(box) || h.onLine(box) || h.onExtension(box) || !h.fits(h.extent.Include(box.Lo, box.Hi)) {
			return false
		}
		own.texts, own.lines = append(own.texts, l.Box()), append(own.lines, leader)
	}
	if slices.ContainsFunc(own.lines, own.underText) {
		return false
	}
	for _, b := range out {
		h.add(d, b)
	}
	return true
}

// uncross lets balloons whose leaders cross change places, which makes leaders shorter,
// so that it comes to an end.
func (h *sheet) uncross(all []Balloon, put func(i int, text string, tip Point)) {
	for range len(all) * len(all) {
		done := true
		for i := range all {
			for k := range i {
				a, _ := all[i].Leader(h.scale)
				b, _ := all[k].Leader(h.scale)
				if !Cross(a, b) {
					continue
				}
				was := all[i]
				put(i, all[k].Text, all[k].Tip)
				put(k, was.Text, was.Tip)
				done = false
			}
		}
		if done {
			return
		}
	}
}

// spread moves falling values apart to the pitch, as little as it takes: those too
// close stand evenly about their mean.
func spread(v []float64, pitch float64) []float64 {
	type block struct {
		sum float64 // of the values, each less its place in the block
		n   int
	}
	var blocks []block
	top := func(b block) float64 { return b.sum / float64(b.n) }
	for _, x := range v {
		blocks = append(blocks, block{x, 1})
		for n := len(blocks); n > 1; n-- {
			a, b := blocks[n-2], blocks[n-1]
			if top(a)-float64(a.n)*pitch >= top(b) {
				break
			}
			blocks = append(blocks[:n-2], block{a.sum + b.sum + float64(b.n*a.n)*pitch, a.n + b.n})
		}
	}
	var out []float64
	for _, b := range blocks {
		for k := range b.n {
			out = append(out, top(b)-float64(k)*pitch)
		}
	}
	return out
}
