package mold_test

import (
	"fmt"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// BenchmarkDiameter takes molds of plain milled wheels, alike but for their size, through
// the steps that cost most.
func BenchmarkDiameter(b *testing.B) {
	for _, d := range []float64{25, 50, 100, 200, 400} {
		w := moldtest.Wheel{Diameter: d, Width: 0.4 * d, Bore: 0.1 * d, Process: "milled"}
		b.Run(fmt.Sprintf("%gmm", d), func(b *testing.B) { benchmarkSteps(b, w.Job(b)) })
	}
}

// BenchmarkFeatures does so with ever more of one feature.
func BenchmarkFeatures(b *testing.B) {
	w := moldtest.Wheel{Diameter: 400, Width: 80, Bore: 40, Process: "milled"}
	for _, key := range []string{"wheel.cross.count", "mold.vents.count"} {
		for _, n := range []int{2, 4, 8, 16, 32, 64} {
			set := fmt.Sprintf("%s=%d", key, n)
			// Narrow vents, so that the largest number fits.
			b.Run(set, func(b *testing.B) { benchmarkSteps(b, w.Job(b, "mold.vents.diameter=3mm", set)) })
		}
	}
}

// benchmarkSteps times layout, boundaries, meshes with audits, and flash, each by itself.
func benchmarkSteps(b *testing.B, j *params.Job) {
	m, err := mold.New(j)
	if err != nil {
		b.Fatal(err)
	}
	exact, err := m.Check()
	if err != nil {
		b.Fatal(err)
	}
	triangles := 0
	for _, step := range []struct {
		name string
		do   func() error
	}{
		{"layout", func() error { _, err := mold.New(j); return err }},
		{"boundaries", func() error { _, err := m.Check(); return err }},
		{"made", func() error {
			made, err := m.Make(mold.MakeOptions{Tolerance: 0.01})
			if err != nil {
				return err
			}
			triangles = 0
			for _, p := range made.Parts {
				triangles += len(p.Mesh.T)
			}
			return nil
		}},
		{"flash", func() error { _, err := flash.Analyze(m, exact.Faces, flash.DefaultOptions); return err }},
	} {
		b.Run(step.name, func(b *testing.B) {
			for b.Loop() {
				if err := step.do(); err != nil {
					b.Fatal(err)
				}
			}
			if step.name == "made" {
				b.ReportMetric(float64(triangles), "triangles")
			}
		})
	}
}
