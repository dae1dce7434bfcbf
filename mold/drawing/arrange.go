package drawing

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"wheelmold/mesh/outline"
)

// side is the side of a drawing on which a dimension line runs.
type side int

const (
	below side = iota
	above
	leftward
	rightward
)

// Distances of dimension lines, mm of paper, as usual with ISO 129-1: the first from
// the outline, and from line to line.
const (
	firstRow = 8.0
	rowPitch = 6.0
	mostRows = 9
)

// wanted is a dimension that still has no place.
type wanted struct {
	Dim
	side side
}

// named is a thing that gets a balloon, with places where its tip may be.
type named struct {
	text   string
	tips   []spot
	border [][2]Point // of its area; none if the name must stand outside
	small  bool       // its name may stand on its neighbors: nobody takes them for it
	aside  float64    // -1, 1: it belongs in a column to the left or right; 0: in none
}

// sheet is a drawing being laid out at a scale, in mm of paper.
type sheet struct {
	scale  float64
	frame  Box // of what is drawn
	extent Box // of all so far
	room   Point
	texts  []Box
	lines  [][2]Point // that no text may cover
	runs   []run
	// Borders of areas.
	borders [][2]Point
	// Extension lines may run through texts where nothing else helps.
	extensions [][2]Point
}

// run is what a dimension line takes of its row.
type run struct {
	side   side
	row    int
	lo, hi float64 // between the points
	a, b   float64 // of the whole line
}

// arrange lays out dimensions and balloons at the largest scale at which all find
// room on the paper, or most, and sets them and the scale. axes are lines that reach a
// little beyond their ends; some of the height is kept for what stands below. Names
// leave their column where it finds no room at any scale. It returns what found no
// room, and is left out.
func (d *Drawing) arrange(axes []Line, dims []wanted, names []named, kept float64) []string {
	best, missed := d.arranged(axes, dims, names, kept)
	if columns := slices.ContainsFunc(names, inColumn); columns && len(missed) > 0 {
		free := slices.Clone(names)
		for i := range free {
			free[i].aside = 0
		}
		if other, left := d.arranged(axes, dims, free, kept); len(left) < len(missed) {
			best, missed = other, left
		}
	}
	*d = best
	return missed
}

func inColumn(n named) bool { return n.aside != 0 }

// arranged is a drawing laid out, and what found no room.
func (d *Drawing) arranged(axes []Line, dims []wanted, names []named, kept float64) (best Drawing, least []string) {
	room := Point{Paper.Width - 2, Paper.Height - 2 - kept}
	best, least = *d, all(dims, names) // where no scale fits
	for _, s := range Scales {
		try := *d
		try.Scale = s
		try.Lines = append(slices.Clone(d.Lines), reaching(axes, 3/s)...)
		h := &sheet{scale: s, frame: d.shape(s), room: room}
		h.extent = try.shape(s)
		if !h.fits(h.extent) {
			continue
		}
		for _, l := range try.Lines {
			h.avoid(l.Paths)
		}
		for _, m := range d.Marks {
			h.texts = append(h.texts, m.Box(s))
		}
		missed := append(h.dimensions(&try, dims), h.balloons(&try, names)...)
		if try.letter(); best.Scale > 0 && !h.fits(h.extent.Include(Point{h.extent.Lo[0], h.extent.Lo[1] - keyHeight(try.Letters())})) {
			continue
		}
		if best.Scale == 0 || len(missed) < len(least) {
			best, least = try, missed
		}
		if len(missed) == 0 {
			break
		}
	}
	return best, least
}

// all are the texts of dimensions and names.
func all(dims []wanted, names []named) (out []string) {
	for i := range dims {
		out = append(out, dims[i].said())
	}
	for _, n := range names {
		out = append(out, n.text)
	}
	return out
}

// said is a dimension in words.
func (d *Dim) said() string { return d.Name + " " + d.Text() }

// notShown says what found no room, in a sentence that follows others.
func notShown(missed []string) string {
	if len(missed) == 0 {
		return ""
	}
	return " Not shown, for want of room: " + strings.Join(missed, ", ") + "."
}

// reaching returns straight lines that go on by more at both ends.
func reaching(lines []Line, more float64) []Line {
	var out []Line
	for _, l := range lines {
		p := l.Paths[0]
		a, b := p.Start, p.Segments[len(p.Segments)-1].To
		out = append(out, Line{l.Look, l.Of, []outline.Path{straight(toward(b, a, dist(a, b)+more), toward(a, b, dist(a, b)+more))}})
	}
	return out
}

