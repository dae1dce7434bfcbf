package params

// judgeTimes: the urethane is in the mold before it gels, and does not gel while
// it can still be poured.
func (c *judge) judgeTimes() {
	p := &c.Pour
	if p.GelTime <= p.PotLife {
		c.refuse("pour.gel_time", "more than "+Format(Time, p.PotLife), "gels within its pot life; count both from first mixing", "pour.pot_life")
		return
	}
	switch left := p.GelTime - p.Start; {
	case left <= 0:
		c.refuse("pour.start", "less than "+Format(Time, p.GelTime), "the urethane has gelled before the pour starts", "pour.gel_time", "pour.pot_life")
	case p.Duration >= left:
		c.refuse("pour.duration", "less than "+Format(Time, readable(left)), "the urethane gels before the mold is full", "pour.start", "pour.gel_time", "pour.pot_life")
	}
}
