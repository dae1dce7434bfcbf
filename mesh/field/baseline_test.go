package field

import (
	"fmt"
	"math"
	"testing"

	"github.com/deadsy/sdfx/render"
	"github.com/deadsy/sdfx/sdf"
	v3 "github.com/deadsy/sdfx/vec/v3"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
	"wheelmold/mesh/tess"
)

// BenchmarkMarchingCubes is the baseline that the exact boundary is measured
// against: the library's own mesher on the reference lid. It reports how far the
// mesh stays from the lid's true edges; a mold's parting edge must be true
// within 0.01 mm.
func BenchmarkMarchingCubes(b *testing.B) {
	s, err := Lower(solidtest.ReferenceLid(solid.NewModel()))
	if err != nil {
		b.Fatal(err)
	}
	for _, cells := range []int{50, 100, 200} {
		b.Run(fmt.Sprintf("cells=%d", cells), func(b *testing.B) {
			var tris []*sdf.Triangle3
			for b.Loop() {
				tris = render.ToTriangles(s, render.NewMarchingCubesUniform(cells))
			}
			b.ReportMetric(worstEdge(tris, 240/float64(cells)), "mm-worst-edge")
			b.ReportMetric(float64(len(tris)), "triangles")
		})
	}
}

// BenchmarkExactBoundary is ours beside it: the same solid, the same edges.
func BenchmarkExactBoundary(b *testing.B) {
	var tris []*sdf.Triangle3
	for b.Loop() {
		m := solid.NewModel()
		shape, err := brep.NewEvaluator(m).Boundary(solidtest.ReferenceLid(m))
		if err != nil {
			b.Fatal(err)
		}
		msh, err := tess.Mesh(shape, tess.Settings{Tolerance: .01})
		if err != nil {
			b.Fatal(err)
		}
		tris = tris[:0]
		for _, t := range msh.T {
			f := new(sdf.Triangle3)
			for i, v := range t {
				p := msh.V[v]
				f[i] = v3.Vec{X: p[0], Y: p[1], Z: p[2]}
			}
			tris = append(tris, f)
		}
	}
	b.ReportMetric(worstEdge(tris, 240), "mm-worst-edge") // facets of any size
	b.ReportMetric(float64(len(tris)), "triangles")
}

// worstEdge returns the largest distance of the mesh from points of the seam
// where the lid's cavity meets its parting face, and of two edges in the cavity.
// A mesh of that cell size has triangles within reach of every one.
func worstEdge(tris []*sdf.Triangle3, cell float64) float64 {
	worst := 0.0
	for _, c := range []struct{ r, z float64 }{{90, 0}, {90, 12}, {75, 20}} {
		const n = 60
		for i := range n {
			sn, cs := math.Sincos(2 * math.Pi * (float64(i) + .37) / n)
			p, best := vec{c.r * cs, c.r * sn, c.z}, math.Inf(1)
			for _, t := range tris {
				if q := at(t[0]); p.Dist(q) < 4*cell {
					best = min(best, toTriangle(p, q, at(t[1]), at(t[2])))
				}
			}
			worst = max(worst, best)
		}
	}
	return worst
}

func at(v v3.Vec) vec { return vec{v.X, v.Y, v.Z} }

// toTriangle is the distance of p to the triangle abc.
func toTriangle(p, a, b, c vec) float64 {
	n := b.Sub(a).Cross(c.Sub(a))
	inside := true
	d := math.Inf(1)
	for _, e := range [3][2]vec{{a, b}, {b, c}, {c, a}} {
		u := e[1].Sub(e[0])
		if n.Cross(u).Dot(p.Sub(e[0])) < 0 {
			inside = false
		}
		t := max(0, min(1, p.Sub(e[0]).Dot(u)/u.Dot(u)))
		d = min(d, p.Dist(e[0].AddScaled(t, u)))
	}
	if inside {
		d = min(d, math.Abs(p.Sub(a).Dot(n.Unit())))
	}
	return d
}

// The whole lid by rays, against its closed form.
func TestRayVolumeOfTheReferenceLid(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	got, est := RayVolume(mustField(t, solidtest.ReferenceLid(solid.NewModel())))
	off := math.Abs(got/solidtest.ReferenceLidVolume - 1)
	t.Logf("off by %.1e, estimated %.1e (relative)", off, est/got)
	if off > 1e-5 || off > est/got+1e-11 { // the constant has 13 digits
		t.Errorf("%.9g mm³, want %.9g, estimated error %g", got, solidtest.ReferenceLidVolume, est)
	}
}
