package solid

import "testing"

// A disc is cut into arcs, and the chords of the arcs cross its inside: points
// on a chord are inside like any other.
func TestPointsOnAChordAreInside(t *testing.T) {
	for _, p := range []Profile{
		Circle(0, 0, 2),
		append(Profile{}, Circle(0, 0, 2)...).Flip(0),
		Profile{}.LineTo(0, -2).ArcTo(0, 2, 0, 0, true).CloseArc(0, 0, true),
		// Quarters turned by 45°, so that chords are level and upright.
		Profile{}.LineTo(1.5, -1.5).ArcTo(1.5, 1.5, 0, 0, true).ArcTo(-1.5, 1.5, 0, 0, true).
			ArcTo(-1.5, -1.5, 0, 0, true).CloseArc(0, 0, true),
	} {
		var hole Profile // the same disc as a hole of a large square
		for i := len(p) - 1; i >= 0; i-- {
			c := p[i]
			prev := p[(i+len(p)-1)%len(p)]
			c.Arc, c.C, c.CCW = prev.Arc, prev.C, !prev.CCW
			hole = append(hole, c)
		}
		m := NewModel()
		disc := m.Extrude("disc", "", AxisFrame(Vec{}, Vec{0, 0, 1}), 0, 1, p)
		plate := m.Extrude("plate", "", AxisFrame(Vec{}, Vec{0, 0, 1}), 0, 1, Poly(-9, -9, 9, -9, 9, 9, -9, 9), hole)
		// Multiples of 1/8 hit chords exactly; none lies on the circle's rim.
		for x := -1.5; x <= 1.5; x += .125 {
			for y := -1.25; y <= 1.25; y += .125 {
				q := Vec{x, y, .5}
				if x*x+y*y < 3.9 && !disc.Contains(q) {
					t.Fatalf("%v reads as outside the disc %v", q, p)
				}
				if x*x+y*y < 3.9 && plate.Contains(q) {
					t.Fatalf("%v reads as inside the plate with hole %v", q, hole)
				}
			}
		}
	}
}
