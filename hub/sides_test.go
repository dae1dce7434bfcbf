package hub

import (
	"slices"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// A seat, a pocket, a groove and a lock hole lie on the side that the job states, counted
// from the hub's back, and go along when the wheel's back is up: places inside and outside
// the material tell.
func TestRecessesLieOnTheirSide(t *testing.T) {
	const length = 40.0
	type place struct{ fromBack, r float64 }
	for _, c := range []struct {
		name string
		set  func(*params.Hub)
		open place // taken away; what lies there from the front is material
	}{
		{"seat in front", func(h *params.Hub) { h.Seat = params.Seat{Side: "front", Diameter: 50, Depth: 3} }, place{length - 2, 20}},
		{"seat behind", func(h *params.Hub) { h.Seat = params.Seat{Side: "back", Diameter: 50, Depth: 3} }, place{2, 20}},
		{"pocket in front", func(h *params.Hub) { h.BearingFront = params.Pocket{Diameter: 22, Depth: 12} }, place{length - 11, 10}},
		{"pocket behind", func(h *params.Hub) { h.BearingBack = params.Pocket{Diameter: 22, Depth: 12} }, place{11, 10}},
		{"pocket below the seat", func(h *params.Hub) {
			h.Seat = params.Seat{Side: "back", Diameter: 50, Depth: 3}
			h.BearingBack = params.Pocket{Diameter: 22, Depth: 12}
		}, place{14, 10}},
		{"half-round groove", func(h *params.Hub) {
			h.Grooves = []params.Groove{{Shape: "half-round", Position: 10, Width: 8}}
		}, place{10, 31.5}},
		{"two grooves, the upper first", func(h *params.Hub) {
			h.Grooves = []params.Groove{{Shape: "rectangular", Position: 16, Width: 4, Depth: 2}, {Shape: "rectangular", Position: 8, Width: 4, Depth: 2}}
		}, place{8, 34}},
		{"lock hole", func(h *params.Hub) {
			h.LockHoles = params.LockHoles{Count: 1, Diameter: 5, Depth: 8, Position: 11}
		}, place{11, 28}},
	} {
		for _, up := range []string{"front", "back"} {
			j := plain()
			c.set(&j.Hub)
			j.Mold.FaceUp = up
			const z0 = 1.5
			m := solid.NewModel()
			hub := New(j, z0).Build(m).Hub
			material := func(fromBack float64) bool {
				z := z0 + fromBack
				if up == "back" {
					z = z0 + length - fromBack
				}
				return hub.Contains(mesh.Vec{c.open.r, 0, z})
			}
			if material(c.open.fromBack) || !material(length-c.open.fromBack) {
				t.Errorf("%s, %s up: material %.3g mm from the back: %v, from the front: %v, want false and true",
					c.name, up, c.open.fromBack, material(c.open.fromBack), material(length-c.open.fromBack))
			}
		}
	}
}

// What the job leaves out takes nothing away: a side or a depth that is left over from
// another wheel does not count without a diameter.
func TestWithoutDiameterNoRecess(t *testing.T) {
	j := plain()
	j.Hub.Seat = params.Seat{Side: "front", Depth: 3}
	j.Hub.BearingBack = params.Pocket{Depth: 12}
	if c := New(j, 0); c.Lower != (End{}) || c.Upper != (End{}) {
		t.Errorf("ends %+v and %+v of a plain tube", c.Lower, c.Upper)
	}
	j.Hub.Seat = params.Seat{Side: "none", Diameter: 50, Depth: 3}
	if c := New(j, 0); c.Lower != (End{}) || c.Upper != (End{}) {
		t.Errorf("ends %+v and %+v with a seat on no side", c.Lower, c.Upper)
	}
}

// An end face is open as far as the widest of bore, pocket, seat and bolt holes.
func TestOpeningIsTheWidest(t *testing.T) {
	for _, c := range []struct {
		name         string
		set          func(*params.Hub)
		lower, upper float64
	}{
		{"bore", func(*params.Hub) {}, 8, 8},
		{"pocket behind", func(h *params.Hub) { h.BearingBack = params.Pocket{Diameter: 22, Depth: 12} }, 11, 8},
		{"seat in front", func(h *params.Hub) { h.Seat = params.Seat{Side: "front", Diameter: 50, Depth: 3} }, 8, 25},
		{"bolts through both", func(h *params.Hub) { h.Bolts = params.BoltCircle{Count: 4, Circle: 40, Hole: 6} }, 23, 23},
		{"bolts inside the seat", func(h *params.Hub) {
			h.Bolts = params.BoltCircle{Count: 4, Circle: 40, Hole: 6}
			h.Seat = params.Seat{Side: "front", Diameter: 50, Depth: 3}
		}, 23, 25},
		{"a circle without bolts", func(h *params.Hub) { h.Bolts = params.BoltCircle{Circle: 40, Hole: 6} }, 8, 8},
	} {
		j := plain()
		c.set(&j.Hub)
		if h := New(j, 0); h.OpeningR(h.Lower) != c.lower || h.OpeningR(h.Upper) != c.upper {
			t.Errorf("%s: open to %g below and %g above, want %g and %g", c.name, h.OpeningR(h.Lower), h.OpeningR(h.Upper), c.lower, c.upper)
		}
	}
}

// Grooves come from the lowest up, whichever way the hub lies; a half-round one is half as
// deep as it is wide, whatever depth the job says.
func TestGroovesFromTheLowestUp(t *testing.T) {
	for up, want := range map[string][]Groove{
		"front": {{true, 8, 6, 3}, {false, 16, 4, 2}, {false, 30, 5, 1}},
		"back":  {{false, 10, 5, 1}, {false, 24, 4, 2}, {true, 32, 6, 3}},
	} {
		j := plain() // 40 mm long
		j.Mold.FaceUp = up
		j.Hub.Grooves = []params.Groove{
			{Shape: "rectangular", Position: 16, Width: 4, Depth: 2},
			{Shape: "rectangular", Position: 30, Width: 5, Depth: 1},
			{Shape: "half-round", Position: 8, Width: 6, Depth: 1},
		}
		if got := New(j, 1.5).Grooves; !slices.Equal(got, want) {
			t.Errorf("%s up: %+v, want %+v", up, got, want)
		}
	}
}
