package report

import (
	"fmt"
	"strings"
	"time"

	"wheelmold/mold/mix"
	"wheelmold/params"
)

// mix is what to weigh and how to stir. Batches are equal, so that one column of
// readings serves them all; a box per batch.
func (b *bench) mix() []Step {
	j, x := &b.m.Job.Pour, b.p.Mix
	bucket := &j.Bucket
	head := fmt.Sprintf("Scale to %s, zero with the bucket on. A and B at %s.", params.Format(params.Mass, j.Scale.Resolution), warmth(j.MixTemperature))
	if x.Batches > 1 {
		head = fmt.Sprintf("%d batches alike. %s", x.Batches, head)
	}
	stir := fmt.Sprintf("Stir %s, scrape wall and bottom", span(j.Stir))
	if bucket.Vessels > 1 {
		stir += "; halfway over into a clean bucket without scraping"
	}
	settle := fmt.Sprintf("Stand %s for the bubbles", span(j.Start-j.Stir))
	if j.Degas == "vacuum" {
		settle = fmt.Sprintf("Vacuum, %s at most, behind a guard: it foams up, falls, stop", span(j.Start-j.Stir))
	}
	return []Step{
		know("%s", head), {Table: b.readings()},
		do("%s. It stands %s high.", stir, length(x.Batch.Height)),
		do("%s. Then pour, no scraping: what sticks is unmixed.", settle),
	}
}

// readings is the table of what the scale shows, a box per batch.
func (b *bench) readings() [][]string {
	x := b.p.Mix
	boxes := strings.TrimSpace(strings.Repeat("[ ] ", x.Batches))
	rows := [][]string{{"add", "", "scale shows", ""}}
	for _, c := range x.Batch.Components {
		rows = append(rows, []string{c.Name, b.weight(c.Set), b.weight(c.Total), boxes})
	}
	return rows
}

// weight prints a mass as finely as the scale shows it, and in pounds or ounces.
func (b *bench) weight(g float64) string {
	d := decimals(b.m.Job.Pour.Scale.Resolution)
	if g >= 1000 {
		return fmt.Sprintf("%.*f g (%.2f lb)", d, g, g/453.59237)
	}
	return fmt.Sprintf("%.*f g (%.*f oz)", d, g, min(d+1, 3), g/28.349523125)
}

// shown prints a mass as the scale shows it.
func (b *bench) shown(g float64) string {
	return fmt.Sprintf("%.*f g", decimals(b.m.Job.Pour.Scale.Resolution), g)
}

// decimals is how many a reading of that resolution has.
func decimals(step float64) int {
	text := number(step, 6)
	_, fraction, _ := strings.Cut(text, ".")
	return len(fraction)
}

// pour is the clock and the work against it.
func (b *bench) pour() []Step {
	p, j, c := b.p, &b.m.Job.Pour, &b.p.Clock
	out := []Step{{Table: b.clocks()}}
	if p.Mix.Batches > 1 {
		out = append(out, b.next())
	}
	out = append(out, do("Thin stream, %s full%s; about %s.", b.mouths(), funnel(j.Funnel), span(c.PourEnd-c.PourStart)))
	mark := "to the brim"
	if below := b.m.Layout.Ceil - b.m.Tread.Top - j.Fill; below > 0.05 {
		mark = fmt.Sprintf("to %s below the lid's top", length(below))
	}
	if n := len(b.m.Layout.Vents); n > 0 {
		mark += fmt.Sprintf(", rubber in all %d vents", n)
	}
	out = append(out, do("Fill %s. Tap, top up. Joint weeps: clay on it.", mark))
	if j.Degas == "pressure" {
		out = append(out, do("Into the pressure pot before %s, %s, until cured. Rated pot, relief valve clear.", clock(b.start, c.TopUp), pressure(j.PotPressure)))
	}
	return append(out, do("Cure button: the last of the bucket into a cup, dated, beside the mold."))
}

// clocks is when each step is due: since A met B, or by the clock on the wall, and
// then the next batch begins as soon as it may.
func (b *bench) clocks() [][]string {
	c, batches := &b.p.Clock, b.p.Mix.Batches
	rows := [][]string{{"A meets B", "stop stirring", "pour", "done by", "top up until", "gels"}}
	for i := range batches {
		start, begins := b.start, "____:____"
		if !start.IsZero() {
			start = start.Add(time.Duration(float64(i) * min(c.NextFrom, c.NextUntil) * float64(time.Second)))
			begins = clock(start, 0)
		} else if batches > 1 {
			begins = fmt.Sprintf("%d at %s", i+1, begins)
		}
		row := []string{begins}
		for _, s := range []float64{c.StirEnd, c.PourStart, c.PourBy, c.TopUp, c.Gel} {
			row = append(row, clock(start, s))
		}
		rows = append(rows, row)
	}
	return rows
}

// next tells when to begin with the next batch.
func (b *bench) next() Step {
	c := &b.p.Clock
	if c.Alone() {
		return do("Next batch: A meets B %s to %s after the last one's. After %s: no bond.", span(c.NextFrom), span(c.NextUntil), span(c.JointAt))
	}
	return do("Next batch, by a second pair of hands: A meets B up to %s after the last one's. After %s: no bond.", span(c.NextUntil), span(c.JointAt))
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
