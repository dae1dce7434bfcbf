package release

import "math"

// What a tapped-in register grips with: dry friction of plastic on metal or plastic, on
// the high side, and the stiffness of nylon or acetal, dry. Assumed, from memory.
const (
	gripFriction = 0.3
	hubModulus   = 3e9 // Pa
	poisson      = 0.38
)

// pressed is the pressure in Pa between a solid plug and the ring around it that are
// pressed together with an interference delta on the diameter d, the ring's outside being
// D; all three in mm, the moduli in Pa. Lamé's thick cylinders: δ = p·d·((k+ν)/E_ring +
// (1-ν)/E_plug), k = (D²+d²)/(D²-d²).
func pressed(delta, d, outside, ring, plug float64) float64 {
	k := (outside*outside + d*d) / (outside*outside - d*d)
	return delta / (d * ((k+poisson)/ring + (1-poisson)/plug))
}

// grip is the force in N that pulls the register out of the hub where it is larger than
// its opening; 0 where it has clearance. A bound: nothing creeps, no edge gives.
func (j judge) grip(up bool) float64 {
	c := j.Core
	r, upper := j.Job.Mold.Registers()
	end := c.Lower
	if up {
		r, end = upper, c.Upper
	}
	opening := map[string]float64{"bore": c.BoreR, "bearing": end.PocketR, "seat": end.SeatR}[r.Opening]
	delta := -r.Clearance
	if opening <= 0 || delta <= 0 {
		return 0
	}
	// Draft takes off the interference as it goes in: the mean of what is left counts.
	length := max(0, r.Engagement-r.LeadIn)
	taper := 2 * math.Tan(r.Draft*math.Pi/180)
	if taper*length > delta {
		length = delta / taper
	}
	mean := delta - taper*length/2
	d := 2 * opening
	p := pressed(mean, d, 2*c.BodyR, hubModulus, j.Job.Process.Modulus)
	return gripFriction * p * math.Pi * d * length * 1e-6
}
