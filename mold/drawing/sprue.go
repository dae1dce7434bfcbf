package drawing

import (
	"fmt"
	"math"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/pour"
)

// closed draws what a plane through the axis of the closed mold shows.
func (s *section) closed(plan *pour.Plan) {
	m, l := s.m, s.m.Layout
	s.pieces()
	s.gap()
	s.axis(Point{0, l.Bottom}, Point{0, l.Ceil})
	s.surface()
	s.heights()
	s.trim()
	s.hub()
	s.widths()
	s.openings()
	s.air(plan)
	s.Note = fmt.Sprintf("Mold closed and %s; %s. The cavity is sized for a wheel of %s mm. Outlines are the model's; dimensions are those of the mold as designed.",
		s.through(), s.toTheRight(), Millimeters(m.Job.Wheel.Diameter)) + s.partingNote()
	if t := m.Job.Pour; t.Tilt > 0 {
		s.Note += fmt.Sprintf(" While it is poured the mold leans by %s, its side at %s from +x raised: the level is drawn as it then stands in the mold.", degrees(t.Tilt), degrees(t.TiltToward))
	}
	s.layOut(keyRoom(len(s.Marks)))
}

// through says how full the mold is and where a plane through the axis runs.
func (s *section) through() string {
	switch {
	case s.ID == sectionAcross:
		return "filled, cut through the wheel's axis and the middle of a piece, across the parting plane"
	case s.m.Layout.OpenTop():
		return "filled to the brim, cut through the wheel's axis, along the strap"
	}
	return "filled, cut through the wheel's axis and the first sprue"
}

// toTheRight says which side of the mold is on the right.
func (s *section) toTheRight() string {
	return "to the right: the side at " + degrees(s.turn) + " from +x"
}

func degrees(v float64) string { return Millimeters(v) + "°" }

// keyRoom is about how high the lines under a drawing are, mm of paper.
func keyRoom(marks int) float64 { return 12 + 9*float64(marks) }

// gap paints the room between hub and lands that the seal fills. Most are thinner
// than a line.
func (s *section) gap() {
	c, l := s.m.Core, s.m.Layout
	for _, g := range []struct {
		end    hub.End
		z0, z1 float64
	}{{c.Lower, l.LandLow, c.Z0}, {c.Upper, c.Z1(), l.LandTop}} {
		if g.z1-g.z0 > 0 {
			in, out := c.OpeningR(g.end), c.EndR()
			s.paint(Cut, "seal", outline.Region{block(in, g.z0, out, g.z1), block(-out, g.z0, -in, g.z1)})
		}
	}
}

// surface draws the tread's surface where the plane runs in a groove, so that the
// cavity's diameter has points to start from, and asks for that diameter.
func (s *section) surface() {
	t, rubber := s.m.Tread, s.region["rubber"]
	v := s.measuredAt()
	for _, side := range []float64{-1, 1} {
		if onBorder(rubber, Point{side * t.R, v}, 1e-6) {
			continue
		}
		line := straight(Point{side * t.SurfaceR(0), 0}, Point{side * t.SurfaceR(t.Width), t.Width})
		if t.CrownR > 0 {
			line = crown(t, side)
		}
		s.Lines = append(s.Lines, Line{Hidden, "rubber", []outline.Path{line}})
	}
	s.diameter(below, "cavity", t.R, 0, v)
}

// measuredAt is a height at which the tread has the diameter that the cavity is known by:
// in its middle, and beside grooves where it is a cylinder.
func (s *section) measuredAt() float64 {
	t := s.m.Tread
	v := t.Width / 2
	if t.CrownR > 0 || t.Slope > 0 {
		return v
	}
	for _, g := range t.Grooves { // in the order of their heights
		if g.Position-g.Width/2 < v && v < g.Position+g.Width/2 {
			return g.Position - g.Width/2
		}
	}
	return v
}

// crown is the arc of a crowned tread between its end faces, grooves aside.
func crown(t *mold.Tread, side float64) outline.Path {
	h := t.Width / 2
	c := Point{side * (t.R - t.CrownR), h}
	r := side * (t.R - t.CrownR + math.Sqrt(t.CrownR*t.CrownR-h*h))
	return outline.Path{Start: Point{r, 0}, Segments: []outline.Segment{{To: Point{r, t.Width}, Center: c, Radius: t.CrownR, CCW: side > 0}}}
}

