package cure

import (
	"math"
	"slices"

	"wheelmold/mold/portable"
	"wheelmold/params"
)

// Window is when to demold, in s from first mixing, for a mold at its stated
// temperature: cure runs twice as fast for 10 K more (a rule of thumb, from memory,
// good for some ten kelvin). The reaction's own heat is not counted on.
type Window struct {
	Earliest float64 // the rubber holds its shape; before, it tears and stays bent
	Latest   float64 // comfortable: twice that; release wears off and rubber left for a week grips harder
	Full     float64 // the wheel may carry its load
}

// NewWindow reckons the job's.
func NewWindow(j *params.Job) Window {
	p := &j.Pour
	slower := portable.Exp2((p.SheetTemperature - p.MoldTemperature) / 10)
	return Window{Earliest: p.Demold * slower, Latest: 2 * p.Demold * slower, Full: p.Cure * slower}
}

// Heat is how warm the rubber gets, set against what mold and hub are made of, °C.
type Heat struct {
	Gel   float64  // the job's estimate at gel
	Peak  float64  // if no heat left the mix: an upper bound, which thick rubber in plastic comes near
	Parts []Warmed // mold and hub
}

// Warmed is a part that the rubber warms.
type Warmed struct {
	Name    string // "mold" or "hub"
	Printed bool
	Softens float64 // °C
	Verdict string  // Fine, AtRisk or TooHot
}

// Verdicts on a part beside rubber that warms itself.
const (
	Fine   = "fine"    // it stays cool enough even if no heat is lost
	AtRisk = "at risk" // it would not if no heat were lost
	TooHot = "too hot" // it does not as the rubber is expected to warm
)

// SofteningMargin is how far below its softening a part must stay, K: a plastic
// creeps before it softens, and no batch softens just where its data sheet says. Assumed.
const SofteningMargin = 10.0

// NewHeat reckons the job's.
func NewHeat(j *params.Job) Heat {
	h := Heat{Gel: j.Pour.GelTemperature, Peak: max(j.Pour.MixTemperature, j.Pour.MoldTemperature) + params.AdiabaticRise}
	h.Parts = []Warmed{
		{"mold", j.Printed(), j.Process.Softening, h.verdict(j.Process.Softening)},
		{"hub", j.Hub.Printed(), j.Hub.Softening, h.verdict(j.Hub.Softening)},
	}
	return h
}

func (h Heat) verdict(softens float64) string {
	switch limit := softens - SofteningMargin; {
	case h.Gel > limit:
		return TooHot
	case h.Peak > limit:
		return AtRisk
	}
	return Fine
}

// Threatened lists the parts of a verdict or a worse one.
func (h Heat) Threatened(verdict string) (parts []Warmed) {
	order := []string{Fine, AtRisk, TooHot}
	for _, p := range h.Parts {
		if slices.Index(order, p.Verdict) >= slices.Index(order, verdict) {
			parts = append(parts, p)
		}
	}
	return parts
}

// Softens is where the first of the parts gives, °C.
func (h Heat) Softens() float64 {
	first := math.Inf(1)
	for _, p := range h.Parts {
		first = min(first, p.Softens)
	}
	return first
}

// Printed names the parts that are printed.
func (h Heat) Printed() []string {
	names := []string{}
	for _, p := range h.Parts {
		if p.Printed {
			names = append(names, p.Name)
		}
	}
	return names
}
