package tess

import (
	"errors"
	"math"
	"slices"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

var (
	errUnpaired = errors.New("facets of neighboring faces do not pair up")
	errNoArea   = errors.New("a facet has no area")
	errEmpty    = errors.New("the boundary has no facets")
)

// snapped returns p rounded to the lattice. Adding 0 turns -0 into 0.
func snapped(p Vec) Vec {
	for i, x := range p {
		p[i] = math.Round(x*(1/solid.Lattice))*solid.Lattice + 0
	}
	return p
}

// join makes one mesh of all facets, its vertices rounded to the lattice.
// Vertices that fall together are welded, and facets that this closes dropped.
func (w *work) join() (*mesh.Mesh, error) {
	total, facetCount := len(w.shared), 0
	for i := range w.faces {
		total += len(w.faces[i].own)
		facetCount += len(w.faces[i].tri)
	}
	m := &mesh.Mesh{
		V: make([]Vec, 0, total), T: make([][3]int32, 0, facetCount), Label: make([]int32, 0, facetCount),
	}
	weld := newWelder(m, total)
	index := make([]int32, len(w.shared))
	for i := range index {
		index[i] = -1
	}
	var own []int32
	for f := range w.faces {
		face := &w.faces[f]
		own = append(own[:0], make([]int32, len(face.own))...)
		for i := range own {
			own[i] = -1
		}
		at := func(id int32) int32 {
			list, points := index, w.shared
			if id < 0 {
				id, list, points = ^id, own, face.own
			}
			if list[id] < 0 {
				list[id] = weld.vertex(snapped(points[id]))
			}
			return list[id]
		}
		for _, t := range face.tri {
			a, b, c := at(t[0]), at(t[1]), at(t[2])
			if a != b && b != c && c != a {
				m.T = append(m.T, [3]int32{a, b, c})
				m.Label = append(m.Label, int32(f))
			}
		}
	}
	if len(m.T) == 0 {
		return nil, errEmpty
	}
	for _, p := range m.V {
		if r := max(math.Abs(p[0]), math.Abs(p[1]), math.Abs(p[2])); r > Reach {
			return nil, errReach
		}
	}
	w.turnSlivers(m)
	if err := w.check(m); err != nil {
		return nil, err
	}
	return m, w.crossings(m)
}

// welder gives equal points one index.
type welder struct {
	m     *mesh.Mesh
	table []int32 // open addressing: index of a vertex + 1
	mask  uint64
}

func newWelder(m *mesh.Mesh, n int) *welder {
	size := 16
	for size < 2*n {
		size *= 2
	}
	return &welder{m: m, table: make([]int32, size), mask: uint64(size - 1)}
}

func (w *welder) vertex(p Vec) int32 {
	h := math.Float64bits(p[0])*0x9E3779B97F4A7C15 ^ math.Float64bits(p[1])*0xC2B2AE3D27D4EB4F ^ math.Float64bits(p[2])*0x165667B19E3779F9
	h ^= h >> 29
	h *= 0xBF58476D1CE4E5B9
	for h ^= h >> 32; ; h++ {
		slot := &w.table[h&w.mask]
		if *slot == 0 {
			w.m.V = append(w.m.V, p)
			*slot = int32(len(w.m.V))
			return *slot - 1
		}
		if w.m.V[*slot-1] == p {
			return *slot - 1
		}
	}
}

// corner is one corner of a facet, seen from its vertex.
type corner struct {
	next, prev int32 // the facet's other vertices, in order
	tri        int32
}

// check proves what Mesh promises of the surface: every facet has an area, every
// side is the reverse of exactly one other, and the facets around each vertex
// form one ring.
func (w *work) check(m *mesh.Mesh) error {
	start := make([]int32, len(m.V)+1)
	for i, t := range m.T {
		if m.Normal(i) == (Vec{}) {
			return errNoArea
		}
		for _, v := range t {
			start[v+1]++
		}
	}
	for v := range m.V {
		start[v+1] += start[v]
	}
	corners := make([]corner, len(m.T)*3)
	at := slices.Clone(start[:len(m.V)])
	for i, t := range m.T {
		for k, v := range t {
			corners[at[v]] = corner{t[(k+1)%3], t[(k+2)%3], int32(i)}
			at[v]++
		}
	}
	for v := range m.V {
		around := corners[start[v]:start[v+1]]
		rings, ok := ringCount(around)
		if !ok {
			return errUnpaired
		}
		if rings > 1 {
			return w.pinch(m, m.V[v], around)
		}
	}
	return nil
}

// ringCount orders the corners around a vertex so that each begins where the one
// before ends, and returns how many closed rings they make. It reports false
// if a side has no partner or several.
func ringCount(c []corner) (rings int, ok bool) {
	if len(c) > 12 {
		slices.SortFunc(c, func(a, b corner) int { return int(a.next - b.next) })
		for i := range c[1:] {
			if c[i].next == c[i+1].next {
				return 0, false
			}
		}
		return ringCountSorted(c)
	}
	for i := 0; i < len(c); {
		first := c[i].next
		i++
		rings++
		for c[i-1].prev != first {
			j := i
			for j < len(c) && c[j].next != c[i-1].prev {
				j++
			}
			if j == len(c) {
				return 0, false
			}
			c[i], c[j] = c[j], c[i]
			i++
		}
	}
	// Each side was matched once; a second use of one would have been left over
	// and made a ring of its own, which is then no ring but the same sides again.
	for i := range c {
		for j := range i {
			if c[i].next == c[j].next {
				return 0, false
			}
		}
	}
	return rings, true
}

// ringCountSorted does it for corners sorted by next, none equal.
func ringCountSorted(c []corner) (rings int, ok bool) {
	left := len(c)
	seen := make([]bool, len(c))
	for i := range c {
		if seen[i] {
			continue
		}
		rings++
		for k := i; !seen[k]; {
			seen[k] = true
			left--
			n, found := slices.BinarySearchFunc(c, c[k].prev, func(a corner, v int32) int { return int(a.next - v) })
			if !found || seen[n] && n != i {
				return 0, false
			}
			k = n
		}
	}
	return rings, left == 0
}

// pinch refuses the features whose faces meet in the vertex p alone.
func (w *work) pinch(m *mesh.Mesh, p Vec, around []corner) error {
	var names []string
	for _, c := range around {
		f := w.b.Faces[m.Label[c.tri]]
		if n := featureAt(w.b, f, center(m, int(c.tri))); n != "" && !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	slices.SortFunc(names, strings.Compare)
	return &brep.Refusal{Kind: brep.TouchPoint, Names: names, At: p}
}

// center of a facet.
func center(m *mesh.Mesh, i int) Vec {
	t := m.T[i]
	return m.V[t[0]].Add(m.V[t[1]]).Add(m.V[t[2]]).Scale(1. / 3)
}

// featureAt names the leaf that bears face f near p.
func featureAt(b *brep.Boundary, f *brep.Face, p Vec) string {
	name := ""
	p = f.Carrier.Project(p)
	for _, l := range b.Root.Leaves() {
		for i := range l.Patches {
			q := &l.Patches[i]
			if q.Carrier.ID != f.Carrier.ID {
				continue
			}
			if name == "" {
				name = l.Name
			}
			if q.Holds(p, 2*solid.Lattice) {
				return l.Name
			}
		}
	}
	return name
}
