package region_test

import (
	"math"
	"testing"

	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
)

// A face that goes half around its axis spans half a turn, wherever that half lies and
// however its holes were followed.
func TestHolesDoNotWidenAFace(t *testing.T) {
	for k := range 12 {
		m := solid.NewModel()
		a := float64(k)*math.Pi/6 + .1
		at := func(u float64) Vec { s, c := math.Sincos(u); return Vec{c, s, 0} }
		half := m.BoxIn("half", "", solid.Frame{X: at(a), Y: at(a + math.Pi/2), Z: zAxis}, Vec{0, -30, -1}, Vec{30, 30, 50})
		body := solid.Intersect(m.Cylinder("body", "", Vec{}, zAxis, 20, 0, 40), half)
		var holes []*solid.Node
		for i, u := range []float64{a - 1.2, a, a + 1.2} {
			for _, z := range []float64{10, 25} {
				holes = append(holes, m.Cylinder("hole", "", Vec{0, 0, z + float64(i)}, at(u), 3, 12, 25))
			}
		}
		s, err := region.Of(boundary(t, m, solid.Minus(body, holes...)))
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, f := range s.Faces {
			if f.Carrier.Kind == solid.Cylinder && f.Carrier.R0 == 20 {
				n++
				if got := f.U[1] - f.U[0]; math.Abs(got-math.Pi) > 1e-9 {
					t.Errorf("half at %.2f: the face spans %.4f", a, got)
				}
				if len(f.Loops) != 7 {
					t.Errorf("half at %.2f: %d loops", a, len(f.Loops))
				}
			}
		}
		if n != 1 {
			t.Errorf("half at %.2f: %d faces", a, n)
		}
	}
}
