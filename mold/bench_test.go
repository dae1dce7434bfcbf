package mold

import (
	"path/filepath"
	"testing"

	"wheelmold/mesh/brep"
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
