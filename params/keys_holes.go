package params

// holeKeys follow the hub: how its openings are made, not how they end up.
var holeKeys = []Key{
	{Path: "hub.hole_compensation", Kind: Length, hi: fixed(1),
		slot: in(func(j *Job) *float64 { return &j.Hub.HoleCompensation }, func(j *Job) float64 {
			if j.Hub.Printed() {
				return 0.2
			}
			return 0
		}),
		Doc:  "Added to the diameters of bore, bearing pockets, seat and bolt holes in the hub's own file alone, because printed holes come out small; drawings and volumes show the hub as it ends up.",
		From: "assumed: printed 0.2 mm, measure yours; nylon and acetal, turned, 0 mm. The file of a printed hub differs by it from the hub in the mold"},
}

// widened is a hub as it is made: what must fit something is wider.
func (h Hub) widened() Hub {
	for _, d := range []*float64{&h.Bore, &h.BearingBack.Diameter, &h.BearingFront.Diameter, &h.Seat.Diameter, &h.Bolts.Hole} {
		if *d > 0 {
			*d += h.HoleCompensation
		}
	}
	return h
}

// judgeHoles: what is left between the openings while they are still too wide can be
// printed. It asks for no more than the narrowest rib, since that is not what stays.
func (c *judge) judgeHoles() {
	if c.Hub.HoleCompensation == 0 || len(c.faults) > 0 {
		return
	}
	made := *c.Job
	made.Hub = c.Hub.widened()
	m := &judge{Job: &made, wall: min(c.wall, c.Process.MinFeature)}
	m.judgeBody()
	for _, side := range []string{"back", "front"} {
		m.judgePocket(side)
	}
	m.judgeSeat()
	m.judgeRetention()
	m.judgeBoltCircle()
	m.judgeLockHoles()
	for _, f := range m.faults {
		c.refuse("hub.hole_compensation", "less", "with its openings so much wider the hub cannot be made: "+f.Cause+" ("+f.Path+")", f.Path)
	}
}
