package raster

import (
	"math"

	"wheelmold/mesh"
)

// Facets that meet in a common edge belong to one smooth surface unless their
// normals differ by more than this. A mesh without labels is judged strictly; of
// a labeled one facets of one label are chords of one face, and a small fillet
// may be cut into few of them.
var (
	creaseUnlabeled = math.Cos(25 * math.Pi / 180)
	creaseLabeled   = math.Cos(60 * math.Pi / 180)
)

// surfaces are the smooth parts of a mesh, between its feature edges.
type surfaces struct {
	m      *mesh.Mesh
	unit   []mesh.Vec // normal per facet; zero where it has no area
	crease float64    // cosine
	of     []int32    // surface per facet, numbered from 0 in the order of facets
	count  int32
}

func findSurfaces(m *mesh.Mesh) *surfaces {
	s := &surfaces{m: m, unit: make([]mesh.Vec, len(m.T)), crease: creaseUnlabeled}
	if m.Label != nil {
		s.crease = creaseLabeled
	}
	for i := range m.T {
		if n := m.Normal(i); n.Norm() > 0 {
			s.unit[i] = n.Unit()
		}
	}
	s.join()
	return s
}

// smooth reports whether facets i and j pass into each other.
func (s *surfaces) smooth(i, j int32) bool {
	if s.m.Label != nil && s.m.Label[i] != s.m.Label[j] {
		return false
	}
	return s.unit[i].Dot(s.unit[j]) >= s.crease
}

// join numbers the surfaces: facets smoothly connected across edges are one.
func (s *surfaces) join() {
	root := make([]int32, len(s.m.T))
	for i := range root {
		root[i] = int32(i)
	}
	find := func(i int32) int32 {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	first := make(map[[2]int32]int32, len(s.m.T)*3/2)
	for i, t := range s.m.T {
		for k := range t {
			a, b := t[k], t[(k+1)%3]
			e := [2]int32{min(a, b), max(a, b)}
			j, met := first[e]
			if !met {
				first[e] = int32(i)
			} else if s.smooth(int32(i), j) {
				// The earlier facet becomes the root: numbers follow the order.
				p, q := find(int32(i)), find(j)
				root[max(p, q)] = min(p, q)
			}
		}
	}
	s.of = make([]int32, len(root))
	for i := range root {
		if r := find(int32(i)); r == int32(i) {
			s.of[i] = s.count
			s.count++
		} else {
			s.of[i] = s.of[r]
		}
	}
}

// normals returns the normals at every facet's corners: within a surface they
// are the mean over the facets about the corner, weighted by their angle there,
// so that chords of a curved face shade as the curve does.
func (s *surfaces) normals() [][3]mesh.Vec {
	about, start := fans(s.m)
	share := make([]mesh.Vec, 3*len(s.m.T))
	for c := range share {
		share[c] = s.unit[c/3].Scale(cornerAngle(s.m, c))
	}
	out := make([][3]mesh.Vec, len(s.m.T))
	for i, t := range s.m.T {
		for k, v := range t {
			sum := mesh.Vec{}
			for _, c := range about[start[v]:start[v+1]] {
				if j := c / 3; s.of[j] == s.of[i] && s.unit[i].Dot(s.unit[j]) >= s.crease {
					sum = sum.Add(share[c])
				}
			}
			if sum.Norm() == 0 {
				sum = s.unit[i]
			}
			out[i][k] = sum
		}
	}
	return out
}

// fans lists the corners at each vertex v as about[start[v]:start[v+1]]; corner
// 3i+k is that of facet i at its vertex k.
func fans(m *mesh.Mesh) (about []int, start []int) {
	start = make([]int, len(m.V)+2)
	for _, t := range m.T {
		for _, v := range t {
			start[v+2]++
		}
	}
	for v := 2; v < len(start); v++ {
		start[v] += start[v-1]
	}
	about = make([]int, 3*len(m.T))
	for i, t := range m.T {
		for k, v := range t {
			about[start[v+1]] = 3*i + k
			start[v+1]++
		}
	}
	return about, start
}

// cornerAngle is a facet's angle at a corner.
func cornerAngle(m *mesh.Mesh, corner int) float64 {
	t, k := m.T[corner/3], corner%3
	p := m.V[t[k]]
	a, b := m.V[t[(k+1)%3]].Sub(p), m.V[t[(k+2)%3]].Sub(p)
	return math.Atan2(a.Cross(b).Norm(), a.Dot(b))
}
