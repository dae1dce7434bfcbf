package shop

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/mold/shop/paper"
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

// around is what the pieces around the axis are called.
func (s *sheet) around() string {
	if s.m.Layout.Below == "" {
		return "halves"
	}
	return "shells"
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
	s.say("Goes together with %s.", s.together())
	s.say("Mating faces: flat to %s over any 100 mm; it may grow with length, to %s over all of %s mm, not more. The mold's seal rests on this.", mmFine(flat), mmFine(flat*math.Max(1, long/100)), mm(long))
	s.say("Heights with ±%s decide how tightly hub and mold close: all rubber that gets past them is flash.", mmFine(j.Process.Tolerance))
	s.ballNote()
	if s.piece.Kind == mold.Shell && l.Below != "" {
		s.say("Parting faces (B) square to the ends (A) as well as they are flat: assumed. The ends are parallel within the tolerance of the height.")
		s.say("Finish the end faces of all %d shells clamped together, so that they are of one height.", len(l.Sides))
	}
	if s.piece.Kind == mold.Shell {
		s.say("Bore or mill the cavity with all %d %s clamped together on their balls, or hold its depth and its width: where two of them meet, it may step by %s mm at most.", len(l.Sides), s.around(), mmFine(j.Process.Tolerance))
	}
	s.lapNote()
	s.say("Edges of the cavity stay sharp: no break, at most %s mm. What is broken there is flash on the wheel. Deburr them along the edge with a wooden or brass scraper. Break all other edges by 0.3 to 0.5 mm (assumed).", mmFine(j.Process.Edge))
	if s.piece.Kind == mold.Shell || s.cup() {
		s.say("Cavity: tool marks show on the rubber and hold it; mill along the wheel's circumference, %s or finer (assumed as on mating faces).", roughness(j.Process.Roughness))
	}
}

// ballNote says what of a ball pocket locates and what tool may make it.
func (s *sheet) ballNote() {
	i := slices.IndexFunc(s.holes, func(h holes.Hole) bool { return isBall(&h) })
	if i < 0 {
		return
	}
	h := &s.holes[i]
	s.say("Ball pockets locate by their walls near the face, not by their floors: drill and ream or bore all of a face in one clamping. Their axes lie within Ø%s of their places among each other: where holes lie to the outside counts less.", mmFine(s.ballPosition()))
	s.say("Floors of ball pockets: any tool will do that takes no less than drawn, as a flat end to the full depth, or a %d° drill's point below a cylinder of at least %s. A floor that is too shallow holds the mold open. Clean it.", drillPoint, mm(math.Ceil(s.drilled(h)*100)/100))
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

// hubNotes are those of a turned hub.
func (s *sheet) hubNotes(ends [2]string) {
	c, h := s.m.Core, &s.j.Hub
	grows := s.j.HubExpansion()
	s.commonNotes(math.Max(c.Length, 2*c.EndR()))
	s.say("Measure at 20 to 23 °C, dry as turned. Moisture may add up to %s of every length until it is cast (%s mm of the length here): keep it dry, in a closed bag.", digits(100*h.Moisture, 2)+" %", mmFine(h.Moisture*c.Length))
	if r := math.Max(c.Lower.PocketR, c.Upper.PocketR); r > 0 {
		s.say("Bearing pockets to %s: plastics have no standard fit, since creep and heat release a press fit. 30 K more take %s mm off the grip on Ø%s (%s %.0fe-6/K, steel 12e-6/K). Hold bearings by a metal sleeve, retaining compound or end caps, not by the press.", h.BearingFit, mmFine((grows-12e-6)*30*2*s.wider(r)), mmFine(2*s.wider(r)), h.Material, 1e6*grows)
	}
	if c.BoreR > 0 {
		s.say("Bore %s: holds dry and at 20 °C only. %s of moisture and 30 K make Ø%s wider or narrower by up to %s mm; where the shaft has to fit as a bearing does, press in a metal sleeve.", h.Fit, digits(100*h.Moisture, 2)+" %", mmFine(2*s.wider(c.BoreR)), mmFine((grows*30+h.Moisture)*2*s.wider(c.BoreR)))
	}
	s.say("Bond surface: turn it, then roughen it all around with 80 to 120 grit, across and along. No oil and no coolant on it, or degrease until water stays on it as a film; do not polish it, do not touch it afterwards.")
	s.say("Runout to the bore (A) of pockets, seat and ends %s mm, of the body %s mm: assumed, about what one clamping gives. Turn bore, pockets and seat of one end in one clamping.", mmFine(runout), mmFine(2*runout))
	s.say("End faces seal against the mold: flat to %s over any 100 mm, %s. Length with ±%s decides how tightly the mold closes.", mmFine(h.Flatness), roughness(h.Roughness), mmFine(h.LengthTolerance))
	s.say("The %s is up in the mold. Edges of the end faces and of the grooves stay sharp; break those of bore, pockets and seat by 0.3 mm (assumed).", ends[1])
}
