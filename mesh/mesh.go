package mesh

// Mesh is an indexed triangle mesh. Triangles are counter-clockwise seen from
// outside the material.
type Mesh struct {
	V []Vec      // vertices, mm
	T [][3]int32 // vertex indices
	// Label[i], where present, names the face that triangle i belongs to; what
	// the number means is the maker's business (mesh/tess: index into
	// brep.Boundary.Faces).
	Label []int32
}

// Volume returns the enclosed volume in mm³; it is negative for a mesh that is
// inside out and meaningless for one that is not closed.
func (m *Mesh) Volume() float64 {
	if len(m.V) == 0 {
		return 0
	}
	// Measured from a vertex, so that a part far from the origin loses no digits.
	o, v := m.V[0], 0.0
	for _, t := range m.T {
		a, b, c := m.V[t[0]].Sub(o), m.V[t[1]].Sub(o), m.V[t[2]].Sub(o)
		v += a.Dot(b.Cross(c))
	}
	return v / 6
}

// Area returns the total facet area in mm².
func (m *Mesh) Area() float64 {
	s := 0.0
	for i := range m.T {
		s += m.Normal(i).Norm()
	}
	return s / 2
}

// Normal returns the facet's normal, not scaled: its length is twice the area.
func (m *Mesh) Normal(i int) Vec {
	t := m.T[i]
	a := m.V[t[0]]
	return m.V[t[1]].Sub(a).Cross(m.V[t[2]].Sub(a))
}

// Bounds returns the box of all vertices.
func (m *Mesh) Bounds() Box {
	b := EmptyBox()
	for _, p := range m.V {
		b = b.Include(p)
	}
	return b
}
