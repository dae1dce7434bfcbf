package drawing

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/inparallel"
)

// Maps draws where the liquid gets between the pieces, a drawing per parting line: the
// mating face, the cells that get wet in 1, 5 and 9 of 10 casts, the seam, and the
// nearest way out of each kind. Faces, seam and ways out are exact; what gets wet is
// the estimate's, cell by cell.
func Maps(m *mold.Mold, faces map[string]*brep.Boundary, e *flash.Estimate) ([]Drawing, error) {
	out := make([]Drawing, len(e.Lines))
	errs := make([]error, len(e.Lines))
	inparallel.Do(len(out), func(i int) {
		x, err := newLineMap(m, faces, &e.Lines[i])
		if errs[i] = err; err == nil {
			out[i] = x.drawing(e)
		}
	})
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	ids := map[string]bool{}
	for i := range out { // lines may have one name
		for k, id := 2, out[i].ID; ids[out[i].ID]; k++ {
			out[i].ID = fmt.Sprintf("%s-%d", id, k)
		}
		ids[out[i].ID] = true
	}
	return out, nil
}

// lineMap is a parting line with the view it is drawn on.
type lineMap struct {
	line  *flash.Line
	piece string // that lies on the bench so that the parting line is seen; "": none
	at    string // how the line is seen if it is a parting of three or four; "": it is not
	view  outline.View
	joint joint
}

func newLineMap(m *mold.Mold, faces map[string]*brep.Boundary, l *flash.Line) (*lineMap, error) {
	f := &l.Map
	x := &lineMap{line: l}
	n := f.U.Cross(f.V)
	if at := partingBetween(m.Layout, l.Pieces, n); at != nil {
		x.piece, x.at, x.view = sideFrom(m.Layout, at).Name, halfPlaneNote(m.Layout, at), halfPlane(at)
	} else if p, ok := lying(m, l.Pieces, n); ok {
		x.piece, x.view = p.Name, onBench(&p, f.Origin)
	} else { // as the estimate has it
		x.view = outline.View{O: n.Scale(n.Dot(f.Origin)), U: f.U, V: f.V}
	}
	var all []flat
	for _, name := range l.Pieces {
		b := faces[name]
		if b == nil {
			return nil, fmt.Errorf("%s: no faces of %s", l.Name, name)
		}
		for _, f := range flats(name, b, x.view) {
			if math.Abs(f.height) < flash.WidestGap {
				all = append(all, f)
			}
		}
	}
	x.joint = jointOf(all, all).that(x.mapped)
	if len(x.joint) == 0 {
		return nil, fmt.Errorf("%s: no face of %v lies on another where the estimate has one: the model contradicts itself", l.Name, l.Pieces)
	}
	return x, nil
}

// mapped tells whether the line's map covers a part of a joint: the center of a cell
// in its face lies in it. A part as large as some cells has one of every few.
func (x *lineMap) mapped(part joint) bool {
	region := part.region()
	lo, hi := region.Bounds()
	const tests = 200
	m := &x.line.Map
	var within []Point
	for k, is := range m.Face {
		if p := x.center(k); is && p[0] > lo[0] && p[0] < hi[0] && p[1] > lo[1] && p[1] < hi[1] {
			within = append(within, p)
		}
	}
	step := max(1, len(within)/tests)
	for k := 0; k < len(within); k += step {
		if region.Contains(within[k]) {
			return true
		}
	}
	return false
}

// place is where a point of the map is drawn, given in cells from the center of its
// first.
func (x *lineMap) place(i, j float64) Point {
	m := &x.line.Map
	return x.view.At(m.Origin.AddScaled(i*m.Cell, m.U).AddScaled(j*m.Cell, m.V))
}

func (x *lineMap) center(k int) Point {
	c := x.line.Map.Columns
	return x.place(float64(k%c), float64(k/c))
}

// mirrored tells whether the map is seen from behind.
func (x *lineMap) mirrored() bool {
	return x.line.Map.U.Cross(x.line.Map.V).Dot(x.view.W()) < 0
}

// drawing puts the map on paper.
func (x *lineMap) drawing(e *flash.Estimate) Drawing {
	d := Drawing{ID: "flash-" + Slug(x.line.Name), Title: "Flash map of " + x.line.Name, View: x.view}
	of := x.piece
	if of == "" {
		of = x.line.Pieces[0]
	}
	d.Areas = append(d.Areas, Area{Look: Face, Of: of, Region: x.joint.region()})
	for _, b := range [...]struct {
		look Look
		lo   float64
		hi   float64
	}{{Wet10, .1, .5}, {Wet50, .5, .9}, {Wet90, .9, 2}} {
		if r := x.wet(b.lo, b.hi); len(r) > 0 {
			d.Areas = append(d.Areas, Area{Look: b.look, Of: "rubber", Region: r})
		}
	}
	line := func(look Look, of string, p []outline.Path) {
		if len(p) > 0 {
			d.Lines = append(d.Lines, Line{look, of, p})
		}
	}
	line(Visible, of, pathsOf(x.joint.strokes(atExit)))
	line(Parting, of, pathsOf(x.joint.strokes(atNeighbor)))
	line(Level, "rubber", x.front())
	line(Seam, "rubber", pathsOf(x.joint.strokes(onSeam)))
	d.Marks = x.marks()
	beyond := d.frame()
	d.Note = x.note(e, beyond)
	return d
}

