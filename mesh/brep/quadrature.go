package brep

import "math"

// A line integral ∫ g du along an edge takes no derivative of the curve: near a
// turning point, where the curve is a square root of a small difference, one is
// rounding noise. Instead g and u are interpolated at the same nodes of the
// curve's parameter, so that the integral is a bilinear form of their values,
// exact for polynomials, and ∮ du of a closed loop vanishes to rounding.

// panelOrder is the degree of the interpolation; half of it, on every other
// node, tells the error.
const panelOrder = 16

// panelRule is the bilinear form B[i][j] = ∫ L_i L_j' dx of the Lagrange
// polynomials on the Chebyshev-Lobatto nodes -cos(πi/n).
type panelRule struct {
	node []float64
	form [][]float64
}

var fineRule, coarseRule = newPanelRule(panelOrder), newPanelRule(panelOrder / 2)

func newPanelRule(n int) panelRule {
	r := panelRule{node: make([]float64, n+1), form: make([][]float64, n+1)}
	// coef[i][k] is the coefficient of the Chebyshev polynomial T_k in L_i.
	coef := make([][]float64, n+1)
	for i := range coef {
		r.node[i] = -math.Cos(math.Pi * float64(i) / float64(n))
		coef[i] = make([]float64, n+1)
		for k := range coef[i] {
			c := 2 / float64(n) * math.Cos(math.Pi*float64(k)*(1-float64(i)/float64(n)))
			if i == 0 || i == n {
				c /= 2
			}
			if k == 0 || k == n {
				c /= 2
			}
			coef[i][k] = c
		}
	}
	for i := range coef {
		r.form[i] = make([]float64, n+1)
		for j := range coef {
			r.form[i][j] = integrateProduct(coef[i], differentiate(coef[j]))
		}
	}
	return r
}

// differentiate returns the Chebyshev coefficients of the derivative.
func differentiate(c []float64) []float64 {
	d := make([]float64, len(c)+1)
	for k := len(c) - 1; k > 0; k-- {
		d[k-1] = d[k+1] + 2*float64(k)*c[k]
	}
	d[0] /= 2
	return d
}

// integrateProduct returns the integral over [-1, 1] of the product of two
// Chebyshev series, by T_j·T_k = (T_(j+k) + T_|j-k|)/2 and ∫ T_n = 2/(1-n²) for
// even n.
func integrateProduct(a, b []float64) float64 {
	whole := func(n int) float64 {
		if n%2 != 0 {
			return 0
		}
		return 2 / (1 - float64(n*n))
	}
	sum := 0.0
	for j := range a {
		for k := range b {
			sum += a[j] * b[k] * (whole(j+k) + whole(j-k)) / 2
		}
	}
	return sum
}

func (r *panelRule) apply(g, u []float64, stride int) float64 {
	sum := 0.0
	for i, row := range r.form {
		s := 0.0
		for j, b := range row {
			s += b * u[j*stride]
		}
		sum += s * g[i*stride]
	}
	return sum
}

const (
	// panelTol is the most that halving the order may change a panel, of the
	// solid's scale. The full order is far better than that, but how much cannot be
	// told from the change where a nearly singular spot is a small part of g.
	panelTol   = 3e-13
	panelDepth = 16
	// stepMax: angles must not turn farther between neighboring nodes, radians.
	stepMax = 1.2
)

// line is one line integral in the making.
type line struct {
	e     *Edge
	f     func(p Vec) (g, u float64)
	angle bool // u is an angle, to be unwrapped
	tol   float64
}

// along returns ∫ g du along the edge's curve from a to b, where f gives g and u.
func (w *integration) along(e *Edge, a, b float64, angle bool, f func(p Vec) (g, u float64)) float64 {
	l := line{e, f, angle, panelTol * w.scale}
	// Two panels to begin with: the symmetry of a whole branch may fool one.
	m := (a + b) / 2
	return l.panel(a, m, panelDepth) + l.panel(m, b, panelDepth)
}

func (l *line) panel(a, b float64, depth int) float64 {
	var g, u [panelOrder + 1]float64
	m, h := (a+b)/2, (b-a)/2
	coarse := false
	for i, x := range fineRule.node {
		t := m + h*x
		switch i { // without the rounding of m ± h
		case 0:
			t = a
		case panelOrder:
			t = b
		}
		g[i], u[i] = l.f(l.e.point(t))
		if l.angle && i > 0 {
			d := wrap(u[i] - u[i-1])
			u[i] = u[i-1] + d
			coarse = coarse || math.Abs(d) > stepMax
		}
	}
	fine := fineRule.apply(g[:], u[:], 1)
	if depth == 0 || !coarse && !(math.Abs(fine-coarseRule.apply(g[:], u[:], 2)) > l.tol) {
		return fine
	}
	return l.panel(a, m, depth-1) + l.panel(m, b, depth-1)
}

// point of the edge's curve, with the exact ends of a branch.
func (e *Edge) point(t float64) Vec {
	c := e.Curve
	if c.fixed[0] && t <= c.T0 {
		return c.ends[0]
	}
	if c.fixed[1] && t >= c.T1 {
		return c.ends[1]
	}
	return c.At(t)
}

// wrap is solid.WrapAngle for differences of angles, mostly small.
func wrap(x float64) float64 {
	if math.Abs(x) <= math.Pi {
		return x
	}
	return x - 2*math.Pi*math.Round(x/(2*math.Pi))
}
