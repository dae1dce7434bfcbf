package report

import (
	"fmt"

	"wheelmold/mold"
	"wheelmold/mold/release"
)

// Opening is what may hold each piece and what parts it. Suction is an upper bound, and
// what peels and grips is assumed.
type Opening struct {
	Order  string         `json:"order"`
	Pieces []OpeningPiece `json:"pieces"` // in the order in which they come off
}

// OpeningPiece is what may hold one piece and what parts it.
type OpeningPiece struct {
	Name     string        `json:"name"`
	Rubber   float64       `json:"rubber_mm2"`    // across the pull
	Hub      float64       `json:"hub_mm2"`       // of the hub's face that a seal closes to air
	Suction  float64       `json:"suction_n"`     // on the rubber, at most
	HubSucks float64       `json:"hub_suction_n"` // on the hub's face, at most
	Front    float64       `json:"peel_line_mm"`
	Peel     [2]float64    `json:"peel_n"` // least and most, by release agent
	Grip     float64       `json:"register_grip_n"`
	Holds    float64       `json:"holds_at_most_n"` // all of it at once
	Bars     float64       `json:"bars_n"`          // in all slots of its parting lines
	Lines    []OpeningLine `json:"lines"`
	Jacks    *OpeningJacks `json:"jacks,omitempty"`
	Text     string        `json:"text"`
}

// OpeningLine is what bars do on one parting line.
type OpeningLine struct {
	Name   string  `json:"name"`
	Slots  int     `json:"slots"`
	Placed bool    `json:"slots_well_placed"`
	Lever  float64 `json:"bar_n"`        // of one bar with the whole hand on it
	Crush  float64 `json:"edge_bears_n"` // under its heel
	Hand   float64 `json:"hand_at_most_n"`
	All    float64 `json:"bars_n"` // in all slots, no edge crushed
}

// OpeningJacks are the jack screws that part a piece.
type OpeningJacks struct {
	Size   string     `json:"size"`
	Screws int        `json:"screws"`
	Each   float64    `json:"each_n"`
	Most   float64    `json:"each_at_most_n"`
	Torque [3]float64 `json:"torque_nm"` // with friction 0.12, 0.15, 0.20
}

// newOpening reports what holds and parts the pieces.
func newOpening(o *release.Opening) *Opening {
	r := &Opening{Order: o.Order}
	for i := range o.Pieces {
		p := &o.Pieces[i]
		x := OpeningPiece{
			Name: p.Name, Rubber: p.Rubber, Hub: p.Hub, Suction: p.Suction, HubSucks: p.HubSucks, Front: p.Front,
			Peel: [2]float64{p.PeelLow, p.PeelHigh}, Grip: p.Grip, Holds: p.Holds(), Bars: p.BarForce(), Lines: []OpeningLine{}, Text: p.Text,
		}
		for k := range p.Bars {
			b := &p.Bars[k]
			x.Lines = append(x.Lines, OpeningLine{b.Line, b.Slots, b.Placed, b.Lever, b.Crush, b.Hand, b.All()})
		}
		if k := &p.Jacks; k.Screws > 0 {
			x.Jacks = &OpeningJacks{k.Size, k.Screws, k.Each, k.Most, k.Torque}
		}
		r.Pieces = append(r.Pieces, x)
	}
	return r
}

// text prints what holds each piece and what parts it, in their order.
func (r *Opening) text(p teller) {
	p.note("forces", "", "suction is a bound: all the air's weight on the projected area, and air leaks in; peeling 1 to 50 J/m² with release agent, from memory and weak; bars by the lever, their heels by process.bearing on half the slot's depth, at most 3 mm, assumed")
	p.note("order", "", r.Order)
	for i := range r.Pieces {
		x := &r.Pieces[i]
		p.note(mold.Title(x.Name), "up to "+pull(x.Holds), x.Text)
	}
}

// hardest is the piece that most may hold, of those that bars or screws part; its place.
// None: the first.
func (r *Opening) hardest() int {
	at := 0
	for i := range r.Pieces {
		if x := &r.Pieces[i]; len(x.Lines) > 0 && (len(r.Pieces[at].Lines) == 0 || x.Holds > r.Pieces[at].Holds) {
			at = i
		}
	}
	return at
}

// figures are the forces of the piece that holds hardest, for the summary's card on
// opening.
func (r *Opening) figures() []figure {
	if len(r.Pieces) == 0 {
		return nil
	}
	at := r.hardest()
	x := &r.Pieces[at]
	title := mold.Title(x.Name)
	key := func(name string) string { return fmt.Sprintf("opening.pieces.%d.%s", at, name) }
	out := []figure{{Name: title + " holds with at most", Value: pull(x.Holds), Key: key("holds_at_most_n"), Raw: x.Holds,
		Note: fmt.Sprintf("A bound: the whole air's weight, %s on %s cm² of rubber; peeling at most %s and a tapped-in register %s are in it, assumed. Air that leaks in takes most of it away: begin at one edge.",
			pull(x.Suction), number(x.Rubber/100, 1), pull(x.Peel[1]), pull(x.Grip))}}
	if x.Bars > 0 {
		out = append(out, figure{Name: "bars on it give", Value: pull(x.Bars), Key: key("bars_n"), Raw: x.Bars,
			Note: fmt.Sprintf("Law of the lever: %s from one bar with the whole hand, or less where its heel would crush the slot's edge (%s at process.bearing; half the slot's depth bears, assumed). Press with at most %s.",
				pull(x.Lines[0].Lever), pull(x.Lines[0].Crush), pull(x.Lines[0].Hand))})
	}
	if k := x.Jacks; k != nil {
		out = append(out, figure{Name: fmt.Sprintf("turn each of %d %s", k.Screws, k.Size), Value: torque(k.Torque[1]), Key: key("jacks.torque_nm.1"), Raw: k.Torque[1],
			Note: fmt.Sprintf("For %s on each: thread and tip of the screw at a friction of 0.15; %s at 0.12, %s at 0.20. A plain screw's friction is not known closer. A screw and the face under its tip stand %s.",
				pull(k.Each), torque(k.Torque[0]), torque(k.Torque[2]), pull(k.Most))})
	}
	return out
}

// orders are short lines for the bench, the first of them most needed: how hard to turn
// or press, and where to begin.
func (r *Opening) orders() []string {
	x := &r.Pieces[r.hardest()]
	title := upper(mold.Title(x.Name))
	begin := fmt.Sprintf("%s: let air in at one edge, then peel.", title)
	switch {
	case len(x.Lines) == 0:
		return []string{"Pull slowly: air has to get in around the rubber."}
	case x.Jacks != nil:
		return []string{fmt.Sprintf("%s jack screws: up to %s, a quarter turn at a time.", x.Jacks.Size, torque(x.Jacks.Torque[1])), begin}
	case x.Lines[0].Slots > 0:
		return []string{fmt.Sprintf("Press bars with %s at most.", pull(x.Lines[0].Hand)), begin}
	}
	return []string{begin}
}
