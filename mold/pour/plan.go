// Package pour reckons everything that decides a pour that can be made once: what
// to weigh out and in how many batches, when to stir, pour and stop, whether sprue
// and vents let it in and the air out in time, where air stays behind, which
// bubbles leave, how large the cured wheel is, and what it weighs.
//
// It guarantees that masses add up, that flow and bubbles follow the closed forms
// of slow flow with a viscosity that grows, and that a pour which cannot end
// before the urethane gels is refused. It does not know the heat that a large
// batch gives off in its bucket, foam from moisture, or how steady a hand pours:
// the job's figures and cautions stand for those.
package pour

import (
	"wheelmold/mold"
	"wheelmold/mold/cure"
	"wheelmold/mold/mix"
	"wheelmold/mold/urethane"
	"wheelmold/params"
)

// Options say what is cast.
type Options struct {
	Wheels int // in all
	Molds  int // that are filled from one mix
}

// Plan is one pour; lengths in mm, volumes in mm³, masses in g, times in s.
type Plan struct {
	Options   Options
	Liquid    urethane.Liquid // as warm as its components
	Mix       *mix.Plan
	Unhurried *mix.Plan // as Mix, if only the gates were wide enough; the same if they are
	Clock     Clock
	Sprue     Sprue
	Vent      Vent
	Air       Air
	// Filling is one mold from empty to full, and Thickening the mix from first
	// mixing until it has gelled.
	Filling    []Fill
	Thickening []Thick
	Bubbles    Bubbles
	Shrinkage  cure.Forecast
	Window     cure.Window
	Heat       cure.Heat
	Weights    Weights
	Warnings   params.Faults
}

// New plans the pour of a mold from its pieces' volumes in mm³, by name, and from
// the mass in g that it may lose between its pieces. The error is params.Faults:
// what cannot be poured, with the number to change.
func New(m *mold.Mold, volumes map[string]float64, lost float64, o Options) (*Plan, error) {
	p, err := settled(m, volumes, lost, o)
	if err != nil {
		return nil, err
	}
	c, err := cavityOf(m, 0)
	if err != nil {
		return nil, err
	}
	p.Air = airOf(m, c)
	p.Filling = p.filling(m, c)
	p.warn(m)
	return p, nil
}

// settled is the plan without the air and the warnings.
func settled(m *mold.Mold, volumes map[string]float64, lost float64, o Options) (*Plan, error) {
	j := m.Job
	p := &Plan{
		Options: o, Liquid: urethane.Of(&j.Pour).At(j.Pour.MixTemperature),
		Shrinkage: cure.NewForecast(j), Window: cure.NewWindow(j), Heat: cure.NewHeat(j),
	}
	channels := grams(m.FilledChannels(), &j.Pour)
	p.Weights = weightsOf(m, volumes, channels)
	flow := pouringOf(m, p.Liquid)
	in := mix.Input{Rubber: grams(m.RubberVolume(), &j.Pour), Channels: channels, Flash: lost, Molds: o.Molds, Wheels: o.Wheels, Stays: j.Calibration.Residue}
	if !m.Layout.OpenTop() {
		in.Most = grams(flow.Volume(j.Pour.Start, p.Liquid.Pourable()), &j.Pour)
	}
	if f := tooSlow(m, flow, volumeOf((in.Rubber+in.Channels+in.Flash)*(1+j.Pour.Margin), &j.Pour), in.Most); len(f) > 0 {
		return nil, f
	}
	var err error
	if p.Mix, err = mix.New(&j.Pour, in); err != nil {
		return nil, unpoured(m, flow, in, err)
	}
	if p.Unhurried, err = unhurried(&j.Pour, in, p.Mix); err != nil {
		return nil, err
	}
	p.run(m, flow)
	if f := p.gelled(m, flow); len(f) > 0 {
		return nil, f
	}
	p.Thickening = p.thickening(&j.Pour)
	p.Bubbles = bubblesOf(m, p)
	return p, nil
}

// unhurried is the plan for gates that are no limit.
func unhurried(p *params.Pour, in mix.Input, plan *mix.Plan) (*mix.Plan, error) {
	if !plan.PotLife().Decides {
		return plan, nil
	}
	in.Most = 0
	return mix.New(p, in)
}

// grams is the mass of a volume in mm³.
func grams(volume float64, p *params.Pour) float64 { return volume / 1000 * p.Density }

// volumeOf is the volume in mm³ of a mass in g.
func volumeOf(mass float64, p *params.Pour) float64 { return mass / p.Density * 1000 }

// pouringOf is how the mix runs into the mold: its mouths are kept full, and the
// stream falls freely into the cavity. Under an open top there are no mouths, and no flow.
func pouringOf(m *mold.Mold, l urethane.Liquid) Pouring {
	layout := m.Layout
	length := layout.Ceil - m.Tread.Top
	flow := Pouring{
		Liquid: l, Head: length + m.Job.Pour.Funnel,
		Sprues: Sprues{Count: len(layout.Gates), Gate: 2 * layout.GateR, Mouth: 2 * layout.MouthR, Length: length},
	}
	if n := len(layout.Vents); n > 0 {
		flow.Vents = &Vents{Count: n, Diameter: 2 * layout.VentR, Length: length}
	}
	return flow
}

// next is what follows a batch: each mold takes whole batches.
func (p *Plan) next() follow {
	switch molds := max(p.Options.Molds, 1); {
	case p.Mix.Batches < 2:
		return nothing
	case p.Mix.Batches <= molds:
		return otherMold
	}
	return sameMold
}

// sheetKeys are the figures of the urethane's data sheet and of its seller that
// decide a pour.
var sheetKeys = []string{
	"pour.parts_a", "pour.parts_b", "pour.density", "pour.viscosity", "pour.pot_life", "pour.gel_time", "pour.demold", "mold.shrinkage",
	"pour.kit.mass", "pour.kit.price",
}

// Unstated lists the figures of data sheet and seller that the job does not state.
func Unstated(j *params.Job) []string { return j.Unstated(sheetKeys...) }
