package report

import (
	"fmt"
	"strings"

	"wheelmold/mold"
	"wheelmold/mold/cure"
	"wheelmold/mold/flash"
	"wheelmold/mold/pour"
	"wheelmold/params"
)

// state tells in a word whether something asks for work.
type state string

const (
	fine state = "fine"
	mind state = "look"
	act  state = "act"
)

// outcome is one thing that will happen: what, how it looks, and the figures that
// say so.
type outcome struct {
	Name    string
	State   state
	Says    string
	Figures []figure
}

// figure is a number that a builder acts on, with what it rests on.
type figure struct {
	Name  string
	Value string  // as shown, with its unit
	Key   string  // in the JSON
	Raw   float64 // there
	Note  string  // method, and uncertainty or assumption
	N     int     // of the note
}

// outcomes are the summary, in the order in which they decide.
func (b *Build) outcomes() []outcome {
	out := []outcome{b.Pour.mixOutcome(), b.Pour.timeOutcome()}
	if b.Flash != nil {
		out = append(out, b.Flash.outcome())
	}
	if b.Release != nil {
		o := b.Release.outcome()
		if b.Opening != nil {
			b.Opening.judge(&o)
		}
		out = append(out, o)
	}
	out = append(out, b.Pour.Air.outcome(), b.Pour.wheelOutcome())
	if _, told := b.Pour.Cure.heat(); told {
		out = append(out, b.Pour.Cure.outcome())
	}
	if o, known := b.costOutcome(); known {
		out = append(out, o)
	}
	if b.Service != nil {
		out = append(out, b.Service.outcome())
	}
	if b.Worth != nil {
		out = append(out, b.Worth.outcome())
	}
	if b.Printing != nil {
		out = append(out, b.Printing.outcome())
	}
	if b.Machining != nil {
		out = append(out, b.Machining.outcome())
	}
	out = append(out, b.moldOutcome())
	n := 0
	for i := range out {
		for k := range out[i].Figures {
			n++
			out[i].Figures[k].N = n
		}
	}
	return out
}

func (r *Pour) mixOutcome() outcome {
	o := outcome{Name: "Mix", State: fine, Says: fmt.Sprintf("%s, %s : %s by %s", count(r.Batches, "batch", "batches"), number(r.PartsA, 4), number(r.PartsB, 4), r.RatioBy)}
	if r.Batches > 1 {
		o.State = mind
	}
	if len(r.Unstated) > 0 {
		o.State, o.Says = mind, o.Says+"; figures of the data sheet are assumed: see Pour"
	}
	o.Figures = []figure{
		{Name: "mixed in all", Value: weighed(r.Mixed), Key: "pour.mixed_g", Raw: r.Mixed,
			Note: fmt.Sprintf("Cavity %s (closed form) and channels %s at %s g/cm³, flash %s that 9 of 10 casts stay below, margin %s, residue %s. %s.",
				grams(r.Rubber), grams(r.Channels), number(r.Density, 4), grams(r.Flash), grams(r.Margin), grams(r.Residue), upper(r.residue()))},
		{Name: "each batch", Value: weighed(r.Batch.Weighed), Key: "pour.batch.weighed_g", Raw: r.Batch.Weighed,
			Note: fmt.Sprintf("As the scale's steps have it, which puts the ratio off by %s. It fills %s of the bucket.", percent(r.Scale.Ratio), percent(r.Batch.Share))},
		{Name: "into the mold", Value: weighed(r.Poured), Key: "pour.poured_g", Raw: r.Poured,
			Note: "Rubber, channels to pour.fill, and flash. The density is that of the cured rubber, from the data sheet or assumed: the mass is off by as much as it is."},
	}
	for i, c := range r.Batch.Components {
		o.Figures = append(o.Figures, figure{Name: "weigh " + c.Name, Value: shopScale(r.Scale.Step).inGrams(c.Add), Key: fmt.Sprintf("pour.batch.components.%d.add_g", i), Raw: c.Add,
			Note: fmt.Sprintf("The scale then shows %s; exact would be %s g.", shopScale(r.Scale.Step).shown(c.Shows), number(c.Exact, 3))})
	}
	return o
}

