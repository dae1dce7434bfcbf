package portable

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// bits of the exact values that results are held to.
const bits = 200

func exact(x float64) *big.Float       { return new(big.Float).SetPrec(bits).SetFloat64(x) }
func times(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(bits).Mul(a, b) }

// bigExp is e^x by its series at x/2¹⁶, squared sixteen times.
func bigExp(x *big.Float) *big.Float {
	x = new(big.Float).SetPrec(bits).SetMantExp(x, -16)
	sum, term := exact(1), exact(1)
	for n := 1.0; n < 40; n++ {
		term = times(term, x)
		term.Quo(term, exact(n))
		sum.Add(sum, term)
	}
	for range 16 {
		sum = times(sum, sum)
	}
	return sum
}

// bigLog is ln x, by one step of Halley's from what math says: the error is cubed.
func bigLog(x *big.Float) *big.Float {
	// The mantissa's logarithm, and the exponent's.
	m := new(big.Float).SetPrec(bits)
	e := x.MantExp(m)
	near := func(v *big.Float) *big.Float {
		f, _ := v.Float64()
		y := exact(math.Log(f))
		for range 2 {
			g := bigExp(y)
			step := new(big.Float).SetPrec(bits).Sub(v, g)
			step.Quo(step, g.Add(g, v))
			y.Add(y, step.Mul(step, exact(2)))
		}
		return y
	}
	out := times(near(exact(2)), exact(float64(e)))
	return out.Add(out, near(m))
}

// units is how far a result is off in units of its last digit.
func units(got float64, want *big.Float) float64 {
	w, _ := want.Float64()
	if math.IsInf(w, 0) || math.IsInf(got, 0) {
		if got == w {
			return 0
		}
		return math.Inf(1)
	}
	last := max(math.Abs(math.Nextafter(w, math.Inf(1))-w), math.SmallestNonzeroFloat64)
	off := new(big.Float).SetPrec(bits).Sub(exact(got), want)
	d, _ := off.Quo(off, exact(last)).Float64()
	return math.Abs(d)
}

// within tries a function where it is told to, and shows the worst.
func within(t *testing.T, name string, most float64, f func(float64) float64, want func(*big.Float) *big.Float, at func(*rand.Rand) float64) {
	t.Helper()
	r := rand.New(rand.NewPCG(1, 2))
	worst, where := -1.0, 0.0
	for range 1000 {
		x := at(r)
		if u := units(f(x), want(exact(x))); !(u <= worst) {
			worst, where = u, x
		}
	}
	t.Logf("%s: at most %.2f units of the last digit off, at %g", name, worst, where)
	if !(worst <= most) {
		t.Errorf("%s(%g) = %g is %.2f units of the last digit off", name, where, f(where), worst)
	}
}

func between(lo, hi float64) func(*rand.Rand) float64 {
	return func(r *rand.Rand) float64 { return lo + (hi-lo)*r.Float64() }
}

// positive draws any positive number, those too small for all digits too.
func positive(r *rand.Rand) float64 { return math.Float64frombits(r.Uint64N(0x7FF<<52-1) + 1) }

func TestWithinTheLastDigits(t *testing.T) {
	two := bigLog(exact(2))
	exp2 := func(x *big.Float) *big.Float { return bigExp(times(x, two)) }
	log2 := func(x *big.Float) *big.Float { l := bigLog(x); return l.Quo(l, two) }
	for _, x := range []struct {
		name    string
		f       func(float64) float64
		want    func(*big.Float) *big.Float
		regions []func(*rand.Rand) float64
	}{
		{"Exp", Exp, bigExp, []func(*rand.Rand) float64{between(-745.2, 709.9), between(-1, 1), between(-1e-9, 1e-9), between(-745.2, -708)}},
		{"Exp2", Exp2, exp2, []func(*rand.Rand) float64{between(-1075.5, 1024), between(-1, 1), between(-1075.5, -1022)}},
		{"Log", Log, bigLog, []func(*rand.Rand) float64{positive, between(.5, 2), between(.999, 1.001), between(1, 1000)}},
		{"Log2", Log2, log2, []func(*rand.Rand) float64{positive, between(.5, 2), between(.999, 1.001), between(1, 1000)}},
	} {
		for _, at := range x.regions {
			within(t, x.name, 2, x.f, x.want, at)
		}
	}
}

func TestPowWithinTheLastDigits(t *testing.T) {
	for _, most := range []float64{1, 10, 300} {
		r := rand.New(rand.NewPCG(3, 4))
		worst := 0.0
		for range 1000 {
			x, y := positive(r), most*(2*r.Float64()-1)
			if r.IntN(2) == 0 {
				x = 10 * r.Float64()
			}
			allowed := 2 + math.Abs(y) + math.Abs(math.Log(x))
			worst = max(worst, units(Pow(x, y), bigExp(times(bigLog(exact(x)), exact(y))))/allowed)
		}
		t.Logf("Pow to ±%g: at most %.2f of what is allowed off", most, worst)
		if !(worst <= 1) {
			t.Errorf("Pow to ±%g is %.2f times as far off as allowed", most, worst)
		}
	}
}

