package tess

import (
	"math"

	"wheelmold/mesh/solid"
)

// stitchRing joins two whole rows, or a row and a pole.
func (m *faceMaker) stitchRing(p *rowPlan, j int, lo, hi *rowLine) {
	k := p.above(j)
	switch {
	case p.pole(k):
		tip := m.poleVertex(p, k)
		m.fan(lo.arcs[0], tip, true)
	case p.pole(j):
		tip := m.poleVertex(p, j)
		m.fan(hi.arcs[0], tip, false)
	default:
		a, b := lo.arcs[0], hi.arcs[0]
		// Start the upper ring at the vertex nearest to the lower one's first.
		n := len(b) - 1
		r, best := 0, math.Inf(1)
		for i := range n {
			if d := math.Abs(solid.WrapAngle(b[i].u - a[0].u)); d < best {
				r, best = i, d
			}
		}
		s := &m.band.strip
		s.up = s.up[:0]
		u0 := a[0].u + solid.WrapAngle(b[r].u-a[0].u)
		for i := 0; i <= n; i++ {
			q := b[(r+i)%n]
			u := u0 + (q.u - b[r].u)
			if r+i >= n {
				u += 2 * math.Pi
			}
			s.up = append(s.up, rowNode{u, q.vert, q.off})
		}
		m.stitch(a, s.up)
	}
}

// stitch fills the strip between two chains of vertices, ascending in u, with
// facets that have one edge on a chain. Of two diagonals it takes the shorter,
// which makes the strip Delaunay.
func (m *faceMaker) stitch(lo, hi []rowNode) {
	i, k := 0, 0
	for i+1 < len(lo) || k+1 < len(hi) {
		if k+1 == len(hi) || i+1 < len(lo) && math.Abs(lo[i+1].u-hi[k].u) <= math.Abs(hi[k+1].u-lo[i].u) {
			m.facet(&lo[i], &lo[i+1], &hi[k])
			i++
		} else {
			m.facet(&lo[i], &hi[k+1], &hi[k])
			k++
		}
	}
}

// fan joins a chain to a tip above or below it.
func (m *faceMaker) fan(ring []rowNode, tip int32, above bool) {
	t := rowNode{vert: tip}
	for i := 0; i+1 < len(ring); i++ {
		if above {
			m.facet(&ring[i], &ring[i+1], &t)
		} else {
			m.facet(&ring[i+1], &ring[i], &t)
		}
	}
}

// facet emits a triangle; one between lattice points sags as planned.
func (m *faceMaker) facet(a, b, c *rowNode) {
	n := len(m.tri)
	m.emit(a.vert, b.vert, c.vert)
	if (a.off || b.off || c.off) && len(m.tri) > n {
		m.suspect = append(m.suspect, int32(n))
	}
}

// poleVertex makes the vertex at the sphere's pole on row j.
func (m *faceMaker) poleVertex(p *rowPlan, j int) int32 {
	v := p.v[j]
	i := m.inside(m.face.Carrier.P(0, v), 0, v)
	m.at = append(m.at, 0, 0)
	return i
}