// largest scale of a map: cells are not made to look finer than they are.
const largest = 5

// frame chooses the scale, and shows no more than seam, wet areas and the nearest way
// out where that allows a larger one. It returns the kinds of ways out that are then
// left out.
func (d *Drawing) frame() (beyond []string) {
	key := 4.6 * float64(len(d.Areas)+len(d.Marks)) // mm of paper, below the map
	scale := func(b Box) float64 {
		for _, s := range Scales {
			if s <= largest && (b.Hi[0]-b.Lo[0])*s <= Paper.Width-8 && (b.Hi[1]-b.Lo[1])*s <= Paper.Height-8-key {
				return s
			}
		}
		return Scales[len(Scales)-1]
	}
	whole, near := NoBox(), NoBox()
	for i, a := range d.Areas {
		lo, hi := a.Region.Bounds()
		if whole = whole.Include(lo, hi); i > 0 {
			near = near.Include(lo, hi)
		}
	}
	for _, l := range d.Lines {
		if lo, hi := outline.Region(l.Paths).Bounds(); l.Look == Seam {
			near = near.Include(lo, hi)
		}
	}
	first := true
	for _, m := range d.Marks { // ways out come the nearest first
		if m.Kind == Narrow || first {
			near = near.Include(m.At)
		}
		first = false
	}
	near = near.Grow(0.04 * (near.Hi[0] - near.Lo[0]))
	for i := range near.Lo {
		near.Lo[i], near.Hi[i] = max(near.Lo[i], whole.Lo[i]), min(near.Hi[i], whole.Hi[i])
	}
	if d.Scale = scale(whole); scale(near) == d.Scale {
		return nil
	}
	d.Scale, d.Window = scale(near), [2]Point{near.Lo, near.Hi}
	d.Marks = slices.DeleteFunc(d.Marks, func(m Mark) bool {
		out := m.At[0] < near.Lo[0] || m.At[0] > near.Hi[0] || m.At[1] < near.Lo[1] || m.At[1] > near.Hi[1]
		if out {
			beyond = append(beyond, m.Text)
		}
		return out
	})
	return beyond
}

// wet is the area of the cells that get wet in so large a share of the casts.
func (x *lineMap) wet(from, below float64) outline.Region {
	m := &x.line.Map
	loops := borders(m.Columns, m.Rows, func(i, j int) bool {
		c := m.Chance[j*m.Columns+i]
		return c >= from && c < below
	})
	var out outline.Region
	for _, l := range loops {
		points := make([]Point, len(l))
		for k, c := range l {
			to := &points[k]
			if x.mirrored() {
				to = &points[len(l)-1-k]
			}
			*to = x.place(float64(c[0])-.5, float64(c[1])-.5)
		}
		out = append(out, ring(points...))
	}
	return out
}

// front is how deep a straight front is by gel, expected; nil where that is less than
// a cell or the line is not driven.
func (x *lineMap) front() []outline.Path {
	m := &x.line.Map
	if !x.frontShows() {
		return nil
	}
	var out []outline.Path
	for _, run := range contour(m.Columns, m.Rows, m.FromSeam, x.line.Expected.Depth) {
		points := make([]Point, len(run))
		for k, p := range run {
			points[k] = x.place(p[0], p[1])
		}
		if len(points) > 1 {
			out = append(out, straight(points...))
		}
	}
	return out
}

func (x *lineMap) frontShows() bool { return x.line.Expected.Depth >= x.line.Map.Cell }

// marks are the nearest way out of each kind, and the least land.
func (x *lineMap) marks() []Mark {
	l := &x.line.Land
	var out []Mark
	for _, e := range x.line.Exits {
		if e.Kind == flash.ExitNeighbor {
			continue
		}
		if p, ok := x.nearest(e.Kind); ok {
			out = append(out, Mark{WayOut, p, e.Kind})
		}
	}
	if l.Exit != "" {
		out = append(out, Mark{Narrow, x.view.At(l.At), fmt.Sprintf("land %.1f mm to %s", l.Least, l.Exit)})
	}
	return out
}

