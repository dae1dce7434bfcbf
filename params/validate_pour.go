package params

import "fmt"

// judgeTimes: the urethane is mixed before it is poured, is in the mold before it
// gels, and does not gel while it can still be poured.
func (c *judge) judgeTimes() {
	p := &c.Pour
	if p.GelTime <= p.PotLife {
		c.refuse("pour.gel_time", "more than "+Format(Time, p.PotLife), "gels within its pot life; count both from first mixing", "pour.pot_life")
		return
	}
	if mixed := p.Stir + p.Settle; p.Start < mixed-slack {
		c.refuse("pour.start", "at least "+Format(Time, readable(mixed)), fmt.Sprintf("it is stirred for %s and stands for %s before", c.show("pour.stir"), c.show("pour.settle")),
			"pour.stir", "pour.settle")
	}
	switch left := p.GelTime - p.Start; {
	case left <= 0:
		c.refuse("pour.start", "less than "+Format(Time, p.GelTime), "the urethane has gelled before the pour starts", "pour.gel_time", "pour.pot_life", "pour.stir", "pour.settle")
	case p.Duration >= left:
		c.refuse("pour.duration", "less than "+Format(Time, readable(left)), "the urethane gels before the mold is full", "pour.start", "pour.gel_time", "pour.pot_life", "pour.stir", "pour.settle")
	}
}

// judgeCure: gelled, demolded and cured in this order.
func (c *judge) judgeCure() {
	p := &c.Pour
	if p.Demold <= p.GelTime {
		c.refuse("pour.demold", "more than "+Format(Time, p.GelTime), "has not gelled by then; count both from first mixing", "pour.gel_time", "pour.pot_life")
	}
	if p.Cure < p.Demold-slack {
		c.refuse("pour.cure", "at least "+Format(Time, p.Demold), "ends before it is demolded; count both from first mixing", "pour.demold")
	}
}

// judgeBlend: two urethanes of different hardness, and one wanted between them.
func (c *judge) judgeBlend() {
	b, hardness := &c.Pour.Blend, c.Pour.Hardness
	soft, hard := min(hardness, b.With), max(hardness, b.With)
	switch {
	case b.With == 0:
	case b.With < softest-slack:
		c.refuse("pour.blend.with", fmt.Sprintf("0 for none, or %d to %d", softest, hardest), "too soft for Shore A")
	case hard-soft < slack:
		c.refuse("pour.blend.with", "", "both urethanes have the same hardness: state 0 for no blend", "pour.hardness")
	case b.Wanted < soft-slack || b.Wanted > hard+slack:
		c.refuse("pour.blend.wanted", fmt.Sprintf("%s to %s", shortest(soft), shortest(hard)), "a blend is as hard as one of its two urethanes, or between them", "pour.blend.with", "pour.hardness")
	}
}
