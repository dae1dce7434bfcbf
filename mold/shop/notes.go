package shop

import (
	"fmt"
	"math"
	"strings"

	"wheelmold/mold"
	"wheelmold/mold/shop/paper"
	"wheelmold/params"
)

// fields of the title block.
func (s *sheet) fields() {
	material, density := s.material()
	add := func(label, value string) {
		if value != "" {
			s.Fields = append(s.Fields, paper.Field{Label: label, Value: value})
		}
	}
	add("Piece", mold.Title(s.piece.Name))
	add("Job", s.j.Name)
	add("Quantity", "1")
	add("Material", material)
	add("Stock", s.blank)
	add("Mass", digits(s.b.Volume()*density/1e6, 3)+" kg, of the exact volume and "+mm(density)+" g/cm³")
	add("General tolerance", general(s.j.Machining.GeneralTolerance))
}

// material in words, and its density in g/cm³. The job says what process makes the mold,
// not of which alloy it is: the figures that it works with are those of 6061.
func (s *sheet) material() (string, float64) {
	if s.piece.Kind == mold.Hub {
		return map[string]string{"nylon": "nylon, cast", "acetal": "acetal (POM-C)"}[s.j.Hub.Material], s.j.Hub.Density
	}
	if s.j.Process.Name == "milled" {
		return "aluminum plate, EN AW-6061-T6 or 6082-T6 (assumed)", s.j.Process.Density
	}
	return "as agreed", s.j.Process.Density
}

// say adds a note.
func (s *sheet) say(format string, args ...any) {
	s.Notes = append(s.Notes, fmt.Sprintf(format, args...))
}

// commonNotes hold for every sheet.
func (s *sheet) commonNotes(longest float64) {
	class := s.j.Machining.GeneralTolerance
	s.say("Dimensions in mm at 20 °C; first-angle projection. Where nothing else is stated, lengths to %s: %s.", general(class), generalLimits(class, longest))
}

// moldNotes are those of a piece of the mold.
func (s *sheet) moldNotes() {
	l, j := s.m.Layout, s.j
	flat, _ := s.flatness()
	long := 2 * math.Max(l.OuterX, l.FaceY)
	s.commonNotes(long)
	s.say("Goes together with %s.", s.hardware())
	s.say("Mating faces: flat to %s over any 100 mm; it may grow with length, to %s over all of %s mm, not more. The mold's seal rests on this.", mmFine(flat), mmFine(flat*math.Max(1, long/100)), mm(long))
	s.say("Heights with ±%s decide how tightly hub and mold close: all rubber that gets past them is flash.", mmFine(j.Process.Tolerance))
	s.say("Where holes lie among each other counts more than where they lie to the outside: drill and finish all ball pockets of a face in one clamping, to ±%s of each other. Clean their floors: balls rest on them.", mmFine(s.positionOf(mold.RoleBall)))
	if s.piece.Kind == mold.Shell && l.Below != "" {
		s.say("Parting faces (B) square to the end faces (A) within %s over the height (assumed: as flat as they are).", mmFine(flat*math.Max(1, (l.SideHigh-l.SideLow)/100)))
		s.say("Finish the end faces of all %d shells clamped together, so that they are of one height.", len(l.Sides))
	}
	s.lapNote()
	s.say("Edges of the cavity stay sharp: no break, at most %s mm. What is broken there is flash on the wheel. Deburr them along the edge with a wooden or brass scraper. Break all other edges by 0.3 to 0.5 mm (assumed).", mmFine(j.Process.Edge))
	s.say("Cavity: tool marks show on the rubber and hold it; mill along the wheel's circumference, %s or finer (assumed as on mating faces).", roughness(j.Process.Roughness))
}

