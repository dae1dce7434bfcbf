package tess

import (
	"math"
	"testing"

	"wheelmold/mesh/solid"
)

// A slot that goes all around a ball or a ring between two rows leaves no angle free, so
// that its band is cut open along the outline. In whichever band it lies, straight or a
// little askew, staggered rows or not, the first attempt meshes both halves.
func TestSlotAroundInEveryBand(t *testing.T) {
	const tol = .05
	ball := func(m *solid.Model) *solid.Node { return m.Ball("ball", "", Vec{}, zAxis, 5) }
	ring := func(m *solid.Model) *solid.Node {
		return m.Revolve("ring", "", solid.AxisFrame(Vec{}, zAxis), solid.Circle(12, 0, 5))
	}
	for _, c := range []struct {
		name  string
		build func(*solid.Model) *solid.Node
		rows  *rowPlan
		tilts []float64 // of the slot's half height
		chi   int       // of the two halves
	}{
		{"ball", ball, sphereRows(5, tol-rounding), []float64{0, .05}, 4},
		{"ring", ring, torusRows(12, 5, wallCount(17, tol-rounding), tol-rounding), []float64{0}, 0},
	} {
		slots := 0
		for j := range c.rows.bands() {
			k := c.rows.above(j)
			lo, hi := c.rows.v[j], c.rows.v[j]+c.rows.height(j)
			if c.rows.pole(j) || c.rows.pole(k) || lo < -math.Pi/2+1e-9 || hi > math.Pi/2+1e-9 {
				continue // the cap of a ball; the ring's inner half is cut with the outer
			}
			z, half := 5*math.Sin((lo+hi)/2), 5*(math.Sin(hi)-math.Sin(lo))/20
			for _, share := range c.tilts {
				tilt := share * half
				s, k := math.Sincos(tilt)
				f := solid.Frame{O: Vec{0, 0, z}, X: xAxis, Y: Vec{0, k, s}, Z: Vec{0, -s, k}}
				b := boundaryOf(t, func(m *solid.Model) *solid.Node {
					return solid.Minus(c.build(m), m.BoxIn("slot", "", f, Vec{-20, -20, -half}, Vec{20, 20, half}))
				})
				slots++
				w := work{b: b, tol: tol - rounding}
				m, err := w.mesh()
				if err != nil {
					t.Errorf("%s, slot at z = %.3f, tilted by %.4f: %v", c.name, z, tilt, err)
					continue
				}
				if chi := audit(t, b, m, tol); chi != c.chi {
					t.Errorf("%s, slot at z = %.3f, tilted by %.4f: Euler number %d, want %d", c.name, z, tilt, chi, c.chi)
				}
			}
		}
		if slots < 6 {
			t.Errorf("%s: only %d slots", c.name, slots)
		}
	}
}
