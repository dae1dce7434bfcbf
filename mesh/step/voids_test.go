package step_test

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh/solid"
	"wheelmold/mesh/step"
)

// Of two round lumps that stand close together each holds the void that lies in it: drums,
// cones and balls, above or beside one another.
func TestEachLumpHoldsItsVoid(t *testing.T) {
	type maker func(m *solid.Model, name string, at Vec, r, half float64) *solid.Node
	drum := func(m *solid.Model, name string, at Vec, r, half float64) *solid.Node {
		return m.Cylinder(name, name, at, zAxis, r, -half, half)
	}
	cone := func(m *solid.Model, name string, at Vec, r, half float64) *solid.Node {
		return m.Cone(name, name, at, zAxis, r, -half, r/2, half)
	}
	ball := func(m *solid.Model, name string, at Vec, r, half float64) *solid.Node {
		return m.Ball(name, name, at, zAxis, half)
	}
	for name, make := range map[string]maker{"drums": drum, "cones": cone, "balls": ball} {
		for _, apart := range []Vec{{0, 0, 11}, {0, 0, -11}, {21, 0, 0}, {0, -21, 0}} {
			r := regions(t, func(m *solid.Model) *solid.Node {
				first := solid.Minus(make(m, "first", Vec{}, 10, 5), make(m, "bubble", Vec{}, 4, 2))
				second := solid.Minus(make(m, "second", apart, 10, 5), make(m, "other bubble", apart, 4, 1))
				return solid.Union(first, second)
			})
			m := audited(t, written(t, step.Part{Name: name, Solid: r}, step.Options{}))
			if len(m.Solids) != 2 || m.Solids[0].Voids != 1 || m.Solids[1].Voids != 1 {
				t.Errorf("%s, %v apart: %+v", name, apart, m.Solids)
				continue
			}
			// Each shell's volume, and each lump's less that of its own void.
			var want, got []float64
			for _, void := range []float64{2, 1} {
				want = append(want, map[string]float64{
					"drums": math.Pi * (100*10 - 16*2*void), "cones": math.Pi * 7 / 12 * (100*10 - 16*2*void), "balls": math.Pi * 4 / 3 * (125 - void*void*void),
				}[name])
			}
			for _, x := range m.Solids {
				got = append(got, x.Volume)
			}
			if slices.Sort(want); slices.Min(got) < want[0]*(1-1e-9) || slices.Max(got) > want[1]*(1+1e-9) || math.Abs(got[0]+got[1]-want[0]-want[1]) > 1e-6 {
				t.Errorf("%s, %v apart: volumes %v, want %v", name, apart, got, want)
			}
		}
	}
}

// Where boxes do not tell which lump a void lies in, as within a block in the hole of a
// frame, the solid is refused rather than written with the void in the wrong one.
func TestVoidsThatMayLieInEither(t *testing.T) {
	r := regions(t, func(m *solid.Model) *solid.Node {
		box := func(name string, half float64) *solid.Node {
			return m.Box(name, name, Vec{-half, -half, -5}, Vec{half, half, 5})
		}
		hole := m.Box("hole", "hole", Vec{-12, -12, -6}, Vec{12, 12, 6})
		return solid.Union(solid.Minus(box("frame", 20), hole), solid.Minus(box("block", 8), m.Ball("bubble", "bubble", Vec{}, zAxis, 3)))
	})
	var b bytes.Buffer
	if err := step.Write(&b, step.Part{Name: "framed", Solid: r}, step.Options{}); err == nil || !strings.Contains(err.Error(), "either of two lumps") || b.Len() > 0 {
		t.Errorf("%v, %d bytes", err, b.Len())
	}
}
