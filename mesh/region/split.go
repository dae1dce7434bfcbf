package region

import (
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// turn makes a closed edge that nothing else meets begin at t.
func (k *cutter) turn(e *Edge, t float64) int {
	period := e.T1 - e.T0
	k.Vertices[e.V0] = e.At(t)
	e.T0, e.T1 = t, t+period
	return e.V0
}

// split parts an edge at t: it keeps what lies before, and the last of all edges is
// what lies beyond. The loops on both sides follow.
func (k *cutter) split(edge int, t float64) (vertex int) {
	e := k.Edges[edge]
	rest := *e
	v := k.addVertex(e.At(t))
	k.meet[v] = 2
	e.T1, e.V1 = t, v
	rest.T0, rest.V0 = t, v
	k.Edges = append(k.Edges, &rest)
	for _, f := range rest.Faces {
		for i, l := range k.Faces[f].Loops {
			k.Faces[f].Loops[i] = follow(l, edge, len(k.Edges)-1)
		}
	}
	return v
}

// follow puts the rest of an edge behind its use in a loop, before one that is reversed.
func follow(l Loop, edge, rest int) Loop {
	i := slices.IndexFunc(l, func(u Use) bool { return u.Edge == edge })
	if i < 0 {
		return l
	}
	u := Use{rest, l[i].Reversed}
	if u.Reversed {
		return slices.Insert(l, i, u)
	}
	return slices.Insert(l, i+1, u)
}

// addSeam adds the part of a face's meridian at u from v0 to v1, between two vertices.
func (k *cutter) addSeam(face int, u, v0, v1 float64, from, to int) int {
	c := k.Faces[face].Carrier
	e := &Edge{V0: from, V1: to, Carriers: [2]*solid.Carrier{c, c}, Faces: [2]int{face, face}, Seam: true}
	if c.Kind == solid.Cylinder || c.Kind == solid.Cone {
		d := k.Vertices[to].Sub(k.Vertices[from])
		e.Shape, e.Center, e.X, e.T1 = Line, k.Vertices[from], d.Unit(), d.Norm()
	} else {
		s, cs := math.Sincos(u)
		x := c.Frame.X.Scale(cs).AddScaled(s, c.Frame.Y)
		e.Shape, e.X, e.Y, e.A, e.B = Circle, x, c.Frame.Z, c.M, c.M
		e.Center = c.Frame.O.AddScaled(c.R0, x).AddScaled(c.Z0, c.Frame.Z)
		e.T0, e.T1 = v0, v1
	}
	e.finish()
	k.Edges = append(k.Edges, e)
	k.meet[from]++
	k.meet[to]++
	return len(k.Edges) - 1
}
