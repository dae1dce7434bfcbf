package mold

import (
	"math"
	"testing"
	"time"
)

func TestMakeExamples(t *testing.T) {
	for _, name := range examples(t) {
		m, err := New(example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		t0 := time.Now()
		made, err := m.Make(MakeOptions{Tolerance: .05})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		a := made.Audit
		t.Logf("%s: %v residue exact %.2g mesh %.2g; rubber %.6f %.6f %.3f", name, time.Since(t0), a.ExactResidue, a.MeshResidue, a.Rubber.ClosedForm, a.Rubber.Boundary, a.Rubber.Mesh)
		for _, p := range made.Parts {
			t.Logf("  %s: %d triangles, Euler %d", p.Piece.Name, len(p.Mesh.T), p.Report.Euler)
		}
		if d := math.Abs(a.Rubber.Mesh - a.Rubber.Boundary); d > a.Rubber.MeshBias*2 {
			t.Errorf("%s: rubber mesh off by %.3g, bias %.3g", name, d, a.Rubber.MeshBias)
		}
	}
}
