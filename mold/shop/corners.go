package shop

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/shop/paper"
)

// corner is one of a piece's outline across the axis, in a view along it, and how the
// outline goes on from there.
type corner struct {
	at     point
	radius float64 // of the arc to the next one; 0: straight
	center point
	ccw    bool
}

// outlineOf reads the piece's outline across the axis for a view along it: of a plate all
// around, of a shell from one parting face around the outside to the other. It is that
// of the section that takes most room, for there no slot cuts into it.
func (s *sheet) outlineOf(v *view) error {
	ev, most := brep.NewEvaluator(s.m.Model), 0.0
	for _, z := range s.levels() {
		at := v.look
		at.O = axisZ.Scale(z)
		r, err := outline.Section(ev, s.b.Root, at, sag)
		if err != nil {
			return err
		}
		for _, p := range r {
			all := s.cornersOf(&p)
			if area := s.areaOf(all); area > most+1e-3 {
				most, s.corners = area, all
			}
		}
	}
	s.describe(v)
	return nil
}

// cornersOf are those of a path of a section that belong to the outline.
func (s *sheet) cornersOf(p *outline.Path) (all []corner) {
	at := p.Start
	for _, x := range p.Segments {
		all = append(all, corner{at, x.Radius, x.Center, x.CCW})
		at = x.To
	}
	if all = joined(all); s.piece.Kind == mold.Shell {
		return s.outer(all)
	}
	return all
}

// areaOf is the area within an outline; a shell's ends in straight lines to the axis.
func (s *sheet) areaOf(all []corner) float64 {
	switch len(all) {
	case 0:
		return 0
	case 1:
		return math.Pi * all[0].radius * all[0].radius
	}
	p := outline.Path{Start: all[0].at, Closed: true}
	for i, c := range all[1:] {
		p.Segments = append(p.Segments, outline.Segment{To: c.at, Center: all[i].center, Radius: all[i].radius, CCW: all[i].ccw})
	}
	last := all[len(all)-1]
	if s.piece.Kind == mold.Shell {
		p.Segments = append(p.Segments, outline.Segment{}, outline.Segment{To: p.Start})
	} else {
		p.Segments = append(p.Segments, outline.Segment{To: p.Start, Center: last.center, Radius: last.radius, CCW: last.ccw})
	}
	return math.Abs(outline.Region{p}.Area())
}

// levels are heights between those at which the piece's outside changes: the widest gaps
// of them, since letters come in many strokes.
func (s *sheet) levels() (out []float64) {
	const most = 24
	var all []float64
	for _, f := range s.b.Faces {
		if !hasRole(f, mold.RoleOuter, mold.RolePry, mold.RoleStrap) {
			continue
		}
		for _, u := range f.Edges {
			all = append(all, u.Edge.Curve.At(u.Edge.T0)[2], u.Edge.Curve.At(u.Edge.T1)[2])
		}
	}
	slices.Sort(all)
	var gaps [][2]float64
	for i := 1; i < len(all); i++ {
		if all[i]-all[i-1] > .01 && !s.atLug((all[i]+all[i-1])/2) {
			gaps = append(gaps, [2]float64{all[i-1], all[i]})
		}
	}
	slices.SortStableFunc(gaps, func(a, b [2]float64) int { return cmp.Compare(b[1]-b[0], a[1]-a[0]) })
	for _, g := range gaps[:min(most, len(gaps))] {
		out = append(out, (g[0]+g[1])/2)
	}
	return out
}

// atLug tells whether lugs stand out at a height: they have a table of their own.
func (s *sheet) atLug(z float64) bool {
	l := s.m.Layout
	return s.piece.Kind == mold.Shell && slices.ContainsFunc(l.Lugs, func(g mold.Lug) bool {
		return z > g.Lo[2] && z < g.Hi[2] && g.Hi[2]-g.Lo[2] < l.SideHigh-l.SideLow-1
	})
}

// lugs is the table of the ears that stand out of a shell.
func (s *sheet) lugs() {
	low, _ := s.ends()
	x := paper.Table{Title: "Lugs beside the outline", Head: []string{"lug", "X from", "X to", "Y from", "Y to", "Z from", "Z to"}, Keep: "outline"}
	for i, g := range s.m.Layout.Lugs {
		u, v := []float64{s.above.look.U.Dot(g.Lo), s.above.look.U.Dot(g.Hi)}, []float64{-s.stock, g.Hi[1]}
		slices.Sort(u)
		x.Rows = append(x.Rows, []string{fmt.Sprint(i + 1), mm(u[0]), mm(u[1]), mm(v[0]), mm(v[1]), mm(g.Lo[2] - low), mm(g.Hi[2] - low)})
	}
	if len(x.Rows) > 0 {
		x.Note = "X from the wheel axis; it begins within the shell. Y from the wheel axis, Z from the lower end."
		s.Tables = append(s.Tables, x)
	}
}

