package region

import (
	"math"

	"wheelmold/mesh/brep"
)

// end is an end of one of the boundary's edges at a vertex: 0 where it starts, 1 where
// it stops.
type end struct{ edge, which int }

// joinEdges makes edges of the boundary's parts: at a vertex where only two meet, between
// the same two faces, and one is the curve of the other, nothing ends.
func (b *builder) joinEdges() {
	ends := make([][]end, len(b.Boundary.Vertices))
	for i, e := range b.Boundary.Edges {
		ends[e.V0] = append(ends[e.V0], end{i, 0})
		ends[e.V1] = append(ends[e.V1], end{i, 1})
	}
	next := make([][2]end, len(b.raw)) // of each edge's ends: where the curve goes on
	for i := range next {
		next[i] = [2]end{{-1, 0}, {-1, 0}}
	}
	for _, at := range ends {
		if len(at) == 2 && at[0].edge != at[1].edge && b.goesOn(at[0], at[1]) {
			next[at[0].edge][at[0].which] = at[1]
			next[at[1].edge][at[1].which] = at[0]
		}
	}
	done := make([]bool, len(b.raw))
	for i := range b.raw {
		if !done[i] {
			b.addEdge(i, next, done)
		}
	}
}

// goesOn reports whether the edge of p is, beyond their common vertex, the edge of q.
func (b *builder) goesOn(p, q end) bool {
	e, f := b.Boundary.Edges[p.edge], b.Boundary.Edges[q.edge]
	for _, h := range e.Half {
		found := false
		for _, k := range f.Half {
			// q runs on the way that p came where one starts and one stops.
			found = found || h.Face == k.Face && (h.Reversed == k.Reversed) == (p.which != q.which)
		}
		if !found {
			return false
		}
	}
	r, s := &b.raw[p.edge], &b.raw[q.edge]
	if r.Shape != s.Shape {
		return false
	}
	if r.Shape != Free {
		return r.same(s)
	}
	if e.Curve == f.Curve {
		return true
	}
	u, v := awayFrom(e, p.which), awayFrom(f, q.which)
	return u.Add(v).Norm() < smooth*u.Norm()
}

// smooth: branches are each other's continuation if their velocities differ by less than
// this share. The two signs of a square root agree to the error of two derivatives.
const smooth = 1e-4

// awayFrom is the velocity with which an edge leaves one of its ends.
func awayFrom(e *brep.Edge, which int) Vec {
	if which == 0 {
		return derivative(e.Curve, e.T0)
	}
	return derivative(e.Curve, e.T1).Scale(-1)
}

// Lines, circles and ellipses of one pair of carriers are one within these: far above
// the rounding with which they are found, far below what two different ones differ by.
const (
	sameLength = 1e-7 // mm
	sameSine   = 1e-8
)

// same reports whether e and f lie on one line, circle or ellipse.
func (e *Edge) same(f *Edge) bool {
	if e.Shape == Line {
		d := f.Center.Sub(e.Center)
		return e.X.Cross(f.X).Norm() < sameSine && d.AddScaled(-d.Dot(e.X), e.X).Norm() < sameLength
	}
	return e.Center.Dist(f.Center) < sameLength &&
		math.Abs(e.A-f.A) < sameLength && math.Abs(e.B-f.B) < sameLength &&
		e.X.Cross(e.Y).Cross(f.X.Cross(f.Y)).Norm() < sameSine &&
		(e.Shape == Circle || e.X.Cross(f.X).Norm() < sameSine)
}

// addEdge makes the edge that the boundary's edge i is part of.
func (b *builder) addEdge(i int, next [][2]end, done []bool) {
	first := end{i, 0} // run back to where the curve begins
	before := 0.0
	for {
		p := next[first.edge][first.which]
		if p.edge < 0 || p.edge == i {
			break
		}
		before += b.raw[p.edge].T1 - b.raw[p.edge].T0
		first = end{p.edge, 1 - p.which}
	}
	if next[first.edge][first.which].edge == i { // all the way around: begin with i
		first, before = end{i, 0}, 0
	}
	var parts []part
	span := 0.0
	for at := first; at.edge >= 0 && !done[at.edge]; {
		done[at.edge] = true
		parts = append(parts, part{b.Boundary.Edges[at.edge], at.which == 1})
		span += b.raw[at.edge].T1 - b.raw[at.edge].T0
		at = next[at.edge][1-at.which]
	}
	e := b.raw[i]
	e.T0 -= before
	e.T1 = e.T0 + span
	e.V0, e.V1 = parts[0].start(), parts[len(parts)-1].stop()
	if e.Shape == Free {
		w := newPath(parts, b.Boundary.Vertices, e.Carriers)
		e.T0, e.T1, e.At, e.Tangent = w.s0, w.s1, w.At, w.Tangent
	} else {
		if e.V0 == e.V1 {
			e.T1 = e.T0 + 2*math.Pi
		}
		e.finish()
	}
	b.Edges = append(b.Edges, &e)
	b.parts = append(b.parts, parts)
	for k, h := range b.Boundary.Edges[i].Half {
		e.Faces[k] = -1
		b.uses[h.Face] = append(b.uses[h.Face], Use{len(b.Edges) - 1, h.Reversed})
	}
}

// keepVertices drops the vertices that no edge ends in.
func (b *builder) keepVertices() {
	index := make([]int, len(b.Boundary.Vertices))
	keep := func(v int) int {
		if index[v] == 0 {
			b.Vertices = append(b.Vertices, b.Boundary.Vertices[v])
			index[v] = len(b.Vertices)
		}
		return index[v] - 1
	}
	for _, e := range b.Edges {
		e.V0, e.V1 = keep(e.V0), keep(e.V1)
	}
}
