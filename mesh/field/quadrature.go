package field

import "math"

// The nested rules of 3, 7 and 15 points on [-1, 1]: Gauss, Kronrod's extension,
// and Patterson's extension of that (T. N. L. Patterson, "The optimum addition
// of points to quadrature formulae", Math. Comp. 22, 1968), exact for
// polynomials of degree 5, 11 and 23. Each rule reuses the points before it, so
// that the comparison which estimates the error is nearly free. Points x >= 0;
// the rules are even.
var (
	nodes = [8]float64{ // in the order in which the rules bring them in
		0, 0.77459666924148337704,
		0.43424374934680255800, 0.96049126870802028342,
		0.22338668642896688163, 0.62110294673722640294, 0.88845923287225699889, 0.99383196321275502221,
	}
	rules = [3][]float64{
		{0.88888888888888888889, 0.55555555555555555556},
		{0.45091653865847414235, 0.26848808986833344073, 0.40139741477596222291, 0.10465622602646726519},
		{0.22551049979820668739, 0.13441525524378422036, 0.20062852937698902103, 0.051603282997079739697,
			0.21915685840158749640, 0.17151190913639138079, 0.092927195315124537686, 0.017001719629940260339},
	}
)

// estimate is a value and a bound of its error that comes from comparing two
// resolutions.
type estimate struct{ value, err float64 }

func (a estimate) plus(b estimate) estimate { return estimate{a.value + b.value, a.err + b.err} }
func (a estimate) times(k float64) estimate { return estimate{a.value * k, a.err * math.Abs(k)} }

// quadrature integrates until parts are good enough, or have been halved often
// enough, or the time is up.
type quadrature struct {
	tol    float64 // of one integral, shared by its parts
	halved int     // how often a part may be halved
	spent  func() bool
}

// integrate returns the integral of f over [a, b], where f is smooth inside and
// may start or end like a square root, as a chord through a round does. The
// substitution x = m + h·sin φ makes such ends smooth.
func (q quadrature) integrate(f func(x float64) estimate, a, b float64) estimate {
	m, h := (a+b)/2, (b-a)/2
	at := func(u float64) estimate {
		sn, cs := math.Sincos(math.Pi / 2 * u)
		return f(m + h*sn).times(h * math.Pi / 2 * cs)
	}
	var pairs [8]estimate
	var best estimate
	filled := 0
	for k, weights := range rules {
		for ; filled < len(weights); filled++ {
			u := nodes[filled]
			pairs[filled] = at(u)
			if u != 0 {
				pairs[filled] = pairs[filled].plus(at(-u))
			}
		}
		var sum estimate
		for i, w := range weights {
			sum = sum.plus(pairs[i].times(w))
		}
		step := math.Abs(sum.value - best.value)
		best = sum
		// Three points are a poor judge, which passes too much by accident: what
		// they pass has to be far better.
		done := k == 1 && step <= q.tol/100 || k == 2 && step <= q.tol
		last := k == len(rules)-1 && q.halved == 0 || k > 0 && q.spent()
		if done || last {
			return estimate{best.value, best.err + step}
		}
	}
	half := quadrature{q.tol / 2, q.halved - 1, q.spent}
	return half.integrate(f, a, m).plus(half.integrate(f, m, b))
}
