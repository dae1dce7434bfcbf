package machining

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
)

// Every spot lies on the surface, with material on one side of it and none on the other,
// which the tree tells without the boundary; and shares add up.
func TestSpotsLieOnFaces(t *testing.T) {
	for name, build := range map[string]func(*solid.Model) *solid.Node{
		"lid": solidtest.ReferenceLid, "shell": solidtest.HalfShell,
	} {
		m := solid.NewModel()
		n := build(m)
		f, err := brep.NewEvaluator(m).Boundary(n)
		if err != nil {
			t.Fatal(err)
		}
		s, err := region.Of(f)
		if err != nil {
			t.Fatal(err)
		}
		for i, g := range s.Faces {
			o, sum := newOutline(s, g), 0.0
			for _, q := range o.spots(40) {
				sum += q.share
				want := solid.Below
				if g.Negative {
					want = solid.Above
				}
				if n.Beside(g.Carrier, q.p) != want || math.Abs(g.Carrier.F(q.p)) > 1e-9 {
					t.Errorf("%s: face %d, %v: %v is off it", name, i, g.Roles, q.p)
				}
				if !o.holds(q.p) {
					t.Errorf("%s: face %d, %v: does not hold its own %v", name, i, g.Roles, q.p)
				}
			}
			if math.Abs(sum-1) > 1e-9 {
				t.Errorf("%s: face %d: shares add up to %g", name, i, sum)
			}
		}
	}
}

// Shares are areas: means over spots against closed forms. A half ring's centroid lies
// 4(R³-r³)/(3π(R²-r²)) from its diameter, a cone's lateral face 2/3 down from its tip, a
// half ball's face half way up, and the outer half of a torus has the share 1/2 + r/(πR).
func TestSpotsAreEven(t *testing.T) {
	z := mesh.Vec{0, 0, 1}
	for _, c := range []struct {
		name  string
		build func(m *solid.Model) *solid.Node
		pick  func(f *region.Face) bool
		value func(p mesh.Vec) float64
		want  float64
	}{
		{"half ring", func(m *solid.Model) *solid.Node {
			ring := m.Revolve("ring", "", solid.AxisFrame(mesh.Vec{}, z), solid.Poly(10, 0, 20, 0, 20, 5, 10, 5))
			return solid.Minus(ring, m.Box("half", "", mesh.Vec{-30, -30, -1}, mesh.Vec{30, 0, 6}))
		}, func(f *region.Face) bool { return f.Carrier.Kind == solid.Plane && math.Abs(f.Carrier.D-5) < 1e-9 },
			func(p mesh.Vec) float64 { return p[1] }, 4 * 7000 / (3 * math.Pi * 300)},
		{"cone", func(m *solid.Model) *solid.Node { return m.Cone("cone", "", mesh.Vec{}, z, 10, 0, 0, 12) },
			func(f *region.Face) bool { return f.Carrier.Kind == solid.Cone }, func(p mesh.Vec) float64 { return p[2] }, 4},
		{"half ball", func(m *solid.Model) *solid.Node {
			return solid.Intersect(m.Ball("ball", "", mesh.Vec{}, z, 10), m.Box("half", "", mesh.Vec{-20, -20, 0}, mesh.Vec{20, 20, 20}))
		}, func(f *region.Face) bool { return f.Carrier.Kind == solid.Sphere }, func(p mesh.Vec) float64 { return p[2] }, 5},
		{"torus", func(m *solid.Model) *solid.Node {
			p := solid.Profile{}.LineTo(20, -5).ArcTo(20, 5, 20, 0, true).CloseArc(20, 0, true)
			return m.Revolve("torus", "", solid.AxisFrame(mesh.Vec{}, z), p)
		}, func(f *region.Face) bool { return true }, func(p mesh.Vec) float64 {
			return map[bool]float64{true: 1}[math.Hypot(p[0], p[1]) > 20]
		}, .5 + 5/(math.Pi*20)},
	} {
		m := solid.NewModel()
		f, err := brep.NewEvaluator(m).Boundary(c.build(m))
		if err != nil {
			t.Fatal(err)
		}
		s, err := region.Of(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range s.Faces {
			if !c.pick(g) {
				continue
			}
			mean := 0.0
			for _, q := range newOutline(s, g).spots(900) {
				mean += q.share * c.value(q.p)
			}
			if math.Abs(mean/c.want-1) > .01 {
				t.Errorf("%s: mean %.4f, want %.4f", c.name, mean, c.want)
			}
		}
	}
}
