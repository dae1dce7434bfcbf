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
	Least    float64 // mm, on the smallest ring in the widest pocket; below 0: clearance
	Lost     float64 // mm of interference that WarmUp takes
}

// Left is the interference in mm that stays when warm, at least and at most; below 0 the
// ring is loose.
func (b *Bearing) Left() (least, most float64) { return b.Least - b.Lost, b.Most - b.Lost }

// Loose tells whether the fit alone cannot hold any ring when warm.
func (b *Bearing) Loose() bool {
	_, most := b.Left()
	return !b.Known || most <= 0
}

// MayBeLoose tells whether there are rings and pockets within their tolerances that the
// fit alone does not hold when warm.
func (b *Bearing) MayBeLoose() bool {
	least, _ := b.Left()
	return !b.Known || least <= 0
}

// outerRings are how far the mean outside diameter of a rolling bearing may lie below its
// nominal, mm, by diameters up to a limit in mm: ISO 492, class Normal (from memory).
var outerRings = []struct{ upTo, below float64 }{
	{18, .008}, {30, .009}, {50, .011}, {80, .013}, {120, .015}, {150, .018}, {180, .025}, {250, .030}, {315, .035}, {400, .040}, {500, .045},
}

// ringBelow is that for a diameter in mm; unknown beyond the table.
func ringBelow(diameter float64) (mm float64, known bool) {
	for _, r := range outerRings {
		if diameter <= r.upTo {
			return r.below, true
		}
	}
	return 0, false
}

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
		lower, upper, err := params.Fit(p.Diameter, b.Class)
		if below, known := ringBelow(p.Diameter); err == nil && known {
			b.Known, b.Most, b.Least = true, max(0, -lower), -upper-below
		}
		out = append(out, b)
	}
	return out
}
