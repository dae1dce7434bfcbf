package urethane

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s: %.6g, want %.6g", what, got, want)
	}
}

// usual is a common casting urethane: 0.8 Pa·s, 20 min pot life, gel at 40 min.
func usual(growth float64) Liquid {
	return Liquid{Density: 1.04, Viscosity: 0.8, PotLife: 1200, Growth: growth, Gel: 2400, Tension: 0.035, Temperature: 23, Sheet: 23}
}

// Worked by hand from ∫dt/μ = τ/μ0·(e^(-t1/τ) - e^(-t2/τ)), τ = pot life / ln growth.
func TestMobilityIsTheWorkedExample(t *testing.T) {
	for _, c := range []struct{ growth, want float64 }{{2, 1099}, {10, 252.8}} {
		l := usual(c.growth)
		near(t, "mobility left", l.Left(480), c.want, 5e-4)
		near(t, "mobility till gel", l.Mobility(480, 1e9), c.want, 5e-4)
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
	near(t, "mobility", l.Left(300), sum, 1e-6)
	if l.Left(l.Gel+1) != 0 || l.Mobility(l.Gel+1, l.Gel+100) != 0 || l.Mobility(600, 500) != 0 {
		t.Error("a gelled liquid flows, or time runs backward")
	}
}

// The same in the units of the clock, warm and cold: 1/μ summed over the
// viscosity that the liquid itself states.
func TestMobilityIsTheIntegralOfItsViscosity(t *testing.T) {
	for _, temperature := range []float64{12, 23, 35} {
		l := usual(12).At(temperature)
		sum, n := 0.0, 4000
		from, to := 200.0, 0.9*l.Gels()
		dt := (to - from) / float64(n)
		for i := range n {
			sum += dt / l.ViscosityAt(from+(float64(i)+0.5)*dt)
		}
		near(t, "mobility", l.Mobility(from, to), sum, 1e-6)
	}
}

// ∫ with τ 300 s, μ0 1 Pa·s, over 600 s is 259.399 (closed form); growth is e per
// 300 s then.
func TestMobilityOfAnExponential(t *testing.T) {
	l := Liquid{Viscosity: 1, PotLife: 300, Growth: math.E, Gel: 600, Temperature: 23, Sheet: 23}
	near(t, "mobility", l.Mobility(0, 600), 259.399, 1e-5)
}

// With the common meaning of pot life, the time in which viscosity doubles, 600 s
// give 1.41421, 2 and 4 times the viscosity after 300, 600 and 1200 s (2^(t/td)).
func TestViscosityDoubles(t *testing.T) {
	l := Liquid{Viscosity: 0.5, PotLife: 600, Growth: 2, Gel: 1500}
	for clock, times := range map[float64]float64{0: 1, 300: 1.41421, 600: 2, 1200: 4, 9999: math.Exp2(2.5)} {
		near(t, "viscosity", l.ViscosityAt(clock), 0.5*times, 1e-5)
	}
}

// A liquid that does not thicken: t/μ, and one that hardly does comes close to it.
func TestConstantViscosity(t *testing.T) {
	l := Liquid{Viscosity: 0.8, PotLife: 1200, Growth: 1, Gel: 2400}
	near(t, "mobility", l.Mobility(100, 900), 1000, 1e-12)
	hardly := l
	hardly.Growth = 1 + 1e-6
	near(t, "hardly growing", hardly.Mobility(100, 900), 1000, 1e-6)
	at, ok := l.Until(100, 1000)
	if near(t, "until", at, 900, 1e-12); !ok {
		t.Error("never, though it does")
	}
}

// Ten kelvin warmer: the cure runs twice as fast (rule of thumb), and E/R = 4970 K
// thins to exp(4970·(1/306.15 - 1/296.15)) = 0.578. A film has then half the time
// in a liquid thinner by that.
func TestTenKelvinWarmer(t *testing.T) {
	cold := usual(10)
	warm := cold.At(33)
	near(t, "left, warm over cold", warm.Left(480)/cold.Left(480), 1/(2*0.57804), 1e-3)
	near(t, "gel", warm.Gels(), 1200, 1e-12)
	near(t, "pot life", warm.Pourable(), 600, 1e-12)
	near(t, "fresh", warm.ViscosityAt(0), 0.8*0.57804, 1e-3)
	near(t, "at the end of the pot life", warm.ViscosityAt(600), 8*0.57804, 1e-3)
	near(t, "age", warm.Age(300), 600, 1e-12)
	near(t, "clock", warm.Clock(warm.Age(77)), 77, 1e-12)
	near(t, "back again", warm.At(23).Left(480), cold.Left(480), 1e-15)
}

// Until undoes Mobility, at every temperature and growth, and says never exactly
// where gel comes first.
func TestUntilIsTheInverse(t *testing.T) {
	for _, growth := range []float64{1, 2, 10, 30} {
		for _, temperature := range []float64{10, 23, 40} {
			l := usual(growth).At(temperature)
			for _, from := range []float64{0, 0.2, 0.7} {
				for _, to := range []float64{0.75, 0.9, 0.999} {
					from, to := from*l.Gels(), to*l.Gels()
					at, ok := l.Until(from, l.Mobility(from, to))
					if near(t, "until", at, to, 1e-9); !ok {
						t.Errorf("growth %g: %g s is never reached", growth, to)
					}
				}
			}
			all := l.Left(l.Age(300))
			if at, ok := l.Until(300, 1.001*all); ok || at != l.Gels() {
				t.Errorf("growth %g: more than all is reached at %g s", growth, at)
			}
			if at, ok := l.Until(300, all); !ok || !(at <= l.Gels()) || !(at > 0.99*l.Gels()) {
				t.Errorf("growth %g: all is reached at %g s, %v", growth, at, ok)
			}
			if at, ok := l.Until(2*l.Gels(), 1e-9); ok || at < l.Gels() {
				t.Errorf("a gelled liquid flows: %g s", at)
			}
			if at, ok := l.Until(300, 0); !ok || math.Abs(at-300) > 1e-9 {
				t.Errorf("nothing takes until %g s", at)
			}
		}
	}
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