func (h *sheet) fits(b Box) bool {
	return b.Hi[0]-b.Lo[0] <= h.room[0] && b.Hi[1]-b.Lo[1] <= h.room[1]
}

// avoid keeps texts off straight lines of the drawing.
func (h *sheet) avoid(paths []outline.Path) {
	for _, p := range paths {
		from := p.Start
		for _, s := range p.Segments {
			if s.Radius == 0 && len(s.Via) == 0 {
				h.lines = append(h.lines, [2]Point{scaled(from, h.scale), scaled(s.To, h.scale)})
			}
			from = s.To
		}
	}
}

// dimensions places all, the shorter ones nearer to the outline, so that extension
// lines do not cross dimension lines. It returns those that found no room.
func (h *sheet) dimensions(d *Drawing, dims []wanted) (missed []string) {
	dims = slices.Clone(dims)
	slices.SortStableFunc(dims, func(a, b wanted) int {
		return cmp.Or(cmp.Compare(a.side, b.side), cmp.Compare(math.Round(a.span()*1e6), math.Round(b.span()*1e6)))
	})
	for i, w := range dims {
		if best, ok := h.place(w, dims[i+1:]); ok {
			d.Dims = append(d.Dims, best)
		} else {
			missed = append(missed, w.said())
		}
	}
	return missed
}

// forms are the ways to write a dimension, and what they cost in rows.
var forms = []struct {
	beside int
	bare   bool
	cost   float64
}{{1, false, 0}, {-1, false, 0.1}, {1, true, bareCost}, {-1, true, bareCost + 0.1}}

const (
	bareCost   = 1.2
	besideCost = 1.3 // more, for one that does not even find room between the arrows
)

// place finds the best place for a dimension whose extension lines those that come
// later will have to pass.
func (h *sheet) place(w wanted, later []wanted) (best Dim, ok bool) {
	const perLine = 2.0 // rows that an extension line through the text is worth
	bestCost := math.Inf(1)
	for row := range mostRows {
		for _, f := range forms {
			cost := float64(row) + f.cost
			if cost >= bestCost {
				continue
			}
			try := w.Dim
			try.Beside, try.Bare, try.At = f.beside, f.bare, h.rowAt(w.side, row)
			try.Key = widest
			ink := try.Ink(h.scale)
			if !h.clear(ink, ink.run(w.side, row, h.scale, &try)) {
				continue
			}
			if try.Bare && ink.Label.Width() > try.span()*h.scale-2 {
				cost += besideCost
			}
			if cost += perLine * float64(h.through(ink, w.side, later)); cost < bestCost {
				best, bestCost = try, cost
			}
		}
	}
	if math.IsInf(bestCost, 1) {
		return best, false
	}
	row := int(math.Round((math.Abs(best.At-h.rowAt(w.side, 0)) * h.scale) / rowPitch))
	ink := best.Ink(h.scale)
	h.runs = append(h.runs, ink.run(w.side, row, h.scale, &best))
	h.take(ink)
	return best, true
}

// widest stands for any letter until all dimensions are placed.
const widest = "m"

// letter gives the dimensions without names their letters.
func (d *Drawing) letter() {
	n := 0
	for i := range d.Dims {
		if d.Dims[i].Key = ""; d.Dims[i].Bare {
			d.Dims[i].Key = string(rune('a' + n%26))
			n++
		}
	}
}

// Letters says what the letters beside dimensions stand for: "a: hub bore, b: fill".
func (d *Drawing) Letters() string {
	var out []string
	for _, x := range d.Dims {
		if x.Bare {
			out = append(out, x.Key+": "+x.Name)
		}
	}
	return strings.Join(out, ", ")
}

// keyHeight is about how high a text below the drawing gets, mm of paper.
func keyHeight(text string) float64 {
	const pitch, width = 4.6, 80.0 // of lines that are not filled to their ends
	return pitch * math.Ceil(TextWidth(text, NameSize)/width)
}

