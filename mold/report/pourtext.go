package report

import (
	"fmt"
	"strings"

	"wheelmold/mold/cure"
	"wheelmold/params"
)

// text prints the pour: what to mix and why so much, times, what the channels
// let through, air, bubbles, and the wheel once it is cured.
func (r *Pour) text(p teller) {
	p.row("pour, for one mix; the sheet for the bench is printed by the command pour.")
	p.row()
	r.balance(p)
	r.batches(p)
	r.money(p)
	p.row()
	r.assumptions(p)
	r.times(p)
	r.flow(p)
	r.Air.text(p)
	r.rise(p)
	p.row()
	r.cured(p)
}

// assumptions prints the verdict, and what it rests on.
func (r *Pour) assumptions(p teller) {
	p.note("verdict", "", r.Verdict)
	if len(r.Unstated) > 0 {
		p.note("assumed", "", "not in the job, so taken as usual: "+strings.Join(r.Unstated, ", ")+". Compare with the label and data sheet")
	}
	if len(r.Assumed) > 0 {
		p.note("rests on", "", strings.Join(r.Assumed, "; "))
	}
}

// balance prints where all that is mixed ends up.
func (r *Pour) balance(p teller) {
	per := ""
	if r.Molds > 1 {
		per = fmt.Sprintf(", in %d molds", r.Molds)
	}
	p.note("rubber", grams(r.Rubber), fmt.Sprintf("fills the cavity at %s g/cm³%s", number(r.Density, 4), per))
	p.note("channels", grams(r.Channels), "sprue and vents up to pour.fill, closed form")
	p.note("flash", grams(r.Flash), "estimate: 9 of 10 casts lose less between the pieces")
	p.note("margin", grams(r.Margin), "spare for spills and topping up (pour.margin)")
	p.note("residue", grams(r.Residue), r.residue())
	p.note("mixed", grams(r.Mixed), "sum of these")
}

func (r *Pour) residue() string {
	if r.Stays != 1 {
		return fmt.Sprintf("clings to buckets and paddle, x %s as your casts showed (calibration.residue)", number(r.Stays, 2))
	}
	switch r.By {
	case "share":
		return "stays in bucket and on tools, the share that was stated (pour.waste)"
	case "depth":
		return "stays on the bottom of the buckets (pour.bucket.residue)"
	}
	return "stays as a film on buckets and paddle (pour.bucket.film, assumed until an emptied bucket is weighed)"
}

// batches prints what to weigh.
func (r *Pour) batches(p teller) {
	if r.Batches == 0 {
		return
	}
	what := count(r.Batches, "batch", "batches")
	var why []string
	for _, l := range r.Limits {
		if l.Decides {
			why = append(why, l.text())
		}
	}
	text := fmt.Sprintf("fill %s of the bucket, %s high", percent(r.Batch.Share), length(r.Batch.Height))
	if len(why) > 0 {
		text = strings.Join(why, "; ") + "; each: " + text
	}
	on := shopScale(r.Scale.Step)
	p.note(what, on.inGrams(r.Batch.Weighed), text)
	for _, c := range r.Batch.Components {
		p.note("  "+c.Name, on.inGrams(c.Add), "the scale then shows "+on.shown(c.Shows))
	}
	p.note("ratio", fmt.Sprintf("%s : %s", number(r.PartsA, 4), number(r.PartsB, 4)),
		fmt.Sprintf("by %s; rounding to the scale puts it off by %s; half a step is %s of %s", r.RatioBy, percent(r.Scale.Ratio), percent(r.Scale.HalfStep), r.Scale.Smallest))
	if b := r.Blend; b != nil {
		p.note("blend", number(b.Wanted, 1)+" Shore A", fmt.Sprintf("%s of %s A and %s of %s A, ± %s: linear by mass, same family only; cast a button first",
			percent(b.Share[0]), number(b.Of[0], 1), percent(b.Share[1]), number(b.Of[1], 1), number(b.Uncertainty, 0)))
	}
}

// text says why a limit asks for more than one batch.
func (l *Limit) text() string {
	says := map[string]string{
		"bucket": "the bucket takes at most %s below its head room", "scale": "the scale carries %s",
		"batch mass": "batches of at most %s are asked for", "pot life": "at most %s run in within the pot life",
	}[l.Name]
	return fmt.Sprintf(says, grams(l.Most)) + " (" + l.Key + ")"
}

