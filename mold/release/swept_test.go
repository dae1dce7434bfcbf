package release

import (
	"math"
	"strings"
	"testing"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

func sweptOf(t testing.TB, m *mold.Mold) []Lock {
	t.Helper()
	locks, err := Swept(m)
	if err != nil {
		t.Fatal(err)
	}
	return locks
}

// Every split of every wheel comes apart without a rigid part in the way.
func TestEverySplitPullsFree(t *testing.T) {
	for _, w := range moldtest.Wheels {
		for _, s := range moldtest.Splits {
			m, err := mold.New(w.Job(t, s.Sets...))
			if err != nil {
				t.Logf("%v, %s: %v", w, s.Name, err)
				continue
			}
			for _, l := range sweptOf(t, m) {
				t.Errorf("%v, %s: %s: %v at %v", w, s.Name, l.Piece, &l, l.At)
			}
		}
	}
	for _, name := range []string{"kestrel", "wren", "albatross"} {
		m, err := mold.New(moldtest.Example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range sweptOf(t, m) {
			t.Errorf("%s: %s: %v at %v", name, l.Piece, &l, l.At)
		}
	}
}

// flanged is a mold around a hub with flanges of 35 mm radius, 4 mm thick, from z = 0
// to 40.
func flanged(t *testing.T) *mold.Mold {
	t.Helper()
	j := plain(t, params.SplitFour)
	j.Hub.FlangeDiameter, j.Hub.FlangeThickness = 70, 4
	return made(t, j, false)
}

// washer is a body of revolution about the mold's axis.
func washer(name, role string, r0, r1, z0, z1 float64) *solid.Node {
	f := solid.AxisFrame(mesh.Vec{}, mesh.Vec{0, 0, 1})
	return solid.NewModel().Revolve(name, role, f, solid.Poly(r0, z0, r1, z0, r1, z1, r0, z1))
}

// reshape changes the solid of one piece.
func reshape(t *testing.T, m *mold.Mold, piece string, shape func(*solid.Node) *solid.Node) {
	t.Helper()
	for i := range m.Pieces {
		if p := &m.Pieces[i]; p.Name == piece {
			p.Root = shape(p.Root)
			return
		}
	}
	t.Fatalf("no %s", piece)
}

func with(n *solid.Node) func(*solid.Node) *solid.Node {
	return func(root *solid.Node) *solid.Node { return solid.Union(root, n) }
}

// A ring of the lid that reaches in below the hub's upper flange is caught by it once
// the lid has risen by the gap between them; below the lower flange too, once the base
// goes down; and the verdict and its fault say so.
func TestFlangeLocksThePlateThatReachesBehindIt(t *testing.T) {
	for _, c := range []struct {
		piece, by string
		z0, z1    float64                 // of the ring
		face      func(*hub.Core) float64 // of the flange that it meets
	}{
		{"lid", "the hub's upper flange", 30, 33.5, func(c *hub.Core) float64 { return c.Z1() - 4 }},
		{"base", "the hub's lower flange", 6, 10, func(c *hub.Core) float64 { return c.Z0 + 4 }},
	} {
		m := flanged(t)
		reshape(t, m, c.piece, with(washer("register of "+c.piece, mold.RoleRegister, 31, 34, c.z0, c.z1)))
		locks := sweptOf(t, m)
		face := c.face(m.Core)
		want := min(math.Abs(face-c.z0), math.Abs(face-c.z1))
		if len(locks) != 1 || locks[0].Piece != c.piece || locks[0].By != c.by || locks[0].Of != "the register of "+c.piece ||
			math.Abs(locks[0].Travel-want) > 1e-6 || math.Abs(locks[0].At[2]-face) > 1e-6 {
			t.Fatalf("%+v, want %s after %g mm at %g", locks, c.by, want, face)
		}
		v := judged(t, m)
		f := v.Faults()
		if p := v.of(t, c.piece); p.Grade != Locked || v.Grade != Locked || len(f) != 1 || !strings.Contains(f[0].Cause, c.by+" after "+mm(want)) {
			t.Errorf("%v, %v", p.Locks, f)
		}
	}
}

// A hub whose opening narrows outward holds the register that fills it: by a lip as thin
// as 0.04 mm, while one of 0.01 mm passes for a fit.
func TestOpeningThatNarrowsLocks(t *testing.T) {
	for lip, locked := range map[float64]bool{3: true, .04: true, .01: false} {
		m := flanged(t)
		m.Core.Upper.PocketR, m.Core.Upper.PocketD = 20, 10
		reshape(t, m, "hub", func(n *solid.Node) *solid.Node {
			return solid.Minus(n, washer("pocket", "", 0, 20, 30, 38), washer("neck", "", 0, 20-lip, 38, 41))
		})
		reshape(t, m, "lid", with(washer("register of lid", mold.RoleRegister, 0, 20, 31, 37)))
		locks := sweptOf(t, m)
		switch {
		case !locked && len(locks) > 0:
			t.Errorf("%g mm: %+v", lip, locks)
		case locked && (len(locks) != 1 || locks[0].Piece != "lid" || locks[0].By != "the neck of the hub's upper opening" || math.Abs(locks[0].Travel-1) > 1e-6):
			t.Errorf("%g mm: %+v", lip, locks)
		}
	}
}

// A plug of a shell in the hub's bore of 6 mm radius meets its wall where the two are
// nearest along the pull, and a pin that it has beside the hub goes free.
func TestPlugInTheBoreLocksAShell(t *testing.T) {
	for _, c := range []struct {
		r0, r1 float64
		locked bool
	}{{0, 5, true}, {48, 49, false}} {
		m := flanged(t)
		half := solid.NewModel().Box("half", "", mesh.Vec{-60, 0, -1}, mesh.Vec{60, 60, 41})
		reshape(t, m, "shell-a", with(solid.Intersect(washer("register of shell-a", mold.RoleRegister, c.r0, c.r1, 10, 20), half)))
		locks := sweptOf(t, m)
		if (len(locks) > 0) != c.locked {
			t.Fatalf("radius %g: %+v", c.r1, locks)
		}
		// The gap along y at x is sqrt(36 - x²) - sqrt(25 - x²), least at x = 0: 1 mm.
		if c.locked && (locks[0].Piece != "shell-a" || locks[0].Travel < 1-1e-9 || locks[0].Travel > 1.01 || math.Abs(math.Hypot(locks[0].At[0], locks[0].At[1])-6) > 1e-6) {
			t.Errorf("%+v", locks)
		}
	}
}

// Balls across the faces of lid and base hold every shell for as long as these are on,
// and no longer: after the balls' clearance in their pockets.
func TestBallsHoldShellsUntilPlatesAreOff(t *testing.T) {
	m := made(t, plain(t, params.SplitFour), false)
	zones := inOrder(m.Split.Zones)
	lid, base, a, b := zones[0], zones[1], zones[2], zones[3]
	play := m.Layout.Balls[0].R - m.Layout.Balls[0].Diameter/2
	for _, c := range []struct {
		first mold.Zone
		rest  []mold.Zone
		held  bool
	}{
		{a, []mold.Zone{lid, base, b}, true}, {b, []mold.Zone{lid, base, a}, true},
		{a, []mold.Zone{base, b}, true}, {b, []mold.Zone{lid, a}, true},
		{a, []mold.Zone{b}, false}, {b, []mold.Zone{a}, false},
		{lid, []mold.Zone{base, a, b}, false}, {base, []mold.Zone{lid, a, b}, false},
	} {
		locks, err := sweep(m, bodies(m), append([]mold.Zone{c.first}, c.rest...))
		if err != nil {
			t.Fatal(err)
		}
		if (len(locks) > 0) != c.held {
			t.Errorf("%s with %d others: %+v", c.first.Name, len(c.rest), locks)
		}
		for _, l := range locks {
			if !strings.Contains(l.Of+l.By, "ball") || l.Travel < play-1e-9 || l.Travel > 3*play+1 {
				t.Errorf("%s: %v", c.first.Name, &l)
			}
		}
	}
}

// A register that is pressed into the hub is tapped out: it does not lock.
func TestPressedRegisterIsNotLocked(t *testing.T) {
	j := plain(t, params.SplitFour)
	j.Mold.RegisterBack.Clearance, j.Mold.RegisterFront.Clearance = -.06, -.06
	m := made(t, j, false)
	if len(m.Overlaps) != 2 {
		t.Fatal("nothing is pressed")
	}
	thick := washer("register of lid", mold.RoleRegister, 0, 7, 35, 41) // 1 mm too large
	reshape(t, m, "lid", with(thick))
	core, _ := m.Piece("hub")
	m.Overlaps = append(m.Overlaps, solid.Intersect(thick, core.Root))
	if locks := sweptOf(t, m); len(locks) > 0 {
		t.Errorf("%+v", locks)
	}
	m.Overlaps = nil
	if locks := sweptOf(t, m); len(locks) == 0 {
		t.Error("a register that stands in solid metal goes free")
	}
}

// A fin that stands in the hub's metal locks although the grid runs past it, unless it
// is thinner than what passes for a fit.
func TestFinLocks(t *testing.T) {
	for width, locked := range map[float64]bool{.1: true, .015: false} {
		m := flanged(t)
		fin := solid.NewModel().Box("fin", "", mesh.Vec{20, 1, 30}, mesh.Vec{20 + width, 3, 41})
		reshape(t, m, "lid", with(fin))
		if locks := sweptOf(t, m); (len(locks) > 0) != locked {
			t.Errorf("%g mm: %+v", width, locks)
		}
	}
}

// A peg where two long bars cross, in the hub's metal, locks wherever it stands if it is
// wider than the grid's mesh: no box of a leaf and no step of an outline leads to it.
func TestPegWiderThanTheMeshLocks(t *testing.T) {
	l := flanged(t).Layout
	wide := 1.02 * 2 * max(l.B, l.OuterX, l.FaceY) / 40
	for _, at := range [][2]float64{{8, 8}, {8, 14}, {12, 11}, {15, 15}, {19, 9}, {-14, 8}, {-21, -10}, {9, -17}} {
		m := flanged(t)
		bars := solid.NewModel()
		peg := solid.Intersect(bars.Box("bar along x", "", mesh.Vec{-60, at[1], 30}, mesh.Vec{60, at[1] + wide, 41}),
			bars.Box("bar along y", "", mesh.Vec{at[0], -60, 30}, mesh.Vec{at[0] + wide, 60, 41}))
		reshape(t, m, "lid", with(peg))
		if locks := sweptOf(t, m); len(locks) == 0 {
			t.Errorf("a peg %g mm wide at %v goes free", wide, at)
		}
	}
}

// A lip of the bore only 0.1 mm high stops a shell's plug before the wall behind it does.
func TestLowLipLocksAShell(t *testing.T) {
	m := flanged(t)
	reshape(t, m, "hub", func(n *solid.Node) *solid.Node {
		return solid.Minus(n, washer("below", "", 0, 25, 5, 18), washer("above", "", 0, 25, 18.1, 35))
	})
	reshape(t, m, "shell-a", with(washer("register of shell-a", mold.RoleRegister, 0, 5, 10, 30)))
	locks := sweptOf(t, m)
	if len(locks) != 1 || locks[0].Travel < 1-1e-9 || locks[0].Travel > 1.05 || math.Abs(locks[0].At[2]-18.05) > .05 {
		t.Errorf("%+v", locks)
	}
}

// A ring of the lid below a shoulder of the shells, which come off later, is held by
// both.
func TestShellsHoldTheLid(t *testing.T) {
	m := flanged(t)
	shoulder := washer("shoulder", "", 54, 59, 15, 30)
	for _, shell := range []string{"shell-a", "shell-b"} {
		reshape(t, m, shell, func(n *solid.Node) *solid.Node { return solid.Minus(n, shoulder) })
	}
	reshape(t, m, "lid", with(washer("register of lid", mold.RoleRegister, 55, 58, 20, 25)))
	held := map[string]float64{}
	for _, l := range sweptOf(t, m) {
		held[l.Piece+" by "+l.By] = l.Travel
	}
	for _, shell := range []string{"A", "B"} {
		if by, ok := held["lid by shell "+shell]; !ok || math.Abs(by-5) > 1e-6 {
			t.Errorf("shell %s: %v", shell, held)
		}
	}
}

func BenchmarkSwept(b *testing.B) {
	for _, name := range []string{"kestrel", "wren", "albatross"} {
		m, err := mold.New(moldtest.Example(b, name))
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				sweptOf(b, m)
			}
		})
	}
}
