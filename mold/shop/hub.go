package shop

import (
	"fmt"
	"math"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
	"wheelmold/mold/drawing"
	"wheelmold/mold/shop/paper"
	"wheelmold/mold/views"
)

// runout is the total runout in mm that is asked of the hub's bearing pockets, seat and
// body against its bore. Assumed: about what a lathe holds in one clamping of plastic.
const runout = 0.05

// hub draws a turned hub: cut along its axis, with both ends beside it.
func (s *sheet) hub() (err error) {
	c, ends, looks := s.m.Core, views.HubEnds(s.m), views.Of(s.m, s.piece)
	look := outline.View{U: axisZ, V: looks.Upper.Plane.V}
	if s.above, err = s.see(looks.Upper, 0, 0); err != nil {
		return err
	}
	if s.section, err = s.cutAlong("section A-A, along the axis; "+ends[0]+" on the left", look, 0, 1); err != nil {
		return err
	}
	if s.below, err = s.see(looks.Lower, 0, 2); err != nil {
		return err
	}
	s.above.Cuts = append(s.above.Cuts, paper.Cutting{From: point{0, -c.EndR()}, To: point{0, c.EndR()}, Letter: "A", Toward: point{1, 0}})
	s.hubLengths(ends)
	s.hubDiameters(ends)
	s.boltCircle()
	s.bond()
	s.hubTables(ends)
	s.hubNotes(ends)
	return nil
}

// on is a point of the section at a radius (below the axis where it is negative) and a
// height above the hub's lower end.
func (s *sheet) on(r, from float64) mesh.Vec {
	return s.section.look.V.Scale(r).Add(axisZ.Scale(s.m.Core.Z0 + from))
}

func (s *sheet) hubLengths(ends [2]string) {
	c, v, e := s.m.Core, s.section, s.m.Core.EndR()
	v.axis(s.on(0, -6), s.on(0, c.Length+6))
	v.measure(axisZ, s.on(-e, 0), s.on(-e, c.Length), c.Length, "length", about(s.j.Hub.LengthTolerance))
	if c.FlangeT > 0 {
		v.measure(axisZ, s.on(e, 0), s.on(e, c.FlangeT), c.FlangeT, "flange, "+ends[0])
		v.measure(axisZ, s.on(e, c.Length-c.FlangeT), s.on(e, c.Length), c.FlangeT, "flange, "+ends[1])
	}
	for i, x := range []hub.End{c.Lower, c.Upper} {
		from, sign := 0.0, 1.0
		if i == 1 {
			from, sign = c.Length, -1
		}
		if x.SeatR > 0 {
			v.measure(axisZ, s.on(-s.wider(x.SeatR), from), s.on(-s.wider(x.SeatR), from+sign*x.SeatD), x.SeatD, "depth of the seat, "+ends[i])
		}
		if x.PocketR > 0 {
			v.measure(axisZ, s.on(-s.wider(x.PocketR), from), s.on(-s.wider(x.PocketR), from+sign*x.Depth()), x.Depth(), "bottom of the bearing pocket, "+ends[i])
		}
	}
}

// wider is an opening's radius as it is made, compensated for how it comes out.
func (s *sheet) wider(r float64) float64 { return r + solid.Round(s.j.Hub.HoleCompensation/2) }

func (s *sheet) hubDiameters(ends [2]string) {
	c, v, m := s.m.Core, s.section, &s.j.Machining
	across := func(r, from float64, name string, with ...func(*paper.Dim)) {
		v.measure(v.look.V, s.on(-r, from), s.on(r, from), 2*r, name, append(with, round)...)
	}
	fit := func(r float64, class string) func(*paper.Dim) {
		return bounded(fitted(2*r, class, m.GeneralTolerance))
	}
	if c.FlangeT > 0 {
		across(c.FlangeR, 0, "flanges", s.hubEnd()...)
		across(c.BodyR, s.plainBody(), "body")
	} else {
		across(c.BodyR, s.plainBody(), "body", s.hubEnd()...)
	}
	r := s.wider(c.BoreR)
	across(r, (c.Lower.Depth()+c.Length-c.Upper.Depth())/2, "bore", fit(r, s.j.Hub.Fit))
	v.Callouts = append(v.Callouts, paper.Callout{Tip: v.at(s.on(r, (c.Lower.Depth()+c.Length-c.Upper.Depth())/2)), Text: "bore", Datum: "A"})
	for i, x := range []hub.End{c.Lower, c.Upper} {
		at := func(d float64) float64 {
			if i == 1 {
				return c.Length - d
			}
			return d
		}
		control := func(r, d float64, what string) {
			v.Callouts = append(v.Callouts, paper.Callout{
				Tip: v.at(s.on(r, at(d))), Text: what + ", " + ends[i],
				Control: &paper.Control{Symbol: paper.Runout, Value: mmFine(runout), Datums: []string{"A"}},
			})
		}
		if x.SeatR > 0 {
			r := s.wider(x.SeatR)
			across(r, at(0), "seat, "+ends[i], fit(r, s.j.Hub.Fit))
			control(r, x.SeatD/2, "seat")
		}
		if x.PocketR > 0 {
			r := s.wider(x.PocketR)
			across(r, at(x.SeatD), "bearing pocket, "+ends[i], fit(r, s.j.Hub.BearingFit))
			control(r, x.SeatD+x.PocketD/2, "bearing pocket")
		}
	}
}