func (r *Pour) timeOutcome() outcome {
	c, s := &r.Clock, &r.Sprue
	o := outcome{Name: "Time", State: fine, Says: r.Verdict}
	switch pour.Verdict(r.Verdict) {
	case pour.Hurried:
		o.State = mind
	case pour.Restricted, pour.Late:
		o.State = act
	}
	if r.Batches > 1 && c.NextUntil > 0 && !c.InTime {
		o.State, o.Says = act, o.Says+"; the next batch comes too late, unless more hands mix it"
	}
	in := figure{Name: "a batch is poured in", Value: span(s.Wanted), Key: "pour.sprue.wanted_s", Raw: s.Wanted,
		Note: "As the job has it (pour.duration): the top is open, no gate slows it."}
	if s.Run != nil {
		in = figure{Name: "a batch runs in within", Value: span(*s.Run), Key: "pour.sprue.pour_s", Raw: *s.Run,
			Note: fmt.Sprintf("Viscous flow through %s with the mouth kept full; ends and velocity counted. Good within a third: how the mix thickens is hardly ever known.", channelsOf(s.Count, "gate", s.Gate))}
	}
	o.Figures = []figure{
		in,
		{Name: "begin to pour by", Value: span(c.BeginBy), Key: "pour.clock.begin_by_s", Raw: c.BeginBy,
			Note: fmt.Sprintf("From first mixing. The latest begin at which the batch is in while bucket and mold still flow, until %s, thickening counted; but no sooner than pour.start, even if that is too late.", span(c.Due))},
		{Name: "pot life ends", Value: span(c.PourBy), Key: "pour.clock.pour_by_s", Raw: c.PourBy,
			Note: "The data sheet's figure at the mix's temperature (twice as fast per 10 K: rule of thumb). A full bucket heats itself and ends sooner: time it."},
		{Name: "demold from", Value: days(r.Cure.Earliest), Key: "pour.cure.demold_from_s", Raw: r.Cure.Earliest,
			Note: fmt.Sprintf("At the mold's temperature, twice as fast per 10 K (rule of thumb). Open by %s: later it grips harder. Full cure after %s.", days(r.Cure.Latest), days(r.Cure.Full))},
	}
	return o
}

// worst is the parting line with most of something, and its place in the list.
func (f *Flash) worst(of func(*FlashLine) float64) (l *FlashLine, at int) {
	for i := range f.Lines {
		if of(&f.Lines[i]) > of(&f.Lines[at]) {
			at = i
		}
	}
	return &f.Lines[at], at
}

// stateOf tells whether a grade of flash asks for work.
func stateOf(grade string) state {
	switch grade {
	case flash.Tight.String(), flash.Feather.String():
		return fine
	case flash.Fringe.String():
		return mind
	}
	return act
}

func (f *Flash) outcome() outcome {
	w, at := f.worst(func(l *FlashLine) float64 { return l.Mass })
	d, drips := f.worst(func(l *FlashLine) float64 { return l.Drips })
	o := outcome{Name: "Joints", State: stateOf(f.Grade), Says: fmt.Sprintf("%s: %s; the worst is %s, %s", f.Grade, f.Meaning, w.Name, w.Grade)}
	if f.Stack.Slack < 0 {
		o.State, o.Says = act, o.Says+"; the hub is longer than its place and holds the mold open"
	}
	o.Figures = []figure{
		{Name: "lost between the pieces", Value: f.Lost.range2(), Key: "flash.lost_g.p50", Raw: f.Lost.P50,
			Note: fmt.Sprintf("An estimate: %d draws of the inputs that nobody knows; 1 in 10 casts loses less than the first figure, 1 in 10 more than the last. Half of them lose less than %s. %s.", f.Draws, grams(f.Lost.P50), upper(f.Note))},
		{Name: "worst joint: " + w.Name, Value: significant(w.Mass) + " g", Key: fmt.Sprintf("flash.lines.%d.mass_g", at), Raw: w.Mass,
			Note: fmt.Sprintf("Flash and leak that half of the draws stay below; %s. An estimate until a cast confirms it.", w.Reason)},
		{Name: "drips soonest: " + d.Name, Value: percent(d.Drips), Key: fmt.Sprintf("flash.lines.%d.drip_chance", drips), Raw: d.Drips,
			Note: fmt.Sprintf("Chance that more than a drop leaves the mold there, of %d draws; %s. %s.", f.Draws, d.Verdict, upper(d.Land.text()))},
	}
	return o
}

