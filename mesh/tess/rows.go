package tess

import (
	"math"
	"sort"
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
	least := math.MaxInt
	for _, unit := range []int{4, 8, 12, 16, 24, 48} {
		q := hemisphere(max(8, (need+unit-1)/unit*unit), sag)
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
			if r.n%q[1] != 0 || r.n < 8 {
				continue
			}
			thin := farthest(r, r.n/q[1]*q[0], .5, sag)
			if t := farthest(r, r.n/q[1]*q[0], 0, sag); t.v > thin.v {
				thin = t
			}
			if 2*math.Pi/float64(thin.n)*math.Cos(thin.v) <= widest && thin.v-r.v > .75*(next.v-r.v) {
				next = thin
				break
			}
		}
		rows = append(rows, next)
	}
}

// capSag is the sag of the facets between a row and the pole.
func capSag(r sphereRow) float64 {
	d := 2 * math.Pi / float64(r.n)
	return sphereSag(spherePoint(0, r.v), spherePoint(d, r.v), Vec{0, 0, 1})
}

// farthest returns the highest row of n points above r, shifted against it by
// phase steps, that keeps the facets between them within sag.
func farthest(r sphereRow, n int, phase, sag float64) sphereRow {
	out := sphereRow{n: n, start: r.start + phase*2*math.Pi/float64(n)}
	lo, hi := r.v, min(math.Pi/2, r.v+math.Acos(1-sag)*2.2)
	for range 14 {
		out.v = (lo + hi) / 2
		if stripSag(r, out) <= sag {
			lo = out.v
		} else {
			hi = out.v
		}
	}
	out.v = lo
	return out
}

// stripSag is the largest sag of the facets between two rows of a unit sphere,
// from one period of their pattern.
func stripSag(a, b sphereRow) float64 {
	period := 2 * math.Pi / float64(gcd(a.n, b.n))
	ua := func(i int) float64 { return a.start + 2*math.Pi*float64(i)/float64(a.n) }
	ub := func(i int) float64 { return b.start + 2*math.Pi*float64(i)/float64(b.n) }
	worst := 0.
	i, j := 0, 0
	for ua(i) < ua(0)+period-1e-9 || ub(j) < ub(0)+period-1e-9 {
		p, q := spherePoint(ua(i), a.v), spherePoint(ub(j), b.v)
		if math.Abs(ua(i+1)-ub(j)) <= math.Abs(ua(i)-ub(j+1)) {
			i++
			worst = max(worst, sphereSag(p, spherePoint(ua(i), a.v), q))
		} else {
			j++
			worst = max(worst, sphereSag(p, spherePoint(ub(j), b.v), q))
		}
	}
	return worst
}

func spherePoint(u, v float64) Vec {
	su, cu := math.Sincos(u)
	sv, cv := math.Sincos(v)
	return Vec{cv * cu, cv * su, sv}
}

// sphereSag is the largest distance of the triangle abc, corners on the unit
// sphere, from the sphere: below the circle's center if that lies inside, else
// below the middle of the longest side.
func sphereSag(a, b, c Vec) float64 {
	ab, ac, bc := b.Sub(a), c.Sub(a), c.Sub(b)
	x, y, z := ab.Dot(ab), ac.Dot(ac), bc.Dot(bc)
	if l := max(x, y, z); 2*l >= x+y+z {
		return 1 - math.Sqrt(1-l/4)
	}
	n := ab.Cross(ac)
	return 1 - math.Abs(a.Dot(n))/n.Norm()
}

func gcd(a, b int) int {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}
