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
	split []split
	wants []bool // vertices at ends of sides to be split
	twin  []side // sides between such vertices, by start and end
	taken []bool // triangles already split in this round
}

// split is a triangle to be split: at a point inside, or in the middle of a side.
type split struct {
	tri, side int32 // side < 0: inside
	at        [3]float64
}

// side is one side of a triangle.
type side struct{ from, to, tri, side int32 }

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

// quadratic is the share of the tolerance at which a facet is split: what the
// sag leaves out on small fat rings is below 1 % of it.
const quadratic = .985

// repair splits the suspect triangles that sag by more than the tolerance.
func (m *faceMaker) repair() {
	list := m.suspect
	for round := 0; round < repairRounds && len(list) > 0; round++ {
		bad := list[:0]
		for _, t := range list {
			if s, _ := m.sagOf(t); s > quadratic*m.tol {
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
	m.findSplits(bad)
	w.taken = append(w.taken[:0], make([]bool, len(m.tri))...)
	var again []int32
	for _, s := range w.split {
		switch other, j := m.across(s); {
		case w.taken[s.tri]:
			again = append(again, s.tri)
		case s.side < 0:
			w.taken[s.tri] = true
			again = append(again, m.splitInside(s.tri, s.at)...)
		case other < 0: // a chord of the edge itself: within the tolerance by construction
		case w.taken[other]:
			again = append(again, s.tri)
		default:
			w.taken[s.tri], w.taken[other] = true, true
			again = append(again, m.splitSide(s.tri, s.side, other, j)...)
		}
	}
	return again
}

// findSplits decides where to split, and lists the sides that may be partners.
func (m *faceMaker) findSplits(bad []int32) {
	w := &m.fix
	w.split, w.twin = w.split[:0], w.twin[:0]
	w.wants = append(w.wants[:0], make([]bool, len(m.id))...)
	for _, t := range bad {
		_, at := m.sagOf(t)
		s := split{t, -1, at}
		if k := slices.Index(at[:], 0); k >= 0 { // the side opposite corner k
			s.side = int32(k+1) % 3
			w.wants[m.tri[t][s.side]], w.wants[m.tri[t][(s.side+1)%3]] = true, true
		}
		w.split = append(w.split, s)
	}
	for t, v := range m.tri {
		for i := range v {
			if a, b := v[i], v[(i+1)%3]; w.wants[a] && w.wants[b] {
				w.twin = append(w.twin, side{a, b, int32(t), int32(i)})
			}
		}
	}
	slices.SortFunc(w.twin, compareSides)
}

func compareSides(x, y side) int {
	if c := cmp.Compare(x.from, y.from); c != 0 {
		return c
	}
	return cmp.Compare(x.to, y.to)
}

// across returns the triangle on the other side of the side to be split, and
// which side of it that is; -1 if there is none.
func (m *faceMaker) across(s split) (tri, i int32) {
	if s.side < 0 {
		return -1, 0
	}
	v := m.tri[s.tri]
	key := side{from: v[(s.side+1)%3], to: v[s.side]}
	if k, ok := slices.BinarySearchFunc(m.fix.twin, key, compareSides); ok {
		return m.fix.twin[k].tri, m.fix.twin[k].side
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
