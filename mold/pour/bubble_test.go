package pour

import (
	"math"
	"testing"

	"wheelmold/params"
)

// r 0.5 mm in 1050 kg/m³ and 1 Pa·s: 5.7225e-4 m/s with a rigid surface, 8.584e-4
// with a clean one (Stokes; Hadamard and Rybczynski), with g = 9.81 m/s². So far a
// bubble of 1 mm rises in 1 s.
func TestBubbleRisesAtTheWorkedSpeed(t *testing.T) {
	l := steady(1, 1.05)
	rigid, _ := Clears(l, 0.57225*9.80665/9.81, l.Mobility(0, 1))
	near(t, "rigid", rigid.Most, 1, 1e-4)
	clean, _ := Clears(l, 0.8584*9.80665/9.81, l.Mobility(0, 1))
	near(t, "clean", clean.Least, 1, 1e-4)
}

// The bubble that clears the height which one of 0.8 mm rises in a liquid that
// thickens, by small steps of its speed, is that one.
func TestBubbleRisesAsTheODE(t *testing.T) {
	l := casting().At(27)
	from, to := 180.0, 900.0
	height, n := 0.0, 20000
	dt := (to - from) / float64(n)
	for i := range n {
		mu := l.ViscosityAt(from + (float64(i)+0.5)*dt)
		height += dt * l.Density * 9.80665 * 0.8 * 0.8 / (18 * mu)
	}
	d, ok := Clears(l, height, l.Mobility(from, to))
	if near(t, "clears, rigid", d.Most, 0.8, 1e-7); !ok {
		t.Error("none clears")
	}
	near(t, "band", d.Most/d.Least, math.Sqrt(1.5), 1e-12)
}

// Higher, thicker or sooner stirred out: a larger bubble stays. In a gelled liquid
// none rises.
func TestLawsOfBubbles(t *testing.T) {
	l := casting()
	base, _ := Clears(l, 80, l.Mobility(120, 480))
	longer, _ := Clears(l, 80, l.Mobility(120, 600))
	higher, _ := Clears(l, 90, l.Mobility(120, 480))
	if !(longer.Most < base.Most && higher.Most > base.Most) {
		t.Errorf("80 mm: %v, longer %v, higher %v", base, longer, higher)
	}
	thick := l
	thick.Viscosity *= 2
	if d, _ := Clears(thick, 80, thick.Mobility(120, 480)); !(d.Least > base.Least) {
		t.Errorf("twice as thick: %v, was %v", d, base)
	}
	for _, m := range []float64{0, -1, math.NaN()} {
		if d, ok := Clears(l, 80, m); ok || d != (Band{}) {
			t.Errorf("bubbles of %v rise through nothing", d)
		}
	}
	if d, ok := Clears(l, 0, 100); !ok || d != (Band{}) {
		t.Errorf("no height: %v", d)
	}
	if d, ok := Clears(l, 80, l.Mobility(l.Gels(), l.Gels()+100)); ok {
		t.Errorf("%v rises through rubber", d)
	}
}

// 60 psi above the air's pressure: volume 1/5.0828, diameter 1/1.7194 (Boyle).
func TestPressurePotSqueezesBubbles(t *testing.T) {
	const psi = 4.4482216152605 / (25.4e-3 * 25.4e-3) // pound-force on a square inch, Pa
	v, d := Squeezed(params.Atmosphere, params.Atmosphere+60*psi)
	near(t, "volume", 1/v, 5.0828, 1e-5)
	near(t, "diameter", 1/d, 1.7194, 3e-5)
	if v, d := Squeezed(params.Atmosphere, params.Atmosphere); v != 1 || d != 1 {
		t.Errorf("no pressure: %g, %g", v, d)
	}
	if v, d := Squeezed(3000, params.Atmosphere); !(v < 0.03 && d < 0.32) {
		t.Errorf("back from a vacuum: %g, %g", v, d)
	}
	if v, d := Squeezed(params.Atmosphere, 0); v != 0 || d != 0 {
		t.Errorf("in nothing: %g, %g", v, d)
	}
}
