package pour

import "testing"

// A plan mixes as much more as casts show to stay behind, and pours the same.
func TestPlanTakesTheResidueOfCasts(t *testing.T) {
	j := handbook(t)
	o := Options{Wheels: 1, Molds: 1}
	was := planned(t, j, 0, o).Mix.Need
	j.Calibration.Residue = 2
	n := planned(t, j, 0, o).Mix.Need
	near(t, "residue", n.Residue, 2*was.Residue, 1e-9)
	near(t, "mixed", n.Mixed-was.Mixed, was.Residue, 1e-6)
}
