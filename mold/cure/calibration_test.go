package cure

import (
	"math"
	"testing"
)

// Casts scale the whole free strain, and the cavity is sized with it: 1.5 times 0.9 % on
// a core of 100 mm, for a wheel of 280 mm (plane strain, by hand).
func TestStrainAsCastsShow(t *testing.T) {
	j := wheel(t)
	reaction, cooling := Strain(j)
	near(t, "as predicted", reaction+cooling, 0.009, 1e-15)
	j.Calibration.Shrinkage = 1.5
	reaction, cooling = Strain(j)
	near(t, "reaction", reaction, 0.003, 1e-15)
	near(t, "cooling", cooling, 0.0105, 1e-15)
	near(t, "cavity", Sized(j, 50), math.Sqrt(2500+17100/(1-3*0.0135)), 1e-9)
	near(t, "wheel", NewForecast(j).Bonded.Diameter, 280, 1e-9)
	j.Calibration.Shrinkage = 0
	near(t, "cavity of rubber that does not shrink", Sized(j, 50), 140, 1e-12)
}
