package mold

import (
	"bytes"
	"math"
	"testing"

	"wheelmold/mesh/check"
	"wheelmold/mesh/stl"
)

// euler is the Euler number that a piece must have, counted from the layout: a
// piece is a ball (2) with a handle (-2) for every hole that goes right through.
// Pockets, slots, grooves and blind holes leave it as it is.
func (m *Mold) euler(piece string) int {
	l, c := m.Layout, m.Core
	bolts, cross, jacks := len(l.Bolts), len(l.Cross), map[string]int{}
	for _, j := range l.Jacks {
		switch {
		case j.Dir == axisY:
			jacks["shell-a"]++
		case j.Dir[2] > 0:
			jacks["lid"]++
		default:
			jacks["base"]++
		}
	}
	holes := 0
	switch piece {
	case "base":
		holes = bolts + jacks["base"]
	case "lid":
		holes = bolts + jacks["lid"] + len(l.Gates) + len(l.Vents)
	case "shell-a", "shell-b": // half of the corners, one end of every cross bolt
		holes = bolts/2 + cross + jacks[piece]
	case "hub":
		holes = 1 + c.BoltCount // the bore is the first
	case "rubber":
		holes = 1
	}
	return 2 - 2*holes
}

// Random jobs with coincidences on purpose: every one that validation accepts is
// made, its bytes read back and audited, its holes counted, its volumes added
// up. A refusal after validation is a failure.
func TestRandomJobs(t *testing.T) {
	n := few(200, 6)
	ms, tags, refused := validJobs(n)
	if len(ms) < n {
		t.Fatalf("only %d valid jobs; refused: %v", len(ms), refused)
	}
	worst, triangles := 0.0, 0
	for i, m := range ms {
		made, err := m.Make(MakeOptions{Tolerance: .05})
		if err != nil {
			t.Errorf("%s: %v", tags[i], err)
			continue
		}
		a := made.Audit
		worst = max(worst, math.Abs(a.ExactResidue))
		if d := math.Abs(a.Rubber.ClosedForm/a.Rubber.Boundary - 1); d > 1e-9 {
			t.Errorf("%s: rubber %.6f mm³ in closed form, %.6f by the boundary: %.2g", tags[i], a.Rubber.ClosedForm, a.Rubber.Boundary, d)
		}
		if d := math.Abs(a.Rubber.Mesh - a.Rubber.Boundary); d > 2*a.Rubber.MeshBias {
			t.Errorf("%s: rubber mesh off by %.3g mm³, bias %.3g", tags[i], d, a.Rubber.MeshBias)
		}
		for _, p := range made.Parts {
			triangles += len(p.Mesh.T)
			var buf bytes.Buffer
			if err := stl.Write(&buf, p.Posed, p.Piece.Name); err != nil {
				t.Fatal(err)
			}
			back, err := stl.Read(bytes.NewReader(buf.Bytes()))
			if err != nil {
				t.Fatal(err)
			}
			r := check.Audit(back, check.Options{})
			if !r.OK() {
				t.Errorf("%s: %s: %v", tags[i], p.Piece.Name, r.Faults())
			}
			if want := m.euler(p.Piece.Name); r.Euler != want || len(r.Shells) != 1 {
				t.Errorf("%s: %s: Euler number %d in %d shells, want %d in 1", tags[i], p.Piece.Name, r.Euler, len(r.Shells), want)
			}
		}
	}
	t.Logf("%d jobs, worst exact residue %.2g, %d triangles", len(ms), worst, triangles)
}
