package params

import (
	"fmt"
	"math"
)

var closingKeys = []Key{
	{Path: "mold.balls.diameter", Kind: Length, lo: fixed(1.5), hi: fixed(25.4),
		slot: in(func(j *Job) *float64 { return &j.Mold.Balls.Diameter }, func(j *Job) float64 {
			d := ladder(j.Wheel.Diameter, 12, step[float64]{60, 3}, step[float64]{110, 5}, step[float64]{160, 6}, step[float64]{250, 10})
			return ballUpTo(min(d, j.Wheel.Width-leastSpare-j.Mold.Wall))
		}),
		Doc:  "Diameter of the locating balls, a size of ISO 3290.",
		From: "by the wheel's diameter: 3 mm below 60 mm, 5 below 110, 6 below 160, 10 below 250, then 12; smaller where the shells are low"},
	{Path: "mold.balls.clearance", Kind: Length, hi: fixed(1),
		slot: in(func(j *Job) *float64 { return &j.Mold.Balls.Clearance }, func(j *Job) float64 { return j.Process.Clearance }),
		Doc:  "Clearance of a ball's pocket on the diameter.",
		From: "process.clearance"},
	{Path: "mold.balls.spare", Kind: Length, lo: fixed(leastSpare), hi: fixed(3),
		slot: in(func(j *Job) *float64 { return &j.Mold.Balls.Spare }, always(leastSpare)),
		Doc:  "By how much the depths of two facing pockets exceed the ball, so that the faces close.",
		From: "the least that a workshop can rely on"},
	{Path: "mold.balls.offset", Kind: Length, hi: fixed(20),
		slot: in(func(j *Job) *float64 { return &j.Mold.Balls.Offset }, func(j *Job) float64 { return tenth(max(1.5, 0.4*j.Mold.Balls.Diameter)) }),
		Doc:  "How far the odd ball of a parting line lies off the pattern, so that pieces go together one way only.",
		From: "40 % of the ball, at least 1.5 mm"},
	{Path: "mold.bolts.size", Kind: Word, Options: fastenerSizes("M3", "M12", true),
		slot: in(func(j *Job) *string { return &j.Mold.Bolts.Size }, func(j *Job) string {
			if _, above := j.Plates(); !above {
				return "none"
			}
			return boltFor(j.Wheel.Diameter)
		}),
		Doc:  "Bolts that clamp the mold along the axis, one in each corner.",
		From: "by the wheel's diameter: M3 below 50 mm, M4 below 100, M5 below 150, M6 below 220, then M8; none in clam halves"},
	{Path: "mold.bolts.fit", Kind: Word, Options: []string{"medium", "fine", "coarse"},
		slot: in(func(j *Job) *string { return &j.Mold.Bolts.Fit }, always("medium")),
		Doc:  "Clearance hole of ISO 273.",
		From: "the balls locate, the bolts only clamp"},
	{Path: "mold.bolts.head", Kind: Word, Options: []string{"socket", "none"},
		slot: in(func(j *Job) *string { return &j.Mold.Bolts.Head }, always("socket")),
		Doc:  "Counterbore in the lid: for an ISO 4762 socket head, or none.",
		From: "heads out of the way of the pour"},
	{Path: "mold.bolts.nut", Kind: Word, Options: []string{"hex", "round", "none"},
		slot: in(func(j *Job) *string { return &j.Mold.Bolts.Nut }, func(j *Job) string {
			if !j.Printed() {
				return "round"
			}
			return "hex"
		}),
		Doc:  "Recess in the base for an ISO 4032 nut: hexagonal, so that it holds the nut; round, for a socket wrench; or none.",
		From: "hexagonal where it is printed; a cutter leaves no sharp corners"},
	{Path: "mold.bolts.torque", Kind: Torque, hi: func(j *Job) float64 { return most(j.Mold.Bolts.Size) }, over: func(j *Job) string { return holdsAtMost(j.Mold.Bolts.Size) },
		slot: in(func(j *Job) *float64 { return &j.Mold.Bolts.Torque }, func(j *Job) float64 { return j.tightening(j.Mold.Bolts.Size) }),
		Doc:  "Torque to which each axial bolt is tightened.",
		From: "0.2 x diameter x force (common practice for dry bolts): half the proof load of class 8.8 in ISO 898-1, or what process.bearing allows under the head if that is less"},
	{Path: "mold.side_clamp.kind", Kind: Word, Options: []string{"counterbore", "lugs", "strap", "none"},
		slot: in(func(j *Job) *string { return &j.Mold.SideClamp.Kind }, func(j *Job) string {
			if j.Mold.Segments < 2 {
				return "none"
			}
			if j.Wheel.Diameter < strapBelow || j.Mold.Segments > 2 || sideBolt(j) == "" {
				return "strap"
			}
			return "counterbore"
		}),
		Doc:  "What holds the shells against each other.",
		From: "a strap below 60 mm, around more than two shells, or where no bolt fits the shells' height; else counterbored bolts; none around a cup"},
	{Path: "mold.side_clamp.size", Kind: Word, Options: fastenerSizes("M3", "M12", true),
		slot: in(func(j *Job) *string { return &j.Mold.SideClamp.Size }, func(j *Job) string {
			if !j.Mold.SideClamp.bolted() {
				return "none"
			}
			if s := sideBolt(j); s != "" {
				return s
			}
			return Fasteners[0].Size
		}),
		Doc:  "Bolts of the side clamp.",
		From: "as mold.bolts.size, or smaller where the shells are low"},
	{Path: "mold.side_clamp.grip", Kind: Length, hi: fixed(300),
		slot: in(func(j *Job) *float64 { return &j.Mold.SideClamp.Grip }, func(j *Job) float64 {
			f, ok := FastenerOf(j.Mold.SideClamp.Size)
			if !ok || !j.Mold.SideClamp.bolted() {
				return 0
			}
			return max(2.5*f.Diameter, 10)
		}),
		Doc:  "Material that each side bolt clamps in one shell.",
		From: "2.5 bolt diameters, at least 10 mm"},
	{Path: "mold.side_clamp.strap_width", Kind: Length, hi: widthShare(1),
		slot: in(func(j *Job) *float64 { return &j.Mold.SideClamp.StrapWidth }, ifStrap(func(j *Job) float64 { return tenth(min(8, 0.5*j.SideHeight())) })),
		Doc:  "Width of the groove for a strap around the shells.",
		From: "half the shells' height, at most 8 mm"},
	{Path: "mold.side_clamp.strap_depth", Kind: Length, hi: fixed(10),
		slot: in(func(j *Job) *float64 { return &j.Mold.SideClamp.StrapDepth }, ifStrap(always(1.5))),
		Doc:  "Depth of the groove for a strap around the shells.",
		From: "a hose clamp's thickness"},
	{Path: "mold.side_clamp.torque", Kind: Torque, hi: func(j *Job) float64 { return most(j.Mold.SideClamp.Size) }, over: func(j *Job) string { return holdsAtMost(j.Mold.SideClamp.Size) },
		slot: in(func(j *Job) *float64 { return &j.Mold.SideClamp.Torque }, func(j *Job) float64 {
			if !j.Mold.SideClamp.bolted() {
				return 0
			}
			return j.tightening(j.Mold.SideClamp.Size)
		}),
		Doc:  "Torque to which each side bolt is tightened.",
		From: "by the rule of mold.bolts.torque"},
	{Path: "mold.side_clamp.strap_force", Kind: Force, hi: fixed(20e3),
		slot: in(func(j *Job) *float64 { return &j.Mold.SideClamp.StrapForce }, ifStrap(always(300.0))),
		Doc:  "Tension in the strap around the shells.",
		From: "assumed: a hose clamp tightened by hand"},
	{Path: "mold.pry_slots.width", Kind: Length, hi: fixed(80),
		slot: in(func(j *Job) *float64 { return &j.Mold.PrySlots.Width }, func(j *Job) float64 { return tenth(clamp(0.1*j.Wheel.Diameter, 6, 25)) }),
		Doc:  "Width of the pry slots; 0: none.",
		From: "a tenth of the wheel's diameter, 6 mm to 25 mm"},
	{Path: "mold.pry_slots.depth", Kind: Length, hi: fixed(40),
		slot: in(func(j *Job) *float64 { return &j.Mold.PrySlots.Depth }, func(j *Job) float64 { return tenth(clamp(0.05*j.Wheel.Diameter, 3, 10)) }),
		Doc:  "Depth of the pry slots from the outside.",
		From: "5 % of the wheel's diameter, 3 mm to 10 mm"},
	{Path: "mold.pry_slots.height", Kind: Length, hi: fixed(20),
		slot: in(func(j *Job) *float64 { return &j.Mold.PrySlots.Height }, func(j *Job) float64 { return tenth(clamp(0.02*j.Wheel.Diameter, 1.5, 4)) }),
		Doc:  "Height of the pry slots across the parting line.",
		From: "2 % of the wheel's diameter, 1.5 mm to 4 mm"},
	{Path: "mold.pry_slots.bar", Kind: Length, lo: fixed(20), hi: fixed(2000), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Mold.PrySlots.Bar }, func(j *Job) float64 {
			return ladder(j.Wheel.Diameter, 150, step[float64]{60, 100})
		}),
		Doc:  "Length of the flat bar, from the hand to the edge that it is turned on.",
		From: "common practice: 100 mm below wheels of 60 mm, else 150 mm"},
	{Path: "mold.pry_slots.hand", Kind: Force, lo: fixed(1), hi: fixed(1000),
		slot: in(func(j *Job) *float64 { return &j.Mold.PrySlots.Hand }, always(50.0)),
		Doc:  "Force of the hand on the bar's end.",
		From: "common practice: 50 N, firm but without a jerk"},
	{Path: "mold.jacks.size", Kind: Word, Options: fastenerSizes("M4", "M12", true),
		slot: in(func(j *Job) *string { return &j.Mold.Jacks.Size }, func(j *Job) string {
			return ladder(j.Wheel.Diameter, "M8", step[string]{150, "none"}, step[string]{250, "M6"})
		}),
		Doc:  "Tapped holes for screws that push the pieces apart.",
		From: "none below 150 mm, M6 below 250 mm, then M8"},
}

