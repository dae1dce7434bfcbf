package cure

import "math"

// poisson is the ratio for finite elements, which cannot take 1/2.
const poisson = 0.499

// Cured returns the outer radius in mm, in the middle of the width and at the ends,
// after a free linear shrinkage of s: the layer bonded to its core over its whole
// width, both ends free, by finite elements. On a grid twice as fine the loss changes
// by less than 0.5 % in the middle, 2 % at the ends. What is no layer does not move.
func (l Layer) Cured(s float64) (middle, ends float64) {
	if l.Core <= 0 || l.Outer <= l.Core || l.Width <= 0 {
		return l.Outer, l.Outer
	}
	const across, most = 8, 48 // elements: through the thickness, along half the width at most
	along := math.Ceil(across * l.Width / 2 / (l.Outer - l.Core))
	u := newRing(l, across, int(min(max(along, across), most))).solve()
	if u == nil {
		return l.Outer, l.Outer
	}
	// To first order plane strain gives this for a unit of free shrinkage; set against
	// it, the elements' answer ends where Bonded does also for strains of 1 %.
	wide := 1.5 * (l.Outer - l.Core*l.Core/l.Outer)
	loss := (l.Outer - l.Bonded(s).Outer) / wide
	return l.Outer + u[0]*loss, l.Outer + u[len(u)-1]*loss
}

// ring is half of a layer's width, cut into nr by nz elements of eight nodes, in
// units of Young's modulus. Nodes lie on a grid of half elements, numbered along the
// radius first; each has a radial and an axial displacement.
type ring struct {
	l           Layer
	nr, nz      int
	lame, shear float64
	dr, dz      float64 // size of an element
	stiff       band
	load        []float64 // of a unit of free shrinkage
}

func newRing(l Layer, nr, nz int) *ring {
	g := &ring{l: l, nr: nr, nz: nz, dr: (l.Outer - l.Core) / float64(nr), dz: l.Width / 2 / float64(nz)}
	g.lame, g.shear = moduli(poisson)
	n := 2 * (2*nr + 1) * (2*nz + 1)
	g.stiff = newBand(n, min(n-1, g.unknown(2, 2)+1))
	g.load = make([]float64, n)
	for i := range nr {
		for j := range nz {
			g.element(i, j)
		}
	}
	for _, row := range g.stiff { // what is held, and the grid's points within elements
		if row[0] == 0 {
			row[0] = 1
		}
	}
	return g
}

// moduli are Lamé's constants for a Young's modulus of 1.
func moduli(nu float64) (lame, shear float64) {
	return nu / ((1 + nu) * (1 - 2*nu)), 1 / (2 * (1 + nu))
}

// unknown is the number of the radial displacement at grid point i, j; the axial
// one follows it.
func (g *ring) unknown(i, j int) int { return 2 * (j*(2*g.nr+1) + i) }

// held: the core holds both displacements, symmetry the axial one in the middle.
func (g *ring) held(q int) bool {
	row := 2 * (2*g.nr + 1)
	return q%row < 2 || q < row && q%2 == 1
}

// The element's nodes: corners, then middles of sides, from -1 to 1.
var (
	nodeR = [8]int{-1, 1, 1, -1, 0, 1, 0, -1}
	nodeZ = [8]int{-1, -1, 1, 1, -1, 0, 1, 0}
)

// shape returns the share of each node at a point of the element, and its slopes.
func shape(x, z float64) (n, nx, nz [8]float64) {
	for k := range n {
		p, q := float64(nodeR[k]), float64(nodeZ[k])
		switch {
		case p == 0:
			n[k], nx[k], nz[k] = (1-x*x)*(1+q*z)/2, -x*(1+q*z), (1-x*x)*q/2
		case q == 0:
			n[k], nx[k], nz[k] = (1+p*x)*(1-z*z)/2, p*(1-z*z)/2, -z*(1+p*x)
		default:
			n[k] = (1 + p*x) * (1 + q*z) * (p*x + q*z - 1) / 4
			nx[k], nz[k] = p*(1+q*z)*(2*p*x+q*z)/4, q*(1+p*x)*(2*q*z+p*x)/4
		}
	}
	return n, nx, nz
}

// element adds one element's stiffness and load. Two by two points: with more the
// element would lock in nearly incompressible rubber.
func (g *ring) element(i, j int) {
	var at [16]int
	for k := range 8 {
		at[2*k] = g.unknown(2*i+1+nodeR[k], 2*j+1+nodeZ[k])
		at[2*k+1] = at[2*k] + 1
	}
	gauss := 1 / math.Sqrt(3)
	for _, p := range [4][2]float64{{-gauss, -gauss}, {gauss, -gauss}, {-gauss, gauss}, {gauss, gauss}} {
		n, nx, nz := shape(p[0], p[1])
		r := g.l.Core + g.dr*(float64(i)+(1+p[0])/2)
		var strain [4][16]float64 // radial, axial, around; shear
		for k := range 8 {
			byR, byZ := nx[k]*2/g.dr, nz[k]*2/g.dz
			strain[0][2*k], strain[1][2*k+1], strain[2][2*k] = byR, byZ, n[k]/r
			strain[3][2*k], strain[3][2*k+1] = byZ, byR
		}
		g.point(&at, &strain, r*g.dr*g.dz/4)
	}
}

// point adds the energy of one point of weight w.
func (g *ring) point(at *[16]int, strain *[4][16]float64, w float64) {
	var volume [16]float64
	for a := range volume {
		volume[a] = strain[0][a] + strain[1][a] + strain[2][a]
	}
	for a, qa := range at {
		if g.held(qa) {
			continue
		}
		g.load[qa] -= w * (3*g.lame + 2*g.shear) * volume[a]
		for b, qb := range at {
			if qb < qa || g.held(qb) {
				continue
			}
			e := g.lame*volume[a]*volume[b] + g.shear*strain[3][a]*strain[3][b]
			for m := range 3 {
				e += 2 * g.shear * strain[m][a] * strain[m][b]
			}
			g.stiff[qa][qb-qa] += w * e
		}
	}
}

// solve returns the radial displacements at the outside, from the middle of the
// width to the end, in mm for a unit of free shrinkage; nil if the layer's
// proportions leave no solution. Stiffness and load are used up.
func (g *ring) solve() []float64 {
	if !g.stiff.solve(g.load) {
		return nil
	}
	outside := make([]float64, 2*g.nz+1)
	for j := range outside {
		outside[j] = g.load[g.unknown(2*g.nr, j)]
	}
	return outside
}
