package drawing

import "wheelmold/mesh/outline"

// Extent is about what a drawing covers at a scale, mm of paper, v upward: all that
// is drawn or written.
func (d *Drawing) Extent(scale float64) Box {
	b := d.shape(scale)
	for i := range d.Dims {
		b = d.Dims[i].Ink(scale).extend(b)
	}
	for _, x := range d.Balloons {
		l := NameLabel(x.Text, scaled(x.At, scale))
		c := l.Box()
		b = b.Include(c.Lo, c.Hi, scaled(x.Tip, scale))
	}
	for _, m := range d.Marks {
		c := m.Box(scale)
		b = b.Include(c.Lo, c.Hi)
	}
	return b
}

// MarkSize is half the size of a mark, mm of paper.
const MarkSize = 1.6

// Box is what a mark and its number cover at a scale, mm of paper.
func (m *Mark) Box(scale float64) Box {
	at := scaled(m.At, scale)
	return NoBox().Include(at).Grow(MarkSize).Include(Point{at[0] + 3.4*MarkSize, at[1]})
}

// shape is the extent of areas and lines, or the window.
func (d *Drawing) shape(scale float64) Box {
	b := NoBox()
	if d.Window != [2]Point{} {
		return b.Include(scaled(d.Window[0], scale), scaled(d.Window[1], scale))
	}
	include := func(r outline.Region) {
		if lo, hi := r.Bounds(); lo[0] <= hi[0] {
			b = b.Include(scaled(lo, scale), scaled(hi, scale))
		}
	}
	for _, a := range d.Areas {
		include(a.Region)
	}
	for _, l := range d.Lines {
		include(l.Paths)
	}
	return b
}

// extend returns the box grown by what the ink covers.
func (k Ink) extend(b Box) Box {
	for _, l := range k.Lines {
		b = b.Include(l[0], l[1])
	}
	c := k.Label.Box()
	return b.Include(c.Lo, c.Hi)
}

// NameLabel is a balloon's text with its middle at a place on paper.
func NameLabel(text string, middle Point) Label {
	down := (ascent - descent) / 2 * TypeSize
	return Label{Text: text, At: Point{middle[0], middle[1] - down}, Dir: Point{1, 0}}
}

// Leader is the line from a balloon's text to its tip on paper; false if the text
// stands on the tip.
func (b *Balloon) Leader(scale float64) (line [2]Point, ok bool) {
	tip, at := scaled(b.Tip, scale), scaled(b.At, scale)
	l := NameLabel(b.Text, at)
	box := l.Box().Grow(0.6)
	if tip[0] > box.Lo[0] && tip[0] < box.Hi[0] && tip[1] > box.Lo[1] && tip[1] < box.Hi[1] {
		return line, false
	}
	// From where the straight line to the text's middle enters its box.
	enter := 0.0
	for i := range 2 {
		if d := at[i] - tip[i]; d > 0 {
			enter = max(enter, (box.Lo[i]-tip[i])/d)
		} else if d < 0 {
			enter = max(enter, (box.Hi[i]-tip[i])/d)
		}
	}
	return [2]Point{between(tip, at, enter), tip}, true
}
