package release

import (
	"math"
	"slices"

	"wheelmold/mold"
)

// HeelShare and HeelMost size what a bar bears on at a slot's edge: a share of the slot's
// depth, at most so many mm, over the slot's width. Assumed: a flat bar as wide as the
// slot. Its pressure fades toward its tip, and process.bearing is held by the mean: the
// very edge yields a little before.
const HeelShare, HeelMost = 0.5, 3.0

// FeltHand is the least force in N that a hand doses by feel. Assumed.
const FeltHand = 15.0

// Pry is what bars do in the slots of one parting line.
type Pry struct {
	Line    string
	Slots   int
	Arms    bool    // an open top's strap has none: it is lifted by its arms
	Placed  bool    // a plate's slots lie opposite each other; a line along the axis has one on each of its sides
	Lever   float64 // N that one bar gives with the whole hand on it: hand x bar / depth of the slot
	Crush   float64 // N at which the heel of a bar presses with process.bearing; of the weakest slot
	Hand    float64 // N on the bar's end that the edge stands, at most mold.pry_slots.hand
	Short   float64 // mm of a lever on which FeltHand does what the edge stands, where Hand is less than that; else 0
	perSlot []float64
}

// Each is what one bar gives at least without crushing an edge, N; 0: no slots.
func (p *Pry) Each() float64 {
	if len(p.perSlot) == 0 {
		return 0
	}
	return slices.Min(p.perSlot)
}

// All is what bars in all slots of the line give without crushing an edge, N.
func (p *Pry) All() float64 {
	sum := 0.0
	for _, f := range p.perSlot {
		sum += f
	}
	return sum
}

// lever is the force in N of a bar of the given length with a hand on its end that turns
// on the slot's outer edge and bears a depth further in; lengths alike. Law of the lever.
func lever(hand, bar, depth float64) float64 { return hand * bar / depth }

// pry reads the slots of a parting line. Across the axis they have to face each other,
// or a bar tilts the plate instead of lifting it; along the axis there has to be one on
// each side where pieces meet, and halves meet twice under one name. A bar pushes across
// the faces that it parts; toward is the share of that along the piece's pull.
func (j judge) pry(line string, plate bool, toward float64) Pry {
	s := &j.Job.Mold.PrySlots
	p := Pry{Line: line, Arms: j.Layout.OpenTop() && line == j.Layout.LineTop()}
	away, width := [2]float64{}, math.Inf(1)
	for i := range j.Layout.Slots {
		x := &j.Layout.Slots[i]
		if x.Line != line {
			continue
		}
		p.Slots++
		m := x.Middle()
		r := math.Hypot(m[0], m[1])
		away[0], away[1] = away[0]+m[0]/r, away[1]+m[1]/r
		w := clearWidth(x)
		width = min(width, w)
		p.perSlot = append(p.perSlot, toward*min(lever(s.Hand, s.Bar, s.Depth), j.crush(w)))
	}
	p.Placed = j.beside(line)
	if plate {
		const off = 0.1 // of a unit vector: about 6 degrees
		p.Placed = p.Slots >= 2 && math.Hypot(away[0], away[1]) < off*float64(p.Slots)
	}
	if p.Slots > 0 {
		p.Lever, p.Crush = lever(s.Hand, s.Bar, s.Depth), j.crush(width)
		p.Hand = min(s.Hand, p.Crush*s.Depth/s.Bar)
		if p.Hand < min(s.Hand, FeltHand) {
			p.Short = p.Crush * s.Depth / FeltHand
		}
	}
	return p
}

// beside tells whether every parting plane of a line along the axis has a slot.
func (j judge) beside(line string) bool {
	for i := range j.Layout.Partings {
		p := &j.Layout.Partings[i]
		out := p.Outward()
		if p.Line == line && !slices.ContainsFunc(j.Layout.Slots, func(s mold.Slot) bool {
			m := s.Middle()
			return s.Line == line && m[0]*out[0]+m[1]*out[1] > 0
		}) {
			return false
		}
	}
	return true
}

// clearWidth is a slot's extent along its parting plane, across the way in, mm.
func clearWidth(s *mold.Slot) float64 {
	out, _ := s.Outward()
	across := 3 - out - s.Normal
	return s.Hi[across] - s.Lo[across]
}

// crush is the force in N at which a bar's heel over a width in mm presses on a slot's
// edge with process.bearing.
func (j judge) crush(width float64) float64 {
	heel := min(HeelMost, HeelShare*j.Job.Mold.PrySlots.Depth)
	return width * heel * 1e-6 * j.Job.Process.Bearing
}
