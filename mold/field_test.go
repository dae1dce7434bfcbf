package mold

import (
	"math"
	"math/rand"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/field"
	"wheelmold/mesh/solid"
)

// The rubber's volume a third way, by rays through the field, which shares no
// code with closed forms or the boundary.
func TestRubberByRays(t *testing.T) {
	for i, name := range examples(t) {
		if testing.Short() && i > 0 {
			break
		}
		m, err := New(example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		f, err := field.New(m.Rubber)
		if err != nil {
			t.Fatal(err)
		}
		v, e := field.RayVolume(f)
		want := m.RubberVolume()
		t.Logf("%s: rays %.4f ± %.2g, closed form %.4f: %.2g", name, v, e, want, v/want-1)
		if math.Abs(v/want-1) > 1e-6 {
			t.Errorf("%s: rays %.6f, closed form %.6f", name, v, want)
		}
	}
}

// The two readings of the model agree: the field vanishes on the boundary's
// edges, and random points fall on the same side of tree and field.
func TestReadingsAgree(t *testing.T) {
	for _, name := range examples(t) {
		m, err := New(example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		ev := brep.NewEvaluator(m.Model)
		r := rand.New(rand.NewSource(5))
		for _, p := range m.Pieces {
			f, err := field.New(p.Root)
			if err != nil {
				t.Fatal(err)
			}
			b, err := ev.Boundary(p.Root)
			if err != nil {
				t.Fatal(err)
			}
			worst := 0.0
			for _, e := range b.Edges {
				for _, k := range []float64{.1, .37, .5, .81} {
					worst = max(worst, math.Abs(f.Distance(e.Curve.At(e.T0+k*(e.T1-e.T0)))))
				}
			}
			if worst > 1e-9 {
				t.Errorf("%s %s: field is %.2g mm on an edge of the boundary", name, p.Name, worst)
			}
			for range 3000 {
				var q mesh.Vec
				for a := range q {
					q[a] = f.Bounds().Lo[a] + (f.Bounds().Hi[a]-f.Bounds().Lo[a])*r.Float64()
				}
				if f.Inside(q) != p.Root.Contains(q) {
					t.Fatalf("%s %s: tree and field disagree at %v", name, p.Name, q)
				}
			}
		}
	}
}

// Every leaf of every example is a sound field: 1-Lipschitz, of the right sign,
// and held by its box.
func TestEveryLeafIsSound(t *testing.T) {
	for _, name := range examples(t) {
		m, err := New(example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewSource(6))
		for _, l := range m.Model.Leaves {
			f, err := field.New(&solid.Node{Op: solid.OpLeaf, Leaf: l})
			if err != nil {
				t.Fatal(err)
			}
			box := l.Box.Grow(.1 * l.Box.Lo.Dist(l.Box.Hi))
			at := func() (q mesh.Vec) {
				for a := range q {
					q[a] = box.Lo[a] + (box.Hi[a]-box.Lo[a])*r.Float64()
				}
				return q
			}
			for range 200 {
				p, q := at(), at()
				d, e := f.Distance(p), f.Distance(q)
				if math.Abs(d-e) > p.Dist(q)*(1+1e-9)+1e-12 {
					t.Fatalf("%s: %s is not 1-Lipschitz between %v and %v", name, l.Name, p, q)
				}
				if (d < 0) != l.Contains(p) || d < 0 && !l.Box.Contains(p, 0) {
					t.Fatalf("%s: %s has the wrong sign or box at %v", name, l.Name, p)
				}
			}
		}
	}
}
