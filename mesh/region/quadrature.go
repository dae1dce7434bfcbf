package region

import "math"

// A line integral ∫ g dh along an edge takes no derivative of the curve, which near a
// turning point is rounding noise: g and h are interpolated at the nodes of Gauss and
// Legendre, where the rule is exact for the product of g and the derivative of h.

const (
	nodes = 12
	// areaTol is how much halving a panel may change it, mm²; the halves are far better.
	areaTol  = 1e-10
	areaDeep = 12
	// areaRough is a change, mm², below which rounding may be all that is left.
	areaRough = 1e-7
)

// rule holds the nodes on [-1, 1] and the form B[i][j] = w_i·L_j'(x_i).
var rule = newRule()

type gaussRule struct {
	x    [nodes]float64
	form [nodes][nodes]float64
}

func newRule() gaussRule {
	var r gaussRule
	var w [nodes]float64
	for i := range r.x {
		x := -math.Cos(math.Pi * (float64(i) + .75) / (nodes + .5))
		var slope float64
		for range 8 { // Newton on the Legendre polynomial
			p, q := 1.0, x
			for k := 2; k <= nodes; k++ {
				p, q = q, ((2*float64(k)-1)*x*q-(float64(k)-1)*p)/float64(k)
			}
			slope = nodes * (x*q - p) / (x*x - 1)
			x -= q / slope
		}
		r.x[i], w[i] = x, 2/((1-x*x)*slope*slope)
	}
	var scale [nodes]float64
	for i := range scale {
		scale[i] = 1
		for j := range r.x {
			if i != j {
				scale[i] /= r.x[i] - r.x[j]
			}
		}
	}
	for i := range r.form {
		for j := range r.form[i] {
			if i != j {
				d := w[i] * scale[j] / scale[i] / (r.x[i] - r.x[j])
				r.form[i][j] = d
				r.form[i][i] -= d
			}
		}
	}
	return r
}

// integrand gives g and h at t; last is the place before, for what follows without a jump.
type integrand func(t float64, last *place) (g, h float64)

// integrate is ∫ g dh along the edge, whose start is at p.
func (e *Edge) integrate(f integrand, p place) float64 {
	q := p
	whole := f.panel(e.T0, e.T1, &q)
	return f.halve(e.T0, e.T1, p, whole, math.Inf(1), areaDeep)
}

// halve integrates in two halves, and again where they change the whole. Halving takes
// this rule's error down by up to 2²⁴: a small change that is not far below the one
// before is no error of the rule, but the rounding of the curve's points.
func (f integrand) halve(a, b float64, p place, whole, before float64, depth int) float64 {
	m, q := (a+b)/2, p
	left := f.panel(a, m, &q)
	mid := q
	right := f.panel(m, b, &q)
	change := math.Abs(left + right - whole)
	if depth == 0 || change < areaTol || before < areaRough && change > before/16 {
		return left + right
	}
	return f.halve(a, m, p, left, change, depth-1) + f.halve(m, b, mid, right, change, depth-1)
}

func (f integrand) panel(a, b float64, p *place) float64 {
	var g, h [nodes]float64
	m, half := (a+b)/2, (b-a)/2
	for i, x := range rule.x {
		g[i], h[i] = f(m+half*x, p)
	}
	sum := 0.0
	for i := range g {
		s := 0.0
		for j, d := range rule.form[i] {
			s += d * h[j]
		}
		sum += s * g[i]
	}
	return sum
}
