package solid

import (
	"math"
	"testing"
)

// Two cones are one surface if they have one axis, one apex and one angle: not if one is
// moved along the axis, nor if they cross in a circle, nor if they share only their apex.
func TestConesThatAreOneSurface(t *testing.T) {
	up := Vec{0, 0, 1}
	for name, c := range map[string]struct {
		at           Vec
		dir          Vec
		r0, h0, r, h float64 // from a radius at a height along dir to another
		same         bool
	}{
		"another part of it": {Vec{}, up, 3, 4, 5, 8, true},
		"from another foot":  {Vec{0, 0, -6}, up, 3, 10, 5, 14, true},
		"upside down":        {Vec{0, 0, 10}, Vec{0, 0, -1}, 5, 2, 3, 6, true},
		"moved along":        {Vec{}, up, 3, 4.5, 5, 8.5, false},
		"crossing it":        {Vec{}, up, 3, 4, 6, 8, false},
		"of the same apex":   {Vec{0, 0, -2}, up, 2, 2, 4, 4, false},
		"beside it":          {Vec{.5, 0, 0}, up, 3, 4, 5, 8, false},
	} {
		m := NewModel()
		m.Cone("one", "", Vec{}, up, 2, 2, 4, 6) // its apex lies at height -2, its radius grows by a half
		m.Cone("other", "", c.at, c.dir, c.r0, c.h0, c.r, c.h)
		cones := 0
		for i := range m.Carriers {
			if m.Carriers[i].Kind == Cone {
				cones++
			}
		}
		if (cones == 1) != c.same {
			t.Errorf("%s: %d surfaces, half angles %.1f° and %.1f°", name, cones,
				math.Atan2(2, 4)*180/math.Pi, math.Atan2(c.r-c.r0, c.h-c.h0)*180/math.Pi)
		}
	}
}
