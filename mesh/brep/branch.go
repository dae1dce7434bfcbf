package brep

import (
	"math"
	"slices"

	"wheelmold/mesh"
)

// sheet is one set of solutions over a family's parameter, present where every
// gap (a length in mm) is positive. Its branches, the two signs of a square
// root as a rule, meet where a gap vanishes.
type sheet struct {
	gaps []func(t float64) float64
	at   []func(t float64) Vec
}

// family is the intersection of two carriers as sheets over one parameter.
type family struct {
	lo, hi   float64
	periodic bool
	sheets   []sheet
}

// trace turns the family into regular curves: each interval between roots of
// the gaps becomes one open branch t = c + h·sin φ, on which the square root is
// smooth up to its ends.
func (m *meeting) trace(f family) {
	for i := range f.sheets {
		s := &f.sheets[i]
		roots := m.gapRoots(&f, s)
		if len(roots) == 0 { // periodic only: an interval has its ends as roots
			if s.present(f.lo) {
				for _, at := range s.at {
					m.add(f.loop(at))
				}
			}
			continue
		}
		for k, a := range roots {
			b := roots[0] + f.hi - f.lo
			if k+1 < len(roots) {
				b = roots[k+1]
			} else if !f.periodic {
				break
			}
			if b-a < 1e-10*(f.hi-f.lo) || !s.present((a+b)/2) {
				continue
			}
			for _, at := range s.at {
				m.add(f.arc(at, a, b))
			}
		}
	}
}

func (s *sheet) present(t float64) bool {
	for _, g := range s.gaps {
		if g(t) <= 0 {
			return false
		}
	}
	return true
}

func (f *family) loop(at func(float64) Vec) *Curve {
	return &Curve{At: at, T0: f.lo, T1: f.hi, Closed: true}
}

func (f *family) arc(at func(float64) Vec, a, b float64) *Curve {
	c, h := (a+b)/2, (b-a)/2
	return &Curve{
		At: func(t float64) Vec { return at(c + h*math.Sin(t)) },
		T0: -math.Pi / 2, T1: math.Pi / 2,
		ends:  [2]Vec{f.end(at, a), f.end(at, b)},
		fixed: [2]bool{true, true},
	}
}

// end is the exact point of a branch at a root: the mean over the branches that
// meet there. A square root of rounding noise is off by 1e-7, their mean is not.
func (f *family) end(at func(float64) Vec, t float64) Vec {
	p := at(t)
	sum, n := Vec{}, 0.0
	for i := range f.sheets {
		for _, mate := range f.sheets[i].at {
			if q := mate(t); p.Dist(q) < 1e-4 {
				sum, n = sum.Add(q), n+1
			}
		}
	}
	if n == 0 {
		return p
	}
	return sum.Scale(1 / n)
}

// gapRoots returns the sorted parameters where a gap of the sheet vanishes, and
// the ends of an interval. A gap that reaches zero from below is a point of
// contact, recorded as a touch.
func (m *meeting) gapRoots(f *family, s *sheet) []float64 {
	var roots []float64
	for _, g := range s.gaps {
		q := gapSearch{g: g, lo: f.lo, hi: f.hi, periodic: f.periodic, roots: roots}
		q.touch = func(t float64) { m.touches = append(m.touches, s.at[0](t)) }
		q.run()
		roots = q.roots
	}
	span := f.hi - f.lo
	if f.periodic {
		for i := range roots {
			roots[i] -= span * math.Floor((roots[i]-f.lo)/span)
		}
	} else {
		roots = append(roots, f.lo, f.hi)
	}
	slices.Sort(roots)
	return slices.CompactFunc(roots, func(a, b float64) bool { return math.Abs(b-a) <= 1e-11*span })
}

// gapSamples per period: features narrower than 1/96 of a turn are found by
// their extremum.
const gapSamples = 96

// gapSearch isolates the roots of one gap function by its samples and extrema.
type gapSearch struct {
	g        func(float64) float64
	lo, hi   float64
	periodic bool
	touch    func(float64)
	roots    []float64
	t, v     [gapSamples + 1]float64
}

func (q *gapSearch) run() {
	const n = gapSamples
	for i := range q.t {
		q.t[i] = q.lo + (q.hi-q.lo)*float64(i)/n
		if q.periodic && i == n {
			q.v[i] = q.v[0]
		} else {
			q.v[i] = q.g(q.t[i])
		}
	}
	for i := 0; i < n; i++ {
		q.sampleOnRoot(i)
		if math.Abs(q.v[i]) > tangentGap && math.Abs(q.v[i+1]) > tangentGap && q.v[i]*q.v[i+1] < 0 {
			q.cross(q.t[i], q.t[i+1], q.v[i])
		}
		if i > 0 || q.periodic {
			q.dip(i)
		}
	}
	if q.periodic {
		return
	}
	q.dipAtEnd(0, 1, 2)
	q.dipAtEnd(n, n-1, n-2)
	if math.Abs(q.v[n]) <= tangentGap {
		q.roots = append(q.roots, q.t[n])
	}
}

func (q *gapSearch) sampleOnRoot(i int) {
	if math.Abs(q.v[i]) > tangentGap {
		return
	}
	q.roots = append(q.roots, q.t[i])
	if (q.periodic || i > 0) && q.before(i) < 0 && q.v[i+1] < 0 {
		q.touch(q.t[i])
	}
}

// before is the value one sample before i.
func (q *gapSearch) before(i int) float64 { return q.v[(i+gapSamples-1)%gapSamples] }

// cross bisects a sign change.
func (q *gapSearch) cross(a, b, va float64) {
	for k := 0; k < 64 && a != b; k++ {
		mid := (a + b) / 2
		if v := q.g(mid); v == 0 {
			a, b = mid, mid
		} else if (v > 0) == (va > 0) {
			a = mid
		} else {
			b = mid
		}
	}
	q.roots = append(q.roots, (a+b)/2)
}

// dip follows an extremum toward zero between the samples i-1 and i+1.
func (q *gapSearch) dip(i int) {
	sign := math.Copysign(1, q.v[i])
	a, b, c := sign*q.before(i), sign*q.v[i], sign*q.v[i+1]
	if a > 0 && c > 0 && b <= a && b <= c {
		q.follow(q.t[i]-(q.hi-q.lo)/gapSamples, q.t[i+1], sign, b, a-2*b+c)
	}
}

// dipAtEnd follows one between the sample i at an end of the interval and the next, j:
// it may lie nearer to the end than to j, so that dip sees the gap grow from the end on.
func (q *gapSearch) dipAtEnd(i, j, k int) {
	sign := math.Copysign(1, q.v[i])
	if a, b, c := sign*q.v[i], sign*q.v[j], sign*q.v[k]; a < b {
		q.follow(min(q.t[i], q.t[j]), max(q.t[i], q.t[j]), sign, a, a-2*b+c)
	}
}

// follow finds the roots at an extremum between a and b, at which the gap has a sign. The
// lowest of three samples there is v, bend their second difference.
func (q *gapSearch) follow(a, b, sign, v, bend float64) {
	if v <= tangentGap || v > 4*bend+1e-9 { // the parabola through the samples stays clear of zero
		return
	}
	t, least := mesh.Least(func(t float64) float64 { return sign * q.g(t) }, a, b, 48)
	switch {
	case math.Abs(least) <= tangentGap:
		q.roots = append(q.roots, t)
		if sign < 0 {
			q.touch(t)
		}
	case least < 0:
		q.cross(a, t, sign)
		q.cross(t, b, -sign)
	}
}
