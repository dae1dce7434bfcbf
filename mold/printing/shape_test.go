package printing

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/params"
)

// laid makes a solid and lays it into a pose.
func laid(t *testing.T, m *solid.Model, n *solid.Node, pose mold.Pose) *body {
	t.Helper()
	b, err := brep.NewEvaluator(m).Boundary(n)
	if err != nil {
		t.Fatal(err)
	}
	d, err := newBody(b, pose)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// near is an absolute tolerance.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %v, want %v ± %v", what, got, want, tol)
	}
}

var z = mesh.Vec{0, 0, 1}

// usual is overhang from 45 degrees and bridges of 10 mm.
var usual = params.Printing{Overhang: 45, Bridge: 10, Fill: "walled", Wall: 2, Infill: .25}

// table is a board of x by y, 4 mm thick, 10 mm above the bed on two legs that leave a
// span free along x and run all along y.
func table(m *solid.Model, span, x, y float64, role string) *solid.Node {
	board := m.Box("board", role, mesh.Vec{0, 0, 10}, mesh.Vec{x, y, 14})
	leg := (x - span) / 2
	left := m.Box("left", mold.RoleOuter, mesh.Vec{0, 0, 0}, mesh.Vec{leg, y, 12})
	right := m.Box("right", mold.RoleOuter, mesh.Vec{x - leg, 0, 0}, mesh.Vec{x, y, 12})
	return solid.Union(board, left, right)
}

// A table's underside between its legs hangs over, span by depth, and bridges if the
// legs are no farther apart than a bridge; what lies on the bed are the legs.
func TestTable(t *testing.T) {
	for _, c := range []struct{ span, bridged float64 }{{10, 10 * 30}, {10.01, 0}, {40, 0}} {
		m := solid.NewModel()
		d := laid(t, m, table(m, c.span, 60, 30, mold.RoleParting), mold.AsIs)
		o := d.overhang(&usual)
		near(t, "all", o.All, c.span*30, .01)
		near(t, "bridged", o.Bridged, c.bridged, .01)
		near(t, "mating", o.Mating, c.span*30-c.bridged, .01)
		near(t, "cavity", o.Cavity, 0, 0)
		on, stands := d.rests()
		if len(on) != 1 || on[0].Role != mold.RoleOuter {
			t.Fatalf("on the bed: %v", on)
		}
		near(t, "feet", on[0].Area, (60-c.span)*30, .01)
		if len(stands) != 0 {
			t.Errorf("stands on %v", stands)
		}
	}
}

// Turned over, the same table lies on its board, whose mating face is then on the bed
// and whose edges rise from it; nothing hangs over.
func TestTableTurned(t *testing.T) {
	m := solid.NewModel()
	d := laid(t, m, table(m, 40, 60, 30, mold.RoleParting), mold.OverX)
	if o := d.overhang(&usual); o.All != 0 {
		t.Errorf("hangs over: %+v", o)
	}
	on, stands := d.rests()
	if len(on) != 1 || on[0].Role != mold.RoleParting || len(stands) != 1 || stands[0] != mold.RoleParting {
		t.Errorf("on the bed %v, rising from it %v", on, stands)
	}
	near(t, "board", on[0].Area, 60*30, .01)
}

// A board on one leg has a ceiling that is free on three sides: no strand holds.
func TestCantilever(t *testing.T) {
	m := solid.NewModel()
	n := solid.Union(m.Box("board", mold.RoleTread, mesh.Vec{0, 0, 10}, mesh.Vec{13, 20, 14}), m.Box("leg", mold.RoleOuter, mesh.Vec{0, 0, 0}, mesh.Vec{5, 20, 12}))
	o := laid(t, m, n, mold.AsIs).overhang(&usual)
	near(t, "cavity", o.Cavity, 8*20, .01)
	near(t, "bridged", o.Bridged, 0, 0)
}

