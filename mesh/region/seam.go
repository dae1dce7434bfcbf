package region

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// Cut returns a copy of the solid in which every face that goes all the way around has
// a seam, an edge that the face uses twice, so that each face has exactly one outer
// loop, first of its Loops. s stays as it is.
func (s *Solid) Cut() (*Solid, error) {
	k := &cutter{Solid: s.clone()}
	k.meet = make([]int, len(k.Vertices))
	for _, e := range k.Edges {
		k.meet[e.V0]++
		k.meet[e.V1]++
	}
	for i, f := range k.Faces {
		if f.Around {
			if err := k.cut(i); err != nil {
				return nil, err
			}
		}
	}
	return k.Solid, nil
}

// clone copies what Cut changes.
func (s *Solid) clone() *Solid {
	c := &Solid{Boundary: s.Boundary, Vertices: slices.Clone(s.Vertices), Shells: slices.Clone(s.Shells)}
	for _, e := range s.Edges {
		d := *e
		c.Edges = append(c.Edges, &d)
	}
	for _, f := range s.Faces {
		g := *f
		g.Loops = make([]Loop, len(f.Loops))
		for i, l := range f.Loops {
			g.Loops[i] = slices.Clone(l)
		}
		c.Faces = append(c.Faces, &g)
	}
	return c
}

// cutter is the work on one solid.
type cutter struct {
	*Solid
	meet []int // of each vertex: how many ends of edges meet there
}

// gate is where a seam passes a loop of its face: at a vertex, or within an edge. A
// gate that stands for a pole or tip has neither.
type gate struct {
	v      float64
	up     bool // the face lies above
	vertex int  // -1: none yet
	edge   int  // -1: a tip
	t      float64
}

// Seams keep this far off the vertices that they do not meet, mm; if that cannot be,
// less.
var clearances = [...]float64{.05, .005, 5e-4}

// cut adds the seam of a face that goes around.
func (k *cutter) cut(face int) error {
	f := k.Faces[face]
	if f.Carrier.Kind == solid.Torus && f.Wraps == 0 && !f.tip[0] {
		return k.cutRing(face)
	}
	for _, clear := range clearances {
		if u, gates, ok := k.place(f, clear); ok {
			return k.sew(face, u, gates)
		}
	}
	return k.fail("no meridian to cut a face along", f.Carrier, f.Carrier.P(f.U[0], f.V[0]))
}

// place chooses the meridian: the first of those that cross the fewest edges.
func (k *cutter) place(f *Face, clear float64) (u float64, best []gate, ok bool) {
	for _, x := range k.candidates(f) {
		gates, fits := k.gates(f, x, clear)
		if fits && (!ok || len(gates) < len(best)) {
			u, best, ok = x, gates, true
			if len(best) <= 2 {
				break
			}
		}
	}
	return u, best, ok
}

// candidates are the angles of a seam, best first: those of the vertices on the loops
// around, quarter turns, and, should these all meet holes, many others.
func (k *cutter) candidates(f *Face) []float64 {
	var out []float64
	for _, l := range f.Loops[:f.Wraps] {
		for _, x := range l {
			if v, _ := k.Ends(x); !k.free(k.Edges[x.Edge]) {
				u, _ := f.Carrier.UV(k.Vertices[v])
				out = append(out, u)
			}
		}
	}
	for i := range 4 {
		out = append(out, float64(i)*math.Pi/2)
	}
	const others = 180
	for i := range others {
		out = append(out, .1+2*math.Pi*float64(i)/others)
	}
	return out
}

// free reports whether an edge is closed and nothing else meets it, so that it may
// begin anywhere.
func (k *cutter) free(e *Edge) bool { return e.V0 == e.V1 && k.meet[e.V0] == 2 }

// gates are where a seam at u would pass the face's loops, sorted by v, tips included:
// pairs between which the face lies. It fails where the seam would touch a loop, or pass
// a vertex more closely than it may.
func (k *cutter) gates(f *Face, u, clear float64) ([]gate, bool) {
	m := meridianAt(f.Carrier, u)
	var out []gate
	for _, l := range f.Loops {
		for i, x := range l {
			e := k.Edges[x.Edge]
			for _, t := range m.crossings(e) {
				if d := k.fromVertex(e, t); d < snug || d < clear && !k.free(e) {
					if d >= snug {
						return nil, false
					}
					continue // a vertex, seen below
				}
				up, ok := m.over(e.Tangent(t), x.Reversed)
				if !ok {
					return nil, false
				}
				v := f.height(e.At(t))
				out = append(out, gate{v, up, -1, x.Edge, t})
			}
			v, _ := k.Ends(x)
			p := k.Vertices[v]
			if math.Abs(m.n.Dot(p)-m.d) > snug || m.dir.Dot(p) < m.from {
				continue
			}
			before := l[(i+len(l)-1)%len(l)]
			up, ok := m.over(k.heading(x, 0), false)
			down, ok2 := m.over(k.heading(before, 1), false)
			if !ok || !ok2 || up != down {
				return nil, false
			}
			out = append(out, gate{f.height(p), up, v, -1, 0})
		}
	}
	slices.SortStableFunc(out, func(a, b gate) int { return cmp.Compare(a.v, b.v) })
	out = withTips(f, out)
	return out, paired(out)
}

