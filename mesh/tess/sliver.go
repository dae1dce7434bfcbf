package tess

import (
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// Where a straight edge leans so little against the walls that one of them crosses it
// far from its ends, three of its vertices may make a facet that has no height beyond
// rounding: once rounded it may face anywhere, and its neighbor cut the face beyond the
// edge. Such a facet and the one beyond its longest side share their four corners the
// other way. Both were within a wall's slab and stay so, so that nothing sags further.

// turnSlivers does so on cylinders and cones, in place. Facets of one face are
// consecutive.
func (w *work) turnSlivers(m *mesh.Mesh) {
	for start := 0; start < len(m.T); {
		face := m.Label[start]
		end := start
		for end < len(m.T) && m.Label[end] == face {
			end++
		}
		if k := w.b.Faces[face].Carrier.Kind; k == solid.Cylinder || k == solid.Cone {
			for i := range m.T[start:end] {
				turnSliver(m, m.T[start:end], i)
			}
		}
		start = end
	}
}

// sliverHeight is below what rounding all corners may turn over, mm.
const sliverHeight = 3 * rounding

// turnSliver gives facet i of a face the other diagonal if it has no height.
func turnSliver(m *mesh.Mesh, face [][3]int32, i int) {
	t, h := lying(m, face[i])
	if h >= sliverHeight {
		return
	}
	a, b, c := t[0], t[1], t[2]
	for k, u := range face {
		at := slices.Index(u[:], b)
		if at < 0 || u[(at+1)%3] != a {
			continue
		}
		d := u[(at+2)%3]
		joined := slices.ContainsFunc(face, func(x [3]int32) bool { return slices.Contains(x[:], c) && slices.Contains(x[:], d) })
		s, v := [3]int32{a, d, c}, [3]int32{d, b, c}
		_, hs := lying(m, s)
		_, hv := lying(m, v)
		if !joined && min(hs, hv) > h {
			face[i], face[k] = s, v
		}
		return
	}
}

// lying returns a facet turned so that its longest side comes first, and its height
// over that.
func lying(m *mesh.Mesh, t [3]int32) ([3]int32, float64) {
	side := func(k int) float64 { return m.V[t[k]].Dist(m.V[t[(k+1)%3]]) }
	k := 0
	for i := 1; i < 3; i++ {
		if side(i) > side(k) {
			k = i
		}
	}
	a, b, c := t[k], t[(k+1)%3], t[(k+2)%3]
	twice := m.V[b].Sub(m.V[a]).Cross(m.V[c].Sub(m.V[a])).Norm()
	return [3]int32{a, b, c}, twice / side(k)
}
