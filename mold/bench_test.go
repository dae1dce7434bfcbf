package mold

import (
	"fmt"
	"path/filepath"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/check"
	"wheelmold/mesh/tess"
	"wheelmold/mold/inparallel"
)

// BenchmarkBoundary evaluates every exact boundary of the biggest example, one
// model for all, on one core.
func BenchmarkBoundary(b *testing.B) {
	j := example(b, "../examples/albatross.toml")
	for b.Loop() {
		m, err := New(j)
		if err != nil {
			b.Fatal(err)
		}
		ev := brep.NewEvaluator(m.Model)
		for _, p := range m.Pieces {
			if _, err := ev.Boundary(p.Root); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// BenchmarkModel places and checks the biggest example without any boundary.
func BenchmarkModel(b *testing.B) {
	j := example(b, "../examples/albatross.toml")
	for b.Loop() {
		if _, err := New(j); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPieces takes the five pieces of the biggest example from model to
// mesh on the machine's cores, at the usual tolerance and ten times finer.
func BenchmarkPieces(b *testing.B) {
	m, err := New(example(b, "../examples/albatross.toml"))
	if err != nil {
		b.Fatal(err)
	}
	for _, tol := range []float64{.01, .001} {
		b.Run(fmt.Sprintf("%gmm", tol), func(b *testing.B) {
			triangles := 0
			for b.Loop() {
				triangles = 0
				for _, p := range pieceMeshes(b, m, tol) {
					triangles += len(p.T)
				}
			}
			b.ReportMetric(float64(triangles), "triangles")
		})
	}
}

// BenchmarkAuditPieces audits those five meshes, crossings included.
func BenchmarkAuditPieces(b *testing.B) {
	m, err := New(example(b, "../examples/albatross.toml"))
	if err != nil {
		b.Fatal(err)
	}
	meshes := pieceMeshes(b, m, .01)
	for b.Loop() {
		inparallel.Do(len(meshes), func(i int) {
			if r := check.Audit(meshes[i], check.Options{}); !r.OK() {
				b.Error(r.Faults())
			}
		})
	}
}

func pieceMeshes(b *testing.B, m *Mold, tol float64) []*mesh.Mesh {
	b.Helper()
	list := m.pieces()
	if err := m.evaluate(list); err != nil {
		b.Fatal(err)
	}
	var out []*mesh.Mesh
	for _, e := range list {
		msh, err := tess.Mesh(e.boundary, tess.Settings{Tolerance: tol})
		if err != nil {
			b.Fatal(err)
		}
		out = append(out, msh)
	}
	return out
}

// BenchmarkMake makes and audits each example at 0.01 mm.
func BenchmarkMake(b *testing.B) {
	for _, name := range examples(b) {
		j := example(b, name)
		b.Run(filepath.Base(name), func(b *testing.B) {
			triangles := 0
			for b.Loop() {
				m, err := New(j)
				if err != nil {
					b.Fatal(err)
				}
				made, err := m.Make(MakeOptions{Tolerance: .01})
				if err != nil {
					b.Fatal(err)
				}
				triangles = 0
				for _, p := range made.Parts {
					triangles += len(p.Mesh.T)
				}
			}
			b.ReportMetric(float64(triangles), "triangles")
		})
	}
}

// BenchmarkCheck is what `wheelmold check` does on the biggest example, files
// and printing aside.
func BenchmarkCheck(b *testing.B) {
	for b.Loop() {
		m, err := New(example(b, "../examples/albatross.toml"))
		if err != nil {
			b.Fatal(err)
		}
		if _, err := m.Check(); err != nil {
			b.Fatal(err)
		}
	}
}
