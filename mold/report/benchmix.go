package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"wheelmold/mold/cure"
	"wheelmold/mold/mix"
)

// mix is what to weigh and how to stir. Batches are equal, so that one column of
// readings serves them all; a box per batch.
func (b *bench) mix() []Step {
	j, x := &b.m.Job.Pour, b.p.Mix
	head := fmt.Sprintf("%s Scale reads %s; zero it with the bucket on. A and B at %s.", b.ratio(), b.step(), warmth(j.MixTemperature))
	if n := x.Batches; n > 1 {
		head = fmt.Sprintf("%d batches alike%s. %s", n, b.shared(), head)
	}
	if j.Pigment > 0 {
		head += " Pigment: into A or B first if its label says so."
	}
	stir := fmt.Sprintf("Stir %s, scrape wall and bottom", span(j.Stir))
	if j.Bucket.Vessels > 1 {
		stir += "; at half time pour it into a clean bucket, not scraped"
	}
	scraping := fmt.Sprintf("Stir %s, scraping", span(j.Stir))
	if j.Bucket.Vessels > 1 {
		scraping += "; half time: clean bucket, not scraped"
	}
	settle := fmt.Sprintf("Stand %s for the bubbles. Then pour", span(j.Start-j.Stir))
	switch {
	case j.Start-j.Stir < 0.5:
		settle = "Pour at once"
	case j.Degas == "vacuum":
		settle = fmt.Sprintf("Vacuum, %s at most, behind a guard: it foams up, falls, stop. Then pour", span(j.Start-j.Stir))
	}
	return []Step{
		know("%s", head), {Table: b.readings()},
		do("A meets B, start the timer: %s", b.begins()),
		b.each(do("%s. It stands %s high in it.", stir, length(x.Batch.Height)).or("%s.", scraping)),
		b.each(do("%s, no scraping: what sticks is unmixed.", settle).or("%s, no scraping.", settle)),
	}
}

// ratio tells what the label must say.
func (b *bench) ratio() string {
	j := &b.m.Job.Pour
	assumed := ""
	if len(b.m.Job.Unstated("pour.parts_a", "pour.parts_b")) == 2 {
		assumed = ", ASSUMED: see the label"
	}
	one := fmt.Sprintf("%s:%s", number(j.PartsA, 4), number(j.PartsB, 4))
	if b.p.Mix.Blend != nil {
		one = fmt.Sprintf("%s (%s A), %s:%s (%s A)", one, number(j.Hardness, 0), number(j.Blend.PartsA, 4), number(j.Blend.PartsB, 4), number(j.Blend.With, 0))
	}
	return fmt.Sprintf("A:B %s by %s%s.", one, j.RatioBy, assumed)
}

// shared tells which molds a batch fills.
func (b *bench) shared() string {
	batches, molds := b.p.Mix.Batches, max(b.p.Options.Molds, 1)
	switch {
	case molds == 1:
		return ""
	case batches == molds:
		return ", one for each mold"
	case batches < molds:
		return fmt.Sprintf(", each for %d molds", molds/batches)
	}
	return fmt.Sprintf(", %d for each mold, one mold after the other", batches/molds)
}

// begins are blanks for the time at which A meets B, or that time, batch by batch.
func (b *bench) begins() string {
	var parts []string
	for i := range b.p.Mix.Batches {
		at := "____:____"
		if !b.start.IsZero() {
			at = clock(b.batchStart(i), 0)
		}
		if b.p.Mix.Batches > 1 {
			at = fmt.Sprintf("%d) %s", i+1, at)
		}
		parts = append(parts, at)
	}
	return strings.Join(parts, "  ")
}

// batchStart is when A meets B in a batch, each as soon as hands are free or must be.
func (b *bench) batchStart(i int) time.Time {
	c := &b.p.Clock
	after := 60 * math.Ceil(c.NextFrom/60) // the clock shows whole minutes
	if c.NextUntil > 0 {
		after = min(after, c.NextUntil)
	}
	return b.start.Add(time.Duration(float64(i) * after * float64(time.Second)))
}

