package outline

import (
	"math"
	"slices"
	"sync"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
)

// gauss4 are the points and weights of the Gauss-Legendre rule on [-1, 1].
var gauss4 = [4][2]float64{
	{-.8611363115940526, .3478548451374538}, {-.3399810435848563, .6521451548625461},
	{.3399810435848563, .6521451548625461}, {.8611363115940526, .3478548451374538},
}

// levels are the heights along w where a section may change its kind: at vertices,
// and at the extremes of circles, balls and rings.
func levels(b *brep.Boundary, w vec) []float64 {
	var at []float64
	extremes := func(c, axis vec, r, more float64) {
		d := r*axis.Cross(w).Norm() + more
		at = append(at, c.Dot(w)-d, c.Dot(w)+d)
	}
	for _, p := range b.Vertices {
		at = append(at, p.Dot(w))
	}
	for _, e := range b.Edges {
		if c := e.Curve; c.Radius > 0 {
			extremes(c.Center, c.Normal, c.Radius, 0)
		}
	}
	for _, f := range b.Faces {
		if c := f.Carrier; c.M > 0 {
			extremes(c.Frame.Global(vec{0, 0, c.Z0}), c.Frame.Z, c.R0, c.M)
			extremes(c.Frame.Global(vec{0, 0, c.Z0}), c.Frame.Z, c.R0, -c.M)
		}
	}
	slices.Sort(at)
	return slices.CompactFunc(at, func(a, b float64) bool { return math.Abs(a-b) < 1e-3 })
}

// stack integrates the sections' areas along the view's normal, each slab between
// two levels cut into n.
func stack(t *testing.T, m *solid.Model, b *brep.Boundary, v View, n int) float64 {
	t.Helper()
	at := levels(b, v.W())
	ev, sum := brep.NewEvaluator(m), 0.0
	for i := 1; i < len(at); i++ {
		mid, half := (at[i]+at[i-1])/2, (at[i]-at[i-1])/2
		h := math.Pi / float64(n)
		for k := range n {
			for _, g := range gauss4 {
				// By the angle on a half circle: round walls begin like a square root.
				sin, cos := math.Sincos(h*(float64(k)+(1+g[0])/2) - math.Pi/2)
				v.O = v.W().Scale(mid + half*sin)
				r, err := Section(ev, b.Root, v, 1e-5)
				if err != nil {
					t.Fatal(err)
				}
				sum += r.Area() * half * cos * g[1] * h / 2
			}
		}
	}
	return sum
}

// Areas of sections add up to the volume, whatever the direction of the planes. The
// rule is blunt where walls of several kinds begin in one slab, which is what is left
// of the difference, and vanishes with finer slabs.
func TestStackOfSections(t *testing.T) {
	askew := inclined(vec{}, vec{3, 4, 5})
	for _, c := range []struct {
		name  string
		build func(*solid.Model) *solid.Node
		v     View
		n     int
		tol   float64
	}{
		{"lid from below", solidtest.ReferenceLid, View{U: yAxis, V: xAxis}, 2, 1e-6},
		{"lid askew", solidtest.ReferenceLid, askew, 1, 3e-4},
		{"half shell from -y", solidtest.HalfShell, upright(0), 1, 3e-4},
		{"ring from below", ring, View{U: yAxis, V: xAxis}, 3, 1e-6},
		{"ring from -y", ring, upright(0), 4, 1e-6},
		{"ring askew", ring, askew, 2, 2e-6},
		{"ring askew, finer", ring, askew, 8, 3e-7},
	} {
		m := solid.NewModel()
		b, err := brep.NewEvaluator(m).Boundary(c.build(m))
		if err != nil {
			t.Fatal(err)
		}
		near1(t, c.name, stack(t, m, b, c.v, c.n)/b.Volume(), 1, c.tol)
	}
}

// Sections neither disturb the evaluator that they share with boundaries, nor each
// other.
func TestSharedEvaluator(t *testing.T) {
	m := solid.NewModel()
	root := solidtest.HalfShell(m)
	ev := brep.NewEvaluator(m)
	views := []View{level(60), level(0), level(0.5), upright(0), upright(17), inclined(vec{10, 50, 60}, vec{1, 2, 3})}
	want := make([]float64, len(views))
	for i, v := range views {
		want[i] = section(t, m, root, v, 1e-3).Area()
	}
	var wg sync.WaitGroup
	for range 4 {
		for i, v := range views {
			wg.Go(func() {
				r, err := Section(ev, root, v, 1e-3)
				if err != nil || r.Area() != want[i] {
					t.Errorf("view %d: %v mm², alone %v (%v)", i, r.Area(), want[i], err)
				}
			})
		}
	}
	wg.Wait()
	shared, err := ev.Boundary(root)
	if err != nil {
		t.Fatal(err)
	}
	alone, err := brep.NewEvaluator(m).Boundary(root)
	if err != nil {
		t.Fatal(err)
	}
	if shared.Volume() != alone.Volume() || len(shared.Edges) != len(alone.Edges) {
		t.Errorf("after sections the boundary has %v mm³ and %d edges, before %v and %d", shared.Volume(), len(shared.Edges), alone.Volume(), len(alone.Edges))
	}
}
