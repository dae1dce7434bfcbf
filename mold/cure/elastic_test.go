package cure

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
)

// The tests' own elasticity, which shares nothing with the package: a linear-elastic
// ring of any Poisson's ratio, held on its inside, that would shrink freely by 1 in
// all directions and has a given axial strain.

// annulus solves the radial equilibrium d(r·σr)/dr = σθ by finite volumes on n
// steps, u = 0 at a, σr = 0 at b. It returns u(b) and the axial force over 2π, in
// units of Young's modulus.
func annulus(t *testing.T, a, b, nu, axial float64, n int) (outside, force float64) {
	t.Helper()
	h := (b - a) / float64(n)
	lame, shear := nu/((1+nu)*(1-2*nu)), 1/(2*(1+nu))
	fixed := lame*axial + 3*lame + 2*shear // what axial strain and shrinkage add to a stress across
	m, rhs := mat.NewTridiag(n+1, nil, nil, nil), mat.NewVecDense(n+1, nil)
	add := func(i, k int, c float64) { m.SetBand(i, k, m.At(i, k)+c) }
	// traction adds w·σr midway between nodes k and k+1 to row i.
	traction := func(i, k int, w float64) {
		r := a + h*(float64(k)+.5)
		add(i, k, w*(lame/(2*r)-(lame+2*shear)/h))
		add(i, k+1, w*(lame/(2*r)+(lame+2*shear)/h))
		rhs.SetVec(i, rhs.AtVec(i)-w*fixed)
	}
	m.SetBand(0, 0, 1)
	for i := 1; i <= n; i++ {
		r, w := a+h*float64(i), h
		traction(i, i-1, -(r - h/2))
		next, wide := i+1, 2*h
		if i < n {
			traction(i, i, r+h/2)
		} else { // half a cell, its hoop stress taken at the outside
			w, next, wide = h/2, i, h
		}
		add(i, i, -w*(lame+2*shear)/r)
		add(i, next, -w*lame/wide)
		add(i, i-1, w*lame/wide)
		rhs.SetVec(i, rhs.AtVec(i)+w*fixed)
	}
	var u mat.VecDense
	if err := m.SolveVecTo(&u, false, rhs); err != nil {
		t.Fatal(err)
	}
	for i := range n {
		r := a + h*(float64(i)+.5)
		across := (u.AtVec(i+1)-u.AtVec(i))/h + (u.AtVec(i+1)+u.AtVec(i))/(2*r)
		force += h * r * (lame*across + (lame+2*shear)*axial + 3*lame + 2*shear)
	}
	return u.AtVec(n), force
}

// unloaded is the axial strain at which the ring carries no force along its axis.
func unloaded(t *testing.T, a, b, nu float64, n int) float64 {
	t.Helper()
	_, f0 := annulus(t, a, b, nu, 0, n)
	_, f1 := annulus(t, a, b, nu, 1, n)
	return -f0 / (f1 - f0)
}

// converges refines a figure three times and checks that it goes to want with the
// second order of the method. It returns the finest.
func converges(t *testing.T, what string, want float64, at func(n int) float64) float64 {
	t.Helper()
	var off [4]float64
	got := 0.0
	for k := range off {
		got = at(20 << k)
		off[k] = math.Abs(got/want - 1)
	}
	for k := 1; k < len(off); k++ {
		if order := math.Log2(off[k-1] / off[k]); order < 1.7 || order > 2.3 {
			t.Errorf("%s: order %.2f between %d and %d steps (off by %.2g)", what, order, 10<<k, 20<<k, off[k])
		}
	}
	return got
}

var rings = []Layer{{50, 140, 125}, {35, 55, 40}, {13.5, 20.6, 16}, {85, 100, 60}}

// small is a strain at which first and full order agree to 1e-5.
const small = 1e-6