// joined are corners without those at which the outline goes straight on, or on around
// the same middle.
func joined(all []corner) (out []corner) {
	for i, c := range all {
		before := all[(i+len(all)-1)%len(all)]
		next := all[(i+1)%len(all)].at
		u, w := heading(before.at, c.at), heading(c.at, next)
		straight := c.radius == 0 && before.radius == 0 && math.Abs(u[0]*w[1]-u[1]*w[0]) < 1e-6
		on := c.radius > 0 && before.radius > 0 && near(c.center[0], before.center[0]) && near(c.center[1], before.center[1]) && near(c.radius, before.radius)
		if !straight && !on {
			out = append(out, c)
		}
	}
	if len(out) == 0 { // a circle
		return all[:1]
	}
	return out
}

func heading(a, b point) point {
	d := math.Hypot(b[0]-a[0], b[1]-a[1])
	return point{(b[0] - a[0]) / d, (b[1] - a[1]) / d}
}

// outer are a shell's corners beyond its cavity, from one parting face to the other.
func (s *sheet) outer(all []corner) (out []corner) {
	beyond := s.m.Tread.MaxR(s.j.Mold.Coats.Total()) + .01
	is := func(i int) bool { c := all[i%len(all)]; return math.Hypot(c.at[0], c.at[1]) > beyond }
	for i := range all {
		if is(i+1) && !is(i) {
			for k := i + 1; is(k); k++ {
				out = append(out, all[k%len(all)])
			}
			return out
		}
	}
	return nil
}

// round tells whether the outline is a circle about the axis.
func (s *sheet) round() bool { return len(s.corners) == 1 && s.corners[0].radius > 0 }

// square tells whether the outline is a rectangle along the view: its sizes say it all.
func (s *sheet) square() bool {
	if len(s.corners) != 4 || s.piece.Kind == mold.Shell && (len(s.m.Layout.Sides) != 2 || len(s.m.Layout.Lugs) > 0) {
		return false
	}
	for i, c := range s.corners {
		next := s.corners[(i+1)%len(s.corners)].at
		if last := i == len(s.corners)-1; c.radius > 0 && !(last && s.piece.Kind == mold.Shell) || !near(c.at[0], next[0]) && !near(c.at[1], next[1]) {
			return false
		}
	}
	return true
}

// regular is how far apart the sides of a regular polygon about the axis are, with a point
// of a side; false of any other outline.
func (s *sheet) regular() (across float64, side point, ok bool) {
	n := len(s.corners)
	if n < 5 || n%2 > 0 || s.piece.Kind == mold.Shell {
		return 0, side, false
	}
	r := math.Hypot(s.corners[0].at[0], s.corners[0].at[1])
	for i, c := range s.corners {
		next := s.corners[(i+1)%n].at
		side = point{(c.at[0] + next[0]) / 2, (c.at[1] + next[1]) / 2}
		turn := math.Remainder(math.Atan2(next[1], next[0])-math.Atan2(c.at[1], c.at[0])-2*math.Pi/float64(n), 2*math.Pi)
		if c.radius > 0 || math.Abs(turn) > 1e-5 || math.Abs(math.Hypot(c.at[0], c.at[1])-r) > 1e-3 {
			return 0, point{}, false
		}
	}
	return 2 * math.Hypot(side[0], side[1]), side, true
}

// describe tells of an outline that overall sizes alone do not: of a regular one by a
// call-out, else by a table of corners, which the view marks.
func (s *sheet) describe(v *view) {
	if len(s.corners) == 0 || s.round() || s.square() {
		return
	}
	if across, side, ok := s.regular(); ok {
		name := map[int]string{6: "hexagon", 8: "octagon"}[len(s.corners)]
		if name == "" {
			name = fmt.Sprintf("polygon of %d sides", len(s.corners))
		}
		v.Callouts = append(v.Callouts, paper.Callout{Tip: side, Text: "regular " + name + ",\n" + mm(across) + " across flats"})
		return
	}
	x := paper.Table{Title: "Places of the outline's corners", Head: []string{"corner", "X", "Y", "on to the next"}, Keep: "outline"}
	x.Note = "X and Y from the wheel axis, as the view \"" + v.Caption + "\" shows them" + s.turnedNote()
	for i, c := range s.corners {
		name := cornerName(i)
		on := "straight"
		switch {
		case i == len(s.corners)-1 && s.piece.Kind == mold.Shell:
			on = "parting face"
		case c.radius > 0 && math.Hypot(c.center[0], c.center[1]) < 10*solid.Lattice:
			on = "R" + mm(c.radius) + " about the wheel axis"
		case c.radius > 0:
			on = fmt.Sprintf("R%s about X %s, Y %s", mm(c.radius), mm(c.center[0]), mm(c.center[1]))
		}
		x.Rows = append(x.Rows, []string{name, mm(c.at[0]), mm(c.at[1]), on})
		v.Marks = append(v.Marks, paper.Mark{Text: name, At: c.at})
	}
	s.Tables = append(s.Tables, x)
}

// cornerName is a, b, c and so on: small letters, for large ones are holes.
func cornerName(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return cornerName(i/26-1) + cornerName(i%26)
}