// The roof of a counterbore that opens downward bridges where it is closed, across
// its diameter, and hangs free around a bolt hole through it.
func TestCounterbore(t *testing.T) {
	for _, c := range []struct {
		r       float64
		through bool
		bridged bool
	}{{4.9, false, true}, {5.2, false, false}, {4.9, true, false}} {
		m := solid.NewModel()
		cuts := []*solid.Node{m.Cylinder("recess", mold.RoleBolt, mesh.Vec{}, z, c.r, -1, 5)}
		want := math.Pi * c.r * c.r
		if c.through {
			cuts = append(cuts, m.Cylinder("hole", mold.RoleBolt, mesh.Vec{}, z, 2, -1, 20))
			want -= math.Pi * 4
		}
		n := solid.Minus(m.Box("block", mold.RoleOuter, mesh.Vec{-10, -10, 0}, mesh.Vec{10, 10, 10}), cuts...)
		o := laid(t, m, n, mold.AsIs).overhang(&usual)
		near(t, "all", o.All, want, .02*want)
		if got := o.Bridged == o.All; got != c.bridged || !got && o.Bridged != 0 {
			t.Errorf("r %v, through %v: bridged %v of %v", c.r, c.through, o.Bridged, o.All)
		}
	}
}

// A cone that widens upward leans by the angle whose tangent is its run over its rise:
// all of its side hangs over beyond the limit, none at it.
func TestCone(t *testing.T) {
	for _, c := range []struct {
		run  float64 // for 10 mm of rise
		over bool
	}{{10, false}, {9, false}, {10.1, true}, {20, true}} {
		m := solid.NewModel()
		d := laid(t, m, m.Cone("cone", mold.RoleOuter, mesh.Vec{}, z, 5, 0, 5+c.run, 10), mold.AsIs)
		want := 0.0
		if c.over {
			want = math.Pi * (5 + 5 + c.run) * math.Hypot(10, c.run)
		}
		near(t, "side", d.overhang(&usual).All, want, .01*want)
	}
}

// A lying cylinder hangs over where its underside leans by more than 45 degrees, a
// quarter of its girth; at 60 degrees a sixth. It touches the bed in a line.
func TestLyingCylinder(t *testing.T) {
	for limit, share := range map[float64]float64{45: 1. / 4, 60: 1. / 6} {
		m := solid.NewModel()
		p := usual
		p.Overhang = limit
		d := laid(t, m, m.Cylinder("roll", mold.RoleTread, mesh.Vec{0, 0, 3}, mesh.Vec{1, 0, 0}, 10, 0, 40), mold.AsIs)
		want := 2 * math.Pi * 10 * 40 * share
		near(t, "underside", d.overhang(&p).Cavity, want, .01*want)
	}
}

// Below the limit a ball hangs over on a cap: 2πR²(1 - sin 45°). In the hollow of a
// block it is the same cap at the top.
func TestBall(t *testing.T) {
	want := 2 * math.Pi * 12 * 12 * (1 - math.Sqrt2/2)
	m := solid.NewModel()
	ball := m.Ball("ball", mold.RoleTread, mesh.Vec{0, 0, 20}, z, 12)
	near(t, "ball", laid(t, m, ball, mold.AsIs).overhang(&usual).Cavity, want, .01*want)

	hollow := solid.Minus(m.Box("block", mold.RoleOuter, mesh.Vec{-15, -15, 0}, mesh.Vec{15, 15, 40}), ball)
	near(t, "hollow", laid(t, m, hollow, mold.AsIs).overhang(&usual).Cavity, want, .01*want)
}

// Faces of one plane keep their own roles: half of this underside is a land.
func TestRolesOfOnePlane(t *testing.T) {
	m := solid.NewModel()
	n := solid.Union(
		m.Box("left", mold.RoleLand, mesh.Vec{0, 0, 5}, mesh.Vec{20, 30, 9}),
		m.Box("right", mold.RoleTread, mesh.Vec{20, 0, 5}, mesh.Vec{60, 30, 9}),
		m.Box("leg", mold.RoleOuter, mesh.Vec{10, 0, 0}, mesh.Vec{12, 30, 7}))
	o := laid(t, m, n, mold.AsIs).overhang(&usual)
	near(t, "land", o.Mating, 18*30, 30) // one facet may run across the seam
	near(t, "tread", o.Cavity, 40*30, 30)
}