// through counts the extension lines that run through texts: those that are there or
// will be through this one's, and this one's through others'. Texts have halos, so
// that they stay legible.
func (h *sheet) through(ink Ink, s side, later []wanted) (n int) {
	text := ink.Label.Box().Grow(0.3)
	for _, l := range h.extensions {
		if text.MeetsLine(l) {
			n++
		}
	}
	i := s.along()
	for _, w := range later {
		if w.side == s {
			for _, p := range []Point{w.From, w.To} {
				if x := p[i] * h.scale; text.Lo[i] < x && x < text.Hi[i] {
					n++
				}
			}
		}
	}
	for _, l := range ink.Lines[1:] {
		for _, t := range h.texts {
			if t.MeetsLine(l) {
				n++
			}
		}
	}
	return n
}

// along is the axis along which a side's dimension lines run.
func (s side) along() int {
	if s == leftward || s == rightward {
		return 1
	}
	return 0
}

func (d *Dim) span() float64 {
	switch d.Kind {
	case Across:
		return math.Abs(d.To[0] - d.From[0])
	case Plumb:
		return math.Abs(d.To[1] - d.From[1])
	}
	return dist(d.From, d.To)
}

// rowAt is where a row's dimension line runs, mm of the mold.
func (h *sheet) rowAt(s side, row int) float64 {
	off := firstRow + rowPitch*float64(row)
	return map[side]float64{
		below: h.frame.Lo[1] - off, above: h.frame.Hi[1] + off, leftward: h.frame.Lo[0] - off, rightward: h.frame.Hi[0] + off,
	}[s] / h.scale
}

func (k Ink) run(s side, row int, scale float64, d *Dim) run {
	i := s.along()
	lo, hi := d.From[i]*scale, d.To[i]*scale
	return run{s, row, min(lo, hi), max(lo, hi), k.Lines[0][0][i], k.Lines[0][1][i]}
}

// clash tells whether two dimension lines of one row get in each other's way. Links
// of a chain share an end, and the arrowheads there.
func (r run) clash(o run) bool {
	if r.side != o.side || r.row != o.row {
		return false
	}
	const same = 1e-6
	if math.Abs(r.lo-o.hi) < same || math.Abs(r.hi-o.lo) < same {
		return false
	}
	return r.a < o.b+1 && o.a < r.b+1
}

// clear tells whether a dimension keeps off what is there: its text off lines and
// texts, its dimension line off texts.
func (h *sheet) clear(ink Ink, r run) bool {
	text := ink.Label.Box().Grow(0.3)
	if !h.fits(ink.extend(h.extent)) || h.onText(text) || h.onLine(text) || text.Meets(h.frame) {
		return false
	}
	return !h.underText(ink.Lines[0]) && !slices.ContainsFunc(h.runs, r.clash)
}

func (h *sheet) onText(b Box) bool {
	return slices.ContainsFunc(h.texts, func(t Box) bool { return t.Meets(b) })
}

func (h *sheet) onLine(b Box) bool {
	return slices.ContainsFunc(h.lines, func(l [2]Point) bool { return b.MeetsLine(l) })
}

func (h *sheet) onBorder(b Box) bool {
	return slices.ContainsFunc(h.borders, func(l [2]Point) bool { return b.MeetsLine(l) })
}

func (h *sheet) onExtension(b Box) bool {
	return slices.ContainsFunc(h.extensions, func(l [2]Point) bool { return b.MeetsLine(l) })
}

func (h *sheet) underText(l [2]Point) bool {
	return slices.ContainsFunc(h.texts, func(t Box) bool { return t.MeetsLine(l) })
}

// take marks a dimension's place as taken.
func (h *sheet) take(ink Ink) {
	h.texts = append(h.texts, ink.Label.Box().Grow(0.3))
	h.lines = append(h.lines, ink.Lines[0])
	h.extensions = append(h.extensions, ink.Lines[1:]...)
	h.extent = ink.extend(h.extent)
}

// crossings counts the lines that another one crosses.
func (h *sheet) crossings(l [2]Point) (n int) {
	for _, o := range slices.Concat(h.lines, h.extensions) {
		if Cross(l, o) {
			n++
		}
	}
	return n
}

// Cross tells whether two straight lines cross: each has the other's ends on either side.
func Cross(l, o [2]Point) bool {
	side := func(l [2]Point, p Point) float64 {
		d, q := minus(l[1], l[0]), minus(p, l[0])
		return d[0]*q[1] - d[1]*q[0]
	}
	return side(l, o[0])*side(l, o[1]) < 0 && side(o, l[0])*side(o, l[1]) < 0
}
