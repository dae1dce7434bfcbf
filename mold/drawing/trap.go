package drawing

import (
	"fmt"
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/pour"
)

// trapsDrawn is how many traps get a drawing, the largest first: mold by mold they
// repeat all around.
const trapsDrawn = 3

// Trapped draws, for each of the largest pockets of air that stay, the mold cut
// through its axis and the pocket's top ("section-trap-1" and so on): what is above the
// level at which the air is shut in, and the vents that would let it out.
func Trapped(m *mold.Mold, plan *pour.Plan) ([]Drawing, error) {
	var cuts []*section
	for i := range min(trapsDrawn, len(plan.Air.Traps)) {
		cuts = append(cuts, throughTrap(m, &plan.Air.Traps[i], i+1))
	}
	out, err := finished(m, plan, cuts...)
	if left := len(plan.Air.Traps) - len(out); err == nil && left > 0 {
		out[len(out)-1].Note += " " + undrawn(left)
	}
	return out, err
}

// undrawn says how many traps have no drawing.
func undrawn(n int) string {
	if n == 1 {
		return "1 smaller pocket has no drawing."
	}
	return fmt.Sprintf("%d smaller pockets have no drawing.", n)
}

// throughTrap cuts through the axis and the top of a trap, which is drawn on the right.
func throughTrap(m *mold.Mold, t *pour.Trap, n int) *section {
	u := mesh.Vec{1, 0, 0}
	if r := math.Hypot(t.Top[0], t.Top[1]); r > 0 {
		u = mesh.Vec{t.Top[0] / r, t.Top[1] / r, 0}
	}
	s := newSection(m, fmt.Sprintf("section-trap-%d", n), mesh.Vec{}, u)
	s.Title = fmt.Sprintf("Section through trapped air %d", n)
	s.finish = func(s *section, plan *pour.Plan) { s.trap(t, plan) }
	return s
}

// trap draws a pocket of air and what lets it out, close up.
func (s *section) trap(t *pour.Trap, plan *pour.Plan) {
	l := s.m.Layout
	top, _ := s.at(t.Top)
	s.Window = s.closeUp(top, t.Depth)
	s.pieces()
	up := plan.Air.Tilt.Up()
	n := Point{s.View.U.Dot(up), s.View.V.Dot(up)}
	level := scaled(n, t.Saddle/dot(n, n))
	s.paint(Air, "air", around(behind(s.region["rubber"], scaled(n, -1), level), top, plan.Air.Cell))
	s.Marks = append(s.Marks, Mark{Trap, top, fmt.Sprintf("%.2g cm³ of air in all: %s", t.Volume/1000, t.Cause)})
	for _, v := range t.Drill.Vents {
		c, d := s.at(v.At)
		s.Marks = append(s.Marks, Mark{Drill, c, fmt.Sprintf("a vent at x %s, y %s of Ø%s mm, %s", Millimeters(v.At[0]), Millimeters(v.At[1]), Millimeters(2*v.R), where(d))})
		if math.Abs(d) < onPlane {
			s.axis(c, Point{c[0], l.Ceil})
		}
	}
	s.Note = fmt.Sprintf("Mold closed, cut through the axis and the top of the pocket; %s. The dotted area is air above the level at which it is shut in (columns of %s mm).",
		s.toTheRight(), Millimeters(plan.Air.Cell))
	if a := plan.Air.Tilt; a.Angle > 0 {
		s.Note += fmt.Sprintf(" The mold leans by %s, its side at %s from +x raised.", degrees(a.Angle), degrees(a.Toward))
	}
	s.layOut(keyRoom(len(s.Marks)))
}

// where tells how far before or behind the plane something lies.
func where(before float64) string {
	switch {
	case math.Abs(before) < onPlane:
		return "in this plane"
	case before < 0:
		return Millimeters(-before) + " mm behind this plane"
	}
	return Millimeters(before) + " mm before this plane"
}

// closeUp is what is shown around a pocket: some times its depth, and at least a
// third of the wheel's width, so that one sees where in the mold it is.
func (s *section) closeUp(top Point, depth float64) [2]Point {
	t, l := s.m.Tread, s.m.Layout
	w := max(8*depth, t.Top/3)
	return [2]Point{
		{max(0, top[0]-w), max(l.Bottom, top[1]-w)},
		{min(s.reach(), top[0]+w), min(l.Ceil, top[1]+w)},
	}
}

// around is those paths of a region that hold a point, or whose border it touches
// within a distance, mm.
func around(r outline.Region, p Point, within float64) (out outline.Region) {
	for _, path := range r {
		one := outline.Region{path}
		if one.Contains(p) || onBorder(one, p, within) {
			out = append(out, path)
		}
	}
	return out
}
