package shop

import (
	"math"
	"testing"

	"wheelmold/mold"
)

// Corners off their places by rounding alone are those of a regular outline; corners that
// a gauge would find off, by two microns outward or aside, are not.
func TestHowRegularIsRegular(t *testing.T) {
	const r = 50.
	for by, regular := range map[float64]bool{1e-4: true, -1e-4: true, .002: false, -.002: false} {
		for name, off := range map[string]func(angle float64) (float64, float64){
			"outward": func(a float64) (float64, float64) { return a, r + by },
			"aside":   func(a float64) (float64, float64) { return a + by/r*180/math.Pi, r },
		} {
			for moved := range 8 {
				v, s := told(mold.Plate, cornered(8, func(i int) (float64, float64) {
					if i == moved {
						return off(45 * float64(i))
					}
					return 45 * float64(i), r
				}))
				if len(v.Callouts) == 1 != regular || len(s.Tables) == 0 != regular {
					t.Errorf("corner %d %s by %g mm: %d call-outs, %d tables", moved, name, by, len(v.Callouts), len(s.Tables))
				}
			}
		}
	}
}
