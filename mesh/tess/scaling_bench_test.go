package tess

import (
	"fmt"
	"testing"

	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
)

// BenchmarkTolerance meshes known boundaries ever finer. Facets on a face that is curved
// one way should grow as the tolerance to -1/2, on one curved both ways as its inverse.
func BenchmarkTolerance(b *testing.B) {
	ball := func(m *solid.Model) *solid.Node { return m.Ball("ball", "outer", Vec{}, Vec{0, 0, 1}, 50) }
	for _, s := range []struct {
		name  string
		build func(*solid.Model) *solid.Node
	}{{"lid", solidtest.ReferenceLid}, {"half-shell", solidtest.HalfShell}, {"ball", ball}} {
		shape := boundaryOf(b, s.build)
		for _, tol := range []float64{1, 0.1, 0.01, 0.001} {
			b.Run(fmt.Sprintf("%s/%gmm", s.name, tol), func(b *testing.B) {
				triangles := 0
				for b.Loop() {
					m, err := Mesh(shape, Settings{tol})
					if err != nil {
						b.Fatal(err)
					}
					triangles = len(m.T)
				}
				b.ReportMetric(float64(triangles), "triangles")
			})
		}
	}
}