// closing is by when the pressure has to be up: while a mold's last batch still flows.
func (b *bench) closing() string {
	n, until := b.p.Mix.Batches, b.p.Clock.TopUp
	switch {
	case n < 2:
		return clock(b.start, until)
	case b.p.Options.Molds > 1:
		return "its last top up"
	case b.start.IsZero():
		return span(until) + " of the last batch"
	}
	return clock(b.batchStart(n-1), until)
}

// each gives a step a box per batch, of a few batches.
func (b *bench) each(s Step) Step {
	if n := b.p.Mix.Batches; n > 1 && n <= boxesAcross {
		boxes := strings.Repeat(" []", n-1) // without a space, where lines are folded
		s.Text += boxes
		if s.brief != "" {
			s.brief += boxes
		}
	}
	return s
}

// boxesAcross is how many boxes stand beside the longest readings on one page; of
// more batches the builder keeps a tally.
const boxesAcross = 5

// readings is the table of what the scale shows, a box per batch.
func (b *bench) readings() [][]string {
	x := b.p.Mix
	boxes := strings.TrimSpace(strings.Repeat("[ ] ", x.Batches))
	if x.Batches > boxesAcross {
		boxes = fmt.Sprintf("____ of %d", x.Batches)
	}
	rows := [][]string{{"add", "", "scale shows", ""}}
	for _, c := range x.Batch.Components {
		if c.Set == 0 {
			rows = append(rows, []string{c.Name, "in drops"})
			continue
		}
		row := []string{c.Name, b.weight(c.Set), b.weight(c.Total), boxes}
		if b.m.Job.Pour.RatioBy == "volume" && c.Volume > 0 {
			row = append(row, fmt.Sprintf("%.*f ml", max(0, decimals(b.m.Job.Pour.Scale.Resolution)), c.Volume))
		}
		rows = append(rows, row)
	}
	return rows
}

// scale is the one that the masses are read off.
func (b *bench) scale() shopScale { return shopScale(b.m.Job.Pour.Scale.Resolution) }

// step prints the scale's.
func (b *bench) step() string { return b.scale().step() }

// weight prints a mass as finely as the scale shows it, and in pounds or ounces.
func (b *bench) weight(g float64) string {
	s := b.scale()
	if _, ok := s.ounces(); ok {
		return s.shown(g) + fmt.Sprintf(" (%.0f g)", g)
	}
	if b.p.Mix.Batch.Weighed >= 1000 {
		return s.shown(g) + fmt.Sprintf(" (%.2f lb)", g/gramsPerPound)
	}
	return s.shown(g) + fmt.Sprintf(" (%.*f oz)", min(decimals(float64(s))+1, 3), g/gramsPerOunce)
}

// shown prints a mass as the scale shows it.
func (b *bench) shown(g float64) string { return b.scale().shown(g) }

// atLeast prints a mass as the scale shows it, rounded up.
func (b *bench) atLeast(g float64) string {
	step := b.m.Job.Pour.Scale.Resolution
	return b.shown(math.Ceil(g/step-1e-9) * step)
}

// pour is the clock and the work against it.
func (b *bench) pour() []Step {
	p, j := b.p, &b.m.Job.Pour
	out := []Step{{Table: b.clocks()}}
	if p.Mix.Batches > 1 {
		out = append(out, b.next())
	}
	out = append(out, b.each(b.stream()))
	mark := b.mark()
	fill := do("Fill %s. Tap, top up. Joint weeps: clay on it.", mark)
	if p.Mix.Batches > max(p.Options.Molds, 1) {
		fill = do("Fill with the last %s. Tap, top up. Weeps: clay.", mark).or("Last: fill %s. Tap, top up. Weeps: clay.", mark)
	}
	out = append(out, fill)
	if j.Degas == "pressure" {
		out = append(out, do("Rated pressure pot, relief valve clear, before %s: %s.", b.closing(), pressure(j.PotPressure)))
	}
	out = append(out, do("Cure button: a little of each batch into a cup, dated, beside the mold."))
	return append(out, b.gelling()...)
}

