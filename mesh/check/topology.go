package check

import (
	"math"
	"slices"

	"wheelmold/mesh"
)

// topology is the mesh seen through its half-edges: half-edge 3·t+k of facet t
// runs from corner k to the next one.
type topology struct {
	edge []int32 // edge[h] is the number of h's edge, -1 on facets left out
	// mate[h] is the half-edge that runs back along h's edge, -1 where not
	// exactly one does.
	mate  []int32
	shell []int32 // shell[t] is the number of t's shell, -1 on facets left out
	n     int     // number of shells
}

// next returns the half-edge after h in its facet, prev the one before.
func next(h int32) int32 { return h + 1 - h%3/2*3 }
func prev(h int32) int32 { return next(next(h)) }

// from returns the vertex where h starts.
func (a *audit) from(h int32) int32 { return a.m.T[h/3][h%3] }

// topology pairs the half-edges, and reports edges and vertices that do not
// belong to a closed surface.
func (a *audit) topology() *topology {
	n := 3 * len(a.m.T)
	t := &topology{edge: make([]int32, n), mate: make([]int32, n), shell: make([]int32, len(a.m.T))}
	for h := range n {
		t.edge[h], t.mate[h] = -1, -1
	}
	sets := newSets(len(a.m.T))
	torn := make([]bool, len(a.m.V)) // vertices on an edge that is flipped or overused
	var faulty [][]uint64
	a.eachEdge(func(uses []uint64) {
		for _, u := range uses {
			t.edge[int32(u)] = int32(a.r.Edges)
			sets.join(int32(uses[0])/3, int32(u)/3)
		}
		a.r.Edges++
		if len(uses) == 2 {
			h, g := int32(uses[0]), int32(uses[1])
			if a.from(h) != a.from(g) {
				t.mate[h], t.mate[g] = g, h
				return
			}
		}
		faulty = append(faulty, slices.Clone(uses))
		if len(uses) > 1 {
			h := int32(uses[0])
			torn[a.from(h)], torn[a.from(next(h))] = true, true
		}
	})
	a.edgeFaults(faulty)
	a.fans(t, torn)
	a.number(t, sets)
	return t
}

// eachEdge calls f for every edge with its half-edges in rising order, packed
// below the edge's higher vertex; f must not keep the slice.
func (a *audit) eachEdge(f func(uses []uint64)) {
	start := make([]int32, len(a.m.V)+1) // bucket of edges by their lower vertex
	for i, t := range a.m.T {
		if a.flaw[i]&noTopology == 0 {
			for k := range 3 {
				start[min(t[k], t[(k+1)%3])+1]++
			}
		}
	}
	for v := range a.m.V {
		start[v+1] += start[v]
	}
	use, fill := make([]uint64, start[len(a.m.V)]), slices.Clone(start)
	for i, t := range a.m.T {
		if a.flaw[i]&noTopology == 0 {
			for k := range 3 {
				lo, hi := t[k], t[(k+1)%3]
				if lo > hi {
					lo, hi = hi, lo
				}
				use[fill[lo]] = uint64(hi)<<32 | uint64(3*i+k)
				fill[lo]++
			}
		}
	}
	for v := range a.m.V {
		b := use[start[v]:start[v+1]]
		slices.Sort(b)
		for len(b) > 0 {
			n := 1
			for n < len(b) && b[n]>>32 == b[0]>>32 {
				n++
			}
			f(b[:n])
			b = b[n:]
		}
	}
}

// edgeFaults reports faulty edges in the order of their first facet.
func (a *audit) edgeFaults(faulty [][]uint64) {
	slices.SortFunc(faulty, func(x, y []uint64) int { return int(int32(x[0])) - int(int32(y[0])) })
	for _, uses := range faulty {
		h := int32(uses[0])
		at := a.m.V[a.from(h)].Add(a.m.V[a.from(next(h))]).Scale(0.5)
		switch len(uses) {
		case 1:
			a.r.Open.add(at, int(h)/3)
		case 2:
			a.r.Flipped.add(at, int(h)/3, int(int32(uses[1]))/3)
		default:
			a.r.Overused.add(at, int(h)/3, int(int32(uses[1]))/3)
		}
	}
}

// fans counts the fans of facets around each vertex and reports vertices with
// more than one. Torn vertices are left out: their edges are reported already.
func (a *audit) fans(t *topology, torn []bool) {
	seen := make([]bool, len(t.mate))
	first := make([]int32, len(a.m.V)) // first[v] is 1 + a half-edge of v's first fan
	pinched := make([]bool, len(a.m.V))
	for h := range int32(len(t.mate)) {
		if t.edge[h] < 0 || seen[h] {
			continue
		}
		t.walk(h, seen)
		switch v := a.from(h); {
		case first[v] == 0:
			first[v] = h + 1
		case !torn[v] && !pinched[v]:
			pinched[v] = true
			a.r.Pinched.add(a.m.V[v], int(first[v]-1)/3, int(h)/3)
		}
	}
}