func TestPlaneStrainSolvesElasticity(t *testing.T) {
	for _, l := range rings {
		a, b := l.Core, l.Outer
		lost := (l.Outer - l.Bonded(small).Outer) / small
		for _, nu := range []float64{.3, .45, .4999} {
			// u = Ar + B/r with u(a) = 0, σr(b) = 0, by hand.
			want := -(1 + nu) * (b - a*a/b) / (2*nu + (1-2*nu)*(1+a*a/(b*b)))
			converges(t, "plane strain", want, func(n int) float64 { u, _ := annulus(t, a, b, nu, 0, n); return u })
			// Nearly incompressible, it is the package's: the rest is the bulk's part,
			// (1-2ν)(1/3 + k) of it at most.
			if off := -want/lost - 1; nu > .49 && math.Abs(off) > (1-2*nu)*4/3 {
				t.Errorf("%v: ν %v loses %.6g, incompressible %.6g", l, nu, -want, lost)
			}
		}
		for nu, said := range map[float64]float64{.499: .003, .4997: .001} {
			u, _ := annulus(t, a, b, nu, 0, 200)
			if off := 1 + u/lost; off < 0 || off > said {
				t.Errorf("%v: ν %v lessens the loss by %.2g, said: less than %v", l, nu, off, said)
			}
		}
	}
}

func TestFreeEndsSolveElasticity(t *testing.T) {
	for _, l := range rings {
		a, b := l.Core, l.Outer
		k := a * a / (b * b)
		cured := l.FreeEnds(small)
		lost, pulled := (l.Outer-cured.Outer)/small, (1-cured.Width/l.Width)/small
		for _, nu := range []float64{.3, .45, .4999} {
			// Plane stress, by hand: u = A(r - a²/r), A = -(1+ν)/((1+ν) + (1-ν)k).
			sum := -(1 + nu) / ((1 + nu) + (1-nu)*k)
			want, axial := sum*(b-a*a/b), -1-nu/(1-nu)*2*(sum+1)
			at := func(n int) float64 { return unloaded(t, a, b, nu, n) }
			converges(t, "axial strain", axial, at)
			u, _ := annulus(t, a, b, nu, at(200), 200)
			if math.Abs(u/want-1) > 5e-3 {
				t.Errorf("%v: ν %v: u %.6g, want %.6g", l, nu, u, want)
			}
			if nu > .49 && (math.Abs(-want/lost-1) > 1-2*nu || math.Abs(-axial/pulled-1) > 1-2*nu) {
				t.Errorf("%v: ν %v loses %.6g and pulls in %.6g, incompressible %.6g and %.6g", l, nu, -want, -axial, lost, pulled)
			}
		}
		if lost, wide := l.Outer-l.FreeEnds(.001).Outer, l.Outer-l.Bonded(.001).Outer; lost > .67*wide || lost < .5*wide {
			t.Errorf("%v: free ends lose %.3f of plane strain, said: a half to two thirds", l, lost/wide)
		}
	}
}

// The finite elements meet both limits, lie between them in the middle, and do what
// they say on a finer grid.
func TestWidthDecidesBetweenTheLimits(t *testing.T) {
	for _, l := range rings {
		thick := l.Outer - l.Core
		s := small
		share := func(width float64) float64 {
			l.Width = width
			middle, _ := l.Cured(s)
			return (l.Outer - middle) / (l.Outer - l.Bonded(s).Outer)
		}
		narrow := (l.Outer - l.FreeEnds(s).Outer) / (l.Outer - l.Bonded(s).Outer)
		if got := share(.02 * thick); math.Abs(got/narrow-1) > .005 {
			t.Errorf("%v: narrow %.4f, free ends %.4f", l, got, narrow)
		}
		if got := share(25 * thick); math.Abs(got-1) > .01 {
			t.Errorf("%v: wide %.4f, bonded 1", l, got)
		}
		last := narrow
		for w := .2; w < 15; w *= 2 {
			got := share(w * thick)
			if got < last || got > 1.001 {
				t.Errorf("%v: width of %.2f thicknesses: share %.4f after %.4f", l, w, got, last)
			}
			last = got
		}
	}
	for _, l := range rings {
		nz := int(math.Ceil(8 * max(1, l.Width/2/(l.Outer-l.Core))))
		middle, ends := l.Cured(small)
		fine := newRing(l, 16, 2*nz).solve()
		if a, b := (middle-l.Outer)/small/fine[0]-1, (ends-l.Outer)/small/fine[len(fine)-1]-1; math.Abs(a) > .005 || math.Abs(b) > .02 {
			t.Errorf("%v: off the finer grid by %.2g in the middle, %.2g at the ends", l, a, b)
		}
	}
}

