package hub

import (
	"math"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// What must fit something is made wider by as much on its diameter: 0.2 mm on bore,
// pocket, seat and bolt holes takes away the rings that solid geometry says; the
// outside, the depths and the lock holes stay.
func TestRawHub(t *testing.T) {
	ring := func(d, h float64) float64 { return math.Pi / 4 * ((d+.2)*(d+.2) - d*d) * h }
	j := plain()
	j.Hub.BearingFront = params.Pocket{Diameter: 22, Depth: 12}
	j.Hub.Seat = params.Seat{Side: "front", Diameter: 50, Depth: 3}
	j.Hub.Bolts = params.BoltCircle{Count: 6, Circle: 38, Hole: 5.5}
	j.Hub.LockHoles = params.LockHoles{Count: 4, Diameter: 4, Depth: 5, Position: 12}
	m := solid.NewModel()
	c := New(j, 0)
	s := c.Build(m)
	raw := c.Raw(m, s, .2)
	ev := brep.NewEvaluator(m)
	volume := func(n *solid.Node) float64 {
		b, err := ev.Boundary(n)
		if err != nil {
			t.Fatal(err)
		}
		return b.Volume()
	}
	// The bore shows below the pocket, the pocket below the seat, the holes start there.
	want := ring(16, 25) + ring(22, 12) + ring(50, 3) + 6*ring(5.5, 37)
	if got := volume(s.Hub) - volume(raw); math.Abs(got/want-1) > 1e-3 { // radii lie on the lattice
		t.Errorf("%.4f mm³ more taken away, want %.4f", got, want)
	}
	if lo, hi := raw.Bounds(), s.Hub.Bounds(); lo != hi {
		t.Errorf("the outside changed from %v to %v", hi, lo)
	}
	if c.Raw(m, s, 0) != s.Hub {
		t.Error("with nothing to add the hub is another")
	}
	if c.BoreR != 8 || c.Volume() != New(j, 0).Volume() {
		t.Error("the hub in the mold changed")
	}
}
