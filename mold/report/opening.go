package report

import (
	"fmt"
	"math"
	"slices"

	"wheelmold/mold"
	"wheelmold/mold/release"
)

// Opening is what may hold each piece and what parts it. Suction is an upper bound, and
// what peels and grips is assumed.
type Opening struct {
	Order    string         `json:"order"`    // and why
	Warnings int            `json:"warnings"` // of parting lines that nothing parts
	Pieces   []OpeningPiece `json:"pieces"`   // in the order in which they come off

	why string // of that order
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
	Squeezes bool          `json:"squeezes"`        // rubber has to give way, too, which is not in that
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
	Short  float64 `json:"short_lever_mm"` // on which a hand that feels what it does stays below what the edge stands; 0: the bar will do
	All    float64 `json:"bars_n"`         // in all slots, no edge crushed
}

// OpeningJacks are the jack screws that part a piece.
type OpeningJacks struct {
	Size   string     `json:"size"`
	Screws int        `json:"screws"`
	Each   float64    `json:"each_n"`
	Most   float64    `json:"each_at_most_n"`
	Torque [3]float64 `json:"torque_nm"`         // with each of release.Frictions
	Stop   float64    `json:"torque_at_most_nm"` // at which, with the lowest, a screw may push with each_at_most_n

	turn float64 // N·m: how far to turn each
}

// OpeningOf reports what holds and parts the pieces.
func OpeningOf(o *release.Opening) *Opening {
	r := &Opening{Order: o.Order, Warnings: len(o.Warnings()), why: o.Why}
	if o.Why != "" {
		r.Order += ": " + o.Why
	}
	for i := range o.Pieces {
		p := &o.Pieces[i]
		x := OpeningPiece{
			Name: p.Name, Rubber: p.Rubber, Hub: p.Hub, Suction: p.Suction, HubSucks: p.HubSucks, Front: p.Front,
			Peel: [2]float64{p.PeelLow, p.PeelHigh}, Grip: p.Grip, Holds: p.Holds(), Bars: p.BarForce(), Squeezes: p.Squeezes, Lines: []OpeningLine{}, Text: p.Text,
		}
		for k := range p.Bars {
			b := &p.Bars[k]
			x.Lines = append(x.Lines, OpeningLine{b.Line, b.Slots, b.Placed, b.Lever, b.Crush, b.Hand, b.Short, b.All()})
		}
		if k := &p.Jacks; k.Screws > 0 {
			x.Jacks = &OpeningJacks{k.Size, k.Screws, k.Each, k.Most, k.Torque, k.Stop, k.Turn()}
		}
		r.Pieces = append(r.Pieces, x)
	}
	return r
}

// text prints what holds each piece and what parts it, in their order.
func (r *Opening) text(p teller) {
	p.note("forces", "", fmt.Sprintf("suction is a bound: all the air's weight on the projected area, and air leaks in; peeling %g to %g J/m² with release agent, from memory and weak; bars by the lever, their heels by process.bearing on %s, assumed",
		release.PeelLow, release.PeelHigh, heel()))
	if r.why != "" {
		p.note("order", "", r.why)
	}
	for i := range r.Pieces {
		x := &r.Pieces[i]
		holds := "up to " + release.Newtons(x.Holds)
		if x.Squeezes {
			holds += ", and squeezing"
		}
		p.note(mold.Title(x.Name), holds, x.Text)
	}
}

// heel tells what of a slot's edge a bar bears on.
func heel() string {
	return fmt.Sprintf("%s of the slot's depth, at most %g mm", percent(release.HeelShare), release.HeelMost)
}

// short is the line of a piece whose edge stands least of what a hand on a bar would do
// without feeling it; nil if a bar will do, or screws part the piece.
func (x *OpeningPiece) short() *OpeningLine {
	var least *OpeningLine
	for i := range x.Lines {
		if l := &x.Lines[i]; x.Jacks == nil && l.Short > 0 && (least == nil || l.Short < least.Short) {
			least = l
		}
	}
	return least
}

// press tells how hard to press a bar on a line.
func (l *OpeningLine) press() string {
	if l.Short > 0 {
		return fmt.Sprintf("Press %s on %s mm of bar.", pull(release.FeltHand), number(math.Floor(l.Short), 0))
	}
	return fmt.Sprintf("Press bars with %s at most.", pull(l.Hand))
}

// judge adds to the verdict on opening what parts the pieces: lines that nothing parts,
// and edges that a hand crushes without feeling it.
func (r *Opening) judge(o *outcome) {
	look := func(says string) {
		o.Says += "; " + says
		if o.State == fine {
			o.State = mind
		}
	}
	if r.Warnings > 0 {
		look(count(r.Warnings, "parting line is", "parting lines are") + " hard to part: see the warnings")
	}
	if slices.ContainsFunc(r.Pieces, func(x OpeningPiece) bool { return x.short() != nil }) {
		look("a long bar crushes the slots' edges: use a short lever")
	}
	o.Figures = append(o.Figures, r.figures()...)
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
			Note: fmt.Sprintf("Law of the lever: %s from one bar with the whole hand, or less where its heel would crush the slot's edge (%s at process.bearing; %s bear, assumed). %s",
				pull(x.Lines[0].Lever), pull(x.Lines[0].Crush), heel(), x.Lines[0].press())})
	}
	if k := x.Jacks; k != nil {
		out = append(out, k.figure(key))
	}
	return out
}

// figure is how far to turn the screws: to where they push with their share, or stop.
func (k *OpeningJacks) figure(key func(string) string) figure {
	name, mu := "jacks.torque_nm.1", release.Frictions
	if k.Stop < k.Torque[1] {
		name = "jacks.torque_at_most_nm"
	}
	return figure{Name: fmt.Sprintf("turn each of %d %s", k.Screws, k.Size), Value: torque(k.turn), Key: key(name), Raw: k.turn,
		Note: fmt.Sprintf("For %s on each, thread and tip of the screw rub: %s at a friction of %g, %s at %g, %s at %g. A plain screw's friction is not known closer. Never above %s: with the lowest, a screw then pushes with the %s that it and the face under its tip stand.",
			pull(k.Each), torque(k.Torque[0]), mu[0], torque(k.Torque[1]), mu[1], torque(k.Torque[2]), mu[2], torque(k.Stop), pull(k.Most))}
}

// order tells how far to turn a screw, and where to stop.
func (k *OpeningJacks) order() string {
	upTo := "up to " + torque(k.turn) + ", "
	stop := fmt.Sprintf("never above %s N·m", number(k.Stop, 1))
	if k.Stop < 1 {
		stop = fmt.Sprintf("never above %s N·m", number(k.Stop, 2))
	}
	if k.Stop <= k.Torque[1] {
		upTo, stop = "", "never above "+torque(k.Stop)
	}
	return fmt.Sprintf("%s jack screws: %s%s, a quarter turn at a time.", k.Size, upTo, stop)
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
		return []string{x.Jacks.order(), begin}
	case x.Lines[0].Slots > 0:
		return []string{x.Lines[0].press(), begin}
	}
	return []string{begin}
}
