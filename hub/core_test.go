package hub

import (
	"math"
	"math/rand"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

func plain() *params.Job {
	j := &params.Job{}
	j.Wheel = params.Wheel{Diameter: 110, Width: 40}
	j.Hub = params.Hub{Length: 40, BodyDiameter: 70, FlangeDiameter: 70, Bore: 16}
	j.Mold.FaceUp = "front"
	return j
}

// Volumes of plain shapes, from solid geometry.
func TestVolumePlain(t *testing.T) {
	disc := func(d, h float64) float64 { return math.Pi / 4 * d * d * h }
	for _, c := range []struct {
		name string
		set  func(*params.Hub)
		want float64
	}{
		{"tube", func(*params.Hub) {}, disc(70, 40) - disc(16, 40)},
		{"pocket", func(h *params.Hub) { h.BearingBack = params.Pocket{Diameter: 22, Depth: 12} }, disc(70, 40) - disc(16, 28) - disc(22, 12)},
		{"seat over pocket", func(h *params.Hub) {
			h.BearingFront = params.Pocket{Diameter: 22, Depth: 12}
			h.Seat = params.Seat{Side: "front", Diameter: 50, Depth: 3}
		}, disc(70, 40) - disc(16, 25) - disc(22, 12) - disc(50, 3)},
		{"bolts in the seat", func(h *params.Hub) {
			h.Seat = params.Seat{Side: "front", Diameter: 50, Depth: 3}
			h.Bolts = params.BoltCircle{Count: 6, Circle: 38, Hole: 5.5}
		}, disc(70, 40) - disc(16, 37) - disc(50, 3) - 6*disc(5.5, 37)},
		{"flanges", func(h *params.Hub) { h.FlangeDiameter, h.FlangeThickness = 80, 5 }, disc(70, 30) + disc(80, 10) - disc(16, 40)},
		{"square groove", func(h *params.Hub) {
			h.Grooves = []params.Groove{{Shape: "rectangular", Position: 20, Width: 6, Depth: 2}}
		}, disc(70, 34) + disc(66, 6) - disc(16, 40)},
		{"half-round groove", func(h *params.Hub) { // half a torus tube by Pappus-Guldin: π²r²(R - 4r/3π)
			h.Grooves = []params.Groove{{Shape: "half-round", Position: 20, Width: 8}}
		}, disc(70, 40) - disc(16, 40) - math.Pi*math.Pi*16*(35-16/(3*math.Pi))},
	} {
		j := plain()
		c.set(&j.Hub)
		if got := New(j, 0).Volume(); math.Abs(got/c.want-1) > 1e-8 {
			t.Errorf("%s: %.4f, want %.4f", c.name, got, c.want)
		}
	}
}

// A lock hole as wide as the body would be half a bicylinder (Steinmetz): the
// hole of radius a through a shaft of the same radius has volume 16a³/3. The
// integrand has a corner at z = 0 in this limit alone, hence 1e-6.
func TestLockVolumeIsSteinmetz(t *testing.T) {
	c := &Core{BodyR: 10, FlangeR: 10, Length: 40, LockCount: 1, LockR: 10, LockDepth: 10, LockFrom: 20}
	if got, want := c.LockVolume(), 16.*1000/3/2; math.Abs(got/want-1) > 1e-6 {
		t.Errorf("%.9f, want %.9f", got, want)
	}
}

// The closed forms against the boundary's line integrals, which share no code
// with them, on hubs with everything.
func TestVolumeAgainstBoundary(t *testing.T) {
	r := rand.New(rand.NewSource(4))
	for i := 0; i < 25; i++ {
		j := plain()
		h := &j.Hub
		if i%2 == 0 {
			h.FlangeDiameter, h.FlangeThickness = 76, 3+2*r.Float64()
		}
		h.BearingBack = params.Pocket{Diameter: 20 + 4*r.Float64(), Depth: 8}
		h.Seat = params.Seat{Side: []string{"front", "back"}[i%2], Diameter: 40, Depth: 2}
		h.Bolts = params.BoltCircle{Count: i % 5, Circle: 30, Hole: 4}
		h.Grooves = []params.Groove{{Shape: "rectangular", Position: 12, Width: 4, Depth: 2}, {Shape: "half-round", Position: 26, Width: 6}}
		h.LockHoles = params.LockHoles{Count: i % 4, Diameter: 3 + 3*r.Float64(), Depth: 7, Position: 11 + 18*r.Float64()}
		j.Mold.FaceUp = []string{"front", "back"}[i/2%2]
		c := New(j, 1.5)
		m := solid.NewModel()
		b, err := brep.NewEvaluator(m).Boundary(c.Build(m).Hub)
		if err != nil {
			t.Fatalf("hub %d: %v", i, err)
		}
		if got, want := c.Volume(), b.Volume(); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("hub %d: closed form %.6f, boundary %.6f: %.2g", i, got, want, got/want-1)
		}
	}
}

// Turning the wheel over turns the hub over.
func TestFaceUpBack(t *testing.T) {
	j := plain()
	j.Hub.BearingBack = params.Pocket{Diameter: 22, Depth: 12}
	j.Hub.Grooves = []params.Groove{{Shape: "rectangular", Position: 10, Width: 4, Depth: 2}}
	inside := func(z, r float64) bool {
		m := solid.NewModel()
		return New(j, 0).Build(m).Hub.Contains(mesh.Vec{r, 0.1, z})
	}
	if inside(6, 10) || !inside(34, 10) || inside(10, 34) || !inside(30, 34) {
		t.Error("front up: pocket or groove not at the bottom")
	}
	j.Mold.FaceUp = "back"
	if !inside(6, 10) || inside(34, 10) || !inside(10, 34) || inside(30, 34) {
		t.Error("back up: pocket or groove not at the top")
	}
}
