package machining

import (
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/holes"
)

// The clearance of a jack is opened where a wall stays around it, else drilled by one long
// drill.
func TestRoomAroundAHole(t *testing.T) {
	for _, c := range []struct {
		side float64 // from the hole's axis to the nearest face
		want string
	}{{20, "open it to 6 mm from the outside, 20 mm deep"}, {3 + 1.6, "open it to 6 mm"}, {3 + 1.1, "a gun drill"}} {
		m := solid.NewModel()
		n := solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{40, 40, 60}), m.Cylinder("hole", mold.RoleJack, mesh.Vec{40 - c.side, 20, 0}, zAxis, 2, -1, 61))
		h := holes.Hole{Name: "hole", Role: mold.RoleJack, At: mesh.Vec{40 - c.side, 20, 60}, Dir: mesh.Vec{0, 0, -1}, Through: true, Steps: []holes.Step{{From: 0, To: 60, D0: 4, D1: 4}}}
		j := job(t, "machining.plates_from=inside")
		j.Process.MinWall = 1.5
		p := milled(t, j, m, n, h)
		if i := slices.IndexFunc(p.Deep, func(d Deep) bool { return d.Sort == Hole }); i < 0 || !strings.HasPrefix(p.Deep[i].Change.Hint, c.want) || !p.Deep[i].Change.Usual {
			t.Errorf("%g mm from the side: %+v, want %s", c.side, p.Deep, c.want)
		}
	}
}

// A step between two slots that is no higher than twice its thickness is no wall; and an arm
// that lies on the table stands out by nothing, however long.
func TestStepsAndArms(t *testing.T) {
	for _, c := range []struct {
		height float64
		want   int
	}{{2.5, 1}, {2.3, 0}} {
		m := solid.NewModel()
		n := solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{60, 40, 40}),
			box(m, mesh.Vec{10, -1, 40 - c.height}, mesh.Vec{30, 41, 41}), box(m, mesh.Vec{31.2, -1, 40 - c.height}, mesh.Vec{50, 41, 41}))
		if p := milled(t, job(t), m, n); len(p.Thin) != c.want {
			t.Errorf("1.2 mm thick, %g high: %+v, want %d", c.height, p.Thin, c.want)
		}
	}
	for _, kind := range []mold.Kind{mold.Plate, mold.Shell} {
		m := solid.NewModel()
		n := m.Extrude("tee", "tee", solid.AxisFrame(mesh.Vec{}, zAxis), 0, 20, solid.Poly(0, 0, 20, 0, 20, 20, 200, 20, 200, 30, 20, 30, 20, 60, 0, 60))
		b := put(t, job(t), m, n)
		b.piece.Kind = kind
		var p Piece
		if b.mill(&p); b.err != nil {
			t.Fatal(b.err)
		}
		if (len(p.Thin) == 0) != (kind == mold.Plate) {
			t.Errorf("%v with an arm of 180 x 10 mm: %+v", kind, p.Thin)
		}
	}
}
