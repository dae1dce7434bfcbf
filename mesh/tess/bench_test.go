package tess

import (
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
)

func boundaryOf(tb testing.TB, build func(*solid.Model) *solid.Node) *brep.Boundary {
	tb.Helper()
	m := solid.NewModel()
	root := build(m)
	b, err := brep.NewEvaluator(m).Boundary(root)
	if err != nil {
		tb.Fatal(err)
	}
	return b
}

// benchmarkMesh times everything from leaves to mesh.
func benchmarkMesh(b *testing.B, build func(*solid.Model) *solid.Node, tol float64) {
	var m *mesh.Mesh
	b.ReportAllocs()
	for b.Loop() {
		var err error
		if m, err = Mesh(boundaryOf(b, build), Settings{tol}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(m.T)), "triangles")
}

func BenchmarkLid(b *testing.B)           { benchmarkMesh(b, solidtest.ReferenceLid, .01) }
func BenchmarkLidFine(b *testing.B)       { benchmarkMesh(b, solidtest.ReferenceLid, .001) }
func BenchmarkHalfShell(b *testing.B)     { benchmarkMesh(b, solidtest.HalfShell, .01) }
func BenchmarkHalfShellFine(b *testing.B) { benchmarkMesh(b, solidtest.HalfShell, .001) }

// BenchmarkMeshOnly times the mesh of a boundary that is known.
func BenchmarkMeshOnly(b *testing.B) {
	shape := boundaryOf(b, solidtest.ReferenceLid)
	for b.Loop() {
		if _, err := Mesh(shape, Settings{.01}); err != nil {
			b.Fatal(err)
		}
	}
}
