package params

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// What is taken for granted of a robot: 113 kg is 250 lb, the limit of its heaviest usual
// class, on wheels of about 11 in; the treads of such drives run at 6 m/s or so. From memory.
const (
	usualMass     = 113.0 // kg
	usualDiameter = 280.0 // mm, of the wheels under usualMass
	usualSpeed    = 6.0   // m/s of the tread at full revolutions
)

// Load is the weight in N that the wheel carries at rest.
func (j *Job) Load() float64 { return j.Duty.Mass / 1000 * j.Duty.Share * Gravity }

// Hardness is the Shore A of the tread: the wanted one of a blend.
func (j *Job) Hardness() float64 {
	if j.Pour.Blend.With > 0 {
		return j.Pour.Blend.Wanted
	}
	return j.Pour.Hardness
}

// SlipTorque is the torque in N·m at which the tread slips under that weight.
func (j *Job) SlipTorque() float64 { return j.Duty.Friction * j.Load() * j.Wheel.Diameter / 2000 }

// dutyKeys are what the wheel is asked to do. None of them shapes the mold.
var dutyKeys = []Key{
	{Path: "duty.mass", Kind: Mass, lo: fixed(1), hi: fixed(5e6),
		slot: in(func(j *Job) *float64 { return &j.Duty.Mass }, func(j *Job) float64 {
			return Significant(1000*usualMass*math.Pow(j.Wheel.Diameter/usualDiameter, 3), 2)
		}),
		Doc:  "Mass of the whole robot or cart.",
		From: fmt.Sprintf("assumed: %g kg (250 lb, the heaviest usual class) on wheels of %g mm, and as the cube of the diameter", usualMass, usualDiameter)},
	{Path: "duty.share", Kind: Share, hi: fixed(1),
		slot: in(func(j *Job) *float64 { return &j.Duty.Share }, always(0.5)),
		Doc:  "Share of that weight on this wheel.",
		From: "cautious: one of two wheels carries half of it"},
	{Path: "duty.rpm", Kind: Number, hi: fixed(100000),
		slot: in(func(j *Job) *float64 { return &j.Duty.RPM }, func(j *Job) float64 {
			return Significant(usualSpeed*60e3/(math.Pi*j.Wheel.Diameter), 2)
		}),
		Doc:  "Revolutions of the wheel in a minute, at most.",
		From: fmt.Sprintf("assumed: the tread runs at %g m/s", usualSpeed)},
	{Path: "duty.friction", Kind: Number, lo: fixed(0.05), hi: fixed(3),
		slot: in(func(j *Job) *float64 { return &j.Duty.Friction }, always(1.0)),
		Doc:  "Friction of the tread on the floor.",
		From: "assumed: 1, clean rubber on a clean floor; dust halves it"},
	{Path: "duty.stall_torque", Kind: Torque, hi: fixed(5000),
		slot: in(func(j *Job) *float64 { return &j.Duty.StallTorque }, func(j *Job) float64 {
			return Significant(2*j.SlipTorque(), 2)
		}),
		Doc:  "Torque of the stalled drive at the wheel, gearing included.",
		From: "assumed: twice what makes the tread slip under its load"},
	{Path: "duty.impact", Kind: Number, lo: fixed(1), hi: fixed(1000),
		slot: in(func(j *Job) *float64 { return &j.Duty.Impact }, always(10.0)),
		Doc:  "Force of a hit or a landing, in multiples of the weight that the wheel carries.",
		From: "assumed: 10; a drop from a height h that is stopped within s gives about 1 + 2h/s"},
}

// Significant rounds to so many digits that count.
func Significant(v float64, digits int) float64 {
	if v == 0 {
		return 0
	}
	step := math.Pow(10, float64(digits-1-Decade(v)))
	return math.Round(v*step) / step
}

// Decade is the exponent of the greatest power of ten that is no more than |v|, read from
// its digits: a logarithm could be off by one at a power of ten. 0 and what is not finite
// have none, and give 0.
func Decade(v float64) int {
	_, exponent, _ := strings.Cut(strconv.FormatFloat(v, 'e', -1, 64), "e")
	n, _ := strconv.Atoi(exponent)
	return n
}
