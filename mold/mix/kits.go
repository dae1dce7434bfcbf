package mix

import (
	"math"

	"wheelmold/params"
)

// Kits is what to buy for all wheels, and what a wheel costs in the builder's
// currency. Every mix is taken to fill all molds, also the last; pigment is not
// counted, and what is left in an opened can is taken to be good for the next mix.
type Kits struct {
	Mixes    int      // for all wheels
	Systems  []Supply // one, or both of a blend, which are taken to be sold alike
	PerGram  float64  // price of 1 g
	Material float64  // cost of a wheel by what is mixed for it
	Bought   float64  // cost of a wheel by the kits that are bought
}

// Supply is the kits of one urethane.
type Supply struct {
	Name   string  // "60 A" in a blend, else ""
	Used   float64 // g of A and B in all mixes
	Kits   int
	Left   float64 // g
	Wheels int     // that one kit is enough for, in whole mixes; a million is many
}

// kitsFor is nil where no kit is stated. What counts is what is weighed.
func kitsFor(p *params.Pour, in *Input, r *recipe, w *weighing, batches int) *Kits {
	kit := p.Kit.Mass
	if kit == 0 {
		return nil
	}
	mixes := (in.wheels() + in.molds() - 1) / in.molds()
	k := &Kits{Mixes: mixes, PerGram: p.Kit.Price / kit}
	for i, s := range r.systems {
		mix := w.masses[i] * float64(batches)
		used := mix * float64(mixes)
		kits := math.Ceil(used / kit * (1 - hair))
		k.Systems = append(k.Systems, Supply{
			Name: s.name, Used: used, Kits: int(kits), Left: max(0, kits*kit-used),
			Wheels: int(min(math.Floor(kit/mix*(1+hair))*float64(in.molds()), mostWheels)),
		})
		k.Material += mix * k.PerGram / float64(in.molds())
		k.Bought += kits * p.Kit.Price / float64(in.wheels())
	}
	return k
}
