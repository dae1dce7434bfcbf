package flash

import (
	"math"

	"wheelmold/mesh/contact"
	"wheelmold/mold/urethane"
	"wheelmold/params"
)

// conditions are a mold and the job's figures for how it is made, closed, sealed
// and poured. The figures may differ from those that the mold was laid out with,
// so that a change at the bench can be tried.
type conditions struct {
	geometry *geometry
	job      params.Job
	bolts    float64 // how many times the layout's clamps
	stack    Stack
}

func newConditions(g *geometry, j *params.Job) *conditions {
	return &conditions{geometry: g, job: *j, bolts: 1, stack: stackOf(g, j)}
}

// fillHeight is how high the liquid stands in sprue and vents, mm.
func (c *conditions) fillHeight() float64 { return c.geometry.layout.Top + c.job.Pour.Fill }

// filmOf is the urethane between the pieces, as warm as the mold.
func filmOf(p *params.Pour) urethane.Liquid { return urethane.Of(p).At(p.MoldTemperature) }

func (c *conditions) liquid(x *shared) urethane.Liquid {
	l := filmOf(&c.job.Pour)
	l.Viscosity *= x.viscosity
	l.PotLife *= x.potLife
	l.Gel *= x.potLife
	l.Growth = x.growth
	return l
}

// ageAt is how far in s the cure has come when the rising liquid, as warm as the
// mix, reaches height z of a cavity from 0 to top, mm: filling at a steady rate is
// assumed.
func ageAt(p *params.Pour, z, top float64) float64 {
	return urethane.Of(p).At(p.MixTemperature).Age(p.Start + p.Duration*min(max(z/top, 0), 1))
}

// outcome is what one cast does in one parting line. Lengths in mm, areas in
// mm², masses in g, pressures in Pa.
type outcome struct {
	gap       float64
	head      float64 // at the lowest point of the seam
	capillary float64
	held      float64 // by grease or wax
	mobility  float64 // 1/Pa, from wetting to gel
	reach     float64 // a, see wetting
	share     float64 // of capillarity in the drive
	depth     float64 // of a straight front
	area      float64
	flash     float64 // what stays in the mold, ball pockets and clearances included
	leak      float64 // what leaves the mold, or gets into the hub
	inOpening float64 // part of the leak that gets where no rubber may be
	reached   bool    // the liquid gets to a way out: wet, which is not yet dripping
}

// drive is the pressure in Pa that drives the liquid in, and its parts: head at
// the seam's lowest point, capillary pressure, and what a filling holds back. A
// filling is held by its yield stress on both faces and leaves no meniscus; else
// the meniscus pulls, or pushes back.
func (c *conditions) drive(s *site, seal *sealing, l *urethane.Liquid, x *state, o *outcome) (drive, help float64) {
	if seal.yield > 0 {
		o.held = 2 * seal.yield * x.filled * s.least / o.gap * relied(o.gap)
		help = -o.held
	} else {
		o.capillary = l.Capillary(o.gap, seal.contact(&x.shared))
		help = o.capillary
	}
	return o.head + help, help
}

// reach finds how far the liquid gets: the a of a state (see wetting), with the
// share of capillarity in the drive.
func (c *conditions) reach(s *site, x *state) (outcome, float64) {
	seal, l := sealOf(&c.job, s), c.liquid(&x.shared)
	o := outcome{gap: c.gap(s, x), head: l.Head(c.fillHeight() - s.lowest)}
	if o.head < 0 { // the liquid does not come up to the seam
		return o, 0
	}
	o.mobility = l.Left(ageAt(&c.job.Pour, s.lowest, c.geometry.layout.Top))
	if o.gap <= 0 {
		return o, 0
	}
	drive, help := c.drive(s, &seal, &l, x, &o)
	if drive <= 0 {
		return o, 0
	}
	o.reach, o.share = o.gap*o.gap*drive*o.mobility/12, help/drive
	if seal.cord { // in the middle of the land, which it closes
		half := s.least / 2
		o.reach = min(o.reach, half*half/2)
	}
	o.depth = math.Sqrt(2 * o.reach)
	return o, drive
}

