// Package regiontest holds regions of solids to what mesh/region promises, for the tests
// of several packages.
package regiontest

import (
	"math"
	"testing"

	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
)

// endTol is the most that an edge may end off its vertex, mm: where curves are tangent,
// vertices are known to 5e-5 mm only (mesh/brep).
const endTol = 5e-5

// Audit holds a solid to what the package promises of every one.
func Audit(t testing.TB, name string, s *region.Solid) {
	t.Helper()
	used := make([][2]int, len(s.Edges)) // times that an edge is used in the surface's sense, and against it
	for i, f := range s.Faces {
		for _, l := range f.Loops {
			for k, u := range l {
				e := s.Edges[u.Edge]
				_, to := s.Ends(u)
				from, _ := s.Ends(l[(k+1)%len(l)])
				if to != from {
					t.Errorf("%s: face %d: a loop is open at %.6f", name, i, s.Vertices[to])
				}
				if e.Faces[0] != i && e.Faces[1] != i {
					t.Errorf("%s: face %d uses edge %d of faces %d", name, i, u.Edge, e.Faces)
				}
				n := 0
				if u.Reversed != f.Negative {
					n = 1
				}
				used[u.Edge][n]++
				onCarrier(t, name, s, e, f.Carrier)
			}
		}
		if f.U[1] < f.U[0] || f.V[1] < f.V[0] || math.IsInf(f.U[0], 0) || math.IsNaN(f.U[0]+f.U[1]+f.V[0]+f.V[1]) {
			t.Errorf("%s: face %d spans %v, %v", name, i, f.U, f.V)
		}
	}
	for i, n := range used {
		if n != [2]int{1, 1} {
			t.Errorf("%s: edge %d is used %v times", name, i, n)
		}
	}
	seen := make([]bool, len(s.Vertices))
	for i, e := range s.Edges {
		seen[e.V0], seen[e.V1] = true, true
		if !(e.T0 < e.T1) {
			t.Errorf("%s: edge %d runs from %g to %g", name, i, e.T0, e.T1)
		}
		for k, v := range [2]int{e.V0, e.V1} {
			if d := e.At([2]float64{e.T0, e.T1}[k]).Dist(s.Vertices[v]); d > endTol {
				t.Errorf("%s: edge %d (%v) ends %.2g mm off its vertex", name, i, e.Shape, d)
			}
		}
		checkTangent(t, name, i, e)
		if e.Seam {
			checkSeam(t, name, s, i, e)
		}
	}
	for i, ok := range seen {
		if !ok {
			t.Errorf("%s: no edge ends in vertex %d", name, i)
		}
	}
	total := 0.0
	for _, sh := range s.Shells {
		total += sh.Volume
	}
	if want := s.Boundary.Volume(); math.Abs(total-want) > 1e-10*math.Abs(want) {
		t.Errorf("%s: shells hold %.9f mm³, the boundary %.9f", name, total, want)
	}
}

func onCarrier(t testing.TB, name string, s *region.Solid, e *region.Edge, c *solid.Carrier) {
	t.Helper()
	for k := range 12 {
		p := e.At(e.T0 + (e.T1-e.T0)*(float64(k)+.5)/12)
		if d := math.Abs(c.F(p)); d > 1e-8 {
			t.Errorf("%s: a %v of a %v is %.2g mm off it at %.6f", name, e.Shape, c.Kind, d, p)
			return
		}
	}
}

// checkSeam makes sure that a seam runs over its face all the way.
func checkSeam(t testing.TB, name string, s *region.Solid, i int, e *region.Edge) {
	t.Helper()
	f, want := s.Faces[e.Faces[0]], solid.Below
	if f.Negative {
		want = solid.Above
	}
	for k := range 16 {
		p := e.At(e.T0 + (e.T1-e.T0)*(float64(k)+.5)/16)
		if got := s.Boundary.Root.Beside(f.Carrier, p); got != want {
			t.Errorf("%s: seam %d leaves its face at %.6f", name, i, p)
			return
		}
	}
}

// checkTangent compares Tangent with the chord of a short piece. Near the ends of a
// branch points of other curves are known along them to some 1e-6 mm only.
func checkTangent(t testing.TB, name string, i int, e *region.Edge) {
	t.Helper()
	for _, x := range []float64{.013, .313, .5, .87, .99} {
		m, h := e.T0+(e.T1-e.T0)*x, (e.T1-e.T0)*1e-3
		want := e.At(m + h).Sub(e.At(m - h)).Scale(.5 / h)
		if got := e.Tangent(m); got.Dist(want) > 1e-3*want.Norm()+3e-6/h {
			t.Errorf("%s: edge %d (%v) at %g: tangent %v, chord %v", name, i, e.Shape, x, got, want)
		}
	}
}

// Euler is the Euler number of the surface, 2 for every shell less 2 for every hole
// through it: vertices less edges, plus the Euler numbers of the faces. That of a face is
// 1 for a disc, 2 for a ball, 0 for a ring, less 1 for every loop that it lacks of these.
func Euler(s *region.Solid) int {
	n := len(s.Vertices) - len(s.Edges)
	for _, f := range s.Faces {
		n += 2 - len(f.Loops)
		if open := f.Around && !seamed(s, f); open && region.IsRing(f.Carrier) && f.Wraps == 0 {
			n -= 2
		}
	}
	return n
}

// seamed reports whether the face has been cut open.
func seamed(s *region.Solid, f *region.Face) bool {
	for _, l := range f.Loops {
		for _, u := range l {
			if s.Edges[u.Edge].Seam {
				return true
			}
		}
	}
	return false
}
