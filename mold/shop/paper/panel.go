package paper

import (
	"slices"
	"strconv"
	"strings"

	"wheelmold/mold/drawing"
)

// panel is a table or the notes: bands below each other, of which some may go on
// elsewhere.
type panel struct {
	name  string
	width float64
	head  []band // again where it goes on
	rows  []band
	foot  []band
	low   bool // it belongs near the title block, not near the upper edge
}

// band is part of a panel over its whole width.
type band struct {
	height float64
	draw   func(k *ink, corner Point) // its upper left
}

func heightOf(bands []band) (h float64) {
	for _, b := range bands {
		h += b.height
	}
	return h
}

func (p *panel) height() float64 { return heightOf(p.head) + heightOf(p.rows) + heightOf(p.foot) }

// draw draws it at its upper left corner.
func (p *panel) draw(k *ink, corner Point) {
	for _, bands := range [][]band{p.head, p.rows, p.foot} {
		for _, b := range bands {
			b.draw(k, corner)
			corner[1] -= b.height
		}
	}
}

// split returns what of it is no higher than a height, and the rest; one row at least.
func (p *panel) split(height float64) (first, rest *panel) {
	if len(p.rows) == 0 {
		return p, nil
	}
	n := 1
	for n < len(p.rows) && heightOf(p.head)+heightOf(p.rows[:n+1]) <= height {
		n++
	}
	a, b := *p, *p
	a.rows, b.rows, a.foot = p.rows[:n], p.rows[n:], nil
	if len(b.rows) == 0 && height >= p.height() {
		return p, nil
	}
	return &a, &b
}

// lines is a band of lines of text.
func lines(all []string, left float64, w writing) band {
	pitch := w.size * linePitch
	return band{pitch * float64(len(all)), func(k *ink, c Point) {
		for i, s := range all {
			k.write(s, Point{c[0] + left, c[1] - pitch*float64(i) - w.size}, w)
		}
	}}
}

// heading is a panel's title, with room below.
func heading(title string, width float64) band {
	b := lines([]string{shortened(title, typeSize, true, width)}, 0, writing{size: typeSize, bold: true})
	b.height += 1
	return b
}

// notes numbers general notes, wrapped to a width.
func notes(all []string, width float64) *panel {
	const indent = 7.0
	p := &panel{name: "notes", width: width, head: []band{heading("Notes", width)}, low: true}
	for i, s := range all {
		b := lines(wrapped(s, typeSize, width-indent), indent, writing{size: typeSize})
		number := strconv.Itoa(i + 1)
		text := b.draw
		b.draw = func(k *ink, c Point) {
			k.write(number, Point{c[0], c[1] - typeSize}, writing{size: typeSize})
			text(k, c)
		}
		b.height += 0.8
		p.rows = append(p.rows, b)
	}
	return p
}

// Measures of tables, mm.
const (
	cellGap = 1.5 // from a rule to a text beside it
	cellPad = 1.0 // above and below
)

// table is a table no wider than a width; long cells are wrapped.
func table(t *Table, most float64) *panel {
	n := len(t.Head)
	for _, r := range t.Rows {
		n = max(n, len(r))
	}
	widths := columns(t, n, most)
	p := &panel{name: "table " + clean(t.Title)}
	for _, w := range widths {
		p.width += w
	}
	if t.Title != "" {
		p.head = append(p.head, heading(t.Title, p.width))
	}
	right := make([]bool, n)
	for c := range n {
		right[c] = numeric(t, c)
	}
	if len(t.Head) > 0 {
		p.head = append(p.head, rowOf(t.Head, widths, right, true))
	}
	for _, r := range t.Rows {
		p.rows = append(p.rows, rowOf(r, widths, right, false))
	}
	if t.Note != "" {
		b := lines(wrapped(t.Note, typeSize, p.width), 0, writing{size: typeSize})
		text := b.draw
		b.height += 1
		b.draw = func(k *ink, c Point) { text(k, Point{c[0], c[1] - 1}) }
		p.foot = []band{b}
	}
	return p
}

// folded is a panel whose rows stand in so many parts beside each other, below one
// title: the first band of its head where it has more than one.
func folded(x *panel, n int) *panel {
	p := &panel{name: x.name, foot: x.foot, low: x.low}
	p.width = float64(n)*(x.width+apart) - apart
	head := x.head
	if len(head) > 1 {
		p.head, head = head[:1:1], head[1:]
	}
	for _, b := range head {
		p.head = append(p.head, abreast(x.width, slices.Repeat([]band{b}, n)))
	}
	rows := (len(x.rows) + n - 1) / n
	for i := range rows {
		var all []band
		for k := i; k < len(x.rows); k += rows {
			all = append(all, x.rows[k])
		}
		p.rows = append(p.rows, abreast(x.width, all))
	}
	return p
}

