package pour

import (
	"math"

	"wheelmold/mold/urethane"
)

// Sprues are equal round channels through which the mold is poured, straight or
// tapered: diameters and length in mm.
type Sprues struct {
	Count  int
	Gate   float64 // diameter at the cavity
	Mouth  float64 // diameter at the top
	Length float64
}

// Open reports whether anything can flow through them.
func (s Sprues) Open() bool { return s.Count > 0 && s.Gate > 0 && s.Mouth > 0 && s.Length >= 0 }

// widened is the same sprues with another gate and mouths in the same ratio.
func (s Sprues) widened(gate float64) Sprues {
	s.Mouth *= gate / s.Gate
	s.Gate = gate
	return s
}

// area is the section of all gates, mm².
func (s Sprues) area() float64 { return float64(s.Count) * disk(s.Gate) }

// resistance is K in 1/mm³ of ΔP = K·μ·Q for all sprues together: the channel, and
// the flow's contraction into the opening at the cavity.
func (s Sprues) resistance() float64 {
	return (taper(s.Mouth/2, s.Gate/2, s.Length) + opening(s.Gate/2)) / float64(s.Count)
}

// taper is the resistance of a cone that narrows slowly, K = (8L/3π)·(R1² + R1·R2 +
// R2²)/(R1³·R2³), which is Hagen and Poiseuille's law slice by slice (Bird, Stewart
// and Lightfoot, Transport Phenomena, problem 2B.10; from memory). It is exact for
// a straight tube, and within 4 % of the creeping flow in a cone of 10° to the axis.
func taper(r1, r2, length float64) float64 {
	a := r1 * r2
	return 8 * length / (3 * math.Pi) * (r1*r1 + a + r2*r2) / (a * a * a)
}

// opening is the resistance of a hole in a thin wall, K = 3/R³ (Sampson, Phil.
// Trans. R. Soc. A 182 (1891)). Added to that of a tube it is within 1 % of the
// exact solution for any length: Q = R³·ΔP/(μ·(3 + 8L/πR)) (Dagan, Weinbaum and
// Pfeffer, J. Fluid Mech. 115 (1982); both from memory).
func opening(r float64) float64 { return 3 / (r * r * r) }

// disk is the area of a circle of a given diameter.
func disk(diameter float64) float64 { return math.Pi / 4 * diameter * diameter }

// jet is the energy of a stream as a multiple of that of its mean velocity: 2 for
// the parabola of slow flow, 1 for the flat profile of a thin liquid in a short
// channel. The larger one never makes a gate too small.
const jet = 2

// milli turns g/cm³·(mm/s)² into Pa, and g/cm³·mm/s·mm over Pa·s into a number.
const milli = 1e-3

// Pouring is a liquid that runs into the mold through sprues under a head that is
// kept up, while the air leaves through vents. The head counts from where the
// gates end to the level above, mm; the stream is taken to fall freely into the
// cavity. A gate that is already covered has less: take the levels' difference.
//
// Flow is taken as laminar, as it is for certain up to a Reynolds number of 2000
// (2000 to 2300 in the textbooks), and to follow the head at once: it takes ρR²/(6μ)
// to start, some hundredths of a second for usual urethanes. What the liquid's
// velocity takes of the head is counted; what the lengths take in which the profile
// forms is not.
type Pouring struct {
	Liquid urethane.Liquid
	Sprues Sprues
	Head   float64
	Vents  *Vents // nil: the air is no hindrance
}

// open reports whether the pour runs at all.
func (p Pouring) open() bool {
	return p.Liquid.Head(p.Head) > 0 && p.Sprues.Open() && (p.Vents == nil || p.Vents.Open())
}

// stream holds the coefficients of ΔP = (viscous·μ + linear)·Q + square·Q², Pa and
// mm³/s.
type stream struct{ pressure, viscous, linear, square float64 }

func (p Pouring) stream() stream {
	a := p.Sprues.area()
	c := stream{
		pressure: p.Liquid.Head(p.Head), viscous: p.Sprues.resistance(),
		square: jet * milli * p.Liquid.Density / (2 * a * a),
	}
	if p.Vents != nil {
		linear, square := p.Vents.resistance()
		c.linear += linear
		c.square += square
	}
	return c
}

// momentum is Q·μ in Pa·mm³ at a fluidity x = 1/μ: the quadratic's root in a form
// that neither cancels nor fails without its square, or for what does not flow.
func (c stream) momentum(x float64) float64 {
	b := c.viscous + c.linear*x
	return 2 * c.pressure / (b + math.Sqrt(b*b+4*c.square*c.pressure*x*x))
}

