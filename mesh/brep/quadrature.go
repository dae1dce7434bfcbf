package brep

import "math"

// Nodes and weights of the 15-point Kronrod rule and of the 7-point Gauss rule
// in it (Piessens et al., QUADPACK, 1983, routine qk15), from the outside in.
var (
	kronrodNode = [8]float64{
		0.991455371120812639206854697526329, 0.949107912342758524526189684047851,
		0.864864423359769072789712788640926, 0.741531185599394439863864773280788,
		0.586087235467691130294144691693001, 0.405845151377397166906606412076961,
		0.207784955007898467600689403773245, 0,
	}
	kronrodWeight = [8]float64{
		0.022935322010529224963732008058970, 0.063092092629978553290700663189204,
		0.104790010322250183839876322541518, 0.140653259715525918745189590510238,
		0.169004726639267902826583426598550, 0.190350578064785409913256402421014,
		0.204432940075298892414161999234649, 0.209482141084727828012999174891714,
	}
	gaussWeight = [4]float64{ // of the odd nodes
		0.129484966168869693270611432679082, 0.279705391489276667901467771423780,
		0.381830050505118944950369775488975, 0.417959183673469387755102040816327,
	}
)

// The difference between the rules exceeds the Kronrod rule's error by some
// orders of magnitude where f is smooth, which the edges' parameters see to.
const (
	quadratureTol   = 1e-12 // of the scale, per panel
	quadratureDepth = 12
)

// integrate returns ∫ f over [a, b].
func (w *integration) integrate(f func(float64) float64, a, b float64) float64 {
	// Two panels to begin with: the symmetry of a whole branch may fool one.
	m := (a + b) / 2
	return w.panel(f, a, m, quadratureDepth) + w.panel(f, m, b, quadratureDepth)
}

func (w *integration) panel(f func(float64) float64, a, b float64, depth int) float64 {
	c, h := (a+b)/2, (b-a)/2
	mid := f(c)
	k, g := kronrodWeight[7]*mid, gaussWeight[3]*mid
	for i := 0; i < 7; i++ {
		s := f(c-h*kronrodNode[i]) + f(c+h*kronrodNode[i])
		k += kronrodWeight[i] * s
		if i%2 == 1 {
			g += gaussWeight[i/2] * s
		}
	}
	if depth == 0 || math.Abs(k-g)*h <= quadratureTol*w.scale {
		return k * h
	}
	return w.panel(f, a, c, depth-1) + w.panel(f, c, b, depth-1)
}