// heights asks for the heights of plates, shells and block on the left, and for the
// liquid's on the right.
func (s *section) heights() {
	m, l := s.m, s.m.Layout
	for _, x := range layers(l) {
		s.dim(leftward, x.name, x.z1-x.z0, s.edge(x.z0), s.edge(x.z1), false)
	}
	s.dim(leftward, "mold", l.Ceil-l.Bottom, s.edge(l.Bottom), s.edge(l.Ceil), false)
	if len(l.Sides) == 0 { // no piece is as high as the cavity
		s.dim(leftward, "cavity height", l.Top, Point{-s.cavityEdge(-1, 0), 0}, Point{-s.cavityEdge(-1, l.Top), l.Top}, false)
	}
	if n, at, ok := s.level(); ok && s.ID != sectionAcross {
		gate, _ := s.at(l.Gates[0])
		r := l.SprueR(m.Job.Pour.Fill, m.Tread.Top)
		along := Point{n[1], -n[0]}
		s.axes = append(s.axes, Line{Level, "rubber", []outline.Path{straight(plus(at, scaled(along, -r)), plus(at, scaled(along, r)))}})
		s.names = append(s.names, named{text: "filled to here", tips: []spot{{at, 0}}})
		s.dim(rightward, "fill", m.Job.Pour.Fill, Point{s.fillFrom(), l.Top}, Point{gate[0], l.Top + m.Job.Pour.Fill}, false)
	}
}

// fillFrom is a place at the height of the cavity's top from which the fill is
// dimensioned: the end of the mating face there, or the cavity's edge.
func (s *section) fillFrom() float64 {
	if l := s.m.Layout; l.LineTop() != "" && l.Part == l.Top {
		return s.landEnd(1, l.Top)
	}
	return s.cavityEdge(1, s.m.Tread.Top)
}

// trim draws to where the rubber is trimmed, and asks for how much.
func (s *section) trim() {
	t := s.m.Tread
	if t.Top <= t.Width {
		return
	}
	for _, way := range []float64{-1, 1} {
		s.Lines = append(s.Lines, Line{Hidden, "rubber", []outline.Path{straight(Point{way * t.InnerR, t.Width}, Point{way * t.UpperOuter, t.Width})}})
	}
	s.names = append(s.names, named{text: "trimmed to here", tips: []spot{{Point{(t.InnerR + t.UpperOuter) / 2, t.Width}, 0}}})
	s.dim(rightward, "to trim", t.Top-t.Width, Point{t.UpperOuter, t.Width}, Point{t.UpperOuter, t.Top}, false)
}

// hub asks for the hub's dimensions.
func (s *section) hub() {
	c, l := s.m.Core, s.m.Layout
	s.dim(rightward, "hub", c.Length, Point{c.EndR(), c.Z0}, Point{c.EndR(), c.Z1()}, false)
	if l.GapLow > 0 {
		s.dim(rightward, "gap", l.GapLow, Point{c.EndR(), l.LandLow}, Point{c.EndR(), c.Z0}, false)
	}
	if l.GapTop > 0 {
		s.dim(rightward, "gap", l.GapTop, Point{c.EndR(), c.Z1()}, Point{c.EndR(), l.LandTop}, false)
	}
	s.diameter(below, "hub bond", c.BodyR, 0, c.Z0+c.FlangeT)
	if c.FlangeT > 0 {
		s.diameter(below, "hub flange", c.FlangeR, 0, c.Z0)
	}
	s.diameter(below, "hub bore", c.BoreR, 0, c.Z0+c.Lower.Depth())
	for _, e := range []struct {
		to side
		hub.End
		v, up float64
	}{{below, c.Lower, c.Z0, 1}, {above, c.Upper, c.Z1(), -1}} {
		if e.PocketR > 0 {
			s.diameter(e.to, "bearing pocket", e.PocketR, 0, e.v+e.up*e.Depth())
		}
		if e.SeatR > 0 {
			s.diameter(e.to, "seat", e.SeatR, 0, e.v+e.up*e.SeatD)
		}
	}
}

