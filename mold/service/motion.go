package service

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/params"
)

// Motion is the wheel as it turns at the job's most revolutions.
type Motion struct {
	Mass    float64 // g
	Inertia float64 // kg·m² about the axis
	Hub     float64 // kg·m², the hub's part of it
	Rubber  float64 // kg·m²
	Speed   float64 // m/s of the tread
	Energy  float64 // J of its turning
	// Hoop is ρv², the order of the stress in Pa in rubber that spins as a free ring.
	Hoop float64
	// Pull is the tension in Pa by which the rubber would lift off the hub if its own hoop
	// strength held nothing: the upper bound ρω²(Ro³ - Rb³)/3Rb.
	Pull   float64
	Factor float64 // of the trusted bond to it; +Inf at rest
}

func motionOf(m *mold.Mold, hubMass, rubberMass float64) Motion {
	j := m.Job
	x := Motion{Mass: hubMass + rubberMass}
	x.Hub = hubMass / 1000 * gyration(hubMoments(m)) / 1e6
	x.Rubber = rubberMass / 1000 * gyration(rubberMoments(m)) / 1e6
	x.Inertia = x.Hub + x.Rubber
	w := j.Duty.RPM * math.Pi / 30
	x.Speed = w * j.Wheel.Diameter / 2000
	x.Energy = x.Inertia * w * w / 2
	rho := j.Pour.Density * 1000
	x.Hoop = rho * x.Speed * x.Speed
	x.Pull = rimPull(rho, w, m.Tread.R/1000, m.Core.BodyR/1000)
	x.Factor = ratio(j.Hub.Bond, x.Pull)
	return x
}

// faults warn of a wheel whose rubber may fly off: nobody should find out in its plane.
func (x *Motion) faults(j *params.Job) params.Faults {
	if x.Factor >= 1 {
		return nil
	}
	most := j.Duty.RPM * math.Sqrt(x.Factor) // the pull goes with its square
	step := math.Pow(10, float64(params.Decade(most)-1))
	return params.Faults{{
		Path: "duty.rpm", Value: fmt.Sprintf("%g", j.Duty.RPM), With: []string{"hub.bond", "wheel.diameter"},
		Cause: fmt.Sprintf("the spinning rubber pulls on its bond with up to %.2f MPa, more than the %.2f MPa that it is trusted with (hub.bond): it may tear loose and fly off", x.Pull/1e6, j.Hub.Bond/1e6),
		Hint:  fmt.Sprintf("at most %.0f; or a bond that a test piece has shown to stand more. Never stand in the plane of a wheel that spins", math.Floor(most/step)*step),
	}}
}

// rimPull is the centrifugal force of a ring between two radii by its inner area, Pa:
// ∫ρω²r·r dr/Rb, in kg/m³, rad/s and m.
func rimPull(rho, w, outer, inner float64) float64 {
	return rho * w * w * (math.Pow(outer, 3) - math.Pow(inner, 3)) / (3 * inner)
}

// moments are a body's volume in mm³ and the integral of r² over it in mm⁵.
type moments struct{ volume, second float64 }

// gyration is the mean of r² over a body, mm².
func gyration(m moments) float64 { return m.second / m.volume }

// less takes out n bodies of a volume, each with a mean r² of its own.
func (m *moments) less(n, volume, mean float64) {
	m.volume -= n * volume
	m.second -= n * volume * mean
}

// revolved are the moments of an outline turned about r = 0: V as Pappus-Guldin has it,
// and (π/2)∮r⁴dz.
func revolved(p solid.Profile) moments {
	s := 0.0
	for _, e := range p.Elems() {
		if !e.Arc {
			a, b := e.A[0], e.B[0]
			s += (e.B[1] - e.A[1]) * (a*a*a*a + a*a*a*b + a*a*b*b + a*b*b*b + b*b*b*b) / 5
			continue
		}
		// Smooth over at most 120°: the quadrature is good to rounding.
		t0, t1 := e.Angles()
		h := (t1 - t0) / 2
		s += h * quad.Fixed(func(x float64) float64 {
			cs := math.Cos(t0 + h*(1+x))
			return math.Pow(e.C[0]+e.R*cs, 4) * e.R * cs
		}, -1, 1, 24, nil, 0)
	}
	return moments{p.RevolvedVolume(), math.Pi / 2 * s}
}

// hubMoments are those of the outline less bolt holes and lock holes, by Steiner's
// theorem. A lock hole counts as a cylinder with flat ends, which only its place in the
// inertia notices.
func hubMoments(m *mold.Mold) moments {
	c := m.Core
	x := revolved(c.Outline())
	locks := float64(c.LockCount)
	if n := float64(c.BoltCount); n > 0 {
		hole := (x.volume - locks*c.LockVolume() - c.Volume()) / n
		x.less(n, hole, c.BoltCircleR*c.BoltCircleR+c.BoltR*c.BoltR/2)
	}
	x.less(locks, c.LockVolume(), lockMean(m))
	return x
}

// lockMean is the mean of r² in mm² over one lock hole.
func lockMean(m *mold.Mold) float64 {
	c := m.Core
	mid := c.BodyR - c.LockDepth/2
	return mid*mid + c.LockDepth*c.LockDepth/12 + c.LockR*c.LockR/4
}

// rubberMoments are those of the trimmed rubber: the cavity less the hub's column, with
// the plugs in the lock holes. A cross groove counts as a slot of even width from its
// bottom to the tread, which only its place in the inertia notices.
func rubberMoments(m *mold.Mold) moments {
	t := *m.Tread
	if t.Top != t.Width {
		t.Top, t.Ceiling = t.Width, 0
	}
	cavity := t.Cavity()
	x := revolved(cavity)
	if n := float64(t.Cross.Count); n > 0 {
		foot := t.CrossFoot()
		mean := (t.R*t.R+t.R*foot+foot*foot)/3 + t.Cross.Width*t.Cross.Width/12
		x.less(n, (x.volume-t.Volume())/n, mean)
	}
	hub := revolved(m.Core.Column(0, t.Top))
	x.volume -= hub.volume
	x.second -= hub.second
	x.less(-float64(m.Core.LockCount), m.Core.LockVolume(), lockMean(m))
	return x
}
