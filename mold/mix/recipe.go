package mix

import (
	"fmt"
	"math"
	"strconv"

	"wheelmold/params"
)

// Component is one thing to weigh into the bucket.
type Component struct {
	Name   string  // "A", "B", "pigment", or in a blend "60 A, part A"
	Part   Part    // of a urethane; of pigment neither
	Mass   float64 // g, exact
	Volume float64 // cm³ of what is weighed, by its own density; 0 of pigment, whose density is not known
	Set    float64 // g to weigh, as finely as the scale shows
	Total  float64 // g that the scale shows then, zeroed with the empty bucket on it
}

// Part is a urethane's part A or B.
type Part int

// The parts of a urethane, and what is neither.
const (
	Neither Part = iota
	PartA
	PartB
)

// Blend is how two urethanes of one family make a third hardness. It is linear by
// mass (common practice, weak): cast a button before the wheel.
type Blend struct {
	Hardness    [2]float64 // of the job's urethane, and of the other
	Share       [2]float64 // of the mass of all A and B
	Wanted      float64
	Weighed     float64 // what comes out by the same rule after rounding to the scale
	Uncertainty float64 // ±
}

// blendUncertainty in Shore A: that of common practice, 3 to 5.
const blendUncertainty = 4

// system is a urethane of two components.
type system struct {
	name     string // "60 A" in a blend, else ""
	hardness float64
	share    float64 // of the mass of all A and B
	a        float64 // share of A in its own mass
	density  [2]float64
}

// recipe is the composition that every batch has.
type recipe struct {
	systems []system // without those that have no share
	pigment float64  // share of the mass of A and B
	limit   float64  // most of that; 0: not stated
	step    float64  // g of the scale; 0: exact
}

func recipeOf(p *params.Pour) recipe {
	r := recipe{pigment: p.Pigment, limit: p.PigmentLimit, step: p.Scale.Resolution}
	own := system{share: 1, a: shareOfA(p, p.PartsA, p.PartsB, p.DensityA, p.DensityB), density: [2]float64{p.DensityA, p.DensityB}}
	b := blendOf(p)
	if b == nil {
		r.systems = []system{own}
		return r
	}
	other := system{a: shareOfA(p, p.Blend.PartsA, p.Blend.PartsB, p.Blend.DensityA, p.Blend.DensityB), density: [2]float64{p.Blend.DensityA, p.Blend.DensityB}}
	for i, s := range []system{own, other} {
		s.hardness, s.share = b.Hardness[i], b.Share[i]
		s.name = strconv.FormatFloat(s.hardness, 'g', 4, 64) + " A"
		if s.share > 0 {
			r.systems = append(r.systems, s)
		}
	}
	return r
}

// blendOf is the shares of a blend, nil without one.
func blendOf(p *params.Pour) *Blend {
	with := p.Blend.With
	if with == 0 {
		return nil
	}
	other := (p.Blend.Wanted - p.Hardness) / (with - p.Hardness)
	return &Blend{
		Hardness: [2]float64{p.Hardness, with}, Share: [2]float64{1 - other, other},
		Wanted: p.Blend.Wanted, Weighed: p.Blend.Wanted, Uncertainty: blendUncertainty,
	}
}

func byVolume(p *params.Pour) bool { return p.RatioBy == "volume" }

// shareOfA is the share of the mass that A has in a system.
func shareOfA(p *params.Pour, partsA, partsB, densityA, densityB float64) float64 {
	if byVolume(p) {
		partsA, partsB = partsA*densityA, partsB*densityB
	}
	return partsA / (partsA + partsB)
}

// Rounding to the scale may put the ratio of A to B off by goodRatio before
// something is said (common practice keeps within 1 to 2 %), and by mostRatio
// before the plan is refused (assumed: rubber so far off stays soft or weak).
const (
	goodRatio = 0.01
	mostRatio = 0.05
)