// range2 prints a band of masses, the median between its ends.
func (b *Band) range2() string {
	return fmt.Sprintf("%s to %s g, usually %s", significant(b.P10), significant(b.P90), significant(b.P50))
}

func (a *Air) outcome() outcome {
	o := outcome{Name: "Air", State: fine}
	note := fmt.Sprintf("The liquid rises slowly and level, %s, in columns of %s mm with exact heights; pockets under 4 mm³ are not told.", a.stance(), number(a.Cell, 2))
	switch {
	case a.NoVents:
		o.State, o.Says = act, "no vent: all air leaves through the sprue"
	case len(a.Traps) > 0:
		o.State, o.Says = act, count(len(a.Traps), "trap", "traps")+": see Pour for what frees it"
		note += " With columns twice as wide it changes by " + pocket(a.Doubt) + "."
	case a.Roof.Level && a.Roof.Area > 0:
		o.State, o.Says = mind, "no trap, but the top face is level: bubbles that reach it stay as pits in the wheel's "+a.Roof.Face
	case a.OpenTop:
		o.Says = "no trap: all of it leaves over the open top"
	default:
		o.Says = "no trap: all of it finds a vent"
	}
	if !a.NoVents { // without, nobody counted
		o.Figures = []figure{{Name: "air that stays", Value: pocket(a.Volume), Key: "pour.air.trapped_mm3", Raw: a.Volume, Note: note}}
	}
	if a.Roof.Area > 0 {
		o.Figures = append(o.Figures, a.roofFigure())
	}
	return o
}

func (a *Air) roofFigure() figure {
	r := &a.Roof
	f := figure{Name: "top face, level", Value: cm2(r.Area), Key: "pour.air.roof.area_mm2", Raw: r.Area, Note: "Area of the cavity's roof by columns."}
	if !r.Level {
		f.Name = "top face, sloping"
	}
	if r.Covered > 0 {
		f.Note += fmt.Sprintf(" The cover hides %s of it.", percent(r.Covered/r.Area))
	}
	if !a.NoVents {
		f.Note += fmt.Sprintf(" Its farthest point is %s mm from a vent.", number(r.Farthest, 0))
	}
	return f
}

func (r *Pour) wheelOutcome() outcome {
	s, w := &r.Shrinkage, &r.Weights
	o := outcome{Name: "Wheel", State: fine, Says: fmt.Sprintf("%s mm wanted; cavity %s mm, with the allowance for shrinkage", number(s.Wanted, 2), number(s.Cavity[0], 2))}
	widest := &Doubt{}
	for i := range s.Doubts {
		if d := &s.Doubts[i]; d.Most-d.Least > widest.Most-widest.Least {
			widest = d
		}
	}
	note := "Finite elements of a plain bonded hub, in the middle of the width."
	if widest.Of != "" {
		note += fmt.Sprintf(" It may come out between %s and %s mm, by the closed-form limits for ends that are held or free, if cooling and the reaction's shrinkage are as far off as they may be. Measure the first wheel.", number(widest.Least, 2), number(widest.Most, 2))
	}
	o.Figures = []figure{
		{Name: "cured diameter", Value: length2(s.Middle), Key: "pour.shrinkage.expected_in_the_middle_mm", Raw: s.Middle, Note: note},
		{Name: "weight", Value: weighed(w.Wheel), Key: "pour.weights.wheel_g", Raw: w.Wheel,
			Note: fmt.Sprintf("Hub by its volume and material, rubber %s once shrunk. Lighter by more than %s holds a void: density, cooling and the scale are not known better.", grams(w.Rubber), grams(w.Void))},
		{Name: "full mold to lift", Value: lift(w.Lift), Key: "pour.weights.full_mold_g", Raw: w.Lift,
			Note: "Pieces by exact volumes and the process's density, rubber and hub; without bolts."},
	}
	return o
}

