package params

import "fmt"

// SmallBatch is the mass in g up to which the times of a data sheet hold, which
// are stated for a cup: common practice.
const SmallBatch = 1000

// warnPour: a mix or a cure that may fail, though the mold is sound.
func (c *judge) warnPour() {
	c.warnPotLife()
	c.warnBatch()
	p := &c.Pour
	if p.Pigment > p.PigmentLimit+slack {
		c.refuse("pour.pigment", "up to "+c.show("pour.pigment_limit"), "so much pigment may leave the urethane soft or sticky: ask its data sheet, or try a cup first", "pour.pigment_limit")
	}
	switch t := p.MixTemperature; {
	case t < 18-slack:
		c.refuse("pour.mix_temperature", "18 C to 35 C", "so cold it mixes badly, keeps its bubbles and may cure soft: warm both components first")
	case t > 35+slack:
		c.refuse("pour.mix_temperature", "18 C to 35 C", "so warm it may gel in the bucket: let both components cool first")
	}
	if p.MoldTemperature < 18-slack {
		c.refuse("pour.mold_temperature", "18 C or more", "so cold the rubber thickens in corners, and cures slowly or soft: warm the mold through first")
	}
	if blend := p.Blend; blend.With > 0 && len(c.Unstated("pour.blend.parts_a", "pour.blend.parts_b")) == 2 {
		c.refuse("pour.blend.parts_a", "the ratio on its label", "the ratio of the second urethane is not stated, and taken as 1:1", "pour.blend.parts_b", "pour.blend.with")
	}
	if p.Stir < 60-slack {
		c.refuse("pour.stir", "at least 1 min", "hardly mixed: what stays unmixed never cures", "pour.pot_life")
	}
	c.warnUnusedPour()
}

// warnUnusedPour: figures of a blend, a pot or a bucket that nothing reads.
func (c *judge) warnUnusedPour() {
	p := &c.Pour
	c.warnIdle(p.Degas != "pressure", `pour.degas is not "pressure"`, "pour.pot_pressure")
	c.warnIdle(p.Waste > 0, "pour.waste is stated", "pour.bucket.film", "pour.bucket.residue")
	c.warnIdle(p.Waste == 0 && p.Bucket.Residue > 0, "pour.bucket.residue is stated", "pour.bucket.film")
	c.warnIdle(p.Blend.With == 0, "pour.blend.with is 0", "pour.blend.wanted", "pour.blend.parts_a", "pour.blend.parts_b", "pour.blend.density_a", "pour.blend.density_b")
}

// warnPotLife: a pour that ends after the pot life fills badly.
func (c *judge) warnPotLife() {
	p := c.Pour
	if over := p.Start + p.Duration - p.PotLife; over > slack {
		c.refuse("pour.start", "", fmt.Sprintf("the pour ends %s after the pot life: the urethane may be too thick to fill the mold", Format(Time, roundTo(over, 10))),
			"pour.duration", "pour.pot_life", "pour.stir", "pour.settle")
	}
}

// warnBatch: a batch that the bucket does not hold, or one so large that nobody
// knows its pot life who has not timed it.
func (c *judge) warnBatch() {
	p := &c.Pour
	holds := p.Bucket.usable() * p.Density
	if p.BatchMass > holds+slack {
		c.refuse("pour.batch_mass", "up to "+Format(Mass, readable(holds)), "more than the bucket holds below its head room; only so much is mixed at once", "pour.bucket.volume", "pour.bucket.head_room")
	}
	batch := min(roughMass(c.Job), holds)
	if p.BatchMass > 0 {
		batch = min(batch, p.BatchMass)
	}
	if k, _ := keyAt("pour.pot_life"); batch > SmallBatch && k.isDefault(c.Job, 0) {
		c.refuse("pour.pot_life", "", fmt.Sprintf("a batch of some %s warms itself and has less than the cup for which data sheets state it: time one, or allow a margin, and state it", Format(Mass, roundTo(batch, 0.01))),
			"pour.batch_mass")
	}
}