// Flow is the volume in mm³/s that runs through all sprues at a clock time.
func (p Pouring) Flow(clock float64) float64 {
	if !p.open() || clock > p.Liquid.Gels() {
		return 0
	}
	x := 1 / p.Liquid.ViscosityAt(clock)
	return x * p.stream().momentum(x)
}

// Reynolds is the Reynolds number in the gates at a clock time.
func (p Pouring) Reynolds(clock float64) float64 {
	if !p.open() {
		return 0
	}
	return milli * p.Liquid.Density * p.velocity(clock) * p.Sprues.Gate / p.Liquid.ViscosityAt(clock)
}

// velocity is the mean one in the gates, mm/s.
func (p Pouring) velocity(clock float64) float64 { return p.Flow(clock) / p.Sprues.area() }

// Inertia is the share of the head that the stream's velocity takes at a clock
// time, and viscosity does not.
func (p Pouring) Inertia(clock float64) float64 {
	if !p.open() {
		return 0
	}
	v := p.velocity(clock)
	return jet * milli * p.Liquid.Density * v * v / 2 / p.Liquid.Head(p.Head)
}

// AirLoss is the pressure in Pa that it takes to push the air out at the rate at
// which the liquid runs in at a clock time.
func (p Pouring) AirLoss(clock float64) float64 {
	if p.Vents == nil {
		return 0
	}
	return p.Vents.Loss(p.Flow(clock))
}

// panels of Simpson's rule in Volume. It is exact where viscosity rules; where only
// inertia does, 128 panels are within 1e-6 for a viscosity that grows 30 times, and
// within 1e-5 for one that grows 900 times.
const panels = 128

// Volume is the most in mm³ that can be poured between two clock times.
//
// While μ grows exponentially the mobility ∫dt/μ is spent evenly over the fluidity
// x = 1/μ, from which V is the mobility times the mean of Q·μ over x; and Q·μ is
// nothing but ΔP/K as long as velocity and air take little. Steps in y = ∛x resolve
// the thick end, too: dx = 3y²dy.
func (p Pouring) Volume(from, to float64) float64 {
	if !p.open() || from >= to {
		return 0
	}
	c := p.stream()
	y0, y1 := math.Cbrt(1/p.Liquid.ViscosityAt(from)), math.Cbrt(1/p.Liquid.ViscosityAt(to))
	if y0 == 0 { // a growth beyond what floating point holds
		return 0
	}
	sum, weights := 0.0, 0.0
	for i := range panels + 1 {
		y := y0 + (y1-y0)*float64(i)/panels
		w := y * y * simpson(i, panels)
		sum += w * c.momentum(y*y*y)
		weights += w
	}
	return p.Liquid.Mobility(from, to) * sum / weights
}

// simpson is the weight of a point of Simpson's rule, 1 4 2 4 … 4 1.
func simpson(i, panels int) float64 {
	switch {
	case i == 0 || i == panels:
		return 1
	case i%2 == 1:
		return 4
	}
	return 2
}

// Until is the clock time in s at which a volume in mm³ has run in that is begun
// to be poured at an earlier one, and whether that is before the liquid gels.
func (p Pouring) Until(from, volume float64) (float64, bool) {
	gels := p.Liquid.Gels()
	if volume <= 0 {
		return from, from <= gels
	}
	if p.Volume(from, gels) < volume {
		return max(from, gels), false
	}
	return least(from, gels, func(t float64) bool { return p.Volume(from, t) >= volume }), true
}

// Latest is the latest clock time in s between two at which the pour of a volume in
// mm³ may begin to be over by the later one; the earlier one if even that is too late.
func (p Pouring) Latest(from, to, volume float64) float64 {
	if from >= to {
		return from
	}
	return least(from, to, func(t float64) bool { return p.Volume(t, to) <= volume })
}

// widest is the largest gate that is tried, mm: wider than any that is drilled.
const widest = 1000

// SmallestGate is the smallest diameter in mm of as many gates, with mouths in the
// same ratio, that lets a volume in mm³ run in between two clock times; false if
// none does.
func (p Pouring) SmallestGate(volume, from, to float64) (float64, bool) {
	enough := func(gate float64) bool {
		q := p
		q.Sprues = p.Sprues.widened(gate)
		return q.Volume(from, to) >= volume
	}
	if !p.open() || volume <= 0 || !enough(widest) {
		return 0, false
	}
	return least(widest*1e-6, widest, enough), true
}

// least is the smallest number between two for which something holds that holds
// from there on, and so at the larger one: by halving the interval, until floating
// point has nothing between, or nothing worth the while.
func least(low, high float64, holds func(float64) bool) float64 {
	const close = 1e-10 // relative, far below what can be drilled or timed
	for high-low > close*high {
		middle := low + (high-low)/2
		if middle <= low || middle >= high {
			break
		}
		if holds(middle) {
			high = middle
		} else {
			low = middle
		}
	}
	return high
}
