package mold

import (
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