// The ends of the range are those of math.
func TestAtTheEnds(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	ends := []float64{0, math.Copysign(0, -1), 1, -1, 2, 0.5, 1024, -1074, 1e3, -1e3, 1e300, -1e300, 1e-300, math.MaxFloat64, inf, -inf, nan}
	same := func(got, want float64) bool {
		return math.Float64bits(got) == math.Float64bits(want) || got != got && want != want || math.Abs(got-want) <= 1e-13*math.Abs(want)
	}
	for _, x := range ends {
		for name, f := range map[string][2]func(float64) float64{
			"Exp": {Exp, math.Exp}, "Exp2": {Exp2, math.Exp2}, "Log": {Log, math.Log}, "Log2": {Log2, math.Log2}, "Erfinv": {Erfinv, math.Erfinv},
		} {
			if got, want := f[0](x), f[1](x); !same(got, want) {
				t.Errorf("%s(%g) = %g, want %g", name, x, got, want)
			}
		}
		for _, y := range append(ends, 0.5, -0.5, 2.5, -1023.5, 3) {
			if got, want := Pow(x, y), math.Pow(x, y); !same(got, want) {
				t.Errorf("Pow(%g, %g) = %g, want %g", x, y, got, want)
			}
		}
	}
	for _, c := range [][2]float64{{1.5, 3000.3}, {0.7, 3000.3}, {1.5, -3000.3}, {1.42, 2200.5}, {3, 1e10 + .5}, {1e300, 1e300}, {1.5, 1.5e6 + .5}, {1.01, 71000.5}, {0.99, 74000.5}} {
		if got, want := Pow(c[0], c[1]), math.Pow(c[0], c[1]); got != want && !(math.Abs(got/want-1) < 1e-10) {
			t.Errorf("Pow(%g, %g) = %g, want %g", c[0], c[1], got, want)
		}
	}
	for k := -1074; k <= 1023; k++ {
		x := math.Ldexp(1, k)
		if Exp2(float64(k)) != x || Log2(x) != float64(k) {
			t.Errorf("2^%d is %g, and its logarithm %g", k, Exp2(float64(k)), Log2(x))
		}
	}
}

// Values as published: Abramowitz and Stegun, tables 1.1, 4.2, 4.4 and 7.1, from memory.
func TestPublishedValues(t *testing.T) {
	for _, x := range []struct {
		name      string
		got, want float64
	}{
		{"e", Exp(1), 2.71828182845904523536},
		{"1/e", Exp(-1), 0.36787944117144232160},
		{"e^10", Exp(10), 22026.4657948067165170},
		{"ln 10", Log(10), 2.30258509299404568402},
		{"ln 3", Log(3), 1.09861228866810969140},
		{"ln of the least number", -Log(math.SmallestNonzeroFloat64), 744.440071921381262314},
		{"log2 10", Log2(10), 3.32192809488736234787},
		{"2^1/3", Pow(2, 1./3), 1.25992104989487316477},
		{"10^1/2", Pow(10, .5), 3.16227766016837933200},
		{"2^1/2", Exp2(.5), 1.41421356237309504880},
		{"inverse of erf 1/2", Erfinv(0.520499877813046537683), 0.5},
		{"inverse of erf 1", Erfinv(0.842700792949714869341), 1},
		{"inverse of erf 0.9", Erfinv(.9), 1.16308715367667425940},
	} {
		if math.Abs(x.got-x.want) > 2e-15*x.want {
			t.Errorf("%s is %.17g, want %.17g", x.name, x.got, x.want)
		}
	}
}

// The inverse of the error function is held to math's own.
func TestErfinv(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	worst := 0.0
	for range 20000 {
		x := 2*r.Float64() - 1
		if r.IntN(2) == 0 {
			x = math.Copysign(1-math.Pow(10, -9*r.Float64()), x)
		}
		got, want := Erfinv(x), math.Erfinv(x)
		worst = max(worst, math.Abs(got-want)*(1-math.Abs(x)))
	}
	for x, i := math.Nextafter(1, 0), 0; i < 1000; x, i = math.Nextafter(x, 0), i+1 {
		for _, x := range []float64{x, -x} {
			worst = max(worst, math.Abs(Erfinv(x)-math.Erfinv(x))*(1-math.Abs(x)))
		}
	}
	t.Logf("at most %.2g over the distance from ±1 off", worst)
	if !(worst < 1e-15) {
		t.Errorf("off by %.2g over the distance from ±1, more than 1e-15", worst)
	}
}

// Hypot is left to math: its assembly for amd64 takes the same steps as its Go.
func TestHypotIsEven(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 100000 {
		p, q := 100*r.NormFloat64(), 100*r.NormFloat64()
		if r.IntN(2) == 0 {
			q *= 1e-6
		}
		most, least := max(math.Abs(p), math.Abs(q)), min(math.Abs(p), math.Abs(q))
		share := least / most
		if want := most * math.Sqrt(1+float64(share*share)); math.Hypot(p, q) != want {
			t.Fatalf("Hypot(%v, %v) = %v, want %v", p, q, math.Hypot(p, q), want)
		}
	}
}

func BenchmarkExp(b *testing.B) {
	for name, f := range map[string]func(float64) float64{"portable": Exp, "math": math.Exp} {
		b.Run(name, func(b *testing.B) {
			x, s := -2.0, 0.0
			for b.Loop() {
				s += f(x)
				if x += 0.013; x > 2 {
					x = -2
				}
			}
			if s == 0 {
				b.Fatal("nothing summed")
			}
		})
	}
}
