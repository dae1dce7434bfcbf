package shop

import (
	"fmt"
	"math"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/mold/shop/paper"
)

// Datums of a sheet (ISO 5459). A is the face that the others are told from: a plate's
// mating face, a shell's ends, the parting face of a half, whose ends meet nothing, and a
// hub's bore. B is what tells where the rest lies on it: a plate's register, the parting
// faces of a shell.

// endsMate tells whether a shell's ends meet plates.
func (s *sheet) endsMate() bool { return s.m.Layout.Below != "" }

// frame is a call-out with a tolerance frame.
func frame(tip point, text string, of paper.Symbol, value string, datums ...string) paper.Callout {
	return paper.Callout{Tip: tip, Text: text, Control: &paper.Control{Symbol: of, Value: value, Datums: datums}}
}

// mating says of a mating face how flat and how smooth it is, and makes it a datum.
func (s *sheet) mating(tip point, text, datum string) paper.Callout {
	flat, ra := s.flatness()
	c := frame(tip, text, paper.Flatness, mmFine(flat)+"/100")
	c.Finish, c.Datum = roughness(ra), datum
	return c
}

// related is a mating face whose frame says how it lies to another one: how flat it is
// stands above.
func (s *sheet) related(tip point, text string, of paper.Symbol, value float64, to string) paper.Callout {
	flat, ra := s.flatness()
	c := frame(tip, text+",\nflat to "+mmFine(flat)+"/100", of, mmFine(value), to)
	c.Finish = roughness(ra)
	return c
}

// shellFaces are a shell's ends and parting faces: the ends parallel within the tolerance
// of its height, the parting faces square to them as well as they are flat.
func (s *sheet) shellFaces(low, high float64, parting point) {
	l, v, e := s.m.Layout, s.section, s.piece.Pull
	text := "parting face"
	if n := len(l.Sides); n > 2 {
		text = fmt.Sprintf("parting faces, %s° to each other", mm(360/float64(n)))
	}
	if !s.endsMate() {
		s.above.Callouts = append(s.above.Callouts, s.mating(parting, text, "A"))
		return
	}
	end := func(z float64) point { return v.at(e.Scale(.9 * l.Reach(e)).Add(axisZ.Scale(z))) }
	v.Callouts = append(v.Callouts,
		s.mating(end(high), "upper end, mates", "A"),
		s.related(end(low), "lower end, mates", paper.Parallelism, s.j.Process.Tolerance, "A"))
	c := s.related(parting, text, paper.Perpendicularity, s.squareness(), "A")
	c.Datum = "B"
	s.above.Callouts = append(s.above.Callouts, c)
}

// squareness in mm of parting faces to the ends, over a shell's height. Assumed: as flat
// as they are.
func (s *sheet) squareness() float64 {
	flat, _ := s.flatness()
	return flat * math.Max(1, (s.m.Layout.SideHigh-s.m.Layout.SideLow)/100)
}

// cavityFrame is the zone in which the cavity's surface lies to the faces that meet: to
// either side what its depth may be off.
func (s *sheet) cavityFrame() *paper.Control {
	datums := []string{"A"}
	if s.piece.Kind == mold.Shell && s.endsMate() || s.cup() && s.registerRoot > 0 {
		datums = []string{"A", "B"}
	}
	return &paper.Control{Symbol: paper.Profile, Value: mmFine(2 * s.j.Process.Tolerance), Datums: datums}
}

// ballFrame says of the ball pockets of a face how they lie to it and among each other.
func (s *sheet) ballFrame(h *holes.Hole) *paper.Control {
	datums := []string{"A"}
	switch {
	case s.piece.Kind != mold.Shell:
		if s.registerRoot > 0 {
			datums = append(datums, "B")
		}
	case math.Abs(h.Dir[2]) < .5 && s.endsMate(): // into the parting face
		datums = []string{"B", "A"}
	case s.endsMate():
		datums = []string{"A", "B"}
	}
	return &paper.Control{Symbol: paper.Position, Value: "Ø" + mmFine(s.ballPosition()), Datums: datums}
}

// faceOfPlate makes a plate's mating face a datum. What the hub stands on, where it is
// another face, lies parallel to it; and where no ball pocket refers to it, its outer face.
func (s *sheet) faceOfPlate(v mesh.Vec, reach, land, landR, outer float64) {
	at := func(r, z float64) point { return s.section.at(v.Scale(r).Add(axisZ.Scale(z))) }
	s.section.Callouts = append(s.section.Callouts, s.mating(at(-.85*reach, s.face()), "mating face", "A"))
	t := mmFine(s.j.Process.Tolerance)
	if !near(land, s.face()) {
		s.section.Callouts = append(s.section.Callouts, frame(at(-landR, land), "land for the hub", paper.Parallelism, t, "A"))
	} else if !s.hasBalls() {
		s.section.Callouts = append(s.section.Callouts, frame(at(-.5*reach, outer), "outer face", paper.Parallelism, t, "A"))
	}
}
