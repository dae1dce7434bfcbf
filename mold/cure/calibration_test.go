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

// What is expected of the job's own cavity is the forecast; a wider one gives a larger
// wheel by nearly as much. Where casts told the shrinkage, what remains unknown is a quarter
// of it and the ends.
func TestExpectedOfAnotherCavity(t *testing.T) {
	j := wheel(t)
	f := NewForecast(j)
	near(t, "own", Expected(j, f.Cavity.Diameter), f.Middle, 1e-9)
	if d := Expected(j, f.Cavity.Diameter+1) - f.Middle; d < 0.95 || d > 1.01 {
		t.Errorf("1 mm more of cavity: %g mm more of wheel", d)
	}
	if len(f.Doubts) != 4 {
		t.Errorf("%v", f.Doubts)
	}
	j.Calibration.Shrinkage = 1.5
	f = NewForecast(j)
	if len(f.Doubts) != 2 || f.Doubts[0].Least >= f.Middle || f.Doubts[0].Most <= f.Middle {
		t.Errorf("%g: %v", f.Middle, f.Doubts)
	}
	j.Calibration.Shrinkage = 1.5 * 1.25
	near(t, "a quarter more", Expected(j, f.Cavity.Diameter), f.Doubts[0].Least, 1e-9)
}
