package service

import (
	"wheelmold/params"
)

// WarmUp is by how many kelvin a running hub is taken to warm (assumed), and
// SteelExpansion the linear expansion of a bearing's ring, 1/K.
const (
	WarmUp         = 30.0
	SteelExpansion = 12e-6
)

// Bearing is how a ring sits in a pocket of the hub. No standard states a fit for a
// plastic hub: it creeps, and heat opens it.
type Bearing struct {
	Face     string // of the wheel
	Diameter float64
	Class    string  // the job's hub.bearing_fit
	Known    bool    // the class has figures for the diameter
	Most     float64 // mm of interference that the class gives at most, on a ring at its nominal size
	Lost     float64 // mm of interference that WarmUp takes
}

// Left is the interference in mm that stays when warm, at most; below 0 the ring is loose.
func (b *Bearing) Left() float64 { return b.Most - b.Lost }

// Loose tells whether the fit alone cannot hold the ring.
func (b *Bearing) Loose() bool { return !b.Known || b.Left() <= 0 }

// lossByHeat is the interference in mm that a rise in K takes from a steel ring of a
// diameter in mm: (αp - αs)·D·ΔT.
func lossByHeat(expansion, diameter, rise float64) float64 {
	return (expansion - SteelExpansion) * diameter * rise
}

func bearingsOf(j *params.Job) (out []Bearing) {
	for _, p := range []struct {
		face string
		params.Pocket
	}{{"back", j.Hub.BearingBack}, {"front", j.Hub.BearingFront}} {
		if p.Diameter <= 0 {
			continue
		}
		b := Bearing{Face: p.face, Diameter: p.Diameter, Class: j.Hub.BearingFit, Lost: lossByHeat(j.HubExpansion(), p.Diameter, WarmUp)}
		if lower, _, err := params.Fit(p.Diameter, b.Class); err == nil {
			b.Known, b.Most = true, max(0, -lower)
		}
		out = append(out, b)
	}
	return out
}
