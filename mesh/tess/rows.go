package tess

import (
	"math"
	"sort"

	"wheelmold/mesh/solid"
)

// rowPlan is the lattice of vertices on a torus or sphere: rows of constant v,
// each with its own number of evenly spaced points. Neighboring rows of equal
// number are staggered by half a step, which makes facets nearly equilateral in
// the metric of the deviation (see doc.go).
type rowPlan struct {
	v      []float64 // ascending; a sphere's first and last rows are its poles
	n      []int     // points on the row; 1 at a pole
	start  []float64 // angle of one of its points
	cyclic bool      // torus: the last row is followed by the first

	r0, m, maxR float64 // of the carrier
}

// angle of the k-th point of row j.
func (p *rowPlan) angle(j, k int) float64 {
	return p.start[j] + 2*math.Pi*float64(k)/float64(p.n[j])
}

// offLattice reports whether the angle u is not that of a point of row j.
func (p *rowPlan) offLattice(j int, u float64) bool {
	k := (u - p.start[j]) / (2 * math.Pi) * float64(p.n[j])
	return math.Abs(k-math.Round(k)) > 1e-6
}

// pole reports whether row j is a pole.
func (p *rowPlan) pole(j int) bool { return p.n[j] == 1 }

// bands returns the number of bands; band j lies between rows j and above(j).
func (p *rowPlan) bands() int {
	if p.cyclic {
		return len(p.v)
	}
	return len(p.v) - 1
}

func (p *rowPlan) above(j int) int { return (j + 1) % len(p.v) }
func (p *rowPlan) below(j int) int { return (j + len(p.v) - 1) % len(p.v) }

// height of band j, radians.
func (p *rowPlan) height(j int) float64 {
	k := p.above(j)
	if k == 0 {
		return p.v[0] + 2*math.Pi - p.v[j]
	}
	return p.v[k] - p.v[j]
}

// find returns the row that v lies on, within eps, or else the band.
func (p *rowPlan) find(v, eps float64) (j int, on bool) {
	if p.cyclic {
		v -= 2 * math.Pi * math.Floor((v-p.v[0])/(2*math.Pi))
	}
	j = sort.SearchFloat64s(p.v, v) - 1 // p.v[j] < v
	switch {
	case j >= 0 && v-p.v[j] < eps:
		return j, true
	case j+1 < len(p.v) && p.v[j+1]-v < eps:
		return j + 1, true
	case j+1 == len(p.v) && p.cyclic && p.v[0]+2*math.Pi-v < eps:
		return 0, true
	}
	return max(j, 0), false
}

// band returns the band that v lies in, where it is known to lie on no row but
// perhaps a pole.
func (p *rowPlan) band(v, eps float64) int {
	j, _ := p.find(v, eps)
	return min(j, p.bands()-1)
}

// torusRows plans a torus of tube radius m about a circle of radius r0, with n
// points on every row, n being the count of walls on its largest parallel: a
// cylinder tangent to it there has the same points.
//
// Rows lie on every quarter of the tube, where molds join it to planes and
// cylinders, and have a point at angle 0 there, as edges have. Between, each
// row is as far from the one before as the tolerance allows.
func torusRows(r0, m float64, n int, tol float64) *rowPlan {
	// The steps of quarterRows are right to second order; small fat rings ask for
	// a little more.
	target := tol
	for range 4 {
		p := torusPlan(r0, m, n, target)
		worst := p.torusSag(r0, m)
		if worst <= tol {
			return p
		}
		target *= .999 * tol / worst
	}
	return torusPlan(r0, m, n, target)
}

// torusSag is the largest sag of the facets between rows of a torus.
func (p *rowPlan) torusSag(r0, m float64) float64 {
	c := &solid.Carrier{Kind: solid.Torus, R0: r0, M: m, Frame: solid.AxisFrame(Vec{}, Vec{0, 0, 1})}
	worst := 0.
	for j := range p.v {
		k := p.above(j)
		if r0 < m && min(r0+m*math.Cos(p.v[j]), r0+m*math.Cos(p.v[k])) < m/1000 {
			continue // beyond its axis, or next to it, the circle makes no surface
		}
		a0, a1 := c.P(p.angle(j, 0), p.v[j]), c.P(p.angle(j, 1), p.v[j])
		b0, b1 := c.P(p.angle(k, 0), p.v[k]), c.P(p.angle(k, 1), p.v[k])
		if p.start[j] > p.start[k] { // b0 a0 b1 a1 in turn
			a0, a1, b0, b1 = b0, b1, a0, a1
		}
		s, _ := sag(c, [3]Vec{a0, a1, b0})
		t, _ := sag(c, [3]Vec{b0, b1, a1})
		worst = max(worst, s, t)
	}
	return worst
}

