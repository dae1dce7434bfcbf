package tess

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// audit holds a mesh to everything that the package promises, by means of its
// own, and returns the Euler number V - E + F.
func audit(t *testing.T, b *brep.Boundary, m *mesh.Mesh, tol float64) int {
	t.Helper()
	chi := auditTopology(t, m)
	for _, p := range m.V {
		for _, x := range p {
			if x != math.Round(x*16384)/16384 || float64(float32(x)) != x {
				t.Fatalf("vertex %v is off the lattice", p)
			}
		}
	}
	auditFacets(t, b, m, tol)
	auditEdges(t, b, m, tol)
	auditVolume(t, b, m, tol, b.Volume())
	return chi
}

// auditTopology: every directed side once, its reverse once, and one ring of
// facets around every vertex.
func auditTopology(t *testing.T, m *mesh.Mesh) int {
	t.Helper()
	side := map[[2]int32]int32{} // the facet's third vertex
	for i, v := range m.T {
		if m.Normal(i).Norm() == 0 {
			t.Fatalf("facet %d has no area", i)
		}
		for k := range v {
			e := [2]int32{v[k], v[(k+1)%3]}
			if _, twice := side[e]; twice {
				t.Fatalf("side %v to %v used twice", m.V[e[0]], m.V[e[1]])
			}
			side[e] = v[(k+2)%3]
		}
	}
	degree := make([]int, len(m.V))
	first := make([]int32, len(m.V))
	for e := range side {
		if _, ok := side[[2]int32{e[1], e[0]}]; !ok {
			t.Fatalf("side %v to %v is open", m.V[e[0]], m.V[e[1]])
		}
		degree[e[0]]++
		first[e[0]] = e[1]
	}
	for v, n := range degree {
		if n == 0 {
			t.Fatalf("vertex %v is used by no facet", m.V[v])
		}
		// Walk around v: facet (v, x, y), then (v, y, ...).
		k, x := 0, first[v]
		for {
			x = side[[2]int32{int32(v), x}]
			if k++; x == first[v] || k > n {
				break
			}
		}
		if k != n {
			t.Fatalf("vertex %v pinches: %d of %d facets in a ring", m.V[v], k, n)
		}
	}
	return len(m.V) - len(side)/2 + len(m.T)
}

// auditFacets samples every facet against its own carrier, whose function is the
// exact distance, and its winding against the outward normal.
func auditFacets(t *testing.T, b *brep.Boundary, m *mesh.Mesh, tol float64) {
	t.Helper()
	const n = 5
	worst := 0.
	for i, v := range m.T {
		f := b.Faces[m.Label[i]]
		c := f.Carrier
		for x := 0; x <= n; x++ {
			for y := 0; x+y <= n; y++ {
				p := m.V[v[0]].Scale(float64(x)/n).AddScaled(float64(y)/n, m.V[v[1]]).AddScaled(float64(n-x-y)/n, m.V[v[2]])
				if d := math.Abs(c.F(p)); d > worst {
					worst = d
					if d > tol {
						t.Fatalf("%s facet %d %v is %.6f mm off its surface, tolerance %g", c.Kind, i, [3]Vec{m.V[v[0]], m.V[v[1]], m.V[v[2]]}, d, tol)
					}
				}
			}
		}
		for _, x := range v {
			if c.Kind == solid.Plane && onLattice(c) && c.F(m.V[x]) != 0 {
				t.Fatalf("vertex %v is off its plane", m.V[x])
			}
		}
	}
}

// onLattice: an axis-parallel plane at a multiple of the lattice.
func onLattice(c *solid.Carrier) bool {
	z := c.Frame.Z
	axial := math.Abs(z[0])+math.Abs(z[1])+math.Abs(z[2]) == 1
	return axial && solid.Round(c.D) == c.D
}

// auditEdges samples every true edge against the borders between the facets of
// its two faces.
func auditEdges(t *testing.T, b *brep.Boundary, m *mesh.Mesh, tol float64) {
	t.Helper()
	label := map[[2]int32]int32{}
	for i, v := range m.T {
		for k := range v {
			label[[2]int32{v[k], v[(k+1)%3]}] = m.Label[i]
		}
	}
	border := map[[2]int32][][2]Vec{}
	for e, l := range label {
		if r := label[[2]int32{e[1], e[0]}]; l < r {
			border[[2]int32{l, r}] = append(border[[2]int32{l, r}], [2]Vec{m.V[e[0]], m.V[e[1]]})
		}
	}
	for _, e := range b.Edges {
		l, r := int32(e.Half[0].Face), int32(e.Half[1].Face)
		sides := border[[2]int32{min(l, r), max(l, r)}]
		for k := 0; k <= 60; k++ {
			p := e.Curve.At(e.T0 + (e.T1-e.T0)*float64(k)/60)
			d := math.Inf(1)
			for _, s := range sides {
				d = min(d, segmentDist(p, s[0], s[1]))
			}
			if d > tol && l != r {
				t.Fatalf("edge between faces %d and %d is %.6f mm off the mesh at %v", l, r, d, p)
			}
		}
	}
}

func segmentDist(p, a, b Vec) float64 {
	ab := b.Sub(a)
	k := max(0, min(1, p.Sub(a).Dot(ab)/ab.Dot(ab)))
	return p.Dist(a.AddScaled(k, ab))
}

// auditVolume: chords cut off ⅔ of the sagitta times the curved area on average,
// and no more than the whole sagitta.
func auditVolume(t *testing.T, b *brep.Boundary, m *mesh.Mesh, tol, exact float64) {
	t.Helper()
	curved := 0.
	for i := range m.T {
		if b.Faces[m.Label[i]].Carrier.Kind != solid.Plane {
			curved += m.Normal(i).Norm() / 2
		}
	}
	bound := 2*tol*2/3*curved + rounding*m.Area()
	if d := m.Volume() - exact; math.Abs(d) > bound {
		t.Fatalf("volume off by %g mm³, expected at most %g", d, bound)
	}
}