// lapNote says which faces carry stock and what they are lapped to.
func (s *sheet) lapNote() {
	if s.stock == 0 {
		return
	}
	p, ok := s.m.Lapping()
	if !ok {
		return
	}
	var to []string
	if p.Height > 0 {
		to = append(to, "height "+mmFine(p.Height))
	}
	for _, d := range p.Outer {
		to = append(to, "parting face to outer face "+mmFine(d))
	}
	if p.Across > 0 {
		to = append(to, "flats of the pieces put together "+mmFine(p.Across))
	}
	s.say("Drawn as it leaves the machine: each parting face carries %s mm, to be lapped off on a plain plate. Lapped to: %s, ±%s.", mmFine(s.stock), strings.Join(to, "; "), mmFine(s.j.Process.Tolerance))
}

// hardware is what the mold is put together with.
func (s *sheet) hardware() string {
	l, m := s.m.Layout, &s.j.Mold
	var out []string
	sizes := map[float64]int{}
	var order []float64
	for _, b := range l.Balls {
		if sizes[b.Diameter]++; sizes[b.Diameter] == 1 {
			order = append(order, b.Diameter)
		}
	}
	for _, d := range order {
		out = append(out, fmt.Sprintf("%d balls Ø%s (ISO 3290)", sizes[d], digits(d, 4)))
	}
	if f, ok := params.FastenerOf(m.Bolts.Size); ok && len(l.Bolts) > 0 {
		head := "screws"
		if m.Bolts.Head == "socket" {
			head = "socket head screws (ISO 4762)"
		}
		out = append(out, fmt.Sprintf("%d %s %s, at least %s mm long under the head", len(l.Bolts), m.Bolts.Size, head, digits(math.Ceil(l.Bolts[0].Length(l, f.NutHeight)), 0)))
	}
	if len(l.Cross) > 0 {
		out = append(out, fmt.Sprintf("%d %s screws across", len(l.Cross), m.SideClamp.Size))
	}
	if len(l.Jacks) > 0 {
		out = append(out, fmt.Sprintf("%d %s jack screws", len(l.Jacks), m.Jacks.Size))
	}
	if l.Strap != nil {
		out = append(out, "a strap in the groove around")
	}
	if len(out) == 0 {
		return "nothing but the other pieces"
	}
	return strings.Join(out, "; ")
}

// hubNotes are those of a turned hub.
func (s *sheet) hubNotes(ends [2]string) {
	c, h := s.m.Core, &s.j.Hub
	s.commonNotes(math.Max(c.Length, 2*c.EndR()))
	s.say("Measure at 20 to 23 °C, dry as turned. Moisture may add up to %s of every length until it is cast (%s mm of the length here): keep it dry, in a closed bag.", digits(100*h.Moisture, 2)+" %", mmFine(h.Moisture*c.Length))
	if r := math.Max(c.Lower.PocketR, c.Upper.PocketR); r > 0 {
		s.say("Bearing pockets to %s: plastics have no standard fit, since creep and heat release a press fit. 30 K more take %s mm off the grip on Ø%s (nylon 81e-6/K, steel 12e-6/K). Hold bearings by a metal sleeve, retaining compound or end caps, not by the press.", h.BearingFit, mmFine((81e-6-12e-6)*30*2*r), mmFine(2*r))
	}
	s.say("Bond surface: turn it, then roughen it all around with 80 to 120 grit, across and along. No oil and no coolant on it, or degrease until water stays on it as a film; do not polish it, do not touch it afterwards.")
	s.say("Runout to the bore (B) of pockets, seat and ends %s mm, of the body %s mm: assumed, about what one clamping gives. Turn bore, pockets and seat of one end in one clamping.", mmFine(runout), mmFine(2*runout))
	s.say("End faces seal against the mold: flat to %s over any 100 mm, %s. Length with ±%s decides how tightly the mold closes.", mmFine(h.Flatness), roughness(h.Roughness), mmFine(h.LengthTolerance))
	s.say("The %s is up in the mold. Edges of the end faces and of the grooves stay sharp; break those of bore, pockets and seat by 0.3 mm (assumed).", ends[1])
}
