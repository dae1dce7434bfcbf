package release

import (
	"testing"

	"wheelmold/params"
)

// Of a piece past which rubber has to give way it is said that squeezing comes on top of
// what is reckoned, and of no other: of a cup over a round edge, not over a square one
// with upright walls, and not of its lid.
func TestSqueezingIsToldWhereRubberGivesWay(t *testing.T) {
	for edge, size := range map[string]float64{"round": 2, "chamfer": 1.5, "square": 0} {
		j := plain(t, params.SplitCup)
		j.Wheel.Edge, j.Wheel.EdgeSize = edge, size
		m := made(t, j, true)
		o := forces(t, m)
		if cup := o.of(t, "cup"); cup.Squeezes != (size > 0) {
			t.Errorf("%s edge: the cup squeezes %v, want %v", edge, cup.Squeezes, size > 0)
		}
		for i := range o.Pieces {
			if p := &o.Pieces[i]; p.Name != "cup" && p.Squeezes {
				t.Errorf("%s edge: the %s squeezes", edge, p.Name)
			}
		}
	}
}
