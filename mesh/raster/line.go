package raster

import "math"

// lineKind is what line runs through a sample.
type lineKind uint8

const (
	noLine  lineKind = iota
	inner            // an edge within a body
	outline          // a body's border against another, or against the background
)

// Width, as a share of the view's LineWidth, and opacity of lines by kind.
var (
	lineShare = [...]float64{noLine: 0, inner: .55, outline: 1}
	opacity   = [...]float32{noLine: 0, inner: .62, outline: .92}
)

// offset is a sample relative to another.
type offset struct{ x, y int }

// stamps are the samples that a line covers about a place where what is seen
// changes between one sample and the next, by kind: to the right, or below.
type stamps struct {
	right, below [3][]offset
	reach        int // rows that a line spreads
}

func newStamps(v View) stamps {
	s := stamps{reach: 2}
	if !(v.LineWidth > 0) {
		return s
	}
	ss := float64(v.Supersample)
	for _, kind := range []lineKind{inner, outline} {
		r := max(lineShare[kind]*v.LineWidth*ss/2, .5)
		s.right[kind] = disc(r, .5, 0)
		s.below[kind] = disc(r, 0, .5)
		s.reach = max(s.reach, int(math.Ceil(r))+2)
	}
	return s
}

// disc lists the samples within r of (x, y).
func disc(r, x, y float64) []offset {
	var out []offset
	n := int(math.Ceil(r)) + 1
	for j := -n; j <= n; j++ {
		for i := -n; i <= n; i++ {
			if math.Hypot(float64(i)-x, float64(j)-y) <= r {
				out = append(out, offset{i, j})
			}
		}
	}
	return out
}

// drawLines marks the samples that lines cover: along every change of what is
// seen, so that hidden edges are hidden without any comparing of depths of lines
// and surfaces.
func (b *band) drawLines() {
	if !(b.view.LineWidth > 0) {
		return
	}
	for y := b.y0; y < b.y1; y++ {
		at := (y - b.y0) * b.width
		for x := range b.width {
			if x+1 < b.width {
				if k := b.change(at+x, 1, x > 0, x+2 < b.width); k != noLine {
					b.stamp(x, y, k, b.stamps.right[k])
				}
			}
			if y+1 < b.y1 {
				if k := b.change(at+x, b.width, y > b.y0, y+2 < b.y1); k != noLine {
					b.stamp(x, y, k, b.stamps.below[k])
				}
			}
		}
	}
}

// change tells what line runs between the sample and the next one, step further.
func (b *band) change(at, step int, before, after bool) lineKind {
	p, q := b.surf[at], b.surf[at+step]
	switch {
	case p == q:
		if p != nothing && before && after && b.folded(at, step) {
			return inner
		}
		return noLine
	case p == nothing || q == nothing || b.paint[p].body != b.paint[q].body:
		return outline
	}
	return inner
}

// A surface hides part of itself where depth jumps by foldRatio times what it
// does on either side, and by foldLeast pixels. Toward its own silhouette a
// smooth surface falls away as a parabola: from sample to sample by no more than
// 1/(√2-1) = 2.4 times the step before.
const (
	foldRatio = 4
	foldLeast = 4
)

// folded reports whether one surface hides itself between two samples.
func (b *band) folded(at, step int) bool {
	jump := gap(b.depth[at+step], b.depth[at])
	if float64(jump) <= b.fold { // as nearly everywhere
		return false
	}
	p, q := b.surf[at-step], b.surf[at+2*step]
	if p != b.surf[at] || q != p {
		return false
	}
	return jump > foldRatio*max(gap(b.depth[at], b.depth[at-step]), gap(b.depth[at+2*step], b.depth[at+step]))
}

func gap(a, b float32) float32 { return max(a-b, b-a) }

// stamp marks the samples about (x, y).
func (b *band) stamp(x, y int, kind lineKind, marks []offset) {
	for _, o := range marks {
		i, j := x+o.x, y+o.y
		if i < 0 || i >= b.width || j < b.y0 || j >= b.y1 {
			continue
		}
		at := (j-b.y0)*b.width + i
		b.line[at] = max(b.line[at], kind)
	}
}
