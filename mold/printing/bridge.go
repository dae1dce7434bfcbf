package printing

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh"
)

// level is how little of a ceiling's facet may point aside for it to count as level:
// its normal's lean from the vertical, as 1 - cos.
const level = 1e-9

// bridges finds the facets of level ceilings that span from wall to wall: strands can
// be drawn across without supports. All of a ceiling's border that hangs free must
// run along the strands, and none of them be longer than the longest bridge, mm.
func (d *body) bridges(longest float64) map[int]bool {
	out := map[int]bool{}
	if longest <= 0 {
		return out
	}
	across := d.neighbors()
	for _, c := range d.ceilings(across) {
		if d.spans(c, across, longest) {
			for _, i := range c {
				out[i] = true
			}
		}
	}
	return out
}

// side is one directed side of a facet, from a vertex to the next.
type side struct{ from, to int32 }

// neighbors maps each side to the facet that has it.
func (d *body) neighbors() map[side]int {
	out := make(map[side]int, 3*len(d.mesh.T))
	for i, t := range d.mesh.T {
		for k := range 3 {
			out[side{t[k], t[(k+1)%3]}] = i
		}
	}
	return out
}

// ceilings gathers level facets that face down, off the bed, into those that hang
// together.
func (d *body) ceilings(across map[side]int) (all [][]int) {
	seen := make([]bool, len(d.mesh.T))
	for i := range d.mesh.T {
		if seen[i] || !d.ceiling(i) {
			continue
		}
		seen[i] = true
		group := []int{i}
		for k := 0; k < len(group); k++ {
			t := d.mesh.T[group[k]]
			for e := range 3 {
				if n := across[side{t[(e+1)%3], t[e]}]; !seen[n] && d.ceiling(n) {
					seen[n] = true
					group = append(group, n)
				}
			}
		}
		all = append(all, group)
	}
	return all
}

func (d *body) ceiling(i int) bool {
	return d.mesh.Normal(i).Unit()[2] < -1+level && !d.lies(i)
}

// rim is a piece of a ceiling's border that has no wall below it.
type rim struct{ a, b mesh.Vec }

// rims lists the free border of a ceiling: beyond it the surface goes up.
func (d *body) rims(group []int, across map[side]int) (free []rim) {
	for _, i := range group {
		t := d.mesh.T[i]
		z := d.mesh.V[t[0]][2]
		for e := range 3 {
			n := across[side{t[(e+1)%3], t[e]}]
			c := d.corners(n)
			if c[0][2]+c[1][2]+c[2][2] > 3*z+onBed {
				free = append(free, rim{d.mesh.V[t[e]], d.mesh.V[t[(e+1)%3]]})
			}
		}
	}
	return free
}

// directions are tried for the strands of a ceiling with walls all around.
const directions = 8

// spans reports whether strands of the longest bridge cover a ceiling.
func (d *body) spans(group []int, across map[side]int, longest float64) bool {
	free := d.rims(group, across)
	if len(free) > 0 {
		along := free[0].b.Sub(free[0].a).Unit()
		for _, r := range free {
			s := r.b.Sub(r.a)
			if math.Abs(s[0]*along[1]-s[1]*along[0]) > onBed {
				return false
			}
		}
		return d.widest(group, along) <= longest
	}
	for k := range directions {
		sin, cos := math.Sincos(math.Pi * float64(k) / directions)
		if d.widest(group, mesh.Vec{cos, sin, 0}) <= longest {
			return true
		}
	}
	return false
}

// widest is the longest straight line along a direction within a ceiling, mm. Its
// length is linear between the corners' offsets, so that one just beside each tells.
func (d *body) widest(group []int, along mesh.Vec) (most float64) {
	aside := mesh.Vec{-along[1], along[0], 0}
	var offsets []float64
	for _, i := range group {
		for _, c := range d.corners(i) {
			offsets = append(offsets, aside.Dot(c)-beside, aside.Dot(c)+beside)
		}
	}
	slices.Sort(offsets)
	for _, o := range slices.Compact(offsets) {
		most = max(most, d.chord(group, along, aside, o))
	}
	return most
}

// beside is how far from a corner a line is taken, mm: well above a lattice step's
// rounding, well below what shows.
const beside = 1e-3

// chord is the longest line along a direction at an offset, within a ceiling.
func (d *body) chord(group []int, along, aside mesh.Vec, offset float64) (most float64) {
	var parts [][2]float64
	for _, i := range group {
		if p, ok := d.cut(i, along, aside, offset); ok {
			parts = append(parts, p)
		}
	}
	slices.SortFunc(parts, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	end, begin := math.Inf(-1), 0.0
	for _, p := range parts {
		if p[0] > end+beside {
			begin = p[0]
		}
		end = max(end, p[1])
		most = max(most, end-begin)
	}
	return most
}

// cut is where a line at an offset runs within a facet, along it.
func (d *body) cut(i int, along, aside mesh.Vec, offset float64) (at [2]float64, ok bool) {
	at = [2]float64{math.Inf(1), math.Inf(-1)}
	c := d.corners(i)
	for k := range 3 {
		a, b := c[k], c[(k+1)%3]
		sa, sb := aside.Dot(a)-offset, aside.Dot(b)-offset
		if (sa > 0) == (sb > 0) {
			continue
		}
		t := along.Dot(a) + (along.Dot(b)-along.Dot(a))*sa/(sa-sb)
		at[0], at[1] = min(at[0], t), max(at[1], t)
	}
	return at, at[0] <= at[1]
}