// widths asks for the lands beside the cavity, for one if both are alike, and for the
// block's width.
func (s *section) widths() {
	l := s.m.Layout
	z, plates := lowestPlane(l)
	first := 0.0
	for _, side := range []float64{-1, 1} {
		in, out := s.cavityEdge(side, z), s.landEnd(side, z)
		if plates && math.Abs(out-in-first) > onPlane {
			s.dim(below, "land", out-in, Point{side * in, z}, Point{side * out, z}, false)
			first = out - in
		}
	}
	half := s.reach()
	name := "mold"
	if math.Abs(s.View.U[0]*s.View.U[1]) > 1e-12 {
		name = "mold, here"
	}
	s.dim(below, name, 2*half, Point{-half, l.Bottom}, Point{half, l.Bottom}, false)
}

// openings asks for the dimensions of sprues and vents in the plane.
func (s *section) openings() {
	l := s.m.Layout
	for i, g := range l.Gates {
		c, d := s.at(g)
		if math.Abs(d) > onPlane {
			continue
		}
		s.axis(Point{c[0], l.Top}, Point{c[0], l.Ceil})
		if i == 0 {
			s.diameter(above, "gate", l.GateR, c[0], l.Top)
			s.diameter(above, "mouth", l.MouthR, c[0], l.Ceil)
			s.dim(above, "sprue from axis", c[0], Point{0, l.Ceil}, Point{c[0], l.Ceil}, false)
		}
	}
	first := true
	for _, g := range l.Vents {
		c, d := s.at(g)
		if math.Abs(d) > onPlane {
			continue
		}
		s.axis(Point{c[0], l.Top}, Point{c[0], l.Ceil})
		if first {
			s.diameter(above, "vent", l.VentR, c[0], l.Ceil)
			first = false
		}
	}
}

// landEnd is how far from the axis the mating face of the parting plane at a height
// ends, on one side of the axis: at a pry slot, ball, bolt or jack hole, or the block's
// side.
func (s *section) landEnd(side, z float64) float64 {
	l := s.m.Layout
	end := s.reach()
	hole := func(p mesh.Vec, r float64) {
		if c, d := s.at(p); side*c[0] > 0 && math.Abs(d) < r {
			end = min(end, side*c[0]-math.Sqrt(r*r-d*d))
		}
	}
	for _, b := range l.Balls {
		if b.Axis == 2 && b.At[2] == z {
			hole(b.At, b.R)
		}
	}
	for _, b := range l.Bolts {
		hole(b.At, b.R)
	}
	for _, j := range l.Jacks {
		if j.At[2] == z && j.Dir[2] != 0 {
			hole(j.At, j.R)
		}
	}
	for i := range l.Slots {
		if p := &l.Slots[i]; p.Lo[2] < z && z < p.Hi[2] {
			end = min(end, entersSlot(p, s.View.U.Scale(side)))
		}
	}
	return end
}

// enters is how far along a direction from the axis a box begins, in the plan;
// infinite where it is missed.
func enters(lo, hi, dir mesh.Vec) float64 {
	t0, t1 := 0.0, math.Inf(1)
	for i := range 2 {
		if math.Abs(dir[i]) < 1e-12 {
			if lo[i] >= 0 || hi[i] <= 0 {
				return math.Inf(1)
			}
			continue
		}
		a, b := lo[i]/dir[i], hi[i]/dir[i]
		t0, t1 = max(t0, min(a, b)), min(t1, max(a, b))
	}
	if t0 >= t1 {
		return math.Inf(1)
	}
	return t0
}

// air marks the tops of trapped air that lie near the plane, and the vents that would
// free it.
func (s *section) air(plan *pour.Plan) {
	if plan == nil {
		return
	}
	near := plan.Air.Cell + s.m.Tread.R/20
	for _, t := range plan.Air.Traps {
		for _, top := range t.Tops {
			if p, d := s.at(top); math.Abs(d) < near {
				s.Marks = append(s.Marks, Mark{Trap, p, fmt.Sprintf("air that stays, %.2g cm³ in all: %s", t.Volume/1000, t.Cause)})
				break
			}
		}
		if !t.Drill.Clears {
			continue
		}
		for _, v := range t.Drill.Vents {
			if p, d := s.at(v.At); math.Abs(d) < near {
				s.Marks = append(s.Marks, Mark{Drill, p, fmt.Sprintf("a vent here, Ø%s mm, lets it out", Millimeters(2*v.R))})
			}
		}
	}
}
