package brep

import (
	"fmt"
	"math"
	"testing"

	"wheelmold/mesh/solid"
)

// Planes at every angle to the axis, from nearly square to a hair off parallel,
// through the middle of shapes that are symmetric about it: half the volume lies on
// either side.
func TestPlanesAtAnyAngle(t *testing.T) {
	ring := func(r, m float64) (func(*solid.Model) *solid.Node, float64) {
		return func(md *solid.Model) *solid.Node {
			return md.Revolve("ring", "", solid.AxisFrame(Vec{}, zAxis), solid.Circle(r, 0, m))
		}, 2 * math.Pi * math.Pi * r * m * m
	}
	barrel := func(md *solid.Model) *solid.Node { // crowned by a radius of 500
		return md.Revolve("barrel", "", solid.AxisFrame(Vec{}, zAxis), solid.Poly(0, -3, 6, -3).ArcTo(6, 3, 6-math.Sqrt(500*500-9), 0, true).LineTo(0, 3))
	}
	cones := func(md *solid.Model) *solid.Node {
		return md.Revolve("cones", "", solid.AxisFrame(Vec{}, zAxis), solid.Poly(0, -3, 4, -3, 6, 0, 4, 3, 0, 3))
	}
	thin, thinV := ring(8, 2)
	fat, fatV := ring(5, 4)
	chord := 6 - math.Sqrt(500*500-9)
	barrelV := solid.Profile(solid.Poly(0, -3, 6, -3).ArcTo(6, 3, chord, 0, true).LineTo(0, 3)).RevolvedVolume()
	for _, c := range []struct {
		name  string
		build func(*solid.Model) *solid.Node
		want  float64
	}{
		{"thin ring", thin, thinV}, {"fat ring", fat, fatV},
		{"barrel", barrel, barrelV}, {"cones", cones, 2 * math.Pi * (16 + 24 + 36)},
	} {
		for _, a := range []float64{2e-3, .02, .1, .2, .3, .52, .53, .9, 1.2, 1.55, math.Pi/2 - 1e-3, math.Pi/2 - 1e-7} {
			s, k := math.Sincos(a)
			m := solid.NewModel()
			shape := c.build(m)
			half := m.BoxIn("half", "", solid.AxisFrame(Vec{}, Vec{s * .6, s * .8, k}), Vec{-30, -30, 0}, Vec{30, 30, 30})
			v, err := volumes(m, solid.Intersect(shape, half), solid.Minus(shape, half))
			if err != nil {
				t.Errorf("%s at %g: %v", c.name, a, err)
				continue
			}
			for _, got := range v {
				near(t, fmt.Sprintf("%s at %g", c.name, a), got, c.want/2, 1e-7)
			}
		}
	}
}