// outcome is how mold and hub stand the rubber's warmth.
func (c *Cure) outcome() outcome {
	s, _ := c.heat()
	return outcome{Name: "Heat", State: s, Says: c.parts() + c.cooler(), Figures: []figure{
		{Name: "rubber as it gels", Value: warmth(c.Gel), Key: "pour.cure.gel_temperature_c", Raw: c.Gel,
			Note: fmt.Sprintf("pour.gel_temperature, an estimate until a first cast is measured. A part that softens less than %s K above it is too hot.", number(cure.SofteningMargin, 0))},
		{Name: "at most", Value: warmth(c.Peak), Key: "pour.cure.most_temperature_c", Raw: c.Peak,
			Note: fmt.Sprintf("If none of the reaction's heat were lost, %s K: thick rubber in plastic comes near it. A part that softens less than %s K above it is at risk.", number(params.AdiabaticRise, 0), number(cure.SofteningMargin, 0))},
	}}
}

// costOutcome is what the builder pays: for the urethane of each wheel, and once for what
// a shop makes.
func (b *Build) costOutcome() (o outcome, known bool) {
	switch {
	case b.Pour.Kits != nil:
		o = b.Pour.costOutcome()
	case b.Effort != nil:
		o = outcome{Name: "Cost", State: mind, Says: "of what a shop makes, in your currency; no price of a kit is stated (pour.kit)"}
	default:
		return o, false
	}
	if b.Effort != nil {
		o.Figures = append(o.Figures, b.Effort.figures()...)
	}
	return o, true
}

func (r *Pour) costOutcome() outcome {
	k := r.Kits
	o := outcome{Name: "Cost", State: fine, Says: "of the urethane, in your currency"}
	for _, key := range r.Unstated {
		if strings.HasPrefix(key, "pour.kit.") {
			o.State, o.Says = mind, "of the urethane, in your currency; kit size or price is assumed (pour.kit)"
		}
	}
	kits := 0
	for _, s := range k.Systems {
		kits += s.Kits
	}
	o.Figures = []figure{
		{Name: "urethane in a wheel", Value: number(k.Material, 2), Key: "pour.kits.cost_per_wheel_by_use", Raw: k.Material,
			Note: "What is mixed, margin and residue included, at the kit's price by mass. Mold, hub, release agent and work are not in it."},
		{Name: "with whole kits", Value: number(k.Bought, 2), Key: "pour.kits.cost_per_wheel_by_kits", Raw: k.Bought,
			Note: fmt.Sprintf("%s for %s; what is left in an opened can is lost.", count(kits, "kit", "kits"), count(r.Wheels, "wheel", "wheels"))},
	}
	return o
}

func (b *Build) moldOutcome() outcome {
	c := &b.Closure
	o := outcome{Name: "Mold", State: fine, Says: fmt.Sprintf("%s, %s%s; made here: %s", b.Outline.Shape, b.Process, b.splitWords(), strings.Join(b.titles(), ", "))}
	o.Figures = []figure{
		{Name: "block, mm", Value: size(b.Outline.Size, 1, 2), Key: "outline.size_mm.0", Raw: b.Outline.Size[0],
			Note: fmt.Sprintf("%s in. The job's figures and the layout that follows from them, exact.", size(b.Outline.Size, 25.4, 3))},
		{Name: "rubber", Value: cm3(b.Rubber.ClosedForm, 2), Key: "rubber.closed_form_mm3", Raw: b.Rubber.ClosedForm,
			Note: fmt.Sprintf("Closed form (Pappus-Guldin); line integrals over the exact boundary agree %s.", within(b.Rubber.Boundary/b.Rubber.ClosedForm-1))},
		{Name: "parts add up", Value: within(c.Exact), Key: "closure.exact_residue", Raw: c.Exact, Note: c.text()},
	}
	return o
}

// titles are the names of the pieces that were made, for a reader.
func (b *Build) titles() (out []string) {
	for _, p := range b.Pieces {
		out = append(out, mold.Title(p.Name))
	}
	return out
}

// weighed prints a mass as a shop scale shows it.
func weighed(g float64) string {
	switch {
	case g < 100:
		return fmt.Sprintf("%s g (%s oz)", number(g, 1), number(g/gramsPerOunce, 2))
	case g < 10_000:
		return fmt.Sprintf("%s g (%s lb)", number(g, 0), number(g/gramsPerPound, 2))
	}
	return lift(g)
}

// length2 prints mm and inches to what a caliper reads.
func length2(mm float64) string {
	return fmt.Sprintf("%s mm (%s in)", number(mm, 2), number(mm/25.4, 3))
}

// upper begins a sentence.
func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
