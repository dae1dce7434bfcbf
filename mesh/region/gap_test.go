package region_test

import (
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
)

// Cavities in a block: one shell where a gap of any width above zero joins them, two
// otherwise.
func TestGapsJoinShells(t *testing.T) {
	x, z := region.Vec{1, 0, 0}, region.Vec{0, 0, 1}
	for _, c := range []struct {
		name string
		want int
		cut  func(m *solid.Model) []*solid.Node
	}{
		{"blind hole", 1, func(m *solid.Model) []*solid.Node {
			return []*solid.Node{m.Cylinder("hole", "", region.Vec{}, z, 3, 0, 11)}
		}},
		{"cavity inside", 2, func(m *solid.Model) []*solid.Node {
			return []*solid.Node{m.Cylinder("cavity", "", region.Vec{}, z, 3, -3, 3)}
		}},
		{"ring-shaped cavity", 2, func(m *solid.Model) []*solid.Node {
			return []*solid.Node{m.Revolve("ring", "", solid.AxisFrame(region.Vec{}, z), solid.Poly(3, -3, 6, -3, 6, 3, 3, 3))}
		}},
		{"two cavities, a wall of 1 µm apart", 3, func(m *solid.Model) []*solid.Node {
			return []*solid.Node{m.Box("a", "", region.Vec{-5, -5, -5}, region.Vec{0, 5, 5}), m.Box("b", "", region.Vec{1e-3, -5, -5}, region.Vec{5, 5, 5})}
		}},
		{"two cavities joined by a hole", 2, func(m *solid.Model) []*solid.Node {
			return []*solid.Node{m.Box("a", "", region.Vec{-5, -5, -5}, region.Vec{0, 5, 5}), m.Box("b", "", region.Vec{2, -5, -5}, region.Vec{5, 5, 5}), m.Cylinder("hole", "", region.Vec{}, x, .5, 0, 2)}
		}},
		{"ring and core joined by a gap of 1 µm", 2, func(m *solid.Model) []*solid.Node {
			return []*solid.Node{
				m.Revolve("ring", "", solid.AxisFrame(region.Vec{}, z), solid.Poly(4, -3, 8, -3, 8, 3, 4, 3)),
				m.Cylinder("bore", "", region.Vec{}, z, 2, -3, 3),
				m.Revolve("gap", "", solid.AxisFrame(region.Vec{}, z), solid.Poly(2, -3, 4, -3, 4, -2.999, 2, -2.999)),
			}
		}},
		{"ring and core apart", 3, func(m *solid.Model) []*solid.Node {
			return []*solid.Node{
				m.Revolve("ring", "", solid.AxisFrame(region.Vec{}, z), solid.Poly(4, -3, 8, -3, 8, 3, 4, 3)),
				m.Cylinder("bore", "", region.Vec{}, z, 2, -3, 3),
			}
		}},
		{"plate faces joined through the outside of a hole row", 1, func(m *solid.Model) []*solid.Node {
			var out []*solid.Node
			for i := -2; i <= 2; i++ {
				out = append(out, m.Cylinder("hole", "", region.Vec{float64(4 * i), 1, 0}, z, 1, -11, 11))
			}
			return out
		}},
	} {
		m := solid.NewModel()
		n := solid.Minus(m.Box("block", "", region.Vec{-10, -10, -10}, region.Vec{10, 10, 10}), c.cut(m)...)
		b, err := brep.NewEvaluator(m).Boundary(n)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		s, err := region.Of(b)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := len(s.Shells); got != c.want {
			t.Errorf("%s: %d shells, want %d", c.name, got, c.want)
		}
	}
}
