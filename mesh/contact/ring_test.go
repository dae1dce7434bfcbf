package contact_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/contact"
	"wheelmold/mesh/solid"
)

// A drafted plug in a straight hole: 0.05 mm of clearance on the radius at its
// root, two degrees of draft.
func TestRegister(t *testing.T) {
	const hole, clear, draft, engaged, depth = 11.0, .05, 2 * math.Pi / 180, 6.2, 9.0
	slope := math.Tan(draft)
	for name, f := range frames() {
		t.Run(name, func(t *testing.T) {
			m := solid.NewModel()
			plate := box(m, f, "plate", mesh.Vec{-30, -30, -8}, mesh.Vec{30, 30, 0})
			r0 := hole - clear
			plug := m.Revolve("plug", "plug", f, solid.Poly(0, -1, r0+slope, -1, r0-slope*engaged, engaged, 0, engaged))
			hub := m.Extrude("hub", "hub", f, 0, depth, solid.Circle(0, 0, 20), solid.Circle(0, 0, hole).Reversed().As("bore"))
			b := bodies(t, m, part{"plate", solid.Union(plate, plug)}, part{"hub", hub})
			rings := contact.Rings(b, contact.Settings{MaxGap: .5})
			if len(rings) != 1 {
				t.Fatalf("%d rings, want 1", len(rings))
			}
			r := &rings[0]
			if r.Inner != "plate" || r.Outer != "hub" || !slices.Contains(r.InnerRoles, "plug") {
				t.Errorf("%s %v in %s %v", r.Inner, r.InnerRoles, r.Outer, r.OuterRoles)
			}
			near(t, "height", r.Z1-r.Z0, engaged, 1e-9)
			near(t, "turn", r.Turn, 2*math.Pi, 1e-9)
			root, tip := r.Z0, r.Z1
			if r.Gap(root) > r.Gap(tip) {
				root, tip = tip, root
			}
			at := f.Global(mesh.Vec{})
			near(t, "root", r.Axis.Local(at)[2], root, 1e-9)
			// Across a wedge of angle α between walls the film's middle makes α/2 with
			// both; the distance between them is the radial one times cos α/2, to α²/8.
			near(t, "gap at the root", r.Gap(root), clear*math.Cos(draft/2), 1e-5)
			near(t, "gap at the tip", r.Gap(tip), (clear+slope*engaged)*math.Cos(draft/2), 1e-5)
			near(t, "mean radius", r.MeanRadius(), hole-(clear+slope*engaged/2)/2, 1e-9)
			// Frustum and cylinder.
			r1 := r0 - slope*engaged
			near(t, "volume", r.Volume(), math.Pi*engaged*(hole*hole-(r0*r0+r0*r1+r1*r1)/3), 1e-8)
			resistance(t, r)
		})
	}
}

// resistance compares closed forms with a sum over many slices.
func resistance(t *testing.T, r *contact.Ring) {
	t.Helper()
	const n = 20000
	sum := 0.0
	for k := range n {
		h := r.Gap(r.Z0 + (r.Z1-r.Z0)*(float64(k)+.5)/n)
		sum += r.Length() / n / (h * h * h)
	}
	near(t, "resistance", r.Resistance()/sum, 1, 1e-6)
	h := r.EffectiveGap()
	near(t, "effective gap", r.Length()/(h*h*h)/sum, 1, 1e-6)
}

// A plug larger than its hole at the root: the press fit is reported, closes the
// gap, and leaves the volume beyond.
func TestPressFit(t *testing.T) {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{}, zAxis)
	g := solid.AxisFrame(mesh.Vec{0, 0, 3}, zAxis) // heights of its own
	plug := m.Revolve("plug", "plug", g, solid.Poly(0, -8, 15, -8, 15, -3, 10.02, -3, 9.98, 5, 0, 5))
	hub := m.Extrude("hub", "hub", f, 0, 12, solid.Circle(0, 0, 20), solid.Circle(0, 0, 10).Reversed())
	rings := contact.Rings(bodies(t, m, part{"hub", hub}, part{"plug", plug}), contact.Settings{MaxGap: .5})
	if len(rings) != 1 {
		t.Fatalf("%d rings", len(rings))
	}
	r := &rings[0]
	near(t, "gap at the root", r.Gap(0), -.02, 1e-6)
	near(t, "gap at the tip", r.Gap(8), .02, 1e-6)
	if !math.IsInf(r.Resistance(), 1) || r.EffectiveGap() != 0 {
		t.Errorf("resistance %v, effective gap %v", r.Resistance(), r.EffectiveGap())
	}
	near(t, "volume", r.Volume(), math.Pi*4*(100-(100+10*9.98+9.98*9.98)/3), 1e-9)
}

