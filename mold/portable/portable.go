// Package portable has the functions of math whose last digit depends on the machine:
// math takes Exp, Log and what rests on them from assembly on some processors and from
// Go on others. Here they are made of parts that are the same Go on all (but for s390x,
// for which nothing is released): with a compiler that fuses no products and sums, as
// releases are built, every machine gives the same bits. TestNoUnevenMath in
// cmd/wheelmold keeps the rest of the program from math's own.
package portable

import "math"

// ln 2 in two parts: the first has so few bits that up to 2²⁰ times it is exact.
const (
	ln2High = 6.93147180369123816490e-01
	ln2Low  = 1.90821492927058770002e-10
)

// Exp is e^x, within 2 units of the last digit.
func Exp(x float64) float64 {
	switch {
	case math.IsNaN(x):
		return x
	case x > 710: // more than the largest number
		return math.Inf(1)
	case x < -746: // less than half of the least
		return 0
	}
	k := math.Round(x / math.Ln2)
	r := x - float64(k*ln2High) - float64(k*ln2Low)
	return math.Ldexp(1+math.Expm1(r), int(k))
}

// Exp2 is 2^x, within 2 units of the last digit, and exact for whole x.
func Exp2(x float64) float64 {
	switch {
	case math.IsNaN(x):
		return x
	case x > 1025:
		return math.Inf(1)
	case x < -1076:
		return 0
	}
	k := math.Round(x)
	return math.Ldexp(1+math.Expm1((x-k)*math.Ln2), int(k))
}

// split is x as f·2^k, f between √½ and √2.
func split(x float64) (f float64, k int) {
	f, k = math.Frexp(x)
	if f < math.Sqrt2/2 {
		return 2 * f, k - 1
	}
	return f, k
}

// Log is the natural logarithm, within 2 units of the last digit; NaN below 0.
func Log(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 1) {
		return edge(x)
	}
	f, k := split(x)
	return float64(float64(k)*ln2High) + (math.Log1p(f-1) + float64(float64(k)*ln2Low))
}

// Log2 is the binary logarithm, within 2 units of the last digit, and exact for powers of
// two; NaN below 0.
func Log2(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 1) {
		return edge(x)
	}
	f, k := split(x)
	return float64(k) + float64(math.Log1p(f-1)/math.Ln2)
}

// edge is any logarithm where there is no finite one.
func edge(x float64) float64 {
	switch {
	case x == 0:
		return math.Inf(-1)
	case x < 0:
		return math.NaN()
	}
	return x // NaN and infinity
}

// Pow is x^y as math.Pow has it, by multiplication for what is whole in y, and by Exp and
// Log for the rest: within 2 + |y| + |ln x| units of the last digit.
func Pow(x, y float64) float64 {
	whole := math.Round(y)
	if y == whole || !(x > 0) || math.IsInf(x, 1) || math.IsNaN(y) {
		return math.Pow(x, y)
	}
	// Far out of range the factors below could leave it in opposite directions.
	switch size := y * Log2(x); {
	case size > 1100:
		return math.Inf(1)
	case size < -1100:
		return 0
	}
	f, k := split(x)
	return math.Ldexp(Exp((y-whole)*Log(x))*math.Pow(f, whole), k*int(whole))
}

// Erfinv is the inverse of the error function, NaN beyond -1 and 1: off by less than
// 1e-15 / (1-|x|), which is what a unit in the last digit of x itself makes of it.
func Erfinv(x float64) float64 {
	switch a := math.Abs(x); {
	case !(a <= 1):
		return math.NaN()
	case a == 1:
		return math.Copysign(math.Inf(1), x)
	}
	// Winitzki's approximation, from memory, is good to 0.4 %; each step of Newton's
	// squares what is left. Where erf is 1 but for a few bits, a step could lead astray.
	const a, farthest = 0.147, 5.864
	l := Log((1 - x) * (1 + x))
	b := 2/(math.Pi*a) + l/2
	z := math.Copysign(math.Sqrt(math.Sqrt(b*b-l/a)-b), x)
	for range 4 {
		density := 2 / math.Sqrt(math.Pi) * Exp(-z*z)
		z = min(max(z-(erf(z, density)-x)/density, -farthest), farthest)
	}
	return z
}

// erf is the error function by its series of terms of one sign, density·Σ z(2z²)ⁿ/(2n+1)!!
// (Abramowitz and Stegun 7.1.6).
func erf(z, density float64) float64 {
	sum, term := 0.0, z
	for n := 1; sum+term != sum; n++ {
		sum += term
		term *= 2 * z * z / float64(2*n+1)
	}
	return density * sum
}
