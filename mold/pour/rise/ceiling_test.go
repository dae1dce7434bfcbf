package rise

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// A round roof with a vent in its middle: the bands are rings.
func TestCeilingBands(t *testing.T) {
	m := solid.NewModel()
	n := m.Cylinder("drum", "", mesh.Vec{}, up, 60, 0, 20)
	cs := cavity(t, n, .6, vent("vent 1", 0, 0, 20, 2)).Ceilings(Tilt{})
	if len(cs) != 1 || cs[0].Inner || len(cs[0].Vents) != 1 {
		t.Fatalf("%+v", cs)
	}
	c := cs[0]
	within(t, "area", c.Area, math.Pi*3600, .01)
	within(t, "height", c.Height, 20, 1e-9)
	within(t, "farthest", c.Farthest, 58, .01)
	last := 0.0
	for i, end := range []float64{12, 22, 42, 60} {
		within(t, "band", c.Bands[i], math.Pi*(end*end-last*last), .03)
		last = end
	}
	if c.Slope != 0 || c.Stuck != 0 {
		t.Errorf("slope %g, stuck %g", c.Slope, c.Stuck)
	}
}

// Around a hub the way is a tangent, an arc along the hub, and a tangent.
func TestCeilingAroundHub(t *testing.T) {
	m := solid.NewModel()
	const ri, ro, rv = 25.0, 60.0, 40.0
	n := m.Revolve("annulus", "", solid.AxisFrame(mesh.Vec{}, up), solid.Poly(ri, 0, ro, 0, ro, 30, ri, 30))
	cs := cavity(t, n, .7, vent("vent 1", rv, 0, 30, 1)).Ceilings(Tilt{})
	if len(cs) != 1 {
		t.Fatalf("%d ceilings", len(cs))
	}
	tangent := func(r float64) (length, angle float64) { return math.Sqrt(r*r - ri*ri), math.Acos(ri / r) }
	l1, a1 := tangent(rv)
	l2, a2 := tangent(ro)
	within(t, "farthest", cs[0].Farthest, l1+l2+ri*(math.Pi-a1-a2)-1, .01)
	if p := cs[0].Where; p[0] > -55 || math.Abs(p[1]) > 15 {
		t.Errorf("farthest at %.1f, want it behind the hub", p)
	}
}

// The level roof of an undercut: air leaves over its inner edge, at most as far as the
// undercut is deep. With no vent in the roof above, that one is stuck.
func TestInnerCeiling(t *testing.T) {
	m := solid.NewModel()
	n := solid.Union(m.Cylinder("well", "", mesh.Vec{}, up, 30, 0, 40), m.Cylinder("fin", "", mesh.Vec{}, up, 44, 12, 18))
	cs := cavity(t, n, .5).Ceilings(Tilt{})
	if len(cs) != 2 {
		t.Fatalf("%+v", cs)
	}
	fin, roof := cs[0], cs[1]
	within(t, "fin", fin.Area, math.Pi*(44*44-900), .01)
	within(t, "farthest", fin.Farthest, 14, .03)
	within(t, "height", fin.Height, 18, 1e-9)
	within(t, "first band", fin.Bands[0], math.Pi*(1600-900), .03)
	within(t, "second band", fin.Bands[1], math.Pi*(44*44-1600), .05)
	if !fin.Inner || fin.Stuck != 0 {
		t.Errorf("%+v", fin)
	}
	within(t, "stuck", roof.Stuck, math.Pi*900, .01)
}

// A level disc in a cone that rises outward: air leaves over the disc's rim, which is
// as far from its middle as it is wide.
func TestCeilingBelowSlope(t *testing.T) {
	m := solid.NewModel()
	n := m.Revolve("dish", "", solid.AxisFrame(mesh.Vec{}, up), solid.Poly(0, 0, 40, 0, 40, 30, 20, 20, 0, 20))
	cs := cavity(t, n, .25).Ceilings(Tilt{})
	if len(cs) != 1 || !cs[0].Inner || cs[0].Stuck != 0 {
		t.Fatalf("%+v", cs)
	}
	within(t, "area", cs[0].Area, math.Pi*400, .02)
	// The rim's columns may stand back by two cells, never out.
	if d := cs[0].Farthest; d < 20-2*.25 || d > 20+.06 {
		t.Errorf("farthest %.3f, want 20", d)
	}
}

// Slopes: half a degree is level, at the slope told; three degrees are not, but are
// when the mold leans so that a part of the cone is level.
func TestCeilingSlope(t *testing.T) {
	m := solid.NewModel()
	cone := func(deg float64) *solid.Node {
		h := 40 * math.Tan(deg*math.Pi/180)
		return m.Revolve("cone", "", solid.AxisFrame(mesh.Vec{}, up), solid.Poly(0, 0, 40, 0, 40, 20, 0, 20+h))
	}
	cs := cavity(t, cone(.5), 1, vent("v", 0, 0, 20, 1)).Ceilings(Tilt{})
	if len(cs) != 1 {
		t.Fatalf("%+v", cs)
	}
	within(t, "slope", cs[0].Slope, .5, .05)
	within(t, "area", cs[0].Area, math.Pi*1600, .01)
	if cs := cavity(t, cone(3), 1).Ceilings(Tilt{}); len(cs) != 0 {
		t.Errorf("3° counts as level: %+v", cs)
	}
	f := solid.Frame{X: mesh.Vec{1, 0, 0}, Y: up, Z: mesh.Vec{0, -1, 0}}
	ramp := m.Extrude("ramp", "", f, -20, 20, solid.Poly(0, 0, 50, 0, 50, 10+50*math.Tan(5*math.Pi/180), 0, 10))
	c := cavity(t, ramp, 1)
	if cs := c.Ceilings(Tilt{}); len(cs) != 0 {
		t.Errorf("5° counts as level: %+v", cs)
	}
	cs = c.Ceilings(Tilt{5, 180})
	if len(cs) != 1 || cs[0].Slope > 1e-6 {
		t.Fatalf("leaning against its slope the ramp is level: %+v", cs)
	}
	within(t, "ramp", cs[0].Area, 2000/math.Cos(5*math.Pi/180), 1e-6)
}

// Volume of a drum, and when its vent gets wet, upright and tilted.
func TestWettings(t *testing.T) {
	m := solid.NewModel()
	n := solid.Union(drum(m), m.Cylinder("dome", "", mesh.Vec{10, 0, 0}, up, 5, 19, 25))
	c := cavity(t, n, .25, vent("vent 1", -20, 0, 20, 2))
	within(t, "volume", c.Volume(), math.Pi*(900*20+25*5), .002)
	// A plane through the middle of a drum's axis halves it, at any tilt.
	within(t, "upper half", c.along(Tilt{}).air(10), math.Pi*(9000+125), .002)
	within(t, "tilted", c.along(Tilt{5, 33}).air(10*math.Cos(5*math.Pi/180)), math.Pi*(9000+125), .002)
	w := c.Wettings(Tilt{})
	if len(w) != 1 || w[0].Name != "vent 1" {
		t.Fatalf("%+v", w)
	}
	within(t, "wet", w[0].Wet, 20, 1e-9)
	within(t, "air left", w[0].AirLeft, math.Pi*125, .01)
	tilt := Tilt{6, 0}
	u := tilt.Up()
	w = c.Wettings(tilt)
	within(t, "wet, tilted", w[0].Wet, -22*u[0]+20*u[2], 1e-9)
	within(t, "shut, tilted", w[0].Shut, -18*u[0]+20*u[2], 1e-9)
	if w[0].AirLeft <= math.Pi*125 {
		t.Errorf("%+v", w)
	}
}
