package check

import (
	"math"

	"wheelmold/mesh"
)

// cell is a unit cube of a voxel body, by its lowest corner.
type cell [3]int

// cells returns the cells of a box from lo up to, not including, hi.
func cells(lo, hi cell) []cell {
	var out []cell
	for x := lo[0]; x < hi[0]; x++ {
		for y := lo[1]; y < hi[1]; y++ {
			for z := lo[2]; z < hi[2]; z++ {
				out = append(out, cell{x, y, z})
			}
		}
	}
	return out
}

// without returns all less some of them.
func without(all []cell, less ...cell) []cell {
	gone := map[cell]bool{}
	for _, c := range less {
		gone[c] = true
	}
	var out []cell
	for _, c := range all {
		if !gone[c] {
			out = append(out, c)
		}
	}
	return out
}

// voxels returns the surface of a body of unit cubes: its volume is the number
// of cubes, and its flat faces hold many facets each.
func voxels(all []cell) *mesh.Mesh {
	in := map[cell]bool{}
	for _, c := range all {
		in[c] = true
	}
	var tris [][3]mesh.Vec
	for _, c := range all {
		for k := range 3 {
			for _, up := range []int{0, 1} {
				nb := c
				nb[k] += 2*up - 1
				if in[nb] {
					continue
				}
				// A square at c, its corners counter-clockwise seen along +k.
				var q [4]mesh.Vec
				for i, uv := range [][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
					p := c
					p[k] += up
					p[(k+1)%3] += uv[0]
					p[(k+2)%3] += uv[1]
					q[i] = mesh.Vec{float64(p[0]), float64(p[1]), float64(p[2])}
				}
				if up == 0 {
					q[1], q[3] = q[3], q[1]
				}
				tris = append(tris, [3]mesh.Vec{q[0], q[1], q[2]}, [3]mesh.Vec{q[0], q[2], q[3]})
			}
		}
	}
	return Weld(tris)
}

// box returns a box of 12 facets.
func box(lo, hi mesh.Vec) *mesh.Mesh {
	m := voxels(cells(cell{}, cell{1, 1, 1}))
	for i, p := range m.V {
		for k := range p {
			m.V[i][k] = lo[k] + p[k]*(hi[k]-lo[k])
		}
	}
	return m
}

// torus returns a ring about z of 2·n·k facets, snapped to 2⁻¹⁴ mm.
func torus(major, minor float64, n, k int) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range n {
		su, cu := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		for j := range k {
			sv, cv := math.Sincos(2 * math.Pi * float64(j) / float64(k))
			r := major + minor*cv
			m.V = append(m.V, mesh.Vec{snap(r * cu), snap(r * su), snap(minor * sv)})
		}
	}
	at := func(i, j int) int32 { return int32(i%n*k + j%k) }
	for i := range n {
		for j := range k {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			m.T = append(m.T, [3]int32{a, b, c}, [3]int32{a, c, d})
		}
	}
	return m
}

func snap(x float64) float64 { return math.Round(x*(1<<14)) / (1 << 14) }

// lathe returns the body that the closed polygon of (r, z) points, material on
// its left, sweeps about z: its flat faces consist of slivers.
func lathe(profile [][2]float64, n int) *mesh.Mesh {
	k := len(profile)
	m := torus(1, 0.5, n, k)
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		for j, p := range profile {
			m.V[i*k+j] = mesh.Vec{snap(p[0] * c), snap(p[0] * s), snap(p[1])}
		}
	}
	return m
}

// join returns all the meshes as one, vertices kept apart.
func join(ms ...*mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{}
	for _, m := range ms {
		n := int32(len(out.V))
		out.V = append(out.V, m.V...)
		for _, t := range m.T {
			out.T = append(out.T, [3]int32{t[0] + n, t[1] + n, t[2] + n})
		}
	}
	return out
}

// moved returns m shifted by d.
func moved(m *mesh.Mesh, d mesh.Vec) *mesh.Mesh {
	return mapped(m, func(p mesh.Vec) mesh.Vec { return p.Add(d) })
}

// mapped returns m with f applied to its vertices.
func mapped(m *mesh.Mesh, f func(mesh.Vec) mesh.Vec) *mesh.Mesh {
	out := &mesh.Mesh{T: append([][3]int32(nil), m.T...)}
	for _, p := range m.V {
		out.V = append(out.V, f(p))
	}
	return out
}

// turned returns m inside out.
func turned(m *mesh.Mesh) *mesh.Mesh {
	out := mapped(m, func(p mesh.Vec) mesh.Vec { return p })
	for i, t := range out.T {
		out.T[i] = [3]int32{t[0], t[2], t[1]}
	}
	return out
}

// rewelded returns m through loose triangles, as a file without indices would.
func rewelded(m *mesh.Mesh) *mesh.Mesh {
	var tris [][3]mesh.Vec
	for _, t := range m.T {
		tris = append(tris, [3]mesh.Vec{m.V[t[0]], m.V[t[1]], m.V[t[2]]})
	}
	return Weld(tris)
}

// oblique shears space by whole numbers: lattice points stay lattice points,
// flat faces stay flat and lie along no axis. It keeps volume (determinant 1).
func oblique(p mesh.Vec) mesh.Vec {
	x, y := p[0]+2*p[1], p[1]+3*p[2]
	return mesh.Vec{x, y, p[2] + x + 5*y}
}

// rotated turns space by angles that fit no lattice.
func rotated(p mesh.Vec) mesh.Vec {
	for i := range 3 {
		j := (i + 1) % 3
		s, c := math.Sincos(0.7 + float64(i))
		p[i], p[j] = c*p[i]-s*p[j], s*p[i]+c*p[j]
	}
	return p
}