// abreast are bands of a width beside each other.
func abreast(width float64, all []band) (b band) {
	for _, x := range all {
		b.height = max(b.height, x.height)
	}
	b.draw = func(k *ink, c Point) {
		for i, x := range all {
			x.draw(k, plus(c, Point{float64(i) * (width + apart), 0}))
		}
	}
	return b
}

// columns are the widths of a table's columns: as their texts need, the last one wider
// if the title needs it, or, where that is too much, with the widest made narrower.
func columns(t *Table, n int, most float64) []float64 {
	w := make([]float64, n)
	for c := range w {
		w[c] = 8
		if c < len(t.Head) {
			w[c] = max(w[c], widthOf(clean(t.Head[c]), typeSize, true)+2*cellGap)
		}
		for _, r := range t.Rows {
			if c < len(r) {
				w[c] = max(w[c], widthOf(clean(r[c]), typeSize, false)+2*cellGap)
			}
		}
	}
	sum := func() (s float64) {
		for _, x := range w {
			s += x
		}
		return s
	}
	if n > 0 {
		w[n-1] += max(0, min(most, widthOf(clean(t.Title), typeSize, true))-sum())
	}
	for sum() > most {
		widest := 0
		for c := range w {
			if w[c] > w[widest] {
				widest = c
			}
		}
		w[widest] = max(w[widest]*0.95, 6)
		if w[widest] <= 6 {
			break
		}
	}
	return w
}

// numeric tells whether a column holds numbers only, which stand on the right.
func numeric(t *Table, c int) bool {
	any := false
	for _, r := range t.Rows {
		if c >= len(r) || r[c] == "" || r[c] == "-" || r[c] == "–" {
			continue
		}
		if _, err := strconv.ParseFloat(strings.ReplaceAll(r[c], "−", "-"), 64); err != nil {
			return false
		}
		any = true
	}
	return any
}

// rowOf is a table's row with its rules.
func rowOf(cells []string, widths []float64, right []bool, head bool) band {
	pitch := typeSize * linePitch
	texts := make([][]string, len(widths))
	most := 1
	for c := range widths {
		if c >= len(cells) {
			continue
		}
		texts[c] = wrapped(cells[c], typeSize, widths[c]-2*cellGap)
		if head {
			texts[c] = wrappedBold(cells[c], widths[c]-2*cellGap)
		}
		most = max(most, len(texts[c]))
	}
	height := pitch*float64(most) + cellPad
	return band{height, func(k *ink, corner Point) {
		u := corner[0]
		for c, w := range widths {
			at, anchor := u+cellGap, Start
			if right[c] {
				at, anchor = u+w-cellGap, End
			}
			for i, s := range texts[c] {
				k.write(s, Point{at, corner[1] - cellPad/2 - pitch*float64(i) - typeSize*1.05}, writing{size: typeSize, bold: head, anchor: anchor})
			}
			u += w
		}
		if head {
			k.line(wide, corner, Point{u, corner[1]})
			k.line(wide, Point{corner[0], corner[1] - height}, Point{u, corner[1] - height})
		} else {
			k.line(narrow, Point{corner[0], corner[1] - height}, Point{u, corner[1] - height})
		}
	}}
}

// wrappedBold is wrapped for the bold face, which is a little wider.
func wrappedBold(s string, width float64) []string {
	const wider = 0.93 // regular type in which bold type finds room
	if widthOf(clean(s), typeSize, true) <= width+1e-6 {
		return []string{clean(s)}
	}
	return wrapped(s, typeSize, width*wider)
}

// tables are a sheet's, with what found no room in its views.
func tables(s *Sheet, left []missed) (out []Table) {
	for _, t := range s.Tables {
		if len(t.Rows)+len(t.Head) > 0 {
			out = append(out, t)
		}
	}
	if len(left) > 0 {
		t := Table{Title: "Not shown in the views", Head: []string{"what", "says"}, Keep: "views"}
		for _, m := range left {
			t.Rows = append(t.Rows, []string{m.name, m.text})
		}
		out = append(out, t)
	}
	return out
}

// boxAt is what a panel covers with an upper left corner.
func (p *panel) boxAt(corner Point) drawing.Box {
	return drawing.Box{Lo: Point{corner[0], corner[1] - p.height()}, Hi: Point{corner[0] + p.width, corner[1]}}
}
