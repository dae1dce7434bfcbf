package report

import (
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mold/machining"
)

// What a shop finds is told with what was found: an edge like a blade by its angle and
// length, not as a wall of no thickness; faces of a role together; a seat by the tool that
// cuts its floor.
func TestFindingsOfAShop(t *testing.T) {
	p := machinedOf(&machining.Piece{
		Name: "shell-a",
		Hidden: []machining.Hidden{
			{Roles: []string{"bolt hole"}, Count: 4, Shapes: []string{"cylinder", "plane"}, Area: 400, Of: 400, At: mesh.Vec{1, 2, 3},
				Reaches: []machining.Direction{{Name: "the lower end"}, {Name: "the upper end"}}, Change: machining.Change{Key: "machining.shells_from", Value: `"inside"`, Allowed: `"inside and ends"`}},
			{Roles: []string{"tread surface"}, Count: 1, Shapes: []string{"torus"}, Area: 12.34, Error: .5, Of: 50, At: mesh.Vec{1, 2, 3}},
		},
		Deep: []machining.Deep{{Sort: machining.Counterbore, Name: "bolt hole 1", Roles: []string{"bolt hole"}, Count: 2, Depth: 49, Diameter: 10, Reach: 35}},
		Thin: []machining.Thin{
			{Roles: []string{"parting face", "tread surface"}, Angle: 24.4, Length: 55.04, At: mesh.Vec{1, 2, 3}, Change: machining.Change{Hint: "break it by 0.1 mm"}},
			{Roles: []string{"tread surface"}, Thickness: 1.2, Height: 11, At: mesh.Vec{1, 2, 3}},
		},
		Tight: []machining.Concave{{Roles: []string{"tread surface"}, Count: 2, Radius: 3, At: mesh.Vec{1, 2, 3}}},
	})
	for _, c := range []struct{ got, want string }{
		{p.Hidden[0].text(), `400 mm² of the bolt hole (4 faces, at (1, 2, 3) mm): reached from the lower end and the upper end; machining.shells_from = "inside": "inside and ends" would do`},
		{p.Hidden[1].text(), "12.3 ± 0.5 of 50 mm² of the tread surface (a torus, at (1, 2, 3) mm): nothing that was tried reaches it: an undercut"},
		{p.Deep[0].text(), "bolt hole 1 and 1 other like it, counterbore: 49 mm deep, 10 mm wide, 4.9 times as deep; its floor is flat, the tool that fits reaches 35 mm"},
		{p.Thin[0].text(), "an edge like a blade, 24° between parting face and tread surface, 55 mm long in all, at (1, 2, 3) mm; break it by 0.1 mm"},
		{p.Thin[1].text(), "a wall of 1.2 mm between faces of the tread surface, 11 mm high, at (1, 2, 3) mm"},
		{p.Tight[0].text(), "inner radius of 3 mm on 2 faces of the tread surface, across the tool, at (1, 2, 3) mm: none of the cutters makes it"},
	} {
		if c.got != c.want {
			t.Errorf("%q\nwant\n%q", c.got, c.want)
		}
	}
	if p.Thin[0].Angle != 24.4 || p.Thin[0].Length != 55.04 || p.Thin[1].Length != 0 {
		t.Errorf("%+v", p.Thin)
	}
}

// Clampings are told by their names, by number.
func TestClampingsOfAShop(t *testing.T) {
	p := machinedOf(&machining.Piece{Name: "hub", SetUps: []machining.SetUp{{Name: "from the lower end"}, {Name: "8 radial holes, indexed by 45 deg"}}})
	if got, want := p.setUps(), "1: from the lower end; 2: 8 radial holes, indexed by 45 deg"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	r := Machining{Mill: "plain", Simpler: &Advice{"mold.outline", `"octagon"`, `"square"`, "fewer"}, Pieces: []Machined{p}}
	var b tellings
	if r.findings(&b); !slices.Contains(b, `fewer set-ups mold.outline = "octagon": "square" would do; fewer`) {
		t.Errorf("no simpler outline in\n%s", strings.Join(b, "\n"))
	}
}

// tellings are the rows and notes that a part of a report tells.
type tellings []string

func (t *tellings) row(cells ...string)            { *t = append(*t, strings.Join(cells, " ")) }
func (t *tellings) note(label, value, text string) { t.row(label, value, text) }
