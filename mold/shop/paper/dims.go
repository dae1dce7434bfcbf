package paper

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"wheelmold/mold/drawing"
)

// Text is what a dimension says: "4× Ø5.5 H13 (+0.18 / 0) through", in mm.
func (d *Dim) Text() string {
	digits := d.Decimals
	switch {
	case digits > 0:
	case d.Fit != "":
		digits = 3
	default:
		digits = 2
	}
	sign := ""
	switch {
	case d.Kind == drawing.Diameter || d.Turned:
		sign = "Ø"
	case d.Kind == drawing.Radius:
		sign = "R"
	}
	if d.Spherical {
		sign = "S" + sign
	}
	value := sign + decimal(d.Value, digits)
	if d.Times > 1 {
		value = strconv.Itoa(d.Times) + "× " + value
	}
	text := clean(strings.Join([]string{value, d.Fit, d.Tolerance, d.After}, " "))
	if d.Reference {
		text = "(" + text + ")"
	}
	return shortened(text, typeSize, false, dimWidth)
}

// decimal writes a number with so many digits behind the point at most, without zeros
// at the end.
func decimal(v float64, digits int) string {
	k := math.Pow(10, float64(digits))
	return strconv.FormatFloat(math.Round(v*k)/k+0, 'f', -1, 64) // + 0: no minus before a zero
}

// round tells whether a dimension is written at a leader that points at a circle.
func (d *Dim) round() bool { return d.Kind == drawing.Diameter || d.Kind == drawing.Radius }

// drawn is the dimension as mold/drawing lays it out.
func (d *Dim) drawn() drawing.Dim {
	return drawing.Dim{Kind: d.Kind, From: d.From, To: d.To, Value: d.Value, Turned: d.Turned, Says: d.Text()}
}

// Distances of dimension lines, mm of paper: the first from the outline, and from line
// to line. Beyond the last row a dimension is better said in a table.
const (
	firstRow = 8.0
	rowPitch = 7.0
	mostRows = 10
)

// run is what a dimension line takes of its row.
type run struct {
	side   Side
	row    int
	lo, hi float64 // between the points
	a, b   float64 // of the whole line
}

// clash tells whether two dimension lines of one row get in each other's way. Links
// of a chain share an end, and the arrowheads there.
func (r run) clash(o run) bool {
	const same = 1e-6
	switch {
	case r.side != o.side || r.row != o.row:
		return false
	case math.Abs(r.lo-o.hi) < same || math.Abs(r.hi-o.lo) < same:
		return false
	}
	return r.a < o.b+1 && o.a < r.b+1
}

// dimensions places those that are not round, the shorter ones nearer to the outline,
// so that extension lines cross few dimension lines.
func (g *ground) dimensions(dims []Dim) {
	dims = slices.Clone(dims)
	slices.SortStableFunc(dims, func(a, b Dim) int {
		return cmp.Compare(math.Round(a.span()*1e6), math.Round(b.span()*1e6))
	})
	for i := range dims {
		d := &dims[i]
		if d.round() {
			continue
		}
		if !g.place(d, dims[i+1:]) {
			g.missed = append(g.missed, missed{d.Name, d.Text()})
		}
	}
}

func (d *Dim) span() float64 {
	switch d.Kind {
	case drawing.Across:
		return math.Abs(d.To[0] - d.From[0])
	case drawing.Plumb:
		return math.Abs(d.To[1] - d.From[1])
	}
	return dist(d.From, d.To)
}

// sides are those on which a dimension may stand, the best first.
func (d *Dim) sides() []Side {
	switch {
	case d.Side != Any:
		return []Side{d.Side}
	case d.Kind == drawing.Across:
		return []Side{Below, Above}
	case d.Kind == drawing.Plumb:
		return []Side{Left, Right}
	}
	return []Side{Above, Below}
}

// along is the axis along which a side's dimension lines run.
func (s Side) along() int {
	if s == Left || s == Right {
		return 1
	}
	return 0
}