// money prints kits and cost.
func (r *Pour) money(p teller) {
	k := r.Kits
	if k == nil {
		return
	}
	for _, s := range k.Systems {
		p.note(strings.TrimSpace("kits "+s.Name), fmt.Sprint(s.Kits), fmt.Sprintf("for %s: %s used, %s left; %s (pour.kit.mass)", count(r.Wheels, "wheel", "wheels"), lift(s.Used), lift(s.Left), perKit(s.Wheels)))
	}
	p.note("cost", number(k.Material, 2), fmt.Sprintf("of the urethane in one wheel, in your currency; %s with whole kits (pour.kit.price)", number(k.Bought, 2)))
}

func perKit(n int) string {
	if n == 0 {
		return "one kit is not enough for a wheel"
	}
	return "one kit makes " + count(n, "wheel", "wheels")
}

// times prints the clock.
func (r *Pour) times(p teller) {
	c := &r.Clock
	p.note("stir until", span(c.StirEnd), "from first mixing, as all times here (pour.stir)")
	p.note("pour", span(c.PourStart)+" to "+span(c.PourEnd), "pot life ends at "+span(c.PourBy)+" at the mix's temperature (pour.pot_life, pour.mix_temperature)")
	p.note("top up until", span(c.TopUp), "in the mold, at its temperature; gels at "+span(c.Gel))
	if r.Batches > 1 {
		text := "begin mixing it so long after the one before, and it joins well; after " + span(c.JointAt) + " not at all"
		if !c.InTime {
			text += "; hands are free from " + span(c.NextFrom) + " only"
		}
		if c.NextUntil == 0 {
			p.note("next batch", "from "+span(c.NextFrom), "begin mixing it so long after the one before, or later: it goes into another mold")
		} else {
			from := span(c.NextFrom) + " to "
			if !c.InTime {
				from = "until "
			}
			p.note("next batch", from+span(c.NextUntil), text)
		}
	}
}

// flow prints what gates and vents let through.
func (r *Pour) flow(p teller) {
	s := &r.Sprue
	if s.Count == 0 {
		p.note("open top", cm3(s.Volume, 1), fmt.Sprintf("a batch, poured straight in as fast as you like (pour.duration, %s), at %s Pa·s; %s are left. No gates, no vents, no stubs", span(s.Wanted), number(s.Thick, 2), span(s.Left)))
		return
	}
	p.note("sprue", span(*s.Run), fmt.Sprintf("a batch of %s runs through %s with the mouth kept full, at %s Pa·s and a head of %s Pa; %s are left. Viscous flow, ends and velocity counted, Reynolds %s; good within a third, for the growth of viscosity is hardly ever known",
		cm3(s.Volume, 1), channelsOf(s.Count, "gate", s.Gate), number(s.Thick, 2), number(s.Head, 0), span(s.Left), short(s.Reynolds)))
	var parts []string
	for _, g := range s.Smallest {
		parts = append(parts, fmt.Sprintf("%d of %s mm (%s)", g.Count, orNone(g.InPotLife), orNone(g.Wanted)))
	}
	p.note("least gates", "", "for what bucket and scale allow at once, within the pot life, and in brackets within pour.duration, "+span(s.Wanted)+": "+strings.Join(parts, ", ")+"; mouths in proportion")
	if v := r.Vents; v != nil {
		p.note("vents", percent(v.Share), fmt.Sprintf("of the head pushes the air out through %s; %s mm would be wide enough", channelsOf(v.Count, "vent", v.Diameter), number(v.Smallest, 2)))
	}
	cut := "gates: " + s.Cut
	if v := r.Vents; v != nil {
		cut += "; vents: " + v.Cut
	}
	p.note("stubs", "", cut+" (rule of thumb)")
}

func channelsOf(n int, what string, d float64) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s of %s mm", n, what, number(d, 2))
}

func orNone(mm float64) string {
	if mm == 0 {
		return "none"
	}
	return number(mm, 1)
}

// short prints a number to two digits.
func short(v float64) string { return significant(v) }

// rise prints bubbles.
func (r *Pour) rise(p teller) {
	b := &r.Bubbles
	if b.Bucket[1] > 0 {
		p.note("bubbles", "from "+number(b.Bucket[0], 2)+" to "+number(b.Bucket[1], 2)+" mm",
			fmt.Sprintf("across, and larger ones, rise through %s and out of the bucket before the pour (clean surface to contaminated: Hadamard, Stokes)", length(b.Height)))
	} else {
		p.note("bubbles", "none", "leave the bucket: it is poured as soon as it is stirred (pour.settle)")
	}
	p.note("", "from "+number(b.Mold[0], 2)+" to "+number(b.Mold[1], 2)+" mm",
		fmt.Sprintf("across, and larger ones, rise through %s in the mold before it gels; smaller ones stay: pour in a thin stream, or use vacuum on the mix or a pressure pot (pour.degas), in vessels rated for it and behind a guard", length(b.Tall)))
	if b.Volume < 1 {
		p.note("", percent(b.Volume), fmt.Sprintf("of its volume is left of a bubble under pressure, %s of its diameter (Boyle)", percent(b.Diameter)))
	}
}

