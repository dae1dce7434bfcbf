package params

import (
	"math"
	"slices"
)

// Fastener is one metric size: its screw, hole, head and nut. Lengths in mm.
type Fastener struct {
	Size                 string
	Diameter             float64 // nominal
	Pitch                float64 // coarse, ISO 261 and ISO 262
	Fine, Medium, Coarse float64 // clearance holes, ISO 273
	HeadDiameter         float64 // dk of a plain socket head, largest, ISO 4762
	HeadKnurled          float64 // dk of a knurled socket head, largest
	HeadHeight           float64 // k, ISO 4762
	HexKey               float64
	TapDrill             float64
	StressArea           float64 // mm²
	Proof88, Tensile88   float64 // N, property class 8.8, ISO 898-1
	NutFlats             float64 // s, ISO 4032; from memory of the standard, not checked against it
	NutHeight            float64 // m, largest, ISO 4032; from memory likewise
}

// Fasteners are the sizes that a mold may use, from small to large. Columns up
// to Tensile88 are as printed in ISO 273, ISO 4762, ISO 261/262 and ISO 898-1.
var Fasteners = []Fastener{
	{"M3", 3, 0.5, 3.2, 3.4, 3.6, 5.5, 5.68, 3, 2.5, 2.5, 5.03, 2920, 4020, 5.5, 2.4},
	{"M4", 4, 0.7, 4.3, 4.5, 4.8, 7, 7.22, 4, 3, 3.3, 8.78, 5100, 7020, 7, 3.2},
	{"M5", 5, 0.8, 5.3, 5.5, 5.8, 8.5, 8.72, 5, 4, 4.2, 14.2, 8230, 11350, 8, 4.7},
	{"M6", 6, 1, 6.4, 6.6, 7, 10, 10.22, 6, 5, 5, 20.1, 11600, 16100, 10, 5.2},
	{"M8", 8, 1.25, 8.4, 9, 10, 13, 13.27, 8, 6, 6.8, 36.6, 21200, 29200, 13, 6.8},
	{"M10", 10, 1.5, 10.5, 11, 12, 16, 16.27, 10, 8, 8.5, 58, 33700, 46400, 16, 8.4},
	{"M12", 12, 1.75, 13, 13.5, 14.5, 18, 18.27, 12, 10, 10.2, 84.3, 48900, 67400, 18, 10.8},
}

// FastenerOf finds a size such as "M5".
func FastenerOf(size string) (Fastener, bool) {
	i := slices.IndexFunc(Fasteners, func(f Fastener) bool { return f.Size == size })
	if i < 0 {
		return Fastener{}, false
	}
	return Fasteners[i], true
}

// Hole is the diameter of the clearance hole, mm; fit is "fine", "medium" or
// "coarse" (ISO 273), and any other word means medium.
func (f Fastener) Hole(fit string) float64 {
	switch fit {
	case "fine":
		return f.Fine
	case "coarse":
		return f.Coarse
	}
	return f.Medium
}

// Counterbore is the diameter in mm of a recess for the screw's head: a twelfth
// wider than the head, and half a millimeter of play (common practice).
func (f Fastener) Counterbore() float64 { return 1.08*f.HeadDiameter + 0.5 }

// EitherRecess is the diameter in mm of a round recess that takes the head, or
// the nut with a socket wrench on it: 1.45 widths across flats (common practice
// for thin-walled sockets).
func (f Fastener) EitherRecess() float64 { return max(f.Counterbore(), 1.45*f.NutFlats) }

// NutFactor is K in T = K·d·F, the torque that pulls a bolt to a force: dry
// plain steel. Common practice; real bolts scatter by a quarter either way.
const NutFactor = 0.2

// Torque is what tightens a bolt to a tension of force N, in N·m.
func (f Fastener) Torque(force float64) float64 { return NutFactor * f.Diameter / 1000 * force }

// Tension is the force in N that a torque in N·m gives a bolt.
func (f Fastener) Tension(torque float64) float64 { return torque / f.Torque(1) }

// BearingForce is the force in N at which the head, or a washer as wide, presses
// with a stress in Pa on the ring around a clearance hole of the given fit.
func (f Fastener) BearingForce(fit string, stress float64) float64 {
	hole := f.Hole(fit)
	ring := math.Pi / 4 * (f.HeadDiameter*f.HeadDiameter - hole*hole) // mm²
	return ring * 1e-6 * stress
}

// SafeTension is the force in N to which a class 8.8 bolt in a clearance hole of
// the given fit is tightened by default: half its proof load, or what the stress
// in Pa allowed under the head carries.
func (f Fastener) SafeTension(fit string, bearing float64) float64 {
	return min(0.5*f.Proof88, f.BearingForce(fit, bearing))
}

// MostReused is the force in N that a class 8.8 screw which is used again carries at
// most: three quarters of its proof load, as handbooks allow.
func (f Fastener) MostReused() float64 { return 0.75 * f.Proof88 }

// MostTension is the force in N up to which it may be tightened: what it carries when
// used again, or what is carried under the head.
func (f Fastener) MostTension(fit string, bearing float64) float64 {
	return min(f.MostReused(), f.BearingForce(fit, bearing))
}

// ThreadStressArea is As of ISO 898-1 in mm² for a thread of nominal diameter d
// and pitch p in mm: π/4·((d2+d3)/2)².
func ThreadStressArea(d, p float64) float64 {
	mean := d - (0.649519+1.226869)/2*p
	return math.Pi / 4 * mean * mean
}

func fastenerSizes(from, to string, none bool) []string {
	var sizes []string
	if none {
		sizes = append(sizes, "none")
	}
	for _, f := range Fasteners {
		if f.Size == from {
			from = ""
		}
		if from == "" {
			sizes = append(sizes, f.Size)
		}
		if f.Size == to {
			break
		}
	}
	return sizes
}

// BallSizes are nominal ball diameters of ISO 3290-1:2014 in mm, ascending, as
// a ball maker lists them; 7, 8 and 9 mm are from memory of the standard.
// Inch sizes are printed there to a tenth of a micrometer.
var BallSizes = []float64{
	1.5, 1.5875, 2, 2.3812, 2.5, 2.7781, 3, 3.175, 3.5, 3.9688, 4, 4.5, 4.7625,
	5, 5.5562, 6, 6.35, 7, 7.1438, 7.9375, 8, 8.7312, 9, 9.525, 10, 10.3188,
	11.1125, 11.9062, 12, 12.7, 13.4937, 14.2875, 15, 15.875, 16, 19.05, 20, 25, 25.4,
}

// ballTolerance joins a size written as a fraction of an inch (3/32 in is
// 2.38125 mm) with the standard's figure, which is rounded or cut at 0.1 µm.
const ballTolerance = 0.0001

// IsBallSize reports whether a ball of that diameter in mm is standard.
func IsBallSize(d float64) bool {
	return nearestBall(d) > 0 && d-nearestBall(d) < ballTolerance && nearestBall(d)-d < ballTolerance
}

func nearestBall(d float64) float64 {
	best := BallSizes[0]
	for _, b := range BallSizes {
		if max(b-d, d-b) < max(best-d, d-best) {
			best = b
		}
	}
	return best
}

// ballUpTo is the largest standard ball up to a diameter in mm, or the smallest.
func ballUpTo(d float64) float64 {
	best := BallSizes[0]
	for _, b := range BallSizes {
		if b <= d+slack {
			best = b
		}
	}
	return best
}
