package brep

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// assemble gathers the live edges and their faces.
func (b *builder) assemble() (*Boundary, error) {
	out := &Boundary{Root: b.root}
	keys := b.faceKeys()
	for _, k := range keys {
		out.Faces = append(out.Faces, &Face{Carrier: k.carrier, Negative: k.negative})
	}
	vertex := make([]int, len(b.vertices.points))
	keep := func(v int) int {
		if vertex[v] == 0 {
			out.Vertices = append(out.Vertices, b.vertices.points[v])
			vertex[v] = len(out.Vertices)
		}
		return vertex[v] - 1
	}
	for _, e := range b.edges {
		if len(e.sides) != 2 {
			continue
		}
		e.V0, e.V1 = keep(e.V0), keep(e.V1)
		for _, s := range e.sides {
			i, _ := slices.BinarySearchFunc(keys, s.faceKey, compareKeys)
			f := out.Faces[i]
			f.Edges = append(f.Edges, FaceEdge{e.Edge, s.reversed})
			f.addRoles(b.byID[s.carrier.ID], s.q)
			e.Half = append(e.Half, HalfFace{i, s.reversed})
		}
		out.Edges = append(out.Edges, e.Edge)
	}
	if err := out.check(); err != nil {
		return nil, err
	}
	for _, f := range out.Faces {
		b.finish(f)
	}
	return out, nil
}

func compareKeys(a, b faceKey) int {
	if c := cmp.Compare(a.carrier.ID, b.carrier.ID); c != 0 {
		return c
	}
	switch {
	case a.negative == b.negative:
		return 0
	case b.negative:
		return -1
	}
	return 1
}

// faceKeys lists every face of the solid, by carrier and side.
func (b *builder) faceKeys() []faceKey {
	var keys []faceKey
	hasEdge := make([]bool, len(b.byID))
	for _, e := range b.edges {
		for _, s := range e.sides {
			hasEdge[s.carrier.ID] = true
			keys = append(keys, s.faceKey)
		}
	}
	for _, s := range b.used {
		if (s.Kind == solid.Sphere || s.Kind == solid.Torus) && !hasEdge[s.ID] {
			if k, ok := b.wholeFace(s); ok {
				keys = append(keys, k)
			}
		}
	}
	slices.SortFunc(keys, compareKeys)
	return slices.Compact(keys)
}

// wholeFace: a sphere or torus that no edge touches is a face everywhere or
// nowhere; one point of odd parameters tells.
func (b *builder) wholeFace(s *surface) (faceKey, bool) {
	q := s.P(oddAngle, oddAngle)
	if !s.holds(q, carrierTol) {
		return faceKey{}, false
	}
	switch b.root.Beside(s.carrier, q) {
	case solid.Below:
		return faceKey{s.carrier, false}, true
	case solid.Above:
		return faceKey{s.carrier, true}, true
	}
	return faceKey{}, false
}

// addRoles adds the roles of the patches that hold q.
func (f *Face) addRoles(s *surface, q Vec) {
	for _, p := range s.patches {
		if p.Role != "" && !slices.Contains(f.Roles, p.Role) && p.Holds(q, carrierTol) {
			f.Roles = append(f.Roles, p.Role)
		}
	}
}

// finish sets what depends on the whole face.
func (b *builder) finish(f *Face) {
	if len(f.Edges) == 0 {
		f.addRoles(b.byID[f.Carrier.ID], f.Carrier.P(oddAngle, oddAngle))
	}
	slices.Sort(f.Roles)
	switch f.Carrier.Kind {
	case solid.Cone:
		tip := apex(f.Carrier)
		f.Apex = b.faceHolds(f, tip) || f.endsAt(tip)
	case solid.Sphere:
		if len(f.Edges) > 0 {
			f.turnSphere()
		}
		for i, v := range [2]float64{-math.Pi / 2, math.Pi / 2} {
			f.Poles[i] = b.faceHolds(f, f.Carrier.P(0, v))
		}
	case solid.Torus:
		if len(f.Edges) > 0 {
			b.unwrapTorus(f)
		} else {
			f.AroundTube, f.inside = true, []arc{{0, 2 * math.Pi}}
		}
	}
}

// endsAt reports whether an edge of the face ends in q.
func (f *Face) endsAt(q Vec) bool {
	return slices.ContainsFunc(f.Edges, func(e FaceEdge) bool {
		c := e.Edge.Curve
		return c.At(e.Edge.T0).Dist(q) < vertexTol || c.At(e.Edge.T1).Dist(q) < vertexTol
	})
}

// faceHolds reports whether q, on the face's carrier, lies on the face.
func (b *builder) faceHolds(f *Face, q Vec) bool {
	s := b.byID[f.Carrier.ID]
	if !s.holds(q, carrierTol) {
		return false
	}
	bits := b.root.Beside(s.carrier, q)
	return bits == solid.Below && !f.Negative || bits == solid.Above && f.Negative
}
