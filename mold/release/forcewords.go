package release

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"wheelmold/mold"
	"wheelmold/params"
)

// order tells in which order the pieces come off.
func order(v *Verdict) string {
	var names []string
	for i := range v.Pieces {
		names = append(names, mold.Title(v.Pieces[i].Name))
	}
	return strings.Join(names, ", then ")
}

// why tells what asks for that order.
func (j judge) why() string {
	if l := j.Layout; len(l.Sides) > 0 && l.Below != "" {
		return fmt.Sprintf("first what is drawn along the axis: until then the balls of %s stand across the shells' way out and lock them", strings.Join(plateLines(l), " and "))
	}
	return ""
}

func plateLines(l *mold.Layout) (out []string) {
	for _, line := range []string{l.LineTop(), l.LineLow()} {
		if line != "" {
			out = append(out, line)
		}
	}
	return out
}

// words tell what may hold a piece and what parts it.
func (p *Push) words(j *params.Job) string {
	var holds []string
	add := func(name string, n float64) {
		if n >= 0.5 {
			holds = append(holds, name+" up to "+Newtons(n))
		}
	}
	add("suction on the rubber", p.Suction)
	add("suction on the hub's sealed face", p.HubSucks)
	add("grip of the tapped-in register", p.Grip)
	if p.Drawn {
		add("peeling all around", p.PeelHigh)
	} else {
		add("peeling from one edge", p.PeelHigh)
	}
	if len(holds) == 0 {
		holds = []string{"next to nothing holds it"}
	}
	if p.Squeezes {
		holds = append(holds, "and what it takes to squeeze the rubber, which is not reckoned")
	}
	return strings.Join(holds, ", ") + "; " + p.remedy(j)
}

// remedy is what parts the piece. That suction is beyond the bars does not keep it on:
// suction is there only until air gets in at an edge.
func (p *Push) remedy(j *params.Job) string {
	peel := "let air in along one edge, little by little, and it peels"
	if p.Grip > 0 && p.Parts() < p.Sticks() {
		peel = "air does not free the register: give it clearance, or draw it with a puller"
	}
	k, bars := &p.Jacks, p.BarForce()
	switch {
	case p.Drawn || len(p.Bars) == 0:
		return "a puller in the hub's bore; pull slowly so that air gets in around the rubber"
	case p.Bars[0].Arms:
		return "it is lifted by its arms"
	case k.Screws > 0 && k.All() >= p.Holds():
		return fmt.Sprintf("%s push it off, %s on each: %s", screws(k), Newtons(k.Each), torques(k))
	case k.Screws > 0 && k.All() >= bars:
		return fmt.Sprintf("%s give up to %s in all, %s on each: %s; %s", screws(k), Newtons(k.All()), Newtons(k.Each), torques(k), peel)
	case bars == 0:
		return "neither slot nor jack screw is there: " + peel
	case bars >= p.Holds():
		return fmt.Sprintf("%s: %s in all", p.bars(j), Newtons(bars))
	}
	text := fmt.Sprintf("%s: %s in all, less than that bound: %s", p.bars(j), Newtons(bars), peel)
	if k.Screws > 0 {
		text += fmt.Sprintf("; %s help evenly with up to %s in all: %s", screws(k), Newtons(k.All()), torques(k))
	}
	if p.Jackable && !stated(k.Size) {
		text += "; jack screws (mold.jacks.size) would push it off evenly"
	}
	return text
}

// bars tell what one bar gives, and how hard the hand may press it.
func (p *Push) bars(j *params.Job) string {
	n, weak := 0, &Pry{}
	for i := range p.Bars {
		if b := &p.Bars[i]; b.Slots > 0 {
			if n == 0 || b.Each() < weak.Each() {
				weak = b
			}
			n += b.Slots
		}
	}
	text := fmt.Sprintf("bars in %d slots, %s each", n, Newtons(weak.Each()))
	if n == 1 {
		text = "a bar in its slot, " + Newtons(weak.Each())
	}
	switch {
	case weak.Short > 0:
		text += fmt.Sprintf(" by %s on a short lever, %s from the slot's edge; more crushes it", Newtons(FeltHand), mm(math.Floor(weak.Short)))
	case weak.Hand < j.Mold.PrySlots.Hand:
		text += fmt.Sprintf(" with %s of hand, more crushes the slot's edge", Newtons(weak.Hand))
	}
	return text
}

// stated tells whether a job asks for jack screws of a size.
func stated(size string) bool {
	_, ok := params.FastenerOf(size)
	return ok
}

func screws(k *Jacking) string {
	if k.Screws == 1 {
		return "one " + k.Size + " jack screw"
	}
	return fmt.Sprintf("%d %s jack screws", k.Screws, k.Size)
}

// torques are those of a screw, by how it rubs, and where to stop.
func torques(k *Jacking) string {
	n := func(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }
	stop := fmt.Sprintf("never above %s N·m (friction %g)", n(k.Stop), Frictions[0])
	if k.Torque[1] >= k.Stop {
		return stop
	}
	return fmt.Sprintf("%s N·m, %s to %s by friction, %s", n(k.Torque[1]), n(k.Torque[0]), n(k.Torque[2]), stop)
}

// Newtons prints a force in N to what such estimates are worth.
func Newtons(v float64) string {
	d := 0
	if v < 10 {
		d = 1
	}
	return strconv.FormatFloat(v, 'f', d, 64) + " N"
}

// Warnings are parting lines that nothing parts, or whose edges are crushed before even
// the peeling begins. That suction may be more than bars give is none.
func (o *Opening) Warnings() params.Faults {
	var out params.Faults
	add := func(cause, hint string, with ...string) {
		out = append(out, params.Fault{Path: "mold.pry_slots.width", Value: params.Format(params.Length, o.job.Mold.PrySlots.Width), Cause: cause, Hint: hint, With: with})
	}
	said := map[string]bool{}
	for i := range o.Pieces {
		p := &o.Pieces[i]
		for k := range p.Bars {
			b := &p.Bars[k]
			push := p.Jacks.All()
			if said[b.Line] || b.Arms || push > 0 && push >= p.Sticks() {
				continue
			}
			said[b.Line] = true
			switch {
			case !b.Placed && push == 0:
				hint := "a bar needs a slot to part it"
				if p.Jackable && !stated(p.Jacks.Size) {
					hint += "; or state mold.jacks.size"
				}
				add(fmt.Sprintf("%s has %s, and no jack screw", b.Line, lacking(b, p.plateLine)), hint, "mold.pry_slots.depth", "mold.jacks.size")
			case max(b.All(), push) < p.Sticks():
				cause, hint := fmt.Sprintf("bars on %s give %s at most without crushing or overreaching", b.Line, Newtons(b.All())), "a register with clearance, wider slots, or jack screws"
				if push > 0 {
					cause, hint = cause+", jack screws "+Newtons(push), "a register with clearance, or wider slots"
				}
				add(cause+", and to peel and to draw the register may take "+Newtons(p.Sticks()), hint, "process.bearing", "mold.jacks.size")
			}
		}
	}
	return out
}

// lacking tells what a line has instead of slots in the right places.
func lacking(b *Pry, plate bool) string {
	switch {
	case b.Slots == 0:
		return "no pry slot"
	case plate:
		return "no two pry slots opposite each other, so that a bar tilts the plate"
	}
	return "no pry slot on one of its sides"
}
