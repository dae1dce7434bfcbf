package flash

import (
	"math"

	"wheelmold/params"
)

// gravity is the standard acceleration of free fall, m/s² (ISO 80000-3).
const gravity = 9.80665

// Liquid is the mixed urethane from the first stir until it gels: viscosity
// grows exponentially, μ(t) = μ0·e^(t/τ), and reaches Growth·μ0 at the pot life.
type Liquid struct {
	Density   float64 // g/cm³
	Viscosity float64 // μ0, Pa·s
	PotLife   float64 // s
	Growth    float64 // of the viscosity at the end of the pot life, more than 1
	Gel       float64 // s from first mixing
	Tension   float64 // surface tension, N/m
	Mold      float64 // temperature of the mold, °C
	Sheet     float64 // temperature at which the data sheet states the above, °C
}

func liquidOf(p *params.Pour) Liquid {
	return Liquid{
		Density: p.Density, Viscosity: p.Viscosity, PotLife: p.PotLife, Growth: p.Growth, Gel: p.GelTime,
		Tension: p.SurfaceTension, Mold: p.MoldTemperature, Sheet: p.SheetTemperature,
	}
}

// Mobility is ∫dt/μ in 1/Pa from the time at which the liquid wets a seam until
// it gels; both clocks start at first mixing, s. The film is as warm as the
// mold: from there on it cures and thins at the mold's temperature.
func (l *Liquid) Mobility(wets float64) float64 {
	if wets >= l.Gel {
		return 0
	}
	tau := l.PotLife / math.Log(l.Growth)
	m := tau / l.Viscosity * (math.Exp(-wets/tau) - math.Exp(-l.Gel/tau))
	return m / (l.hurry() * l.thinning())
}

// hurry is how much faster the cure runs at the mold's temperature: twice per
// 10 K (a rule of thumb, from memory).
func (l *Liquid) hurry() float64 { return math.Exp2((l.Mold - l.Sheet) / 10) }

// thinning is the viscosity at the mold's temperature over that of the data
// sheet, with an activation temperature E/R = 4970 K (Castro and Macosko, AIChE
// J. 28 (1982) 250, for fast urethanes; carried over to hand-cast ones).
func (l *Liquid) thinning() float64 {
	const activation, zero = 4970, 273.15
	return math.Exp(activation * (1/(l.Mold+zero) - 1/(l.Sheet+zero)))
}

// Head is the pressure in Pa under a height of liquid in mm.
func (l *Liquid) Head(height float64) float64 { return l.Density * gravity * height }

// Capillary is the pressure in Pa that pulls the liquid into a slit of the given
// width in mm, 2γcosθ/h (Laplace, for two parallel faces); negative, and so
// pushing back, where the contact angle in degrees exceeds 90.
func (l *Liquid) Capillary(gap, angle float64) float64 {
	return 2000 * l.Tension * math.Cos(angle*math.Pi/180) / gap
}

// wettedAt is the clock time in s at which the rising liquid reaches height z of
// a cavity from 0 to top, mm: filling at a steady rate is assumed.
func wettedAt(p *params.Pour, z, top float64) float64 {
	return p.Start + p.Duration*min(max(z/top, 0), 1)
}
