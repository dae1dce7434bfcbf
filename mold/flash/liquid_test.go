package flash

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if math.Abs(got-want) > relative*math.Abs(want) {
		t.Errorf("%s: %.6g, want %.6g", what, got, want)
	}
}

// usual is a common casting urethane: 0.8 Pa·s, 20 min pot life, gel at 40 min.
func usual(growth float64) Liquid {
	return Liquid{Density: 1.04, Viscosity: 0.8, PotLife: 1200, Growth: growth, Gel: 2400, Tension: 0.035, Mold: 23, Sheet: 23}
}

// Worked by hand from ∫dt/μ = τ/μ0·(e^(-t1/τ) - e^(-t2/τ)), τ = pot life / ln growth.
func TestMobilityIsTheWorkedExample(t *testing.T) {
	for _, c := range []struct{ growth, want float64 }{{2, 1099}, {10, 252.8}} {
		l := usual(c.growth)
		near(t, "mobility", l.Mobility(480), c.want, 5e-4)
	}
}

// The closed form against the sum over small steps of 1/μ, each taken from the
// definition: μ0 at first mixing, growth·μ0 at the pot life, exponential between.
func TestMobilityIsTheIntegral(t *testing.T) {
	l := usual(7)
	sum, dt := 0.0, 0.25
	for x := 300 + dt/2; x < l.Gel; x += dt {
		sum += dt / (l.Viscosity * math.Pow(l.Growth, x/l.PotLife))
	}
	near(t, "mobility", l.Mobility(300), sum, 1e-6)
	if m := l.Mobility(l.Gel + 1); m != 0 {
		t.Errorf("a gelled liquid flows: %g", m)
	}
}

// ∫ with τ 300 s, μ0 1 Pa·s, over 600 s is 259.399 (closed form); growth is e per
// 300 s then.
func TestMobilityOfAnExponential(t *testing.T) {
	l := Liquid{Viscosity: 1, PotLife: 300, Growth: math.E, Gel: 600, Mold: 23, Sheet: 23}
	near(t, "mobility", l.Mobility(0), 259.399, 1e-5)
}

// Ten kelvin warmer: the cure runs twice as fast (rule of thumb), and E/R = 4970 K
// thins to exp(4970·(1/306.15 - 1/296.15)) = 0.578.
func TestMobilityInAWarmMold(t *testing.T) {
	cold, warm := usual(10), usual(10)
	warm.Mold = 33
	near(t, "warm over cold", warm.Mobility(480)/cold.Mobility(480), 1/(2*0.57804), 1e-3)
}

// Two faces 25, 50, 100 and 200 µm apart, 0.035 N/m, 30°: 2γcosθ/h; and the
// published rise of water, 0.075 N/m, between plates 1 mm apart, which is 15 mm
// with g = 10 m/s².
func TestCapillaryPressure(t *testing.T) {
	l := usual(10)
	for i, want := range []float64{2424.9, 1212.4, 606.2, 303.1} {
		near(t, "capillary pressure", l.Capillary(0.025*math.Exp2(float64(i)), 30), want, 1e-4)
	}
	if p := l.Capillary(0.1, 120); p >= 0 {
		t.Errorf("a liquid that does not wet is pulled in by %g Pa", p)
	}
	water := Liquid{Density: 1, Tension: 0.075}
	near(t, "rise", water.Capillary(1, 0)/(10*1000)*1000, 15, 1e-9)
}

// 40 mm of 1050 kg/m³: 412.02 Pa with g = 9.81 m/s²; here g is the standard's.
func TestHead(t *testing.T) {
	l := Liquid{Density: 1.05}
	near(t, "head", l.Head(40), 412.02*9.80665/9.81, 1e-4)
}
