package pour

import (
	"math"

	"wheelmold/mold"
	"wheelmold/mold/cure"
)

// Weights are what a scale or a back has to carry, g.
type Weights struct {
	Hub    float64 // bare
	Rubber float64 // in the wheel, once it has shrunk from the cavity's volume to its density and is trimmed
	Trim   float64 // the layer of mold.top_allowance that is cut off
	Wheel  float64 // both
	// Void is how much lighter than Wheel a sound one may be: what density, cooling and
	// scale are not known to. A wheel that is lighter still holds a void.
	Void float64
	Lift float64 // the full mold, without bolts
}

// How far the density of the rubber may be from the job's, relative: where it was
// stated (assumed: data sheets give two decimals), and where it was not (1.01 to 1.08
// g/cm³ are usual).
const statedSpread, assumedSpread = 0.01, 0.035

// weightsOf weighs the hub, the wheel and the full mold. Volumes of the pieces
// by name, mm³.
func weightsOf(m *mold.Mold, volumes map[string]float64, channels float64) Weights {
	j := m.Job
	// It fills the cavity when it gels, and then loses three times its linear strain.
	reaction, cooling := cure.Strain(j)
	keeps := 1 - 3*(reaction+cooling)
	trimmed := grams(m.RubberVolume()-m.TrimVolume(), &j.Pour)
	w := Weights{Hub: volumes["hub"] / 1000 * j.Hub.Density, Rubber: trimmed * keeps, Trim: grams(m.TrimVolume(), &j.Pour) * keeps}
	w.Wheel = w.Hub + w.Rubber
	spread := statedSpread
	if len(j.Unstated("pour.density")) > 0 {
		spread = assumedSpread
	}
	w.Void = (spread+3*cure.CoolingDoubt*math.Abs(cooling))*trimmed + j.Pour.Scale.Resolution
	w.Lift = w.Hub + grams(m.RubberVolume(), &j.Pour) + channels
	for _, p := range m.Pieces {
		if p.Kind != mold.Hub {
			w.Lift += volumes[p.Name] / 1000 * j.Process.Density
		}
	}
	return w
}
