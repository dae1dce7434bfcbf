package main

import (
	"runtime"
	"sync"

	"wheelmold/mesh"
	"wheelmold/mesh/check"
)

// measured is what a mesh is found to be; lengths in mm.
type measured struct {
	Triangles int
	Off       float64 // the farthest that a point of the mesh lies from the true surface
	Missed    float64 // the farthest that a point of a true face lies from the mesh
	Edge      float64 // the farthest that a point of a true edge lies from the mesh
	Volume    float64 // of the mesh over the true one, less 1
	Faults    int     // sides that are open, flipped or used by more than two facets
}

// samples is how many points of a mesh are measured at most, as a rule: of a finer one
// every so many facets.
const samples = 150_000

// measure holds a mesh to the true solid, both ways.
func measure(t *truth, s soup) measured {
	m := measured{Triangles: len(s), Volume: s.volume()/t.volume - 1}
	r := check.Audit(welded(s), check.Options{SkipCrossings: true})
	m.Faults = r.Open.Count + r.Flipped.Count + r.Overused.Count
	points := spread(s)
	m.Off = worst(points, t.distance)
	near := newNearest(s)
	m.Missed = worst(t.faces, near.distance)
	m.Edge = worst(t.edges, near.distance)
	return m
}

// spread takes points all over the facets: corners, middles of sides, and a grid on the
// large ones, where a chord hides its sagitta between the corners.
func spread(s soup) []mesh.Vec {
	const step, most = 2.0, 6 // mm, half the steps along a side
	var out []mesh.Vec
	every := 1 + len(s)*6/samples
	for i := 0; i < len(s); i += every {
		t := s[i]
		long := max(t[0].Dist(t[1]), t[1].Dist(t[2]), t[2].Dist(t[0]))
		n := 2 * max(1, min(most, int(long/step/2)))
		for a := 0; a <= n; a++ {
			for b := 0; a+b <= n; b++ {
				u, v := float64(a)/float64(n), float64(b)/float64(n)
				out = append(out, t[0].Scale(1-u-v).AddScaled(u, t[1]).AddScaled(v, t[2]))
			}
		}
		out = append(out, t[0].Add(t[1]).Add(t[2]).Scale(1./3))
	}
	return out
}

// worst is the largest distance of the points, on all cores.
func worst(points []mesh.Vec, distance func(mesh.Vec) float64) float64 {
	parts := make([]float64, runtime.GOMAXPROCS(0))
	var wg sync.WaitGroup
	for w := range parts {
		wg.Go(func() {
			for i := w; i < len(points); i += len(parts) {
				parts[w] = max(parts[w], distance(points[i]))
			}
		})
	}
	wg.Wait()
	far := 0.0
	for _, p := range parts {
		far = max(far, p)
	}
	return far
}