// fineRatio is an error that no more steps are spent on: equal parts differ by more.
const fineRatio = 0.0002

// moreSteps of the scale may be weighed of a system beyond what it needs, for a
// better ratio: one for each of its components.
const moreSteps = 2

// weighing is a batch as it is weighed.
type weighing struct {
	components []Component
	off        float64 // largest error of a system's ratio by rounding, a share
	masses     []float64
}

// weigh composes a batch of a mass in g. What is to be weighed of A and B makes
// up for pigment that is rounded down.
func (r *recipe) weigh(mass float64) weighing {
	resin := mass / (1 + r.pigment) // all A and B
	pigment := Component{Name: "pigment", Mass: mass - resin, Set: r.pigmentSteps(resin)}
	var w weighing
	var second []Component
	for i := range r.systems {
		s := &r.systems[i]
		exact := s.share * resin
		a, b := s.round(s.share*(mass-pigment.Set), r.step)
		w.components = append(w.components, Component{Name: s.called("A"), Part: PartA, Mass: exact * s.a, Set: a, Volume: a / s.density[0]})
		second = append(second, Component{Name: s.called("B"), Part: PartB, Mass: exact * (1 - s.a), Set: b, Volume: b / s.density[1]})
		w.off = max(w.off, s.off(a, b))
		w.masses = append(w.masses, a+b)
	}
	w.components = append(w.components, second...)
	if r.pigment > 0 {
		w.components = append(w.components, pigment)
	}
	total := 0.0
	for i := range w.components {
		total += w.components[i].Set
		w.components[i].Total = r.shown(total)
	}
	return w
}

// total is what the scale shows in the end.
func (w *weighing) total() float64 { return w.components[len(w.components)-1].Total }

// pigmentSteps is the pigment for so much A and B, in whole steps of the scale,
// but no more than the cure stands.
func (r *recipe) pigmentSteps(resin float64) float64 {
	exact := r.pigment * resin
	if r.step == 0 {
		return exact
	}
	n := math.Round(exact / r.step)
	if r.limit > 0 && n*r.step > r.limit*resin {
		n = math.Floor(exact / r.step)
	}
	return steps(n, r.step)
}

// shown is a sum of steps without what adding them up left in the last digits.
func (r *recipe) shown(v float64) float64 {
	if r.step == 0 {
		return v
	}
	return steps(math.Round(v/r.step), r.step)
}

// steps is n steps as a scale shows them: 116 steps of 0.1 are 11.6, where a
// product would be off in the last digit.
func steps(n, step float64) float64 {
	if each := math.Round(1 / step); math.Abs(each*step-1) < 1e-12 {
		return n / each
	}
	return n * step
}

func (s *system) called(component string) string {
	if s.name == "" {
		return component
	}
	return fmt.Sprintf("%s, part %s", s.name, component)
}

// hair of a step is no reason for another one: a billionth of the mass, a
// thousand times what a few roundings of a float64 make of it.
const hair = 1e-9

// round is what to weigh of A and B for at least mass g of the system: of the least
// sums of whole steps the first with a fine ratio, or else the one with the best, so
// that equal parts stay equal.
func (s *system) round(mass, step float64) (a, b float64) {
	if step == 0 {
		return mass * s.a, mass * (1 - s.a)
	}
	least := math.Ceil(mass / step * (1 - hair))
	best := math.Inf(1)
	for n := least; n <= least+moreSteps && best > fineRatio; n++ {
		na := math.Round(n * s.a)
		if off := s.off(na, n-na); n == least || off < best-hair {
			a, b, best = steps(na, step), steps(n-na, step), off
		}
	}
	return a, b
}

// off is the error of the ratio A to B, as a share of the true one; 1 where one
// of them is missing, which is as wrong as it gets.
func (s *system) off(a, b float64) float64 {
	if a <= 0 || b <= 0 {
		return 1
	}
	return math.Abs(a/b*(1-s.a)/s.a - 1)
}
