package check

import (
	"math"
	"math/big"
	"math/bits"

	"wheelmold/mesh"
)

// points answers questions of orientation about a mesh's vertices, exactly.
//
// Most answers come from floating point with a bound on its error. What the
// bound leaves open is decided in 128-bit integers where all vertices lie on a
// common lattice, as meshes snapped to 2⁻¹⁴ mm do, and in big integers where
// they do not.
type points struct {
	v    []mesh.Vec
	grid [][3]int64 // v in lattice steps; nil off a lattice
}

// latticeBits bounds lattice coordinates to ±2³⁰: differences then fit 2³¹,
// their 2×2 minors 2⁶³, and 3×3 determinants 2⁹⁶.
const latticeBits = 30

// newPoints prepares the vertices. Vertices that are not finite are tolerated
// and must not be asked about.
func newPoints(v []mesh.Vec) points {
	p := points{v: v}
	step, ok := lattice(v)
	if !ok {
		return p
	}
	p.grid = make([][3]int64, len(v))
	for i, q := range v {
		for c, x := range q {
			if !math.IsNaN(x) && !math.IsInf(x, 0) {
				p.grid[i][c] = int64(math.Ldexp(x, -step))
			}
		}
	}
	return p
}

// lattice returns the largest exponent e such that all finite coordinates are
// multiples of 2ᵉ, and whether they stay below 2^latticeBits steps.
func lattice(v []mesh.Vec) (e int, ok bool) {
	e, top := math.MaxInt, math.MinInt
	for _, p := range v {
		for _, x := range p {
			mant, exp, finite := split(x)
			if mant == 0 || !finite {
				continue
			}
			e = min(e, exp+bits.TrailingZeros64(mant))
			top = max(top, exp+bits.Len64(mant))
		}
	}
	if top == math.MinInt { // nothing but zeros
		return 0, true
	}
	return e, top-e <= latticeBits
}

// split returns |x| = mant·2^exp.
func split(x float64) (mant uint64, exp int, finite bool) {
	b := math.Float64bits(x)
	mant, exp = b&(1<<52-1), int(b>>52&0x7ff)
	switch exp {
	case 0x7ff:
		return 0, 0, false
	case 0:
		exp = 1 // subnormal: no hidden bit
	default:
		mant |= 1 << 52
	}
	return mant, exp - 1075, true
}

const (
	// Rounding unit of float64.
	unit = 0x1p-53
	// A 3×3 determinant of differences, evaluated as below, errs by less than
	// (7 + 56·unit)·unit times the same sum with absolute values: one rounding
	// in each difference (3 per product of three), one per product and sum
	// (Shewchuk, Adaptive Precision Floating-Point Arithmetic, 1997, bound A of
	// ORIENT3D). Its 2×2 counterpart errs by (3 + 16·unit)·unit.
	bound3 = (7 + 56*unit) * unit
	bound2 = (3 + 16*unit) * unit
	// Below this, products of differences may have underflowed, and the bounds
	// above do not hold.
	tiny = 1e-200
)

// orient3 returns the sign of the volume of the tetrahedron a, b, c, d: +1
// where a, b, c turn counter-clockwise seen from d, 0 where the four lie in a
// plane.
func (p *points) orient3(a, b, c, d int32) int {
	o, va, vb, vc := &p.v[d], &p.v[a], &p.v[b], &p.v[c]
	ax, ay, az := va[0]-o[0], va[1]-o[1], va[2]-o[2]
	bx, by, bz := vb[0]-o[0], vb[1]-o[1], vb[2]-o[2]
	cx, cy, cz := vc[0]-o[0], vc[1]-o[1], vc[2]-o[2]
	bc1, bc2 := bx*cy, by*cx
	ca1, ca2 := cx*ay, cy*ax
	ab1, ab2 := ax*by, ay*bx
	det := az*(bc1-bc2) + bz*(ca1-ca2) + cz*(ab1-ab2)
	size := math.Abs(az)*(math.Abs(bc1)+math.Abs(bc2)) +
		math.Abs(bz)*(math.Abs(ca1)+math.Abs(ca2)) +
		math.Abs(cz)*(math.Abs(ab1)+math.Abs(ab2))
	// a, b, c counter-clockwise seen from d make (a-d)·(b-d)×(c-d) negative.
	if size > tiny {
		switch e := bound3 * size; {
		case det > e:
			return -1
		case det < -e:
			return 1
		}
	}
	if az == 0 && bz == 0 && cz == 0 { // a plane face normal to z; differences that vanish are exact
		return 0
	}
	if p.grid != nil {
		return -p.latticeDet(a, b, c, d)
	}
	return -p.bigDet(a, b, c, d)
}

