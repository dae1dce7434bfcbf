package pour

import "math"

// Vents are equal round, straight holes through which the air leaves the mold:
// diameter and length in mm.
type Vents struct {
	Count            int
	Diameter, Length float64
}

// Air at 20 °C: viscosity in Pa·s, density in g/cm³ (standard tables, rounded).
const (
	airViscosity = 1.8e-5
	airDensity   = 1.2e-3
)

// ends is what the air's velocity takes at a vent's ends, in units of ρv²/2: half
// to enter a sharp edge, one to leave (common practice for short pipes).
const ends = 1.5

// AirShare is how much of the head the air may take before its vents count as too
// small (assumed: below a tenth nobody notices).
const AirShare = 0.1

// Open reports whether anything can pass them.
func (v Vents) Open() bool { return v.Count > 0 && v.Diameter > 0 && v.Length >= 0 }

// area is the section of all vents, mm².
func (v Vents) area() float64 { return float64(v.Count) * disk(v.Diameter) }

// resistance holds the coefficients of ΔP = linear·Q + square·Q² for the air
// through all vents, Pa and mm³/s: Hagen and Poiseuille, and the ends.
func (v Vents) resistance() (linear, square float64) {
	r, a := v.Diameter/2, v.area()
	return airViscosity * taper(r, r, v.Length) / float64(v.Count), ends * milli * airDensity / (2 * a * a)
}

// Loss is the pressure in Pa that it takes to push a flow of air in mm³/s out
// through all vents together; 0 if none is open, for then nothing flows. That it is
// laminar is assumed: at 3 mm, a Reynolds number of 2000 is 10 m/s, which takes more
// than AirShare of any head at the bench.
func (v Vents) Loss(flow float64) float64 {
	if !v.Open() || flow <= 0 {
		return 0
	}
	linear, square := v.resistance()
	return linear*flow + square*flow*flow
}

// Smallest is the smallest diameter in mm of as many vents as long that lose no
// more than a pressure in Pa to a flow of air in mm³/s; false if there is none.
// Both parts of the loss fall with the fourth power of the diameter.
func (v Vents) Smallest(flow, loss float64) (float64, bool) {
	if v.Count <= 0 || v.Length < 0 || loss <= 0 {
		return 0, false
	}
	v.Diameter = 1
	return math.Sqrt(math.Sqrt(v.Loss(flow) / loss)), true
}

// SmallestVents is the smallest diameter in mm of as many vents as long, at which
// the air takes no more than AirShare of the head at a clock time, however fast
// the liquid would run without it; false if there is none.
func (p Pouring) SmallestVents(v Vents, clock float64) (float64, bool) {
	p.Vents = nil
	return v.Smallest(p.Flow(clock), AirShare*p.Liquid.Head(p.Head))
}

// Cut is how the rubber that cured in a gate or vent is cut off flush.
type Cut string

// The cuts, from the easiest.
const (
	CutOnce    Cut = "one cut with a sharp knife"
	CutRepeats Cut = "several cuts, or a fine saw"
	CutSawn    Cut = "a saw, then ground flush"
)

// Largest stubs that are cut once, and by repeated cuts, of rubber of Shore A 60
// (assumed), mm.
const (
	cutOnceUpTo    = 8
	cutRepeatsUpTo = 20
	cutHardness    = 60
)

// CutOf is how a stub of a diameter in mm is cut off rubber of a hardness, Shore A.
func CutOf(diameter, hardness float64) Cut {
	once, repeats := CutLimits(hardness)
	switch {
	case diameter <= once:
		return CutOnce
	case diameter <= repeats:
		return CutRepeats
	}
	return CutSawn
}

// CutLimits are the largest stubs in mm that are cut once, and by repeated cuts,
// of rubber of a hardness, Shore A. The force on the blade is taken to go with
// stiffness and section, so that a limit falls with the root of the modulus
// (assumed).
func CutLimits(hardness float64) (once, repeats float64) {
	scale := math.Sqrt(gent(cutHardness) / gent(hardness))
	return cutOnceUpTo * scale, cutRepeatsUpTo * scale
}

// gent is the modulus in MPa of rubber of a hardness, Shore A (A. N. Gent, Trans.
// Inst. Rubber Ind. 34 (1958) 46). It has no value at 100: what is outside 20 to
// 95 counts as at the end.
func gent(hardness float64) float64 {
	s := min(max(hardness, 20), 95)
	return 0.0981 * (56 + 7.62336*s) / (0.137505 * (254 - 2.54*s))
}
