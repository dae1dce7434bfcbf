package brep

import (
	"iter"
	"math"
	"slices"

	"wheelmold/mesh"
)

// seeker finds every zero of f, a 1-Lipschitz function of space, along a track:
// if |f| at both ends of an arc adds up to more than the arc's length there is
// no zero between them, else the arc is halved. Arcs much shorter than the bends
// of f are parabolas as good as any: they are given up where the parabola stays
// well clear of zero, and the shortest are searched for an extremum.
type seeker struct {
	f     func(p Vec) float64
	short float64 // arcs below this length, mm, are much shorter than f's bends
	at    func(t float64) Vec
	roots []float64
}

// shortArc: arcs below this length are no longer halved but solved, mm.
const shortArc = 1e-4

func (s *seeker) value(t float64) float64 { return s.f(s.at(t)) }

// run collects the parameters of contact on the samples' arcs that near admits.
func (s *seeker) run(tr *track, near func(k int) bool) {
	tr.sample()
	s.at, s.roots = tr.At, s.roots[:0]
	depth := 7
	if tr.Line {
		depth = 14
	}
	known, f0 := false, 0.0
	for k := range tr.arc {
		if !near(k) {
			known = false
			continue
		}
		if !known {
			f0 = s.f(tr.p[k])
			s.flat(tr.t[k], f0)
			known = true
		}
		f1 := s.f(tr.p[k+1])
		s.flat(tr.t[k+1], f1)
		s.isolate(tr.t[k], tr.t[k+1], f0, f1, tr.arc[k], depth)
		f0 = f1
	}
	slices.Sort(s.roots)
}

func (s *seeker) flat(t, f float64) {
	if math.Abs(f) <= flatF {
		s.roots = append(s.roots, t)
	}
}

// isolate searches the open arc; its ends are the caller's.
func (s *seeker) isolate(t0, t1, f0, f1, length float64, depth int) {
	if f0*f1 > 0 && math.Abs(f0)+math.Abs(f1) > length {
		return
	}
	if depth <= 0 || length < shortArc {
		s.solve(t0, t1, f0, f1)
		return
	}
	mid := (t0 + t1) / 2
	fm := s.value(mid)
	if length < s.short && clear(f0, fm, f1) {
		return
	}
	s.flat(mid, fm)
	// The halves of an arc that bends evenly are equal; 6 % covers one that does not.
	s.isolate(t0, mid, f0, fm, length*.53, depth-1)
	s.isolate(mid, t1, fm, f1, length*.53, depth-1)
}

// clear reports whether three values of one sign, evenly spaced, belong to a
// function without a zero between them: a parabola departs from its chords by an
// eighth of the second difference, which leaves a margin of 30.
func clear(a, b, c float64) bool {
	if a < 0 {
		a, b, c = -a, -b, -c
	}
	return min(a, b, c) > 4*math.Abs(a-2*b+c)+flatF
}

// solve finds the zeros of an arc on which f is close to a parabola.
func (s *seeker) solve(t0, t1, f0, f1 float64) {
	if math.Abs(f0) <= flatF || math.Abs(f1) <= flatF {
		return
	}
	if f0*f1 < 0 {
		s.roots = append(s.roots, s.root(t0, t1, f0, f1))
		return
	}
	sign := math.Copysign(1, f0)
	t, v := mesh.Least(func(t float64) float64 { return sign * s.value(t) }, t0, t1, 44)
	switch {
	case v < -flatF:
		s.roots = append(s.roots, s.root(t0, t, f0, sign*v), s.root(t, t1, sign*v, f1))
	case v <= flatF:
		s.roots = append(s.roots, t)
	}
}

// root closes in on a sign change by Ridders' method.
func (s *seeker) root(a, b, fa, fb float64) float64 {
	last := math.Inf(1)
	for k := 0; k < 60; k++ {
		eps := 1e-15 * (math.Abs(a) + 1e-3)
		if b-a <= eps {
			break
		}
		m := (a + b) / 2
		fm := s.value(m)
		if fm == 0 {
			return m
		}
		x := m + (m-a)*math.Copysign(fm, fa*fm)/math.Sqrt(fm*fm-fa*fb)
		fx := s.value(x)
		if fx == 0 || math.Abs(x-last) <= eps {
			return x
		}
		last = x
		switch {
		case (fm < 0) != (fx < 0):
			if m < x {
				a, b, fa, fb = m, x, fm, fx
			} else {
				a, b, fa, fb = x, m, fx, fm
			}
		case (fa < 0) != (fx < 0):
			b, fb = x, fx
		default:
			a, fa = x, fx
		}
	}
	return (a + b) / 2
}

// contacts yields the roots one by one: as they are if they were found in closed
// form, else each run of flat ones as one contact.
func (s *seeker) contacts(closed bool, span float64) iter.Seq[float64] {
	return func(yield func(float64) bool) {
		for i := 0; i < len(s.roots); {
			at := s.roots[i]
			if closed {
				i++
			} else {
				at, i = s.contact(i, span)
			}
			if !yield(at) {
				return
			}
		}
	}
}

// contact merges the run of parameters around roots[i] on which f stays flat
// into one contact, at f's sign change or extremum; next is the first root
// beyond the run.
func (s *seeker) contact(i int, span float64) (t float64, next int) {
	a, b := s.spread(s.roots[i], -span), s.spread(s.roots[i], span)
	next = i + 1
	for next < len(s.roots) && s.roots[next] <= b {
		b = max(b, s.spread(s.roots[next], span))
		next++
	}
	if b-a <= span*3e-7 {
		return s.roots[i], next
	}
	fa, fb := s.value(a), s.value(b)
	if fa*fb < 0 {
		return s.root(a, b, fa, fb), next
	}
	sign := math.Copysign(1, fa)
	for range 48 { // to 2e-11 of the run, finer than an extremum is known
		p, q := a+(b-a)*.4, a+(b-a)*.6
		if sign*s.value(p) < sign*s.value(q) {
			b = q
		} else {
			a = p
		}
	}
	return (a + b) / 2, next
}

// spread walks from t, in the direction of span, to where f is no longer flat.
func (s *seeker) spread(t, span float64) float64 {
	w := span * 1e-7
	for ; math.Abs(w) < math.Abs(span)*.02; w *= 2 {
		if math.Abs(s.value(t+w)) > 4*flatF {
			break
		}
	}
	return t + w
}
