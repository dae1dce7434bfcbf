package pour

import (
	"slices"

	"wheelmold/mold"
	"wheelmold/mold/pour/rise"
	"wheelmold/params"
)

// Fill is a moment of the pour into one mold.
type Fill struct {
	Level     float64 // of the liquid, mm above the tread's lower face, if the mold stands level
	Volume    float64 // mm³ in the cavity and, above it, in sprue and vents
	Mass      float64 // g of it
	Batch     int     // from which it is poured, from 1
	Clock     float64 // s from this batch's first mixing
	Viscosity float64 // of what runs in, Pa·s
	Left      float64 // s until the batch's pot life ends
}

// Steps of the level over the cavity's height and over the channels'.
const cavitySteps, channelSteps = 32, 4

// filling follows the level in one mold from empty to full; of several that a batch
// fills, in the last, which has the least time.
//
// The volume below a level is that of the cavity's columns, all scaled alike, by less
// than a thousandth, so that the whole is the closed form's. What seeps between the pieces, and the spare, are
// taken to leave the bucket evenly with the rest, so that the mold is full when the
// batch is poured.
func (p *Plan) filling(m *mold.Mold, c *rise.Cavity) []Fill {
	j := &m.Job.Pour
	rising := levels(m, c)
	parts, molds := 1, max(p.Options.Molds, 1)
	if p.Mix.Batches > molds { // a mold takes whole batches
		parts, molds = p.Mix.Batches/molds, 1
	} else { // a batch fills whole molds
		molds /= p.Mix.Batches
	}
	when := p.pouring(m)
	var out []Fill
	full := rising[len(rising)-1].Volume
	for k := range parts {
		from, to := full*(float64(k)/float64(parts)), full*(float64(k+1)/float64(parts))
		for _, f := range between(rising, from, to) {
			f.Batch, f.Mass = k+1, grams(f.Volume, j)
			f.Clock = when((float64(molds-1) + (f.Volume-from)/(to-from)) / float64(molds))
			f.Viscosity, f.Left = p.Liquid.ViscosityAt(f.Clock), p.Liquid.Pourable()-f.Clock
			out = append(out, f)
		}
	}
	return out
}

// pouring is when a share of a batch has run in: evenly within pour.duration, or as
// the gates let it through with their mouths kept full where that takes longer.
func (p *Plan) pouring(m *mold.Mold) func(share float64) float64 {
	start := p.Clock.PourStart
	if wanted := m.Job.Pour.Duration; p.Sprue.Run < wanted {
		return func(share float64) float64 { return start + share*wanted }
	}
	flow := pouringOf(m, p.Liquid)
	return func(share float64) float64 {
		clock, _ := flow.Until(start, share*p.Sprue.Volume)
		return clock
	}
}

// levels are levels with the volumes below them, from the empty mold to the full one.
// Under a coned ceiling the full one is full to the ridge at least.
func levels(m *mold.Mold, c *rise.Cavity) []Fill {
	top, fill := m.Tread.Top, m.Job.Pour.Fill
	last := max(fill, m.Tread.Ceiling)
	var at []float64
	for i := range cavitySteps {
		at = append(at, top*float64(i)/cavitySteps)
	}
	for i := range channelSteps + 1 {
		at = append(at, top+last*float64(i)/channelSteps)
	}
	for _, v := range m.Layout.Vents {
		at = append(at, v[2]) // where the vents get wet
	}
	slices.Sort(at)
	at = slices.Compact(at)
	scale := m.RubberVolume() / c.Volume()
	out := make([]Fill, len(at))
	for i, z := range at {
		out[i] = Fill{Level: z, Volume: scale*c.Below(z) + m.ChannelsTo(min(max(0, z-top), fill))}
	}
	return out
}

// between cuts a part out of the rising level; at its ends the level is interpolated.
func between(rising []Fill, from, to float64) (out []Fill) {
	end := func(volume float64) Fill {
		k := max(1, slices.IndexFunc(rising, func(f Fill) bool { return f.Volume >= volume }))
		a, b := rising[k-1], rising[k]
		return Fill{Level: a.Level + (b.Level-a.Level)*(volume-a.Volume)/(b.Volume-a.Volume), Volume: volume}
	}
	out = append(out, end(from))
	for _, f := range rising {
		if f.Volume > from && f.Volume < to {
			out = append(out, f)
		}
	}
	return append(out, end(to))
}

// Thick is how thick the mix is at a time.
type Thick struct {
	Clock  float64 // s from first mixing
	Bucket float64 // Pa·s of what stays in the bucket; 0: gelled
	Mold   float64 // Pa·s of what was poured when the pour started; 0: not yet, or gelled
}

// thickSteps of the time until both have gelled.
const thickSteps = 30

// thickening follows a batch in the bucket and in the mold, as warm as the clock takes
// them: see clockOf.
func (p *Plan) thickening(j *params.Pour) []Thick {
	start, gel := p.Clock.PourStart, p.Clock.Gel
	end := max(p.Liquid.Gels(), gel)
	at := []float64{start, p.Liquid.Gels(), gel}
	for i := range thickSteps + 1 {
		at = append(at, end*float64(i)/thickSteps)
	}
	slices.Sort(at)
	warm := p.Liquid.At(j.MoldTemperature)
	poured := warm.Clock(p.Liquid.Age(start)) // when the mix would be as old, had it been as warm all the while
	var out []Thick
	for _, t := range slices.Compact(at) {
		x := Thick{Clock: t}
		if t <= p.Liquid.Gels() {
			x.Bucket = p.Liquid.ViscosityAt(t)
		}
		if t >= start && t <= gel {
			x.Mold = warm.ViscosityAt(poured + t - start)
		}
		out = append(out, x)
	}
	return out
}