// walk marks the half-edges of h's fan around the vertex where h starts.
func (t *topology) walk(h int32, seen []bool) {
	for g := h; g >= 0 && !seen[g]; g = t.mate[prev(g)] {
		seen[g] = true
	}
	// An open fan goes on at the other side of h.
	for g := t.mate[h]; g >= 0 && !seen[next(g)]; g = t.mate[next(g)] {
		seen[next(g)] = true
	}
}

// number gives every shell a number, in the order of their first facets.
func (a *audit) number(t *topology, s sets) {
	num := make([]int32, len(s))
	for i := range s {
		if a.flaw[i]&noTopology != 0 {
			t.shell[i] = -1
			continue
		}
		root := s.find(int32(i))
		if num[root] == 0 {
			t.n++
			num[root] = int32(t.n)
		}
		t.shell[i] = num[root] - 1
	}
}

// shells measures every shell, and judges which way it faces. The sides of an
// open shell have no meaning, so it waits for a closed mesh.
func (a *audit) shells(t *topology) {
	r := a.r
	r.Shells = make([]Shell, t.n)
	facets := groups(t.shell, t.n)
	seen, edgeSeen := make([]int32, len(a.m.V)), make([]int32, r.Edges)
	chi := 0
	for i, fs := range facets {
		s := &r.Shells[i]
		*s = a.measure(fs)
		for _, f := range fs {
			for k, v := range a.m.T[f] {
				if seen[v] != int32(i+1) {
					seen[v] = int32(i + 1)
					s.Euler++
				}
				if e := t.edge[3*int(f)+k]; edgeSeen[e] == 0 {
					edgeSeen[e] = 1
					s.Euler--
				}
			}
		}
		chi += len(fs)
	}
	r.Euler = r.Vertices - r.Edges + chi
	if r.BadIndex.Count+r.NotFinite.Count+r.Open.Count+r.Flipped.Count+r.Overused.Count == 0 {
		a.nesting(facets)
	}
}

// groups lists the members of each of n groups.
func groups(of []int32, n int) [][]int32 {
	size := make([]int, n)
	for _, g := range of {
		if g >= 0 {
			size[g]++
		}
	}
	out := make([][]int32, n)
	for g, s := range size {
		out[g] = make([]int32, 0, s)
	}
	for i, g := range of {
		if g >= 0 {
			out[g] = append(out[g], int32(i))
		}
	}
	return out
}

// measure returns a shell's volume and bounds; its Euler number starts at the
// number of facets.
func (a *audit) measure(facets []int32) Shell {
	s := Shell{First: int(facets[0]), Triangles: len(facets), Euler: len(facets), Bounds: mesh.EmptyBox()}
	// Measured from a vertex, so that a shell far from the origin loses no digits.
	o := a.m.V[a.m.T[facets[0]][0]]
	for _, f := range facets {
		t := a.m.T[f]
		p, q, r := a.m.V[t[0]], a.m.V[t[1]], a.m.V[t[2]]
		s.Bounds = s.Bounds.Include(p).Include(q).Include(r)
		s.Volume += p.Sub(o).Dot(q.Sub(o).Cross(r.Sub(o)))
	}
	s.Volume /= 6
	return s
}

// nesting finds each shell's depth, and shells that face the wrong way for it.
func (a *audit) nesting(facets [][]int32) {
	for i := range a.r.Shells {
		s := &a.r.Shells[i]
		p := a.m.V[a.m.T[s.First][0]]
		for j, other := range a.r.Shells {
			if i != j && other.Bounds.Contains(p, 0) && a.winding(p, facets[j]) != 0 {
				s.Depth++
			}
		}
		switch void := s.Depth%2 == 1; {
		case void && s.Volume > 0:
			a.r.Buried.add(p, s.First)
		case void == (s.Volume > 0) || s.Volume == 0:
			a.r.InsideOut.add(p, s.First)
		}
	}
}

// winding returns how many times the facets wind around p: the solid angle
// under which p sees them, over 4π, rounded. The rounding is safe unless p lies
// on a facet, which the search for crossings reports.
func (a *audit) winding(p mesh.Vec, facets []int32) int {
	sum := 0.0
	for _, f := range facets {
		t := a.m.T[f]
		sum += solidAngle(a.m.V[t[0]].Sub(p), a.m.V[t[1]].Sub(p), a.m.V[t[2]].Sub(p))
	}
	return int(math.Round(sum / (4 * math.Pi)))
}

// solidAngle returns the signed solid angle of the triangle a, b, c seen from
// the origin (Van Oosterom and Strackee, 1983).
func solidAngle(a, b, c mesh.Vec) float64 {
	x, y, z := a.Norm(), b.Norm(), c.Norm()
	return 2 * math.Atan2(a.Dot(b.Cross(c)), x*y*z+a.Dot(b)*z+b.Dot(c)*x+c.Dot(a)*y)
}

// sets is a union of disjoint sets: each member points toward its set's lowest.
type sets []int32

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = int32(i)
	}
	return s
}

func (s sets) find(i int32) int32 {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

func (s sets) join(i, j int32) {
	i, j = s.find(i), s.find(j)
	s[max(i, j)] = min(i, j)
}