// chebyshev is T_n(x) and its slope.
func chebyshev(n int, x float64) (value, slope float64) {
	phi := math.Acos(x)
	return math.Cos(float64(n) * phi), float64(n) * math.Sin(float64(n)*phi) / math.Sin(phi)
}

// ritz minimizes the elastic energy of half a bonded ring with free ends over smooth
// displacements of p × p terms: no elements, no nodes. It returns the radial
// displacement in the middle of the outside per unit of free shrinkage.
func ritz(t *testing.T, l Layer, nu float64, p int) float64 {
	t.Helper()
	lame, shear := nu/((1+nu)*(1-2*nu)), 1/(2*(1+nu))
	law := mat.NewDense(4, 4, []float64{ // radial, hoop, axial, shear
		lame + 2*shear, lame, lame, 0,
		lame, lame + 2*shear, lame, 0,
		lame, lame, lame + 2*shear, 0,
		0, 0, 0, shear,
	})
	free := mat.NewVecDense(4, []float64{-1, -1, -1, 0})
	thick, half := l.Outer-l.Core, l.Width/2
	k, f := mat.NewDense(2*p*p, 2*p*p, nil), mat.NewVecDense(2*p*p, nil)
	x, wx := make([]float64, 3*p), make([]float64, 3*p)
	quad.Legendre{}.FixedLocations(x, wx, 0, 1)
	for i, rho := range x {
		for j, zeta := range x {
			r := l.Core + thick*rho
			strains := mat.NewDense(4, 2*p*p, nil)
			for m := range p {
				c, slope := chebyshev(m, 2*rho-1)
				g, gr := rho*c, (c+2*rho*slope)/thick // zero on the core
				for n := range p {
					even, evenZ := chebyshev(2*n, zeta)
					odd, oddZ := chebyshev(2*n+1, zeta)
					u, w := m*p+n, p*p+m*p+n
					strains.Set(0, u, gr*even)
					strains.Set(1, u, g*even/r)
					strains.Set(2, w, g*oddZ/half)
					strains.Set(3, u, g*evenZ/half)
					strains.Set(3, w, gr*odd)
				}
			}
			var stress, energy mat.Dense
			stress.Mul(law, strains)
			energy.Mul(strains.T(), &stress)
			energy.Scale(r*wx[i]*wx[j], &energy)
			k.Add(k, &energy)
			var load mat.VecDense
			load.MulVec(stress.T(), free)
			f.AddScaledVec(f, r*wx[i]*wx[j], &load)
		}
	}
	var q mat.VecDense
	if err := q.SolveVec(k, f); err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for m := range p {
		for n := range p {
			sum += q.AtVec(m*p+n) * math.Cos(math.Pi*float64(n)) // T_m(1) = 1, T_2n(0) = (-1)^n
		}
	}
	return sum
}

// Between the limits, where shear decides, the elements agree with smooth
// displacements over the whole ring to 0.5 %.
func TestWheelsBetweenTheLimits(t *testing.T) {
	for _, l := range rings {
		middle, _ := l.Cured(small)
		if got, want := (middle-l.Outer)/small, ritz(t, l, poisson, 7); math.Abs(got/want-1) > .005 {
			t.Errorf("%v: %.4f by elements, %.4f by smooth displacements", l, got, want)
		}
	}
}
