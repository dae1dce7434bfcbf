// Package urethane is the mixed urethane from the first stir until it gels: how
// thick it is at a time, and how much it can still flow.
//
// Viscosity grows exponentially, μ(t) = μ0·e^(t/τ), from the data sheet's value
// when freshly mixed to a stated multiple of it at the end of the pot life; at
// the gel time it no longer flows. All flow that is slow enough to forget its
// inertia depends on viscosity through one number, the mobility ∫dt/μ in 1/Pa,
// whatever it flows through; the package integrates it, and finds the time at
// which it is used up, in closed form.
//
// A liquid has one temperature. Another one is taken by [Liquid.At]; cure and
// viscosity follow by a rule of thumb and by an activation temperature from fast
// urethanes, good for some ten kelvin around the data sheet's.
//
// Not modeled: the heat that the cure itself gives off, which in a large bucket
// shortens the pot life; the steeper rise of viscosity right before gel; and
// anything that depends on the rate of shear.
//
// All functions are finite for positive viscosities and times; a Growth of 1 is a
// liquid that does not thicken.
package urethane

import (
	"math"

	"wheelmold/mold/portable"
	"wheelmold/params"
)

// Liquid is a mixed urethane: what its data sheet states, and how warm it is.
// Methods that take or return a clock time count it in s from first mixing, with
// the liquid at its Temperature all the while.
type Liquid struct {
	Density     float64 // g/cm³
	Viscosity   float64 // μ0, Pa·s, freshly mixed, at Sheet
	PotLife     float64 // s, at Sheet
	Growth      float64 // of the viscosity by the end of the pot life, at least 1
	Gel         float64 // s from first mixing, at Sheet
	Tension     float64 // surface tension, N/m
	Temperature float64 // of the liquid, °C
	Sheet       float64 // temperature at which the data sheet states the above, °C
}

// Of is the urethane of a job, at the temperature of its data sheet.
func Of(p *params.Pour) Liquid {
	return Liquid{
		Density: p.Density, Viscosity: p.Viscosity, PotLife: p.PotLife, Growth: p.Growth, Gel: p.GelTime,
		Tension: p.SurfaceTension, Temperature: p.SheetTemperature, Sheet: p.SheetTemperature,
	}
}

// At is the same urethane at another temperature in °C.
func (l Liquid) At(temperature float64) Liquid {
	l.Temperature = temperature
	return l
}

// Hurry is how much faster the cure runs than at the data sheet's temperature:
// twice per 10 K (a rule of thumb, from memory).
func (l Liquid) Hurry() float64 { return portable.Exp2((l.Temperature - l.Sheet) / 10) }

// Thinning is the viscosity over that of the same degree of cure at the data
// sheet's temperature, with an activation temperature E/R = 4970 K (Castro and
// Macosko, AIChE J. 28 (1982) 250, for fast urethanes; carried over to hand-cast
// ones).
func (l Liquid) Thinning() float64 {
	const activation, zero = 4970, 273.15
	return portable.Exp(activation * (1/(l.Temperature+zero) - 1/(l.Sheet+zero)))
}

// Age is how far the cure has come at a clock time: the time in s that takes it
// as far at the data sheet's temperature.
func (l Liquid) Age(clock float64) float64 { return clock * l.Hurry() }

// Clock is the time in s at which the cure has come as far as a given age.
func (l Liquid) Clock(age float64) float64 { return age / l.Hurry() }

// Pourable is the clock time in s at which the pot life ends.
func (l Liquid) Pourable() float64 { return l.Clock(l.PotLife) }

// Gels is the clock time in s at which the liquid gels.
func (l Liquid) Gels() float64 { return l.Clock(l.Gel) }

// ViscosityAt is the viscosity in Pa·s at a clock time; that of a gelled liquid
// is given as it was when it gelled.
func (l Liquid) ViscosityAt(clock float64) float64 {
	age := min(max(l.Age(clock), 0), l.Gel)
	return l.Viscosity * l.Thinning() * portable.Pow(l.Growth, age/l.PotLife)
}

// Mobility is ∫dt/μ in 1/Pa between two clock times: nothing before first mixing,
// and nothing after gel.
func (l Liquid) Mobility(from, to float64) float64 {
	return l.between(max(l.Age(from), 0), min(l.Age(to), l.Gel))
}

// Left is ∫dt/μ in 1/Pa from an age until gel. What gets warmer or colder on its
// way, as a thin film in a mold does, keeps its age: from there on it cures and
// thins at the new temperature.
func (l Liquid) Left(age float64) float64 { return l.between(age, l.Gel) }

// Until is the clock time in s at which a mobility in 1/Pa counted from an
// earlier clock time is reached, and whether it is before the liquid gels; where
// it is not, the time is that of gel, or the earlier one if that is later still.
func (l Liquid) Until(from, mobility float64) (float64, bool) {
	start := max(l.Age(from), 0)
	if mobility <= 0 {
		return l.Clock(start), start <= l.Gel
	}
	if mobility > l.Left(start) {
		return l.Clock(max(start, l.Gel)), false
	}
	age := mobility * l.Hurry() * l.Thinning() * l.Viscosity // if it stayed fresh
	if tau := l.tau(); !math.IsInf(tau, 1) {
		age = start - tau*math.Log1p(-age/tau*portable.Exp(start/tau))
	} else {
		age += start
	}
	return l.Clock(min(age, l.Gel)), true
}

// Head is the pressure in Pa under a height of liquid in mm.
func (l Liquid) Head(height float64) float64 { return l.Density * params.Gravity * height }

// Capillary is the pressure in Pa that pulls the liquid into a slit of the given
// width in mm, 2γcosθ/h (Laplace, for two parallel faces), or into a round hole
// of that radius; negative, and so pushing back, where the contact angle in
// degrees exceeds 90.
func (l Liquid) Capillary(gap, angle float64) float64 {
	return 2000 * l.Tension * math.Cos(angle*math.Pi/180) / gap
}

// tau is the age in s within which the viscosity grows e times; infinite if it
// does not grow.
func (l Liquid) tau() float64 { return l.PotLife / portable.Log(max(l.Growth, 1)) }

// between is ∫dt/μ from one age to another at the liquid's temperature.
func (l Liquid) between(from, to float64) float64 {
	if from >= to {
		return 0
	}
	m := (to - from) / l.Viscosity
	if tau := l.tau(); !math.IsInf(tau, 1) {
		m = tau / l.Viscosity * (portable.Exp(-from/tau) - portable.Exp(-to/tau))
	}
	return m / (l.Hurry() * l.Thinning())
}
