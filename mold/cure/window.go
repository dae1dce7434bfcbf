package cure

import (
	"math"
	"slices"

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
	slower := math.Exp2((p.SheetTemperature - p.MoldTemperature) / 10)
	return Window{Earliest: p.Demold * slower, Latest: 2 * p.Demold * slower, Full: p.Cure * slower}
}

// Heat is how warm the rubber gets, set against printed plastic, °C.
type Heat struct {
	Gel     float64  // the job's estimate at gel
	Peak    float64  // if no heat left the mix: an upper bound, which thick rubber in plastic comes near
	Softens float64  // at which the weakest of the usual prints, PLA, gives way
	Printed []string // parts that may: "mold", "hub"; none: nothing is printed
}

// softensPLA is the lower end of PLA's glass transition, 55 to 60 °C, from memory.
const softensPLA = 55.0

// NewHeat reckons the job's.
func NewHeat(j *params.Job) Heat {
	h := Heat{Gel: j.Pour.GelTemperature, Peak: max(j.Pour.MixTemperature, j.Pour.MoldTemperature) + params.AdiabaticRise, Softens: softensPLA}
	if slices.Contains([]string{"filament", "lapped filament", "resin"}, j.Process.Name) {
		h.Printed = append(h.Printed, "mold")
	}
	if j.Hub.Material == "printed" {
		h.Printed = append(h.Printed, "hub")
	}
	return h
}

// Likely reports whether a printed part softens while the rubber gels.
func (h Heat) Likely() bool { return len(h.Printed) > 0 && h.Gel >= h.Softens }

// Possible reports whether a printed part softens if the rubber keeps its heat.
func (h Heat) Possible() bool { return len(h.Printed) > 0 && h.Peak >= h.Softens }
