package check

import (
	"math"
	"slices"

	"wheelmold/mesh"
)

// bunch is the number of facets in a leaf of the tree.
const bunch = 4

// tree is a binary hierarchy of boxes over facets that were sorted along a
// space-filling curve. Node 1 is the root, nodes 2n and 2n+1 are below node n;
// the nodes from leaves on hold bunch facets each.
type tree struct {
	facets []int32    // along the curve
	corner [][3]int32 // their corners, by places
	box    []mesh.Box // their boxes
	slabs  [][2]slab  // two slabs that hold each of them
	margin float64    // rounding of a position along a slab's axis, mm
	node   []mesh.Box
	leaves int // a power of two; the last ones may be empty
}

// newTree sorts all facets that have a plane.
func newTree(a *audit) *tree {
	t := &tree{facets: a.curve(), leaves: 1}
	n := len(t.facets)
	t.corner, t.box, t.slabs = make([][3]int32, n), make([]mesh.Box, n), make([][2]slab, n)
	for t.leaves*bunch < n {
		t.leaves *= 2
	}
	t.node = make([]mesh.Box, 2*t.leaves)
	for i := range t.node {
		t.node[i] = mesh.EmptyBox()
	}
	for i, f := range t.facets {
		for k, v := range a.m.T[f] {
			t.corner[i][k] = a.same[v]
		}
		t.box[i], t.slabs[i] = a.box(f), a.slabs(f)
		leaf := &t.node[t.leaves+i/bunch]
		*leaf = leaf.Join(t.box[i])
		// A position is a sum of three products, each below the largest
		// coordinate (the axis is a unit vector), with three roundings: an error
		// below 9·unit times that. Both sides of a comparison have it; 32 leaves
		// room for the axis's length.
		for k := range 3 {
			t.margin = max(t.margin, 32*unit*math.Abs(t.box[i].Lo[k]), 32*unit*math.Abs(t.box[i].Hi[k]))
		}
	}
	for i := t.leaves - 1; i > 0; i-- {
		t.node[i] = t.node[2*i].Join(t.node[2*i+1])
	}
	return t
}

// curve returns the facets that have a plane in the order of a Morton curve
// through the centers of their boxes.
func (a *audit) curve() []int32 {
	all := mesh.EmptyBox()
	for i := range a.m.T {
		if a.flaw[i]&noGeometry == 0 {
			all = all.Join(a.box(int32(i)))
		}
	}
	const cells = 1 << 10 // per axis: three interleaved fit in 30 bits
	span := max(all.Hi[0]-all.Lo[0], all.Hi[1]-all.Lo[1], all.Hi[2]-all.Lo[2])
	scale := (cells - 1) / 2 / math.Max(span, math.SmallestNonzeroFloat64)
	keys := make([]uint64, 0, len(a.m.T))
	for i := range a.m.T {
		if a.flaw[i]&noGeometry != 0 {
			continue
		}
		b, code := a.box(int32(i)), uint64(0)
		for k := range 3 {
			// A span that overflows makes NaN here: one cell then holds all.
			if x := (b.Lo[k] - all.Lo[k] + b.Hi[k] - all.Lo[k]) * scale; x > 0 {
				code |= spread(uint64(min(x, cells-1))) << k
			}
		}
		keys = append(keys, code<<32|uint64(i))
	}
	slices.Sort(keys)
	out := make([]int32, len(keys))
	for i, k := range keys {
		out[i] = int32(uint32(k))
	}
	return out
}

// spread moves the ten low bits of x three places apart.
func spread(x uint64) uint64 {
	x = (x | x<<16) & 0x030000ff
	x = (x | x<<8) & 0x0300f00f
	x = (x | x<<4) & 0x030c30c3
	return (x | x<<2) & 0x09249249
}

// search returns the crossing pairs, lower facet first, whose earlier facet on
// the curve lies in leaves from to to-1, and stops soon after limit.
func (t *tree) search(a *audit, from, to, limit int) [][2]int32 {
	var found [][2]int32
	var stack []int
	for l := from; l < to && len(found) < limit; l++ {
		own := t.leaves + l
		box := t.node[own]
		// The leaves after this one: whatever hangs to the right of its way up.
		stack = append(stack[:0], own)
		for n := own; n > 1; n /= 2 {
			if n%2 == 0 {
				stack = append(stack, n+1)
			}
		}
		for len(stack) > 0 && len(found) < limit {
			n := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			switch {
			case !box.Overlaps(t.node[n], 0):
			case n < t.leaves:
				stack = append(stack, 2*n, 2*n+1)
			default:
				found = t.judge(a, l, n-t.leaves, found)
			}
		}
	}
	return found
}

// judge appends the crossing pairs between two leaves, or within one.
func (t *tree) judge(a *audit, l, m int, found [][2]int32) [][2]int32 {
	for i := l * bunch; i < min((l+1)*bunch, len(t.facets)); i++ {
		for j := max(i+1, m*bunch); j < min((m+1)*bunch, len(t.facets)); j++ {
			if t.box[i].Overlaps(t.box[j], 0) && t.cross(&a.pts, i, j) {
				f, g := t.facets[i], t.facets[j]
				found = append(found, [2]int32{min(f, g), max(f, g)})
			}
		}
	}
	return found
}

// cross reports whether the facets i and j, places along the curve, meet in
// more than the vertices they share. Slabs settle nearly all pairs at a tenth
// of the price of exact predicates.
func (t *tree) cross(p *points, i, j int) bool {
	s, u, shared := align(t.corner[i], t.corner[j])
	if t.clear(p, i, u, shared) || t.clear(p, j, s, shared) {
		return false
	}
	return p.cross(s, u, shared)
}

// clear reports whether facet i certainly meets u in nothing but the first,
// shared, corners of u.
func (t *tree) clear(p *points, i int, u [3]int32, shared int) bool {
	for k := range t.slabs[i] {
		if k == 1 && shared > 0 {
			break // only off its own plane does a facet meet u in shared corners alone
		}
		s := &t.slabs[i][k]
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, v := range u[shared:] {
			x := s.axis.Dot(p.v[v])
			lo, hi = min(lo, x), max(hi, x)
		}
		if lo > s.hi+t.margin || hi < s.lo-t.margin {
			return shared < 3
		}
	}
	return false
}

// slab is the space between two parallel planes that hold a facet.
type slab struct {
	axis   mesh.Vec // unit
	lo, hi float64  // along axis, mm
}

// slabs returns the thinnest slab about a facet, normal to it, and the thinnest
// in its plane, along its longest side: slivers side by side, whose boxes
// overlap, lie apart in the second. An axis may be any direction at all (NaN
// settles nothing), so rounding does no harm.
func (a *audit) slabs(f int32) [2]slab {
	t := a.m.T[f]
	var long mesh.Vec
	for k := range 3 {
		if e := a.m.V[t[(k+1)%3]].Sub(a.m.V[t[k]]); e.Dot(e) > long.Dot(long) {
			long = e
		}
	}
	n := a.m.Normal(int(f)).Unit()
	out := [2]slab{{axis: n}, {axis: n.Cross(long).Unit()}}
	for i := range out {
		s := &out[i]
		x, y, z := s.axis.Dot(a.m.V[t[0]]), s.axis.Dot(a.m.V[t[1]]), s.axis.Dot(a.m.V[t[2]])
		s.lo, s.hi = min(x, y, z), max(x, y, z)
	}
	return out
}
