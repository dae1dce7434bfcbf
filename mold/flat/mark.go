package flat

import (
	"math"
	"slices"
	"unicode/utf8"

	"wheelmold/mesh/dxf"
	"wheelmold/mesh/outline"
	"wheelmold/mold/holes"
)

// mark writes beside each hole that a view shows its mark in the hole table.
func (s *subject) mark(all []View) {
	wide := 0.0
	for i := range all {
		lo, hi := outline.Region{all[i].Outline}.Bounds()
		wide = max(wide, hi[0]-lo[0])
	}
	height := textHeight(wide)
	for i := range all {
		v := &all[i]
		r := room{ink: dotted(v.drawn, height/6)}
		for k := range s.holes {
			if p, ok := s.placeOf(&s.holes[k], v); ok {
				r.holes = append(r.holes, p)
			}
		}
		for _, p := range r.holes {
			v.add(HoleMarks, r.write(p, height))
		}
	}
}

// place is what a hole takes up in a view.
type place struct {
	mark   string
	center outline.Point
	radius float64   // of the widest circle, mm
	rims   []float64 // radii of all, mm
}

// placeOf is where a view shows a hole: where it is drawn, or as a half that opens to the
// viewer; a lock hole at the outer end of its axis.
func (s *subject) placeOf(h *holes.Hole, v *View) (place, bool) {
	p := place{mark: h.Mark}
	if v.isSection() {
		return p, false
	}
	if layer, _ := holeLayer(h); layer == LockHoles {
		_, p.center = s.lockAxis(v, h)
		return p, true
	}
	fromEnd, shown := v.shows(h)
	if !shown || h.Half && fromEnd {
		return p, false
	}
	p.center = v.Plane.At(h.At)
	for _, d := range seen(h, fromEnd) {
		p.radius, p.rims = max(p.radius, d/2), append(p.rims, d/2)
	}
	return p, true
}

// room is what marks have to keep clear of.
type room struct {
	holes []place
	texts []textBox
	ink   []outline.Point // along lines
}

// dotted are points along lines, a step apart at most.
func dotted(lines []outline.Path, step float64) []outline.Point {
	var out []outline.Point
	for i := range lines {
		for s := range lines[i].Stretches() {
			n := math.Ceil(s.Length() / step)
			for k := 0.0; k < n; k++ {
				out = append(out, s.At((k+.5)/n))
			}
		}
	}
	return out
}

// textBox is what a mark takes up.
type textBox struct{ lo, hi outline.Point }

// toward are the directions from a hole in which its mark may stand, the best first.
var toward = [...]outline.Point{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}, {1, 0}, {-1, 0}, {0, 1}, {0, -1},
	{2, 1}, {2, -1}, {1, 2}, {1, -2}, {-2, 1}, {-2, -1}, {-1, 2}, {-1, -2}}

// write places a hole's mark where it covers the fewest holes and other marks, and there
// where it covers the least of lines.
func (r *room) write(p place, height float64) dxf.Text {
	var best textBox
	least, lines := math.MaxInt, 0
	for _, d := range toward {
		b := p.beside(d, height)
		n, l := r.covered(&b), r.crossed(&b)
		if n < least || n == least && l < lines {
			best, least, lines = b, n, l
		}
	}
	r.texts = append(r.texts, best)
	return dxf.Text{At: best.lo, Height: height, Value: p.mark}
}

// gap is what a mark keeps from its hole, and at least from others, mm.
func gap(height float64) float64 { return height / 3 }

// beside is the box of the hole's mark in a direction from it.
func (p *place) beside(d outline.Point, height float64) textBox {
	off := (p.radius + gap(height)) / math.Hypot(d[0], d[1])
	size := outline.Point{height * float64(utf8.RuneCountInString(p.mark)), height} // capitals are no wider than high
	var b textBox
	for i := range d {
		b.lo[i] = p.center[i] + off*d[i] - size[i]*(1-min(max(d[i], -1), 1))/2
		b.hi[i] = b.lo[i] + size[i]
	}
	return b
}

// from is the least and the greatest distance of the box from a point, mm.
func (b *textBox) from(p outline.Point) (near, far float64) {
	var least, most outline.Point
	for i, x := range p {
		least[i] = max(b.lo[i]-x, x-b.hi[i], 0)
		most[i] = max(x-b.lo[i], b.hi[i]-x)
	}
	return math.Hypot(least[0], least[1]), math.Hypot(most[0], most[1])
}

// covered counts the holes whose rims a box covers or is nearer to than its own's, and the
// marks that it covers in part.
func (r *room) covered(b *textBox) (n int) {
	for i := range r.holes {
		p, clear := &r.holes[i], gap(b.hi[1]-b.lo[1])-same
		near, far := b.from(p.center)
		if slices.ContainsFunc(p.rims, func(r float64) bool { return near < r+clear && far > r-clear }) {
			n++
		}
	}
	for i := range r.texts {
		if t := &r.texts[i]; b.lo[0] < t.hi[0] && t.lo[0] < b.hi[0] && b.lo[1] < t.hi[1] && t.lo[1] < b.hi[1] {
			n++
		}
	}
	return n
}

// crossed counts the points of lines in a box.
func (r *room) crossed(b *textBox) (n int) {
	for _, p := range r.ink {
		if p[0] > b.lo[0] && p[0] < b.hi[0] && p[1] > b.lo[1] && p[1] < b.hi[1] {
			n++
		}
	}
	return n
}