// gelling keeps a mold or hub in shape that the rubber's own warmth may soften.
func (b *bench) gelling() []Step {
	h := &b.p.Heat
	if len(h.Threatened(cure.AtRisk)) == 0 {
		return nil
	}
	var soft []string
	for _, part := range h.Parts {
		if part.Softens == h.Softens() {
			soft = append(soft, part.Name)
		}
	}
	verb := "softens"
	if len(soft) > 1 {
		verb = "soften"
	}
	most := warmth(h.Softens() - cure.SofteningMargin)
	return []Step{do("It warms as it gels: do not squeeze, move or heat it; moving air. No oven cure above %s: %s %s from %s.", most, strings.Join(soft, " and "), verb, warmth(h.Softens())).
		or("It warms as it gels: leave it, moving air. No oven above %s.", most)}
}

// clockRows is how many batches get a row of times each; more would fill the page.
const clockRows = 3

// clocks is when each step is due: since A met B, the same for all batches, or by
// the clock on the wall, batch by batch.
func (b *bench) clocks() [][]string {
	c, batches := &b.p.Clock, b.p.Mix.Batches
	head := []string{"stop stirring", "pour", "begin by", "done by", "top up until", "gels"}
	row := func(start time.Time) (out []string) {
		for _, s := range []float64{c.StirEnd, c.PourStart, c.BeginBy, c.Due(), c.TopUp, c.Gel} {
			out = append(out, clock(start, s))
		}
		return out
	}
	switch {
	case batches < 2:
		return [][]string{head, row(b.start)}
	case b.start.IsZero() || batches > clockRows:
		return [][]string{head, row(time.Time{})}
	}
	rows := [][]string{append([]string{"batch"}, head...)}
	for i := range batches {
		rows = append(rows, append([]string{strconv.Itoa(i + 1)}, row(b.batchStart(i))...))
	}
	return rows
}

// next tells when to begin with the next batch.
func (b *bench) next() Step {
	c, into := &b.p.Clock, ""
	if b.p.Options.Molds > 1 {
		into = " for the same mold"
	}
	switch {
	case c.NextUntil == 0:
		return do("Next batch, for another mold: A meets B %s after the last one's, or later.", span(c.NextFrom)).
			or("Next batch, for another mold: A meets B after %s or later.", span(c.NextFrom))
	case c.InTime():
		return do("Next batch%s: A meets B %s to %s after the last one's. After %s: no bond.", into, span(c.NextFrom), span(c.NextUntil), span(c.JointAt)).
			or("Next batch: A meets B after %s to %s. After %s: no bond.", span(c.NextFrom), span(c.NextUntil), span(c.JointAt))
	}
	return do("Next batch%s, by more hands: A meets B up to %s after the last one's. After %s: no bond.", into, span(c.NextUntil), span(c.JointAt))
}

func funnel(height float64) string {
	if height == 0 {
		return ""
	}
	return " " + length(height) + " over the mouth"
}

// mouths tells where to pour.
func (b *bench) mouths() string {
	if n := len(b.m.Layout.Gates); n > 1 {
		return fmt.Sprintf("all %d sprues", n)
	}
	return "sprue"
}

// buy tells what to have at hand.
func buy(k *mix.Kits) string {
	if k == nil {
		return ""
	}
	var parts []string
	for _, s := range k.Systems {
		name := "kit"
		if s.Kits != 1 {
			name = "kits"
		}
		parts = append(parts, strings.TrimSpace(fmt.Sprintf("%d %s %s", s.Kits, name, ofSystem(s.Name)))+fmt.Sprintf(" (%s left)", lift(s.Left)))
	}
	return strings.Join(parts, ", ")
}

func ofSystem(name string) string {
	if name == "" {
		return ""
	}
	return "of " + name
}
