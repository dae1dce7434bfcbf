package report

import (
	"testing"

	"wheelmold/mesh"
	"wheelmold/mold/machining"
)

// A deep place tells to a tenth of a millimeter how far down it goes and how far the tool
// reaches that its sort asks for; only a drilled one goes by a drill, and where no tool
// fits none is promised.
func TestToolsOfDeepPlaces(t *testing.T) {
	p := machinedOf(&machining.Piece{Name: "shell-a", Deep: []machining.Deep{
		{Sort: machining.Counterbore, Name: "bolt hole 1", Roles: []string{"bolt hole"}, Count: 1, Depth: 49.06, Diameter: 10.504, Reach: 35.26},
		{Sort: machining.Hole, Name: "vent 2", Roles: []string{"vent"}, Count: 3, Depth: 80.26, Diameter: 2.504, Reach: 40.06},
		{Sort: machining.Wall, Roles: []string{"tread surface"}, Count: 1, Depth: 60.06, Reach: 45.26},
		{Sort: machining.Wall, Roles: []string{"tread surface"}, Count: 2, Depth: 60.06},
	}})
	for i, want := range []string{
		"bolt hole 1, counterbore: 49.1 mm deep, 10.5 mm wide, 4.7 times as deep; its floor is flat, the tool that fits reaches 35.3 mm",
		"vent 2 and 2 others like it: 80.3 mm deep, 2.5 mm wide, 32.1 times as deep; a twist drill goes 40.1 mm",
		"wall of the tread surface: 60.1 mm deep; the cutter that fits reaches 45.3 mm",
		"wall of the tread surface and 1 other like it: 60.1 mm deep; none of the tools fits",
	} {
		if got := p.Deep[i].text(); got != want {
			t.Errorf("%q\nwant\n%q", got, want)
		}
	}
}

// An inner radius tells to a hundredth of a millimeter what is left standing in it, and
// its depth where it runs along the tool.
func TestWhatIsLeftInInnerRadii(t *testing.T) {
	p := machinedOf(&machining.Piece{Name: "shell-a", Tight: []machining.Concave{
		{Roles: []string{"tread surface"}, Count: 1, Radius: 2.956, Along: true, Depth: 30.06, Left: .126, At: mesh.Vec{1, 2, 3}},
		{Roles: []string{"tread surface"}, Count: 1, Radius: .5, Left: .03, At: mesh.Vec{1, 2, 3}},
	}})
	for i, want := range []string{
		"inner radius of 2.96 mm on the tread surface, along the tool, 30.1 mm deep, at (1, 2, 3) mm: the smallest cutter that gets there leaves 0.13 mm standing",
		"inner radius of 0.5 mm on the tread surface, across the tool, at (1, 2, 3) mm: the smallest cutter that gets there leaves 0.03 mm standing",
	} {
		if got := p.Tight[i].text(); got != want {
			t.Errorf("%q\nwant\n%q", got, want)
		}
	}
}