// heat tells whether what lies beside the rubber stands its warmth; not told where all
// of it does and nothing is printed.
func (c *Cure) heat() (s state, told bool) {
	s = fine
	for _, x := range c.Parts {
		switch {
		case x.Verdict == cure.TooHot:
			s = act
		case x.Verdict == cure.AtRisk && s == fine:
			s = mind
		}
	}
	return s, s != fine || len(c.Printed) > 0
}

// parts tells how each part stands it.
func (c *Cure) parts() string {
	var parts []string
	for _, x := range c.Parts {
		parts = append(parts, fmt.Sprintf("%s %s (softens from %s)", x.Part, x.Verdict, warmth(x.Softens)))
	}
	return strings.Join(parts, ", ")
}

// cooler tells what to do about a part that may not stand it.
func (c *Cure) cooler() string {
	s, _ := c.heat()
	switch s {
	case mind:
		return fmt.Sprintf("; while it gels do not squeeze, move or heat it, keep air moving over it; no oven cure above %s; measure a first cast (pour.gel_temperature)", warmth(c.Softens-cure.SofteningMargin))
	case act:
		return "; take a plastic that stands more, or a slower urethane"
	}
	return ""
}

// cured prints the wheel after cure.
func (r *Pour) cured(p teller) {
	s, c, w := &r.Shrinkage, &r.Cure, &r.Weights
	p.note("cavity", number(s.Cavity[0], 2)+" mm", fmt.Sprintf("for a wheel of %s mm: %s mm for the cure's %s, %s mm for cooling from %s (%s; pour.gel_temperature, an estimate)",
		number(s.Wanted, 2), number(s.ByCure, 2), percent(s.Reaction), number(s.ByCold, 2), warmth(c.Gel), percent(s.Cooling)))
	p.note("cured", number(s.Bonded[0], 2)+" to "+number(s.Ends[0], 2)+" mm", fmt.Sprintf("bonded to the hub, the ends held (plane strain) or free; width %s to %s mm; expected %s mm in the middle, %s mm at the ends (elements, a plain hub). A free bar's figure would say %s mm",
		number(s.Ends[1], 2), number(s.Bonded[1], 2), number(s.Middle, 2), number(s.Edges, 2), number(s.Free[0], 2)))
	for _, d := range s.Doubts {
		p.note("", number(d.Least, 2)+" to "+number(d.Most, 2)+" mm", "for "+d.Of)
	}
	if s.Ratio == 1 {
		p.note("", number(s.Per, 2)+" mm", "measure the first wheel: for so much that it is too large, lower mold.shrinkage by 0.1 %, or pour.gel_temperature; raise them if it is too small. If it lies outside all of the above, measure the cavity first")
	} else {
		p.note("", "x "+number(s.Ratio, 2), "as your casts showed (calibration.shrinkage): change neither mold.shrinkage nor pour.gel_temperature on top of it; log the next casts")
	}
	p.note("demold", days(c.Earliest)+" to "+days(c.Latest), fmt.Sprintf("full cure after %s, at the mold's temperature (twice as fast per 10 K: rule of thumb)", days(c.Full)))
	if s, told := c.heat(); told {
		p.note("heat", warmth(c.Gel)+" to "+warmth(c.Peak), fmt.Sprintf("%s: %s; expected at gel, and at most if no heat is lost (%s K of self-heating). A part must stay %s K cooler than it softens%s",
			s, c.parts(), number(params.AdiabaticRise, 0), number(cure.SofteningMargin, 0), c.cooler()))
	}
	trimmed := ""
	if w.Trim > 0 {
		trimmed = ", with " + grams(w.Trim) + " trimmed off"
	}
	p.note("weights", grams(w.Wheel), fmt.Sprintf("the wheel, of it rubber %s: less than was cast by what it shrinks%s; lighter by more than %s: a void (density and cooling not known better, and the scale's step); the next wheels show it against the first. Full mold %s without bolts", grams(w.Rubber), trimmed, grams(w.Void), lift(w.Lift)))
}