func torusPlan(r0, m float64, n int, tol float64) *rowPlan {
	outer, inner := quarterRows(r0, m, 1, n, tol), quarterRows(r0, m, -1, n, tol)
	p := &rowPlan{cyclic: true}
	half := math.Pi / float64(n)
	put := func(v float64, odd bool) {
		s := 0.
		if odd {
			s = half
		}
		p.v, p.n, p.start = append(p.v, v), append(p.n, n), append(p.start, s)
	}
	up := func(q []float64, from float64) {
		for i, w := range q[:len(q)-1] {
			put(from+w, i%2 == 1)
		}
	}
	down := func(q []float64, to float64) {
		for i := len(q) - 1; i > 0; i-- {
			put(to-q[i], i%2 == 1 && i < len(q)-1)
		}
	}
	up(outer, 0)
	down(inner, math.Pi)
	up(inner, math.Pi)
	down(outer, 2*math.Pi)
	return p
}

// quarterRows returns the angles of rows from the torus's outermost (sign 1) or
// innermost (sign -1) parallel, 0, to its crest, π/2.
//
// Lengths here are in the metric of the deviation: a facet edge (x, y) sags by
// (x² ± y²)/8, where x is the length around times √(curvature around) and y
// that along the tube. A facet whose corners lie on a circle of radius ρ sags by
// ρ²/2. With the base s on one row and its tip staggered on the next, h away,
// ρ = h/2 + s²/(8h); on the inner side, where the surface is a saddle, only the
// edges count, and the slanted one sags by (h² - s²/4)/8.
func quarterRows(r0, m, sign float64, n int, tol float64) []float64 {
	rho := math.Sqrt(2 * tol)
	step := func(v float64) float64 { // s on the row at v
		c := math.Cos(v)
		return 2 * math.Pi / float64(n) * math.Sqrt(math.Abs(r0+sign*m*c)*c)
	}
	saddle := sign < 0 && r0 > m
	rise := func(h float64) float64 { // angle whose chord sags by h²/8
		return 2 * math.Acos(max(.7, 1-h*h/(8*m)))
	}
	rows := []float64{0}
	for v := 0.; v < math.Pi/2; {
		s := min(step(v), 2*rho)
		h := rho + math.Sqrt(rho*rho-s*s/4)
		if saddle {
			h = 2 * rho
			for range 2 {
				s = step(min(v+rise(h), math.Pi/2))
				h = math.Sqrt(4*rho*rho + s*s/4)
			}
		}
		v += rise(h)
		rows = append(rows, v)
	}
	// The crest's row has a point at angle 0 like the first; after an odd number
	// of bands the last one is not staggered, which only a short step forgives.
	k := len(rows) - 1
	if k%2 == 1 {
		s, h := step(rows[k-1]), (math.Pi/2-rows[k-1])*math.Sqrt(m)
		if s*s+h*h > 4*rho*rho {
			rows = append(rows, rows[k]+(rows[k]-rows[k-1]))
			k++
		}
	}
	scale := math.Pi / 2 / rows[k]
	for i := range rows {
		rows[i] *= scale
	}
	rows[k] = math.Pi / 2
	return rows
}

// sphereRows plans a sphere of radius m. Rows thin out towards the poles by 3/4,
// 2/3 or 1/2, when the points have come close enough together.
func sphereRows(m, tol float64) *rowPlan {
	sag := min(tol/m, .25)
	// Equilateral facets: base √3·ρ.
	need := int(math.Ceil(2 * math.Pi / math.Sqrt(6*sag)))
	var best []sphereRow
	least, last := math.MaxInt, 0
	for _, unit := range []int{4, 8, 12, 16, 24, 48} {
		n := max(8, (need+unit-1)/unit*unit)
		if n <= last || n > 8+need*6/5 {
			continue
		}
		last = n
		q := hemisphere(n, sag)
		t := 0
		for i := range q[:len(q)-1] {
			t += q[i].n + q[i+1].n
		}
		if t < least {
			best, least = q, t
		}
	}
	p := &rowPlan{}
	put := func(v float64, r sphereRow) {
		p.v, p.n, p.start = append(p.v, v), append(p.n, r.n), append(p.start, r.start)
	}
	pole := sphereRow{n: 1}
	put(-math.Pi/2, pole)
	for i := len(best) - 1; i > 0; i-- {
		put(-best[i].v, best[i])
	}
	for _, r := range best {
		put(r.v, r)
	}
	put(math.Pi/2, pole)
	return p
}

type sphereRow struct {
	v     float64
	n     int
	start float64
}