// hubEnd are the limits on the diameter of the hub's ends where one stands in a recess of
// the mold, which is wider by process.clearance.
func (s *sheet) hubEnd() []func(*paper.Dim) {
	l := s.m.Layout
	if l.LandLow >= 0 && l.LandTop <= l.Top || s.j.Process.Clearance <= 0 {
		return nil
	}
	return []func(*paper.Dim){bounded(downTo(s.clearanceShare(s.j.Process.Clearance)))}
}

// plainBody is a height at which the body is neither grooved nor drilled.
func (s *sheet) plainBody() float64 {
	c := s.m.Core
	free := func(h float64) bool {
		for _, g := range c.Grooves {
			if math.Abs(h-g.From) < g.Width/2+.1 {
				return false
			}
		}
		return (c.LockCount == 0 || math.Abs(h-c.LockFrom) > c.LockR+.1) && h > c.FlangeT && h < c.Length-c.FlangeT
	}
	mid := c.Length / 2
	for k := range 400 { // the nearest to the middle
		d := c.Length * float64(k) / 800
		for _, h := range [2]float64{mid - d, mid + d} {
			if free(h) {
				return h
			}
		}
	}
	return mid
}

// boltCircle dimensions the holes along the axis on the upper end.
func (s *sheet) boltCircle() {
	c, v := s.m.Core, s.above
	if c.BoltCount == 0 {
		return
	}
	r := c.BoltCircleR
	v.Lines = append(v.Lines, drawing.Line{Look: drawing.Axis, Paths: []outline.Path{circle(point{}, r)}})
	k := r * math.Sqrt2 / 2
	v.Dims = append(v.Dims, paper.Dim{
		Kind: drawing.Diameter, From: point{-k, -k}, To: point{k, k}, Value: 2 * r, Name: "bolt circle",
		After: fmt.Sprintf("%d × %s° apart", c.BoltCount, mm(360/float64(c.BoltCount))), Tolerance: plusMinus(s.positionOf(hub.RoleKeepOut)) + ",",
	})
}

func circle(c point, r float64) outline.Path {
	a, b := point{c[0] + r, c[1]}, point{c[0] - r, c[1]}
	return outline.Path{Start: a, Closed: true, Segments: []outline.Segment{
		{To: b, Center: c, Radius: r, CCW: true}, {To: a, Center: c, Radius: r, CCW: true},
	}}
}

// bond points out the surface that the rubber grips, and the end faces that seal.
func (s *sheet) bond() {
	c, v := s.m.Core, s.section
	v.Callouts = append(v.Callouts, paper.Callout{
		Tip: v.at(s.on(c.BodyR, s.plainBody())), Text: "bond surface, all around:\nturn (Ra 3.2: assumed),\nthen roughen with 80 to 120 grit", Finish: "Ra 3.2",
		Control: &paper.Control{Symbol: paper.Runout, Value: mmFine(2 * runout), Datums: []string{"A"}},
	})
	for i, from := range []float64{0, c.Length} {
		x := []hub.End{c.Lower, c.Upper}[i]
		r := (c.EndR() + c.OpeningR(x)) / 2
		v.Callouts = append(v.Callouts, paper.Callout{
			Tip: v.at(s.on(-r, from)), Text: "end face, seals,\nflat to " + mmFine(s.j.Hub.Flatness) + "/100", Finish: roughness(s.j.Hub.Roughness),
			Control: &paper.Control{Symbol: paper.Runout, Value: mmFine(runout), Datums: []string{"A"}},
		})
	}
}

// grooves of the hub that hold the rubber.
func (s *sheet) retention(ends [2]string) {
	x := paper.Table{Title: "Grooves around the hub, which hold the rubber", Head: []string{"groove", "shape", "middle from the " + ends[0], "width", "depth", "Ø at the bottom"}}
	for i, g := range s.m.Core.Grooves {
		shape := "rectangular"
		if g.HalfRound {
			shape = "half-round R" + mm(g.Width/2)
		}
		x.Rows = append(x.Rows, []string{fmt.Sprint(i + 1), shape, mm(g.From), mm(g.Width), mm(g.Depth), mm(2 * (s.m.Core.BodyR - g.Depth))})
	}
	if len(x.Rows) > 0 {
		x.Note = "Undercuts on purpose. Inner corners may be round by up to 0.5 mm (assumed); outer ones stay sharp."
		s.Tables = append(s.Tables, x)
	}
}
