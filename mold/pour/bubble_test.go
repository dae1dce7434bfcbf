package pour

import (
	"math"
	"testing"
)

// r 0.5 mm in 1050 kg/m³ and 1 Pa·s: 5.7225e-4 m/s with a rigid surface, 8.584e-4
// with a clean one (Stokes; Hadamard and Rybczynski), with g = 9.81 m/s².
func TestBubbleRisesAtTheWorkedSpeed(t *testing.T) {
	v := RiseSpeed(steady(1, 1.05), 1, 0)
	near(t, "rigid", v.Least, 0.57225*9.80665/9.81, 1e-4)
	near(t, "clean", v.Most, 0.8584*9.80665/9.81, 1e-4)
	near(t, "Reynolds", RiseReynolds(steady(1, 1.05), 1, 0), 1.05*0.8584*1e-3, 1e-3)
}

// The height that a bubble rises in a liquid that thickens, by small steps of its
// speed; the bubble that clears just that height is the one that did.
func TestBubbleRisesAsTheODE(t *testing.T) {
	l := casting().At(27)
	from, to := 180.0, 900.0
	least, most, n := 0.0, 0.0, 20000
	dt := (to - from) / float64(n)
	for i := range n {
		v := RiseSpeed(l, 0.8, from+(float64(i)+0.5)*dt)
		least, most = least+v.Least*dt, most+v.Most*dt
	}
	m := l.Mobility(from, to)
	h := RiseHeight(l, 0.8, m)
	near(t, "rigid", h.Least, least, 1e-7)
	near(t, "clean", h.Most, most, 1e-7)

	d, ok := Clears(l, least, m)
	if near(t, "clears, rigid", d.Most, 0.8, 1e-7); !ok {
		t.Error("none clears")
	}
	d, _ = Clears(l, most, m)
	near(t, "clears, clean", d.Least, 0.8, 1e-7)
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
	if v := RiseSpeed(l, 1, l.Gels()+1); v != (Band{}) {
		t.Errorf("rises at %v through rubber", v)
	}
}

// 60 psi above the air's pressure: volume 1/5.0828, diameter 1/1.7194 (Boyle).
func TestPressurePotSqueezesBubbles(t *testing.T) {
	const psi = 4.4482216152605 / (25.4e-3 * 25.4e-3) // pound-force on a square inch, Pa
	v, d := Squeezed(Atmosphere, Atmosphere+60*psi)
	near(t, "volume", 1/v, 5.0828, 1e-5)
	near(t, "diameter", 1/d, 1.7194, 3e-5)
	if v, d := Squeezed(Atmosphere, Atmosphere); v != 1 || d != 1 {
		t.Errorf("no pressure: %g, %g", v, d)
	}
	if v, d := Squeezed(3000, Atmosphere); !(v < 0.03 && d < 0.32) {
		t.Errorf("back from a vacuum: %g, %g", v, d)
	}
	if v, d := Squeezed(Atmosphere, 0); v != 0 || d != 0 {
		t.Errorf("in nothing: %g, %g", v, d)
	}
}
