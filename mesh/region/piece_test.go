package region_test

import (
	"math"
	"slices"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/check"
	"wheelmold/mesh/region"
	"wheelmold/mesh/region/regiontest"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/tess"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// read reads a boundary's regions, natural and cut, and audits both.
func read(t *testing.T, name string, b *brep.Boundary) (natural, cut *region.Solid) {
	t.Helper()
	natural, err := region.Of(b)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	cut, err = natural.Cut()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	regiontest.Audit(t, name, natural)
	regiontest.Audit(t, name+", cut", cut)
	for i := range natural.Faces {
		a, c := natural.Area(i), cut.Area(i)
		if !(a > 0) || math.Abs(a-c) > 1e-9*a+1e-9 {
			t.Errorf("%s: face %d has %.9f mm², cut %.9f", name, i, a, c)
		}
	}
	if a, c := regiontest.Euler(natural), regiontest.Euler(cut); a != c {
		t.Errorf("%s: Euler number %d, cut %d", name, a, c)
	}
	for i, f := range cut.Faces {
		if len(f.Loops) == 0 || f.Around && !slices.ContainsFunc(f.Loops[0], func(u region.Use) bool { return cut.Edges[u.Edge].Seam }) {
			t.Errorf("%s: face %d (%v) has no outline with a seam", name, i, f.Carrier.Kind)
		}
	}
	return natural, cut
}

// against compares with a mesh of the same boundary, which knows nothing of regions: as
// many connected parts of each carrier's side, with the same areas, and as many holes
// through the solid.
func against(t *testing.T, name string, s *region.Solid, tol float64) {
	t.Helper()
	b := s.Boundary
	m, err := tess.Mesh(b, tess.Settings{Tolerance: tol})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	r := check.Audit(m, check.Options{})
	if got := regiontest.Euler(s); got != r.Euler || len(s.Shells) != len(r.Shells) {
		t.Errorf("%s: Euler number %d in %d shells, the mesh has %d in %d", name, got, len(s.Shells), r.Euler, len(r.Shells))
	}
	want := patches(m, len(b.Faces))
	got := make([][]float64, len(b.Faces))
	for i, f := range s.Faces {
		k := slices.IndexFunc(b.Faces, func(g *brep.Face) bool { return g.Carrier == f.Carrier && g.Negative == f.Negative })
		got[k] = append(got[k], s.Area(i))
	}
	for k := range want {
		slices.Sort(want[k])
		slices.Sort(got[k])
		if len(got[k]) != len(want[k]) {
			t.Errorf("%s: %d regions of a %v, the mesh has %d", name, len(got[k]), b.Faces[k].Carrier.Kind, len(want[k]))
			continue
		}
		for i := range want[k] {
			if d := math.Abs(got[k][i] - want[k][i]); d > .01*want[k][i]+tol*math.Sqrt(want[k][i]) {
				t.Errorf("%s: region of a %v with %.6f mm², the mesh has %.6f", name, b.Faces[k].Carrier.Kind, got[k][i], want[k][i])
			}
		}
	}
}

// patches are the areas of the connected parts of every label.
func patches(m *mesh.Mesh, labels int) [][]float64 {
	root := make([]int, len(m.T))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	type side struct{ a, b, label int32 }
	across := map[side]int{}
	for i, f := range m.T {
		for k := range f {
			a, b := f[k], f[(k+1)%3]
			s := side{min(a, b), max(a, b), m.Label[i]}
			if j, ok := across[s]; ok {
				root[find(i)] = find(j)
			}
			across[s] = i
		}
	}
	area := map[int]float64{}
	for i := range m.T {
		area[find(i)] += m.Normal(i).Norm() / 2
	}
	out := make([][]float64, labels)
	for i := range m.T {
		if find(i) == i {
			out[m.Label[i]] = append(out[m.Label[i]], area[i])
		}
	}
	return out
}

// everyMold runs a test for the pieces, as they are made, of every example and of other
// wheels in every split.
func everyMold(t *testing.T, test func(t *testing.T, name string, b *brep.Boundary)) {
	run := func(name string, j *params.Job) {
		t.Run(name, func(t *testing.T) {
			_, c := moldtest.Checked(t, j)
			for piece, b := range c.RawFaces {
				test(t, piece, b)
			}
		})
	}
	for _, name := range []string{"wren", "kestrel", "albatross"} {
		run(name, moldtest.Example(t, name))
	}
	for i, w := range moldtest.Wheels {
		for _, s := range moldtest.Splits {
			if i == 0 || !testing.Short() {
				run(w.String()+", "+s.Name, w.Job(t, s.Sets...))
			}
		}
	}
}

func TestEveryPiece(t *testing.T) {
	everyMold(t, func(t *testing.T, name string, b *brep.Boundary) {
		s, _ := read(t, name, b)
		against(t, name, s, .02)
	})
}

// The names of shapes hold whatever the pieces' poses: what lies in one plane on a
// cylinder is an ellipse at most.
func TestShapesOfPieces(t *testing.T) {
	everyMold(t, func(t *testing.T, name string, b *brep.Boundary) {
		s, err := region.Of(b)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range s.Edges {
			a, c := e.Carriers[0].Kind, e.Carriers[1].Kind
			if a > c {
				a, c = c, a
			}
			if e.Shape == region.Free && a == solid.Plane && (c == solid.Cylinder || c == solid.Sphere || c == solid.Plane) {
				t.Errorf("%s: a %v and a %v meet in a curve without a name", name, a, c)
			}
		}
	})
}
