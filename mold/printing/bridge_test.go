package printing

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
)

// bridged is the area of the ceilings that strands of 10 mm hold, mm², once the mesh was
// bent to another shape or heading.
func bridged(t *testing.T, m *solid.Model, n *solid.Node, bend func(v mesh.Vec) mesh.Vec) (area float64) {
	t.Helper()
	d := laid(t, m, n, mold.AsIs)
	for i, v := range d.mesh.V {
		d.mesh.V[i] = bend(v)
	}
	for i := range d.bridges(usual.Bridge) {
		area += d.area(i)
	}
	return area
}

// turnedBy turns about the vertical, degrees.
func turnedBy(angle float64) func(mesh.Vec) mesh.Vec {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	return func(v mesh.Vec) mesh.Vec { return mesh.Vec{cos*v[0] - sin*v[1], sin*v[0] + cos*v[1], v[2]} }
}

func straightOn(v mesh.Vec) mesh.Vec { return v }

// However a table stands on the bed, strands run across from leg to leg.
func TestBridgesAtAnyHeading(t *testing.T) {
	for angle := 0.; angle < 360; angle += 25 {
		for span, holds := range map[float64]bool{9.9: true, 10.1: false} {
			m := solid.NewModel()
			want := 0.
			if holds {
				want = span * 30
			}
			near(t, "bridged", bridged(t, m, table(m, span, 60, 30, mold.RoleParting), turnedBy(angle)), want, .01)
		}
	}
}

// Where both ends of a table are cut aslant, strands run along them and are the longer for
// it, by the secant of the slant; where only one is, none hold its corner.
func TestStrandsRunAlongFreeBorders(t *testing.T) {
	const slant = .5
	long := math.Sqrt(1 + slant*slant)
	for span, holds := range map[float64]bool{9.9 / long: true, 10.1 / long: false} {
		for _, sign := range []float64{1, -1} {
			m := solid.NewModel()
			want := 0.
			if holds {
				want = span * 30
			}
			got := bridged(t, m, table(m, span, 60, 30, mold.RoleParting), func(v mesh.Vec) mesh.Vec { return mesh.Vec{v[0], v[1] + sign*slant*v[0], v[2]} })
			near(t, "both ends aslant", got, want, .02)
		}
	}
	m := solid.NewModel()
	got := bridged(t, m, table(m, 8, 60, 30, mold.RoleParting), func(v mesh.Vec) mesh.Vec { return mesh.Vec{v[0], v[1] * (1 + v[0]/1000), v[2]} })
	near(t, "one end aslant", got, 0, 0)
}

// A long recess that opens downward bridges across, at any heading: of eight ways of the
// strands one lies within 11.25 degrees of square to it, and is longer than the recess is
// wide by no more than the secant of that.
func TestBridgesAcrossARecess(t *testing.T) {
	for angle := 0.; angle < 180; angle += 3.75 {
		for wide, holds := range map[float64]bool{9.98 * math.Cos(math.Pi/16): true, 10.1: false} {
			m := solid.NewModel()
			n := solid.Minus(m.Box("block", mold.RoleOuter, mesh.Vec{-25, -10, 0}, mesh.Vec{25, 10, 10}),
				m.Box("recess", mold.RoleBolt, mesh.Vec{-20, -wide / 2, -1}, mesh.Vec{20, wide / 2, 5}))
			want := 0.
			if holds {
				want = wide * 40
			}
			near(t, "bridged", bridged(t, m, n, turnedBy(angle)), want, .01)
		}
	}
}

// Strands end at a wall that stands between two parts of a ceiling: an arch of 18 mm whose
// legs are 7 mm wide, and its crown 9, bridges; without the wall it is too wide.
func TestStrandsEndAtAWallBetween(t *testing.T) {
	recess := func(wall bool) (float64, float64) {
		m := solid.NewModel()
		box := func(name string, x0, x1, y0, y1 float64) *solid.Node {
			return m.Box(name, mold.RoleBolt, mesh.Vec{x0, y0, -1}, mesh.Vec{x1, y1, 5})
		}
		cuts := []*solid.Node{box("left", -9, -2, 0, 20), box("right", 2, 9, 0, 20), box("crown", -4.5, 4.5, 20, 24)}
		area := 2*7*20. + 9*4
		if !wall {
			cuts, area = append(cuts, box("between", -2, 2, 0, 20)), area+4*20
		}
		return bridged(t, m, solid.Minus(m.Box("block", mold.RoleOuter, mesh.Vec{-15, -5, 0}, mesh.Vec{15, 30, 10}), cuts...), straightOn), area
	}
	got, area := recess(true)
	near(t, "with the wall", got, area, .01)
	got, _ = recess(false)
	near(t, "without it", got, 0, 0)
}

// A post in the middle of a wide recess does not make it narrow: beside it strands would
// still have to span all of the recess.
func TestAPostDoesNotHoldARecess(t *testing.T) {
	m := solid.NewModel()
	cut := solid.Minus(m.Box("recess", mold.RoleBolt, mesh.Vec{-14, -14, -1}, mesh.Vec{14, 14, 5}),
		m.Box("post", mold.RoleOuter, mesh.Vec{-5, -5, -2}, mesh.Vec{5, 5, 6}))
	near(t, "bridged", bridged(t, m, solid.Minus(m.Box("block", mold.RoleOuter, mesh.Vec{-20, -20, 0}, mesh.Vec{20, 20, 10}), cut), straightOn), 0, 0)
}

// A printer that draws no bridges has none.
func TestNoBridges(t *testing.T) {
	m := solid.NewModel()
	d := laid(t, m, table(m, 2, 60, 30, mold.RoleParting), mold.AsIs)
	if got := d.bridges(0); len(got) > 0 {
		t.Errorf("%d facets bridge", len(got))
	}
}