// latticeDet returns the sign of det(a-d, b-d, c-d) in 128-bit integers.
func (p *points) latticeDet(a, b, c, d int32) int {
	u, v, w := sub(p.grid[a], p.grid[d]), sub(p.grid[b], p.grid[d]), sub(p.grid[c], p.grid[d])
	var s int128
	s.addProduct(u[2], v[0]*w[1]-v[1]*w[0])
	s.addProduct(v[2], w[0]*u[1]-w[1]*u[0])
	s.addProduct(w[2], u[0]*v[1]-u[1]*v[0])
	return s.sign()
}

// bigDet returns the sign of det(a-d, b-d, c-d) in big integers.
func (p *points) bigDet(a, b, c, d int32) int {
	g := p.integers(a, b, c, d)
	for i := range 3 {
		for k := range 3 {
			g[i][k].Sub(g[i][k], g[3][k])
		}
	}
	det := new(big.Int)
	for k := range 3 {
		x, y := (k+1)%3, (k+2)%3
		det.Add(det, new(big.Int).Mul(g[0][k], minor(g[1], g[2], x, y)))
	}
	return det.Sign()
}

// orient2 returns the sign of the turn a, b, c seen along the axis normal to
// the coordinates x and y.
func (p *points) orient2(x, y int, a, b, c int32) int {
	o, va, vb := &p.v[c], &p.v[a], &p.v[b]
	l, r := (va[x]-o[x])*(vb[y]-o[y]), (va[y]-o[y])*(vb[x]-o[x])
	if size := math.Abs(l) + math.Abs(r); size > tiny {
		switch e := bound2 * size; {
		case l-r > e:
			return 1
		case l-r < -e:
			return -1
		}
	}
	if p.grid != nil {
		g, u, v := p.grid[c], p.grid[a], p.grid[b]
		// Differences below 2³¹: each product is below 2⁶².
		d := (u[x]-g[x])*(v[y]-g[y]) - (u[y]-g[y])*(v[x]-g[x])
		return sign(d)
	}
	g := p.integers(a, b, c)
	for i := range 2 {
		g[i][x].Sub(g[i][x], g[2][x])
		g[i][y].Sub(g[i][y], g[2][y])
	}
	return minor(g[0], g[1], x, y).Sign()
}

// collinear reports whether three vertices lie on a line.
func (p *points) collinear(a, b, c int32) bool {
	return p.orient2(0, 1, a, b, c) == 0 && p.orient2(1, 2, a, b, c) == 0 && p.orient2(2, 0, a, b, c) == 0
}

// integers returns the coordinates of vertices as multiples of one power of
// two. What it is does not matter for a sign.
func (p *points) integers(vs ...int32) [][3]*big.Int {
	low := math.MaxInt
	for _, v := range vs {
		for _, x := range p.v[v] {
			if mant, exp, _ := split(x); mant != 0 {
				low = min(low, exp)
			}
		}
	}
	out := make([][3]*big.Int, len(vs))
	for i, v := range vs {
		for c, x := range p.v[v] {
			mant, exp, _ := split(x)
			n := new(big.Int).SetUint64(mant)
			if mant != 0 {
				n.Lsh(n, uint(exp-low))
			}
			if x < 0 {
				n.Neg(n)
			}
			out[i][c] = n
		}
	}
	return out
}

// minor returns u[x]·v[y] - u[y]·v[x].
func minor(u, v [3]*big.Int, x, y int) *big.Int {
	d := new(big.Int).Mul(u[x], v[y])
	return d.Sub(d, new(big.Int).Mul(u[y], v[x]))
}

func sub(a, b [3]int64) [3]int64 { return [3]int64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func sign(d int64) int {
	switch {
	case d > 0:
		return 1
	case d < 0:
		return -1
	}
	return 0
}

// int128 is a two's complement integer.
type int128 struct{ hi, lo uint64 }

// addProduct adds a·b.
func (s *int128) addProduct(a, b int64) {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	hi -= uint64(a>>63)&uint64(b) + uint64(b>>63)&uint64(a) // from unsigned to signed
	var carry uint64
	s.lo, carry = bits.Add64(s.lo, lo, 0)
	s.hi, _ = bits.Add64(s.hi, hi, carry)
}

func (s int128) sign() int {
	if s.hi == 0 && s.lo == 0 {
		return 0
	}
	return 1 - 2*int(s.hi>>63)
}