// height is the parameter v within the face's range.
func (f *Face) height(p Vec) float64 {
	_, v := f.Carrier.UV(p)
	if f.Carrier.Kind == solid.Torus {
		mid := (f.V[0] + f.V[1]) / 2
		v = mid + solid.WrapAngle(v-mid)
	}
	return v
}

// snug: a seam this near to a vertex meets it, mm.
const snug = 1e-7

// fromVertex is how far the point at t is from the ends of its edge.
func (k *cutter) fromVertex(e *Edge, t float64) float64 {
	p := e.At(t)
	return min(p.Dist(k.Vertices[e.V0]), p.Dist(k.Vertices[e.V1]))
}

// over reports whether the face lies above an edge that crosses the meridian along d;
// ok is false where it hardly crosses it.
func (m *meridian) over(d Vec, reversed bool) (up, ok bool) {
	x := m.n.Dot(d) / d.Norm()
	return (x > 0) != reversed, math.Abs(x) > 1e-2
}

// withTips adds the gates at the tips that the face holds.
func withTips(f *Face, g []gate) []gate {
	at, _ := tips(f.Carrier)
	if f.tip[0] {
		g = slices.Insert(g, 0, gate{v: at[0], up: true, vertex: -1, edge: -1})
	}
	if f.tip[1] {
		g = append(g, gate{v: at[1], vertex: -1, edge: -1})
	}
	return g
}

// paired reports whether the gates go up and down in turn.
func paired(g []gate) bool {
	for i := range g {
		if i > 0 && g[i].vertex >= 0 && g[i].vertex == g[i-1].vertex {
			return false // where loops touch
		}
		if g[i].up != (i%2 == 0) {
			return false
		}
	}
	return len(g) > 0 && len(g)%2 == 0
}

// sew adds the parts of the seam between the gates and links the face's loops anew.
func (k *cutter) sew(face int, u float64, gates []gate) error {
	f := k.Faces[face]
	at := make([]int, len(gates))
	done := map[int]*opened{}
	for i := range gates {
		at[i] = k.open(f, &gates[i], done)
	}
	var uses []Use
	for i := 0; i < len(gates); i += 2 {
		id := k.addSeam(face, u, gates[i].v, gates[i+1].v, at[i], at[i+1])
		uses = append(uses, Use{id, false}, Use{id, true})
	}
	for _, l := range f.Loops {
		uses = append(uses, l...)
	}
	loops, err := k.link(f.Carrier, uses)
	if err != nil {
		return err
	}
	outer := 0
	for i, l := range loops {
		if slices.ContainsFunc(l, func(x Use) bool { return k.Edges[x.Edge].Seam }) {
			loops[outer], loops[i] = loops[i], loops[outer]
			outer++
		}
	}
	if outer != 1 {
		return k.fail("a seam does not make one outline of a face", f.Carrier, k.Vertices[at[0]])
	}
	f.Loops, f.Seam, f.cut = loops, u, true
	f.U = [2]float64{u, u + 2*math.Pi}
	return nil
}

// open returns the vertex at a gate, which it makes if there is none.
func (k *cutter) open(f *Face, g *gate, done map[int]*opened) int {
	switch {
	case g.vertex >= 0:
		return g.vertex
	case g.edge < 0:
		return k.addVertex(tipPoint(f.Carrier, g.v))
	}
	o := done[g.edge]
	if o == nil {
		o = &opened{parts: []int{g.edge}}
		done[g.edge] = o
	}
	e := k.Edges[g.edge]
	if len(o.parts) == 1 && o.period == 0 && k.free(e) {
		o.period = e.T1 - e.T0
		return k.turn(e, g.t)
	}
	t := g.t
	if t < e.T0 {
		t += o.period
	}
	v := -1
	for _, i := range o.parts {
		if e := k.Edges[i]; t > e.T0 && t < e.T1 {
			v = k.split(i, t)
			o.parts = append(o.parts, len(k.Edges)-1)
			break
		}
	}
	return v
}

// opened is what has become of an edge in which a seam has gates.
type opened struct {
	parts  []int
	period float64 // of one that was turned to the first gate
}

func (k *cutter) addVertex(p Vec) int {
	k.Vertices = append(k.Vertices, p)
	k.meet = append(k.meet, 0)
	return len(k.Vertices) - 1
}
