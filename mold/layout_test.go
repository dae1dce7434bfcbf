package mold

import (
	"math"
	"testing"

	"wheelmold/mesh"
)

// The block's reach: that of a square grows to √2 in its corners, that of an octagon to
// 1/cos 22.5° in each of its eight, and a round one ends at its radius and its flats.
func TestReach(t *testing.T) {
	at := func(degrees float64) mesh.Vec {
		s, c := math.Sincos(degrees * math.Pi / 180)
		return mesh.Vec{c, s, 0}
	}
	for _, c := range []struct {
		layout  Layout
		degrees float64
		want    float64
	}{
		{Layout{Outline: "square", B: 50, FaceY: 50}, 0, 50},
		{Layout{Outline: "square", B: 50, FaceY: 50}, -45, 50 * math.Sqrt2},
		{Layout{Outline: "square", B: 50, FaceY: 50}, 120, 50 / math.Cos(math.Pi/6)},
		{Layout{Outline: "octagon", B: 50, FaceY: 50}, 90, 50},
		{Layout{Outline: "octagon", B: 50, FaceY: 50}, 45, 50},
		{Layout{Outline: "octagon", B: 50, FaceY: 50}, 22.5, 50 / math.Cos(math.Pi/8)},
		{Layout{Outline: "octagon", B: 50, FaceY: 50}, 202.5, 50 / math.Cos(math.Pi/8)},
		{Layout{Outline: "round", B: 50, FaceY: 48}, 0, 50},
		{Layout{Outline: "round", B: 50, FaceY: 48}, 45, 50},
		{Layout{Outline: "round", B: 50, FaceY: 48}, 270, 48},
		{Layout{Outline: "round", B: 50, FaceY: 48}, 80, 48 / math.Sin(80*math.Pi/180)},
	} {
		if got := c.layout.Reach(at(c.degrees)); math.Abs(got-c.want) > 1e-4 { // the lattice
			t.Errorf("%s at %g°: %.6f, want %.6f", c.layout.Outline, c.degrees, got, c.want)
		}
	}
}
