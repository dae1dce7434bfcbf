package tess

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// Beside the outline of a torus or sphere facets are as they fall. Those that
// sag too much are split where they sag most, until none does.

// repairWork holds what repair needs.
type repairWork struct {
	edge  []sideOf
	taken []bool
}

// sideOf is one side of a triangle, its ends in ascending order.
type sideOf struct {
	a, b int32
	tri  int32
	side int32
}

// sag returns the largest distance of the triangle from the carrier, and where:
// the barycentric coordinates of that point. On a triangle this small the
// distance is a quadratic that vanishes in the corners, and its values in the
// middles of the sides fix it:
//
//	F = 4(m0·λ0λ1 + m1·λ1λ2 + m2·λ2λ0)
//
// Its extremum inside, if it has one, is at λ0 ∝ m1(m0 + m2 - m1) and so on in
// turn, with F = 4·m0·m1·m2 / (2m0m1 + 2m1m2 + 2m2m0 - m0² - m1² - m2²).
func sag(c *solid.Carrier, p [3]Vec) (float64, [3]float64) {
	var m [3]float64
	for i := range m {
		m[i] = c.F(p[i].Add(p[(i+1)%3]).Scale(.5))
	}
	worst, at := 0., [3]float64{}
	for i, f := range m {
		if f = math.Abs(f); f > worst {
			worst, at = f, [3]float64{}
			at[i], at[(i+1)%3] = .5, .5
		}
	}
	l := [3]float64{m[1] * (m[0] + m[2] - m[1]), m[2] * (m[0] + m[1] - m[2]), m[0] * (m[1] + m[2] - m[0])}
	sum := l[0] + l[1] + l[2]
	if l[0] > 0 && l[1] > 0 && l[2] > 0 {
		if f := math.Abs(4 * m[0] * m[1] * m[2] / sum); f > worst {
			worst, at = f, [3]float64{l[0] / sum, l[1] / sum, l[2] / sum}
		}
	}
	return worst, at
}

// repairRounds bounds the splitting: each round at least halves an edge or
// thirds a triangle that is at most a few steps across.
const repairRounds = 12

// repair splits the suspect triangles that sag by more than the tolerance.
func (m *faceMaker) repair() {
	list := m.suspect
	for round := 0; round < repairRounds && len(list) > 0; round++ {
		bad := list[:0]
		for _, t := range list {
			if s, _ := m.sagOf(t); s > m.tol {
				bad = append(bad, t)
			}
		}
		if len(bad) == 0 {
			return
		}
		list = m.splitAll(bad)
	}
}

func (m *faceMaker) sagOf(t int32) (float64, [3]float64) {
	v := m.tri[t]
	return sag(m.face.Carrier, [3]Vec{m.point(v[0]), m.point(v[1]), m.point(v[2])})
}

// splitAll splits the triangles of bad, and their neighbors where the worst
// point lies on a side, and returns those to look at again.
func (m *faceMaker) splitAll(bad []int32) []int32 {
	w := &m.fix
	w.edge = w.edge[:0]
	for t, v := range m.tri {
		for i := range v {
			a, b := v[i], v[(i+1)%3]
			w.edge = append(w.edge, sideOf{min(a, b), max(a, b), int32(t), int32(i)})
		}
	}
	slices.SortFunc(w.edge, compareSides)
	w.taken = append(w.taken[:0], make([]bool, len(m.tri))...)
	var again []int32
	for _, t := range bad {
		if w.taken[t] {
			again = append(again, t)
			continue
		}
		_, at := m.sagOf(t)
		side := slices.Index(at[:], 0)
		if side < 0 {
			w.taken[t] = true
			again = append(again, m.splitInside(t, at)...)
			continue
		}
		// The side opposite corner side runs from side+1 to side+2.
		i := int32(side+1) % 3
		other, j := m.across(t, i)
		if other < 0 {
			continue // a chord of the edge itself: within the tolerance by construction
		}
		if w.taken[other] {
			again = append(again, t)
			continue
		}
		w.taken[t], w.taken[other] = true, true
		again = append(again, m.splitSide(t, i, other, j)...)
	}
	return again
}

func compareSides(x, y sideOf) int {
	if c := cmp.Compare(x.a, y.a); c != 0 {
		return c
	}
	if c := cmp.Compare(x.b, y.b); c != 0 {
		return c
	}
	return cmp.Compare(x.tri, y.tri)
}

// across returns the triangle on the other side of side i of t, and that side.
func (m *faceMaker) across(t, i int32) (int32, int32) {
	a, b := m.tri[t][i], m.tri[t][(i+1)%3]
	key := sideOf{a: min(a, b), b: max(a, b), tri: -1}
	k, _ := slices.BinarySearchFunc(m.fix.edge, key, compareSides)
	for ; k < len(m.fix.edge); k++ {
		s := m.fix.edge[k]
		if s.a != key.a || s.b != key.b {
			break
		}
		if s.tri != t {
			return s.tri, s.side
		}
	}
	return -1, 0
}

// onSurface makes a vertex at the foot of p on the carrier.
func (m *faceMaker) onSurface(p Vec) int32 {
	q := m.face.Carrier.Project(p)
	u, v := m.face.Carrier.UV(q)
	return m.inside(q, u, v)
}

func (m *faceMaker) splitInside(t int32, at [3]float64) []int32 {
	v := m.tri[t]
	var p Vec
	for i := range v {
		p = p.AddScaled(at[i], m.point(v[i]))
	}
	x := m.onSurface(p)
	n := int32(len(m.tri))
	m.tri[t] = [3]int32{v[0], v[1], x}
	m.tri = append(m.tri, [3]int32{v[1], v[2], x}, [3]int32{v[2], v[0], x})
	return []int32{t, n, n + 1}
}

// splitSide puts a vertex in the middle of side i of t, which is side j of s.
func (m *faceMaker) splitSide(t, i, s, j int32) []int32 {
	a, b, c := m.tri[t][i], m.tri[t][(i+1)%3], m.tri[t][(i+2)%3]
	d := m.tri[s][(j+2)%3]
	x := m.onSurface(m.point(a).Add(m.point(b)).Scale(.5))
	n := int32(len(m.tri))
	m.tri[t], m.tri[s] = [3]int32{a, x, c}, [3]int32{x, a, d}
	m.tri = append(m.tri, [3]int32{x, b, c}, [3]int32{b, x, d})
	return []int32{t, s, n, n + 1}
}