// hemisphere plans rows from the equator, with n points, towards the pole of a
// unit sphere, so that no facet sags by more than sag.
func hemisphere(n int, sag float64) []sphereRow {
	// A row is thinned as soon as the thinner one has bases up to a few percent
	// longer than the best, √3·ρ, and its band is not much lower for it. An
	// exhaustive search over rows and counts saves 2 % more.
	widest := 1.03 * math.Sqrt(6*sag)
	rows := []sphereRow{{n: n}}
	for {
		r := rows[len(rows)-1]
		if r.n < 3 || capSag(r) <= sag {
			return rows
		}
		next := farthest(r, r.n, .5, sag)
		for _, q := range [][2]int{{1, 2}, {2, 3}, {3, 4}} {
			n := r.n / q[1] * q[0]
			// No thinned row reaches farther than one that is not.
			if r.n%q[1] != 0 || r.n < 8 || 2*math.Pi/float64(n)*math.Cos(next.v) > widest {
				continue
			}
			thin := farthest(r, n, .5, sag)
			if t := farthest(r, n, 0, sag); t.v > thin.v {
				thin = t
			}
			if 2*math.Pi/float64(n)*math.Cos(thin.v) <= widest && thin.v-r.v > .75*(next.v-r.v) {
				next = thin
				break
			}
		}
		rows = append(rows, next)
	}
}

// capSag is the sag of the facets between a row and the pole of a unit sphere.
func capSag(r sphereRow) float64 {
	sin, cos := math.Sincos(r.v)
	base := 2 * cos * cos * (1 - math.Cos(2*math.Pi/float64(r.n)))
	return sphereSag(base, 2-2*sin, 2-2*sin)
}

// farthest returns the highest row of n points above r, shifted against it by
// phase steps, that keeps the facets between them within sag.
func farthest(r sphereRow, n int, phase, sag float64) sphereRow {
	var buf [16]stripFacet
	out := sphereRow{n: n, start: r.start + phase*2*math.Pi/float64(n)}
	pattern := stripPattern(buf[:0], r, out)
	sin0, cos0 := math.Sincos(r.v)
	fits := func(v float64) bool {
		sin, cos := math.Sincos(v)
		for _, f := range pattern {
			c := cos0
			if f.upper {
				c = cos
			}
			if sphereSag(c*c*f.base, 2-2*(sin*sin0+cos*cos0*f.a), 2-2*(sin*sin0+cos*cos0*f.b)) > sag {
				return false
			}
		}
		return true
	}
	// Both rows on one meridian: the edge between sags enough beyond this.
	lo, hi := r.v, min(math.Pi/2, r.v+2*math.Acos(1-sag))
	for range 16 {
		if v := (lo + hi) / 2; fits(v) {
			lo = v
		} else {
			hi = v
		}
	}
	out.v = lo
	return out
}

// stripFacet is a facet between two rows: its base on one of them, of the given
// length squared on a parallel of radius 1, and the cosines of the angles about
// the axis that its other sides span.
type stripFacet struct {
	upper bool // base on the upper row
	base  float64
	a, b  float64
}

// stripPattern appends one period of the facets between two rows: of two
// diagonals the shorter, as in faceMaker.stitch.
func stripPattern(dst []stripFacet, lo, hi sphereRow) []stripFacet {
	period := 2 * math.Pi / float64(gcd(lo.n, hi.n))
	ul := func(i int) float64 { return lo.start + 2*math.Pi*float64(i)/float64(lo.n) }
	uh := func(i int) float64 { return hi.start + 2*math.Pi*float64(i)/float64(hi.n) }
	baseLo, baseHi := 2-2*math.Cos(2*math.Pi/float64(lo.n)), 2-2*math.Cos(2*math.Pi/float64(hi.n))
	i, j := 0, 0
	for ul(i) < ul(0)+period-1e-9 || uh(j) < uh(0)+period-1e-9 {
		side := math.Cos(ul(i) - uh(j))
		if math.Abs(ul(i+1)-uh(j)) <= math.Abs(ul(i)-uh(j+1)) {
			i++
			dst = append(dst, stripFacet{false, baseLo, side, math.Cos(ul(i) - uh(j))})
		} else {
			j++
			dst = append(dst, stripFacet{true, baseHi, side, math.Cos(ul(i) - uh(j))})
		}
	}
	return dst
}

// sphereSag is the largest distance from the unit sphere of a triangle with its
// corners on it, given the squares of its sides: below the center of its
// circumcircle if that lies inside, else below the middle of the longest side.
func sphereSag(x, y, z float64) float64 {
	l := max(x, y, z)
	if sum := x + y + z; 2*l < sum {
		// R² = xyz / 16A², with Heron's formula for A.
		l = 4 * x * y * z / (sum*sum - 2*(x*x+y*y+z*z))
	}
	return 1 - math.Sqrt(max(0, 1-l/4))
}

func gcd(a, b int) int {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}