// boltFor is the size of bolt that suits a wheel.
func boltFor(diameter float64) string {
	return ladder(diameter, "M8", step[string]{50, "M3"}, step[string]{100, "M4"}, step[string]{150, "M5"}, step[string]{220, "M6"})
}

// strapBelow is the wheel's diameter in mm below which a strap holds the shells.
const strapBelow = 60

// sideBolt is the largest size up to the mold's bolts whose head lies within
// the shells' height with a wall above and below, or "".
func sideBolt(j *Job) string {
	best := ""
	limit := j.Mold.Bolts.Size
	if limit == "none" {
		limit = boltFor(j.Wheel.Diameter)
	}
	for _, f := range Fasteners {
		if f.EitherRecess()+j.Process.HoleCompensation+2*j.Mold.Wall <= j.SideHeight() {
			best = f.Size
		}
		if f.Size == limit {
			break
		}
	}
	return best
}

// leastSpare is what two ball pockets exceed the ball by, mm, so that a chip or
// a film of wax does not hold the faces apart. Common practice.
const leastSpare = 0.2

func (c SideClamp) bolted() bool { return c.Kind == "counterbore" || c.Kind == "lugs" }

func ifStrap(value func(*Job) float64) func(*Job) float64 {
	return func(j *Job) float64 {
		if j.Mold.SideClamp.Kind != "strap" {
			return 0
		}
		return value(j)
	}
}

// tightening is the torque in N·m to which a bolt of the mold is tightened by
// default; 0 for "none". Rounded down, so that it never asks too much.
func (j *Job) tightening(size string) float64 {
	f, ok := FastenerOf(size)
	if !ok {
		return 0
	}
	return math.Floor(100*f.Torque(f.SafeTension(j.Mold.Bolts.Fit, j.Process.Bearing))) / 100
}

// most is the torque in N·m that a bolt of class 8.8 holds for good; for "none",
// one of the largest size.
func most(size string) float64 {
	f, ok := FastenerOf(size)
	if !ok {
		f = Fasteners[len(Fasteners)-1]
	}
	return f.Torque(f.MostReused())
}

// holdsAtMost says so to a builder.
func holdsAtMost(size string) string {
	if _, ok := FastenerOf(size); !ok {
		return ""
	}
	return fmt.Sprintf("%s holds at most %s, three quarters of its proof load", size, Format(Torque, readable(most(size))))
}
