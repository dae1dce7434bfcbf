package rise

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// A vent at every local top empties the trap; in the middle of a level top.
func TestDrill(t *testing.T) {
	m := solid.NewModel()
	n := solid.Union(drum(m), m.Cylinder("b", "", mesh.Vec{12, 0, 0}, up, 10, 19, 24),
		m.Cylinder("b1", "", mesh.Vec{7, 0, 0}, up, 3, 23, 29), m.Cylinder("b2", "", mesh.Vec{17, 0, 0}, up, 3, 23, 27))
	c := cavity(t, n, .25, vent("vent 1", -20, 0, 20, 1))
	a := c.Traps(Tilt{})
	only(t, a)
	d := c.Drill(a, 0, 1, nil)
	if !d.Clears || d.Left != 0 || len(d.Vents) != 2 || len(d.Blocked) != 0 {
		t.Fatalf("%+v", d)
	}
	for i, x := range []float64{7, 17} {
		if p := d.Vents[i].At; math.Hypot(p[0]-x, p[1]) > .3 {
			t.Errorf("vent %d at %.2f, want the middle of the dome at x = %g", i, p, x)
		}
	}
	// The higher dome is out of reach: the best is the shoulder, and its air stays. (A bore
	// nearer to the dome would cut into it.)
	d = c.Drill(a, 0, 1, func(p mesh.Vec) bool { return math.Hypot(p[0]-7, p[1]) > 4.5 })
	if d.Clears || len(d.Blocked) != 1 || len(d.Vents) != 2 {
		t.Fatalf("%+v", d)
	}
	within(t, "left", d.Left, math.Pi*9*5, .01)
	// Nothing can be reached.
	d = c.Drill(a, 0, 1, func(mesh.Vec) bool { return false })
	if d.Clears || len(d.Vents) != 0 || d.Left != a.Traps[0].Volume {
		t.Errorf("%+v", d)
	}
}

// Where one place serves two tops it is proposed once.
func TestDrillProposesAPlaceOnce(t *testing.T) {
	m := solid.NewModel()
	n := solid.Union(drum(m), m.Cylinder("b", "", mesh.Vec{12, 0, 0}, up, 10, 19, 24),
		m.Cylinder("b1", "", mesh.Vec{7, 0, 0}, up, 3, 23, 29), m.Cylinder("b2", "", mesh.Vec{17, 0, 0}, up, 3, 23, 27))
	c := cavity(t, n, .25, vent("vent 1", -20, 0, 20, 1))
	d := c.Drill(c.Traps(Tilt{}), 0, 1, func(p mesh.Vec) bool { return math.Hypot(p[0]-12, p[1]-8) < .4 })
	if len(d.Blocked) != 2 || len(d.Vents) != 1 {
		t.Errorf("%d tops out of reach, %d vents at the one free place", len(d.Blocked), len(d.Vents))
	}
}

// A narrow roof that falls toward its vent is let out by a tilt of as much as it falls.
func TestLeastTilt(t *testing.T) {
	m := solid.NewModel()
	f := solid.Frame{X: mesh.Vec{1, 0, 0}, Y: up, Z: mesh.Vec{0, -1, 0}}
	for _, deg := range []float64{2.3, 5.7, 11.2} {
		n := m.Extrude("ramp", "", f, -2, 2, solid.Poly(0, 0, 50, 0, 50, 10+50*math.Tan(deg*math.Pi/180), 0, 10))
		c, err := New(n, []Opening{vent("low", 1, 0, 10, 2.2)}, Settings{Cell: .25, Least: 1})
		if err != nil {
			t.Fatal(err)
		}
		l := c.LeastTilt()
		if !l.Clears || l.Left != 0 || math.Abs(l.Tilt.Toward-180) > 1e-9 || l.Tilt.Angle < deg-.5 || l.Tilt.Angle > deg+.4 {
			t.Errorf("roof of %g°: %+v", deg, l)
		}
		if left := c.Traps(l.Tilt).Volume; left != 0 {
			t.Errorf("roof of %g°: with %v there stays %g mm³", deg, l.Tilt, left)
		}
	}
}

// No tilt empties a dome with an upright wall; what is proposed keeps no more air.
func TestNoTiltHelps(t *testing.T) {
	m := solid.NewModel()
	n := solid.Union(drum(m), m.Cylinder("dome", "", mesh.Vec{9, 0, 0}, up, 5, 19, 30))
	c := cavity(t, n, .5, vent("vent 1", -20, 0, 20, 1))
	l := c.LeastTilt()
	if l.Clears || l.Left > l.Before || l.Left <= 0 {
		t.Errorf("%+v", l)
	}
	within(t, "left", l.Left, c.Traps(l.Tilt).Volume, 1e-12)
}

// Where nothing is trapped, the mold stays upright.
func TestNothingToTilt(t *testing.T) {
	l := cavity(t, drum(solid.NewModel()), 1, vent("vent 1", 0, 0, 20, 1)).LeastTilt()
	if l != (Lean{Clears: true}) {
		t.Errorf("%+v", l)
	}
}
