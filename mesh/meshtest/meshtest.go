// Package meshtest holds meshes that the tests of several file formats share.
package meshtest

import (
	"math"

	"wheelmold/mesh"
)

// Tetra is the corner of a cube with sides of s mm: volume s³/6.
func Tetra(s float64) *mesh.Mesh {
	return &mesh.Mesh{
		V: []mesh.Vec{{0, 0, 0}, {s, 0, 0}, {0, s, 0}, {0, 0, s}},
		T: [][3]int32{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}},
	}
}

// Ring is a torus of 2·n·k facets on the 2⁻¹⁴ mm lattice.
func Ring(n, k int) *mesh.Mesh {
	snap := func(x float64) float64 { return math.Round(x*(1<<14)) / (1 << 14) }
	m := &mesh.Mesh{}
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		for j := range k {
			t, d := math.Sincos(2 * math.Pi * float64(j) / float64(k))
			m.V = append(m.V, mesh.Vec{snap((60 + 20*d) * c), snap((60 + 20*d) * s), snap(20 * t)})
			p := func(i, j int) int32 { return int32(i%n*k + j%k) }
			m.T = append(m.T, [3]int32{p(i, j), p(i+1, j), p(i+1, j+1)}, [3]int32{p(i, j), p(i+1, j+1), p(i, j+1)})
		}
	}
	return m
}
