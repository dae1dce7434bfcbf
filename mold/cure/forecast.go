package cure

import (
	"math"

	"wheelmold/params"
)

// Forecast is what the rubber's shrinkage does to a wheel; lengths in mm.
type Forecast struct {
	Reaction, Cooling float64 // free linear strain by each, fractions
	Core              float64 // diameter that holds the rubber

	Wanted float64 // diameter
	Cavity Size    // as molded, in the middle of the width
	Bonded Size    // cured, if the width stays
	Ends   Size    // cured, if the ends pull in freely
	Free   Size    // by the rule of thumb, length times strain: no bonded wheel does that

	Middle, Edges float64 // diameters expected in the middle and at both ends, on a plain core, a crown aside

	ByReaction, ByCooling float64 // parts of what the cavity's diameter exceeds the wanted one by
	PerThousandth         float64 // what 0.1 % more of free shrinkage takes off the diameter, if the width stays
	Doubts                []Doubt
}

// Size is a layer's outer diameter and width, mm.
type Size struct{ Diameter, Width float64 }

func (l Layer) size() Size { return Size{2 * l.Outer, l.Width} }

// Doubt is one thing that is not known, and between which diameters in mm the wheel
// from this cavity comes out for it.
type Doubt struct {
	Of          string
	Least, Most float64
}

// Free linear shrinkage of urethanes cast at room temperature: the usual range, from
// memory.
const leastReaction, mostReaction = 0.0005, 0.005

// CoolingDoubt is by what share of it the shrinkage by cooling may be off: neither the
// temperature at gel nor the expansion is measured.
const CoolingDoubt = 0.5

// NewForecast reckons the job's wheel; it is a pure function of the job.
func NewForecast(j *params.Job) Forecast {
	reaction, cooling := Strain(j)
	s := reaction + cooling
	wanted := Of(j)
	cast := wanted
	cast.Outer = Sized(j, wanted.Core)
	middle, edges := cast.Cured(s)
	f := Forecast{
		Reaction: reaction, Cooling: cooling, Core: 2 * wanted.Core,
		Wanted: 2 * wanted.Outer, Cavity: cast.size(), Bonded: cast.Bonded(s).size(), Ends: cast.FreeEnds(s).size(), Free: cast.Free(s).size(),
		Middle: 2 * middle, Edges: 2 * edges,
		ByReaction:    2 * (sizedFor(j, wanted.Core, reaction) - wanted.Outer),
		PerThousandth: 2 * (cast.Bonded(s).Outer - cast.Bonded(s+0.001).Outer),
	}
	f.ByCooling = f.Cavity.Diameter - 2*wanted.Outer - f.ByReaction
	f.Doubts = doubts(cast, reaction, cooling)
	if j.Calibration.Shrinkage != 1 {
		f.Doubts = learned(cast, reaction+cooling)
	}
	return f
}

// Expected is the diameter in mm of the job's cured wheel in the middle of its width, from
// a cavity of another diameter in mm: of a mold that was made before the job changed.
func Expected(j *params.Job, cavity float64) float64 {
	reaction, cooling := Strain(j)
	cast := Of(j)
	cast.Outer = cavity / 2
	return cast.across(reaction + cooling)
}

// across is the cured layer's diameter in mm in the middle of its width.
func (l Layer) across(s float64) float64 {
	middle, _ := l.Cured(s)
	return 2 * middle
}

// doubts lists what makes the wheel larger or smaller than wanted, the last line for
// all of it at once.
func doubts(cast Layer, reaction, cooling float64) []Doubt {
	span := func(of string, a, b float64) Doubt {
		a, b = max(a, b), min(a, b)
		return Doubt{of, 2 * cast.Bonded(a).Outer, 2 * cast.Bonded(b).Outer}
	}
	off := CoolingDoubt * math.Abs(cooling)
	least, most := min(reaction, leastReaction), max(reaction, mostReaction)
	all := span("all of these together, the ends held or free", most+cooling+off, least+cooling-off)
	all.Most = max(all.Most, 2*cast.FreeEnds(least+cooling-off).Outer)
	return []Doubt{
		span("cooling by half as much or half more", reaction+cooling-off, reaction+cooling+off),
		span("0.05 % to 0.5 % of free shrinkage by the reaction", leastReaction+cooling, mostReaction+cooling),
		ends(cast, reaction+cooling),
		all,
	}
}

// LearnedDoubt is by what share of it a shrinkage that casts showed may be off: of two to
// four casts, assumed.
const LearnedDoubt = 0.25

// learned lists what makes the wheel larger or smaller where casts told its shrinkage: what
// is known of cure and cooling one by one then says nothing more.
func learned(cast Layer, s float64) []Doubt {
	a, b := cast.across((1-LearnedDoubt)*s), cast.across((1+LearnedDoubt)*s)
	return []Doubt{
		{"a quarter more or less than casts showed", min(a, b), max(a, b)},
		ends(cast, s),
	}
}

func ends(cast Layer, s float64) Doubt {
	a, b := 2*cast.Bonded(s).Outer, 2*cast.FreeEnds(s).Outer
	return Doubt{"ends that cannot pull in, or do so freely", min(a, b), max(a, b)}
}