// Heights in common only: a hub's two flanges, one face each of one cylinder,
// inside a relieved bush that reaches over parts of both.
func TestFlanges(t *testing.T) {
	m := solid.NewModel()
	f := solid.AxisFrame(mesh.Vec{1, 2, 3}, mesh.Vec{1, 1, 0})
	hub := m.Revolve("hub", "hub", f, solid.Poly(0, 0, 20, 0, 20, 4, 15, 4, 15, 30, 20, 30, 20, 36, 0, 36))
	bush := m.Revolve("bush", "bush", f, solid.Poly(20.1, -2, 30, -2, 30, 33, 20.1, 33, 20.1, 10, 22, 10, 22, 2.5, 20.1, 2.5))
	rings := contact.Rings(bodies(t, m, part{"hub", hub}, part{"bush", bush}), contact.Settings{MaxGap: .2})
	if len(rings) != 2 {
		t.Fatalf("%d rings, want 2", len(rings))
	}
	o := rings[0].Axis.Local(f.O)[2]
	for i, want := range [][2]float64{{0, 2.5}, {30, 33}} {
		near(t, "from", rings[i].Z0-o, want[0], 1e-9)
		near(t, "to", rings[i].Z1-o, want[1], 1e-9)
		near(t, "turn", rings[i].Turn, 2*math.Pi, 1e-9)
		near(t, "volume", rings[i].Volume(), math.Pi*(20.1*20.1-400)*(want[1]-want[0]), 1e-8)
		resistance(t, &rings[i])
	}
}

// Part of a turn: half a bush, a plug with a keyway, a cross hole.
func TestPartOfATurn(t *testing.T) {
	const r, clear = 10.0, .1
	for name, c := range map[string]struct {
		cutPlug, cutBush func(m *solid.Model, f solid.Frame) *solid.Node
		want, tol        float64 // of Turn
	}{
		"half a bush": {
			cutBush: func(m *solid.Model, f solid.Frame) *solid.Node {
				return box(m, f, "half", mesh.Vec{-40, -40, -9}, mesh.Vec{40, 0, 40})
			},
			want: math.Pi, tol: 1e-9,
		},
		"keyway": {
			cutPlug: func(m *solid.Model, f solid.Frame) *solid.Node {
				return box(m, f, "keyway", mesh.Vec{-2, 5, -9}, mesh.Vec{2, 40, 40})
			},
			want: 2*math.Pi - 2*math.Asin(2/r), tol: 1e-9,
		},
		"cross hole": {
			cutBush: func(m *solid.Model, f solid.Frame) *solid.Node {
				return m.Cylinder("hole", "hole", f.Global(mesh.Vec{0, 0, 5}), f.X, 2.5, 0, 40)
			},
			// The hole takes 2·√(ρ² - R²sin²a) of ten mm of height at the angle a.
			want: 2*math.Pi - crossHole(2.5, r+clear)/10, tol: 2e-3,
		},
	} {
		for where, f := range frames() {
			m := solid.NewModel()
			plug := drill(m, f, "plug", 0, 0, r, -5, 10)
			bush := m.Extrude("bush", "bush", f, 0, 20, solid.Circle(0, 0, 18), solid.Circle(0, 0, r+clear).Reversed())
			if c.cutPlug != nil {
				plug = solid.Minus(plug, c.cutPlug(m, f))
			}
			if c.cutBush != nil {
				bush = solid.Minus(bush, c.cutBush(m, f))
			}
			rings := contact.Rings(bodies(t, m, part{"plug", plug}, part{"bush", bush}), contact.Settings{MaxGap: .5})
			if len(rings) != 1 {
				t.Fatalf("%s, %s: %d rings", name, where, len(rings))
			}
			near(t, fmt.Sprintf("%s, %s: turn", name, where), rings[0].Turn, c.want, c.tol)
			near(t, "height", rings[0].Z1-rings[0].Z0, 10, 1e-9)
		}
	}
}

// crossHole is ∫ 2·√(ρ² - R²·sin²a) da over the hole, by slices that are dense
// at its ends.
func crossHole(rho, r float64) float64 {
	const n = 2000
	sum := 0.0
	for k := range n {
		p := math.Pi * ((float64(k)+.5)/n - .5)
		s := rho / r * math.Sin(p) // sin a
		sum += 2 * rho * math.Cos(p) * (rho / r * math.Cos(p) / math.Sqrt(1-s*s)) * math.Pi / n
	}
	return sum
}

// Surfaces that are no plug in a hole.
func TestNoRing(t *testing.T) {
	f := solid.AxisFrame(mesh.Vec{}, zAxis)
	for name, c := range map[string]struct {
		x, r, z float64
		want    int
	}{
		"in place":         {0, 9.9, 0, 1},
		"too small":        {0, 9.4, 0, 0},
		"off the axis":     {.05, 9.9, 0, 0},
		"above the hole":   {0, 9.9, 10, 0},
		"larger by far":    {0, 10.6, 0, 0},
		"larger, pressed":  {0, 10.4, 0, 1},
		"engaged a little": {0, 9.9, 9.5, 1},
	} {
		m := solid.NewModel()
		b := bodies(t, m,
			part{"plug", drill(m, f, "plug", c.x, 0, c.r, c.z, c.z+15)},
			part{"bush", m.Extrude("bush", "bush", f, 0, 10, solid.Circle(0, 0, 18), solid.Circle(0, 0, 10).Reversed())})
		if got := contact.Rings(b, contact.Settings{MaxGap: .5}); len(got) != c.want {
			t.Errorf("%s: %d rings, want %d", name, len(got), c.want)
		}
	}
}
