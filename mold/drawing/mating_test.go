package drawing

import (
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/flash"
)

// A wall one part of which is an outer face and the other shapes the tread is one face
// with both roles: above it the edges are told apart.
func TestBeyondGoesByTheRoleAtTheEdge(t *testing.T) {
	m := solid.NewModel()
	long := m.Box("long", mold.RoleOuter, mesh.Vec{0, 0, 0}, mesh.Vec{1, 2, 1})
	short := m.Box("short", mold.RoleTread, mesh.Vec{0, 2, 0}, mesh.Vec{1, 3, 1})
	b, err := brep.NewEvaluator(m).Boundary(solid.Union(long, short))
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	x := beyond{b: b}
	for i, f := range b.Faces {
		if f.Carrier.Frame.Z[2] < .5 || f.Negative { // the top
			continue
		}
		for _, e := range f.Edges {
			want := flash.ExitOuter
			if e.Edge.Mid[1] > 2 {
				want = ""
			}
			checked++
			if got := x.kind(e.Edge, i); got != want {
				t.Errorf("beyond the edge at %v lies %q, want %q", e.Edge.Mid, got, want)
			}
		}
	}
	if checked < 6 {
		t.Errorf("the top has %d edges, want at least 6", checked)
	}
}

// Faces of two boxes on each other share what both cover, seen from either side; across
// more than the widest gap they do not.
func TestJointOfBoxes(t *testing.T) {
	for gap, want := range map[float64]float64{0: 2, 1: 2, flash.WidestGap + .1: 0, -.5: 0} {
		for _, v := range []outline.View{{U: mesh.Vec{1, 0, 0}, V: mesh.Vec{0, 1, 0}}, {U: mesh.Vec{0, 1, 0}, V: mesh.Vec{1, 0, 0}}} {
			m := solid.NewModel()
			ev := brep.NewEvaluator(m)
			var all []flat
			for name, box := range map[string][2]mesh.Vec{
				"low":  {{0, 0, -3}, {2, 2, 0}},
				"high": {{1, 0, gap}, {3, 5, gap + 3}},
			} {
				b, err := ev.Boundary(m.Box(name, mold.RoleParting, box[0], box[1]))
				if err != nil {
					t.Fatal(err)
				}
				all = append(all, flats(name, b, v)...)
			}
			if got := areaOf(jointOf(all, all).strokes(func(string) bool { return true })); got < want-1e-4 || got > want+1e-4 {
				t.Errorf("across %g mm: %g mm², want %g", gap, got, want)
			}
		}
	}
}
