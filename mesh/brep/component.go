package brep

import (
	"math"

	"wheelmold/mesh/solid"
)

// Use is one side of an edge: the face that it bounds.
type Use struct {
	Face   *Face
	Edge   *Edge
	Leaves []*solid.Leaf // of the whole solid, to ask whose patches meet here
}

// Components sorts the boundary's edge uses by connected component, in the
// order of the faces. Edges hang together through shared vertices, and loops
// through the face between them. Nothing is meshed, so that a gap of any width
// keeps two components apart or joins them exactly as the solid has it. Faces
// without an edge, whole balls and rings, are left out.
func (b *Boundary) Components() [][]Use {
	j := newJoiner(b)
	for _, f := range b.Faces {
		j.acrossFace(f)
	}
	index := map[int]int{}
	var out [][]Use
	leaves := b.Root.Leaves()
	for _, f := range b.Faces {
		for _, e := range f.Edges {
			r := j.find(e.Edge.V0)
			k, ok := index[r]
			if !ok {
				k = len(out)
				index[r] = k
				out = append(out, nil)
			}
			out[k] = append(out[k], Use{f, e.Edge, leaves})
		}
	}
	return out
}

// joiner is a union-find over the boundary's vertices.
type joiner struct {
	b    *Boundary
	root []int
}

func newJoiner(b *Boundary) *joiner {
	j := &joiner{b: b, root: make([]int, len(b.Vertices))}
	for i := range j.root {
		j.root[i] = i
	}
	for _, f := range b.Faces {
		for _, e := range f.Edges {
			j.join(e.Edge.V0, e.Edge.V1)
		}
	}
	return j
}

func (j *joiner) find(i int) int {
	for j.root[i] != i {
		j.root[i] = j.root[j.root[i]]
		i = j.root[i]
	}
	return i
}

func (j *joiner) join(a, b int) {
	a, b = j.find(a), j.find(b)
	j.root[max(a, b)] = min(a, b)
}

// Samples of an edge in the face's parameters: enough to bracket the crossings
// of a line u = const, which are then found by bisection.
const useSamples = 64

type sampled struct {
	edge *Edge
	u, v [useSamples + 1]float64
}

// acrossFace joins the loops of one region. From the highest point of each
// component's edges on the face a line runs up, and from the lowest one down,
// where the face continues; the first edge it meets bounds the same region. The
// highest hole of a region sees the region's rim, so nothing is missed.
func (j *joiner) acrossFace(f *Face) {
	several := false
	for _, e := range f.Edges {
		several = several || j.find(e.Edge.V0) != j.find(f.Edges[0].Edge.V0)
	}
	if !several {
		return
	}
	edges := make([]sampled, len(f.Edges))
	for i, e := range f.Edges {
		edges[i] = sample(f.Carrier, e.Edge)
	}
	for _, sense := range []float64{1, -1} {
		done := map[int]bool{}
		for i := range edges {
			r := j.find(edges[i].edge.V0)
			if done[r] {
				continue
			}
			done[r] = true
			j.shoot(f, edges, r, sense)
		}
	}
}

func sample(c *solid.Carrier, e *Edge) sampled {
	s := sampled{edge: e}
	for k := range s.u {
		s.u[k], s.v[k] = c.UV(e.Curve.At(e.at(k)))
	}
	return s
}

func (e *Edge) at(k int) float64 { return e.T0 + (e.T1-e.T0)*float64(k)/useSamples }

// shoot casts the line from the extreme point of component r.
func (j *joiner) shoot(f *Face, edges []sampled, r int, sense float64) {
	// The middle of the extreme samples: not a vertex if that can be helped.
	best, bu, bv := math.Inf(-1), 0.0, 0.0
	for i := range edges {
		s := &edges[i]
		if j.find(s.edge.V0) != r {
			continue
		}
		for k := 1; k < useSamples; k++ {
			if h := sense * s.v[k]; h > best {
				best, bu, bv = h, s.u[k], s.v[k]
			}
		}
	}
	const step = 1e-5 // mm, far below any designed gap
	dv := sense * step
	period := 0.0
	if k := f.Carrier.Kind; k == solid.Torus || k == solid.Sphere {
		dv /= f.Carrier.M
		period = 2 * math.Pi
	}
	if side := j.b.Root.Beside(f.Carrier, f.Carrier.P(bu, bv+dv)); side != solid.Below && side != solid.Above || (side == solid.Above) != f.Negative {
		return // the face lies on the other side of this edge
	}
	nearest, hit := math.Inf(1), -1
	for i := range edges {
		for _, v := range edges[i].crossings(f.Carrier, bu) {
			d := (v - bv) * sense
			if period > 0 && d < -1e-9 {
				d += period
			}
			if d > math.Abs(dv)/2 && d < nearest {
				nearest, hit = d, edges[i].edge.V0
			}
		}
	}
	if hit >= 0 {
		j.join(r, hit)
	}
}

// crossings returns v where the edge crosses the line of constant u.
func (s *sampled) crossings(c *solid.Carrier, u float64) []float64 {
	off := func(x float64) float64 { return x - u }
	if c.Kind != solid.Plane {
		off = func(x float64) float64 { return solid.WrapAngle(x - u) }
	}
	var out []float64
	for k := 0; k < useSamples; k++ {
		a, b := off(s.u[k]), off(s.u[k+1])
		if a*b > 0 || math.Abs(a-b) > math.Pi && c.Kind != solid.Plane {
			continue
		}
		x, y := s.edge.at(k), s.edge.at(k+1)
		for range 48 {
			m := (x + y) / 2
			um, _ := c.UV(s.edge.Curve.At(m))
			if fm := off(um); fm*a > 0 {
				x = m
			} else {
				y = m
			}
		}
		_, v := c.UV(s.edge.Curve.At(x))
		out = append(out, v)
	}
	return out
}