// place finds the best row for a dimension whose extension lines those that come later
// will have to pass.
func (g *ground) place(d *Dim, later []Dim) bool {
	const (
		perLine  = 2.0  // rows that an extension line through a text is worth
		perReach = 0.03 // rows for a mm of extension line within the view
		perWidth = 0.3  // rows for a mm by which a view that should be slim gets wider
	)
	best, bestRun, bestCost := drawing.Ink{}, run{}, math.Inf(1)
	for i, side := range d.sides() {
		for row := range mostRows {
			for k, beside := range []int{1, -1} {
				try := d.drawn()
				try.At, try.Beside = g.rowAt(d, side, row), beside
				ink := try.Ink(g.scale)
				cost := float64(row) + 0.1*float64(k) + 0.5*float64(i)
				for _, l := range ink.Lines[1:] {
					cost += perReach * dist(l[0], l[1])
				}
				if cost >= bestCost {
					continue
				}
				if w, _ := growth(g.extent, ink.Label.Box()); g.slim {
					cost += perWidth * w
				}
				r := newRun(ink, side, row, g.scale, &try)
				if !g.clear(ink, r) {
					continue
				}
				if cost += perLine * float64(g.through(ink, side, later)); cost < bestCost {
					best, bestRun, bestCost = ink, r, cost
				}
			}
		}
	}
	if math.IsInf(bestCost, 1) {
		return false
	}
	g.runs = append(g.runs, bestRun)
	g.dimension(best, d)
	return true
}

// rowAt is where a row's dimension line runs, mm of the mold: as drawing.Dim.At has
// it.
func (g *ground) rowAt(d *Dim, s Side, row int) float64 {
	off := firstRow + rowPitch*float64(row)
	if d.Kind == drawing.Aligned {
		if s == Below {
			off = -off
		}
		return off / g.scale
	}
	at := map[Side]float64{
		Below: g.frame.Lo[1] - off, Above: g.frame.Hi[1] + off, Left: g.frame.Lo[0] - off, Right: g.frame.Hi[0] + off,
	}[s]
	return at / g.scale
}

func newRun(k drawing.Ink, s Side, row int, scale float64, d *drawing.Dim) run {
	if d.Kind == drawing.Aligned {
		return run{side: -1} // in no row
	}
	i := s.along()
	lo, hi := d.From[i]*scale, d.To[i]*scale
	return run{s, row, min(lo, hi), max(lo, hi), k.Lines[0][0][i], k.Lines[0][1][i]}
}

// clear tells whether a dimension keeps off what is there: its text off lines and
// texts, its dimension line off texts.
func (g *ground) clear(k drawing.Ink, r run) bool {
	text := k.Label.Box().Grow(0.3)
	if !g.free(text) || g.underText(k.Lines[0]) || (r.side >= 0 && slices.ContainsFunc(g.runs, r.clash)) {
		return false
	}
	return !slices.ContainsFunc(g.lines, func(l [2]Point) bool { return along(l, k.Lines[0]) })
}

// along tells whether two lines run on each other.
func along(l, o [2]Point) bool {
	b := drawing.NoBox().Include(o[0], o[1]).Grow(0.8)
	d, e := unit(minus(l[1], l[0])), unit(minus(o[1], o[0]))
	return math.Abs(d[0]*e[1]-d[1]*e[0]) < 1e-6 && b.MeetsLine(l)
}

// through counts the extension lines that run through texts: those that are there or
// will be through this one's, and this one's through others'.
func (g *ground) through(k drawing.Ink, s Side, later []Dim) (n int) {
	text := k.Label.Box().Grow(0.3)
	for _, l := range g.extensions {
		if text.MeetsLine(l) {
			n++
		}
	}
	i := s.along()
	for _, w := range later {
		if w.round() || w.sides()[0] != s {
			continue
		}
		for _, p := range []Point{w.From, w.To} {
			if x := p[i] * g.scale; text.Lo[i] < x && x < text.Hi[i] {
				n++
			}
		}
	}
	for _, l := range k.Lines[1:] {
		for _, t := range g.blocks {
			if t.box.MeetsLine(l) {
				n++
			}
		}
	}
	return n
}

// dimension draws one, and takes its place.
func (g *ground) dimension(k drawing.Ink, d *Dim) {
	g.ink.lines(narrow, k.Lines...)
	for _, a := range k.Arrows {
		g.arrow(a.Tip, a.Dir)
	}
	g.take("dimension "+d.Name, k.Label.Box())
	g.lines = append(g.lines, k.Lines[0])
	g.extensions = append(g.extensions, k.Lines[1:]...)
	for _, l := range k.Lines {
		g.extent = g.extent.Include(l[0], l[1])
	}
	g.late = append(g.late, Text{k.Label.Text, k.Label.At, k.Label.Dir, typeSize, false, Middle})
}