// cast lets the liquid into one parting line. No more is lost than is poured.
func (c *conditions) cast(s *site, x *state) outcome {
	o, drive := c.reach(s, x)
	if o.reach > 0 {
		c.spread(s, x, drive, &o)
	}
	for _, r := range s.entry {
		o.flash += c.entered(s, r, x, &o)
	}
	o.flash, o.leak = min(o.flash, c.geometry.poured), min(o.leak, c.geometry.poured)
	return o
}

// spread finds what gets wet and what leaks, in a line that is driven by the
// given pressure. Past an exit no meniscus pulls: head alone drives a leak.
func (c *conditions) spread(s *site, x *state, drive float64, o *outcome) {
	seal, w := sealOf(&c.job, s), s.wetting
	o.area = w.area(o.reach, o.share)
	perVolume := c.job.Pour.Density / 1000 // g/mm³
	o.flash = perVolume * o.gap * o.area
	if seal.cord {
		return
	}
	push := seal.push(o.head, drive)
	for g := toOutside; g < ways; g++ {
		left, flux := w.left(g, o.reach, o.share)
		if left <= 0 || g == toOutside && seal.outside {
			continue
		}
		o.reached = true
		volume := o.gap * push / drive * left
		switch g {
		case toPockets: // blind: what gets in stays in the mold
			o.flash += perVolume * min(volume, c.geometry.pockets(s.name))
			volume = 0
		case toRegister:
			var kept float64
			kept, volume = pastRegister(s.after, volume, o.gap, flux, x.ring)
			o.flash += perVolume * kept
		}
		if g == toOpening || g == toRegister {
			o.inOpening += perVolume * volume
		}
		o.leak += perVolume * volume
	}
}

// entered is the mass in g that fills a clearance before the seam, by a straight
// front under the head and the clearance's own capillary pressure. What seals the
// land behind it does not close it.
func (c *conditions) entered(s *site, r contact.Ring, x *state, o *outcome) float64 {
	h := r.EffectiveGap()
	if h <= 0 || o.head < 0 {
		return 0
	}
	seal, l := sealOf(&c.job, s), c.liquid(&x.shared)
	drive := o.head + l.Capillary(h, seal.contact(&x.shared))
	if drive <= 0 {
		return 0
	}
	depth := math.Sqrt(h * h * drive * o.mobility / 6)
	return l.Density / 1000 * r.Volume() * min(1, depth/r.Length())
}

// pastRegister divides a volume that leaves the land by the hub's opening: the
// clearance of a register behind it fills first, then lets pass what its own
// resistance, in series with the land's, allows. Flux is that of the land for a
// head of 1 (see flows).
func pastRegister(rings []contact.Ring, volume, gap, flux, eccentric float64) (kept, passed float64) {
	var room, resistance float64
	for _, r := range rings {
		h := r.EffectiveGap()
		if h <= 0 {
			return 0, 0
		}
		room += r.Volume()
		// An eccentric gap passes up to 2.5 times as much: 1 + 1.5·ε² (Piercy,
		// Hooper and Winny 1933, for narrow annuli; from memory).
		resistance += r.Length() / (2 * math.Pi * r.MeanRadius() * h * h * h * (1 + 1.5*eccentric*eccentric))
	}
	kept = min(volume, room)
	land := 1 / (flux * gap * gap * gap)
	return kept, (volume - kept) * land / (land + resistance)
}

// pockets is the volume in mm³ beside the balls of a parting line.
func (g *geometry) pockets(line string) float64 {
	v := 0.0
	for _, b := range g.layout.Balls {
		if b.Line == line {
			v += 2*math.Pi*b.R*b.R*b.Depth - math.Pi*b.Diameter*b.Diameter*b.Diameter/6
		}
	}
	return v
}