// nearest is the place of an exit of the given kind to which the way from the seam is
// the shortest: the nearest to the least land among equals.
func (x *lineMap) nearest(kind string) (Point, bool) {
	const equal = 0.5 // mm: less is no nearer, only elsewhere on the grid
	var places []Point
	var ways []float64
	for _, s := range x.joint.strokes(func(k string) bool { return k == kind }) {
		n := max(2, int(s.Length()/x.line.Map.Cell))
		for k := range n {
			p := s.At((float64(k) + .5) / float64(n))
			places, ways = append(places, p), append(ways, x.fromSeam(p))
		}
	}
	if len(places) == 0 {
		return Point{}, false
	}
	least, to := slices.Min(ways), x.view.At(x.line.Land.At)
	best, off := places[0], math.Inf(1)
	for i, p := range places {
		if d := dist(p, to); ways[i] <= least+equal && d < off {
			best, off = p, d
		}
	}
	return best, true
}

// fromSeam is the way from the seam to a point on the joint's border, by the cell of
// the face that is nearest to it.
func (x *lineMap) fromSeam(p Point) float64 {
	m := &x.line.Map
	q := x.view.O.AddScaled(p[0], x.view.U).AddScaled(p[1], x.view.V).Sub(m.Origin)
	u, v := q.Dot(m.U)/m.Cell, q.Dot(m.V)/m.Cell
	least, way := math.Inf(1), math.Inf(1)
	for j := int(v) - 1; j <= int(v)+2; j++ {
		for i := int(u) - 1; i <= int(u)+2; i++ {
			if i < 0 || j < 0 || i >= m.Columns || j >= m.Rows || !m.Face[j*m.Columns+i] {
				continue
			}
			if d := math.Hypot(float64(i)-u, float64(j)-v); d < least {
				least, way = d, m.FromSeam[j*m.Columns+i]+d*m.Cell
			}
		}
	}
	return way
}

// seenFrom says how a view lies: "seen from above as base lies on the bench: +x to
// the right, +y up".
func seenFrom(piece string, v outline.View) string {
	from := "Seen"
	switch up := v.W()[2]; {
	case piece != "":
		from = "The face of " + called(piece) + " as it lies on the bench, seen from above"
	case up > parallel:
		from = "Seen from above"
	case up < -parallel:
		from = "Seen from below"
	}
	return fmt.Sprintf("%s: %s to the right, %s up.", from, axisName(v.U), axisName(v.V))
}

// axisName is the mold's axis that a direction follows.
func axisName(d mesh.Vec) string {
	for i, name := range [3]string{"x", "y", "z"} {
		switch {
		case d[i] > parallel:
			return "+" + name
		case d[i] < -parallel:
			return "-" + name
		}
	}
	return fmt.Sprintf("(%.3g, %.3g, %.3g)", d[0], d[1], d[2])
}

// called is a piece's name in the middle of a sentence: one with a letter needs no
// article.
func called(piece string) string {
	if title := mold.Title(piece); title != piece {
		return title
	}
	return "the " + piece
}

// note says what is shown, how fine, and what it rests on.
func (x *lineMap) note(e *flash.Estimate, beyond []string) string {
	l := x.line
	s := x.at
	if s == "" {
		s = seenFrom(x.piece, x.view)
	}
	for i, kind := range beyond {
		if i == 0 {
			s += " Farther out than is shown:"
		} else {
			s += ","
		}
		for _, e := range l.Exits {
			if e.Kind == kind {
				s += fmt.Sprintf(" %s %.0f mm from the seam", kind, e.Least)
			}
		}
	}
	if len(beyond) > 0 {
		s += "."
	}
	s += fmt.Sprintf(" Wet before gel in 1, 5 or 9 of 10 casts, as %d draws of what is not known have it, in cells of %.2g mm. The heavy line is the seam.", e.Options.Draws, l.Map.Cell)
	s += " " + x.entry()
	s += " It is an estimate until a cast confirms it. " + gapNote(l)
	if e.Feeler > 0 {
		return s + fmt.Sprintf(" A feeler gauge of %.2f mm enters the closed joints.", e.Feeler)
	}
	return s + " The gap is not measured."
}

// gapNote says how wide the gap is that the estimate rests on, and what seals it.
func gapNote(l *flash.Line) string {
	most := l.Gap.Band.P90
	switch {
	case l.Expected.Gap > 0:
		return fmt.Sprintf("Expected gap %.2g mm (9 of 10 casts below %.3f mm); seal: %s.", l.Expected.Gap, most, l.Seal)
	case most >= 0.0005: // or it is written as nothing
		return fmt.Sprintf("Expected: no gap, %s (9 of 10 casts below %.3f mm).", l.Reason, most)
	}
	return fmt.Sprintf("Expected: no gap, %s.", l.Reason)
}

// entry says how deep the liquid gets.
func (x *lineMap) entry() string {
	d := x.line.Expected.Depth
	switch {
	case d == 0:
		return "Nothing is expected to enter."
	case !x.frontShows():
		return fmt.Sprintf("A straight front is expected to enter %.2g mm, less than a cell: nothing to see.", d)
	}
	return fmt.Sprintf("The broken line beside it is %.1f mm from the seam: as deep as a straight front is expected to enter.", d)
}
