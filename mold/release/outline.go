package release

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/hub"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
)

// span is a stretch of the tread's outline, from the lower end up, along which the
// radius only grows or only shrinks.
type span struct {
	a, b solid.Point2 // (radius, height)
	elem int          // the outline's segment that it is a part of
}

// middle is the height of the span's middle.
func (s *span) middle() float64 { return (s.a[1] + s.b[1]) / 2 }

// spans are the tread's outline between two heights, from the lower face up, broken at
// all given heights too.
func spans(t *mold.Tread, lo, hi float64, at ...float64) []span {
	at = append(at, lo, hi)
	var out []span
	for i, e := range t.Cavity().Elems() {
		if e.Role != mold.RoleTread {
			continue // floor and ceiling
		}
		p := points(&e, at)
		for k := range len(p) - 1 {
			s := span{p[k], p[k+1], i}
			if m := s.middle(); m >= lo && m <= hi {
				out = append(out, s)
			}
		}
	}
	return out
}

// points are a segment's ends, an arc's outermost points in all four directions, and
// where it passes the given heights, in the sense of travel.
func points(e *solid.Elem, heights []float64) []solid.Point2 {
	if !e.Arc {
		return onLine(e, heights)
	}
	t0, t1 := e.Angles()
	angles := []float64{0, math.Pi / 2, math.Pi, -math.Pi / 2}
	for _, z := range heights {
		if s := (z - e.C[1]) / e.R; math.Abs(s) < 1 {
			angles = append(angles, math.Asin(s), math.Pi-math.Asin(s))
		}
	}
	var along []float64 // parts of the arc's sweep
	for _, a := range angles {
		if k := solid.WrapAngle(a-t0) / (t1 - t0); k > 0 && k < 1 {
			along = append(along, k)
		}
	}
	slices.Sort(along)
	out := []solid.Point2{e.A}
	for _, k := range along {
		sn, cs := math.Sincos(t0 + k*(t1-t0))
		out = append(out, solid.Point2{e.C[0] + e.R*cs, e.C[1] + e.R*sn})
	}
	return append(out, e.B)
}

func onLine(e *solid.Elem, heights []float64) []solid.Point2 {
	out := []solid.Point2{e.A, e.B}
	for _, z := range heights {
		if z > e.A[1] && z < e.B[1] {
			k := (z - e.A[1]) / (e.B[1] - e.A[1])
			out = append(out, solid.Point2{e.A[0] + k*(e.B[0]-e.A[0]), z})
		}
	}
	slices.SortStableFunc(out[1:], func(a, b solid.Point2) int { return cmp.Compare(a[1], b[1]) })
	return out
}

// bondR is the radius of what holds the rubber at a height: the hub's body or flange,
// its grooves aside, or what meets its ends.
func bondR(c *hub.Core, z float64) float64 {
	if z < c.Z0+c.FlangeT || z > c.Z1()-c.FlangeT {
		return c.EndR()
	}
	return c.BodyR
}

// ends are the heights between which bondR does not change.
func ends(c *hub.Core) []float64 {
	return []float64{c.Z0 + c.FlangeT, c.Z1() - c.FlangeT}
}

// passage is where the rubber gives way most as it leaves upward, or else downward:
// by how much, of what thickness, at which height, and the height of what it passes.
type passage struct{ by, of, at, past float64 }

// tightest finds it: from the opening inward, each radius against the least before it.
// Along a span the radius only grows or shrinks, so that its ends tell all.
func tightest(all []span, c *hub.Core, up bool) passage {
	all = slices.Clone(all)
	if up {
		slices.Reverse(all)
	}
	var worst passage
	narrow, past := math.Inf(1), 0.0
	for i := range all {
		s := &all[i]
		bond := bondR(c, s.middle())
		first, second := s.a, s.b
		if up {
			first, second = second, first
		}
		for _, p := range []solid.Point2{first, second} {
			if p[0] < narrow {
				narrow, past = p[0], p[1]
			}
			x := passage{p[0] - narrow, p[0] - bond, p[1], past}
			if x.by > 0 && (worst.by == 0 || x.by/x.of > worst.by/worst.of) {
				worst = x
			}
		}
	}
	return worst
}

// drafts are the walls of the tread between two heights: the least angle away from the
// pull among the chords of the outline's segments. Where the outline leans the wrong
// way rubber is squeezed, which is judged apart.
func drafts(all []span, up bool) (least float64, found bool) {
	least = 90
	for i := 0; i < len(all); {
		k := i
		for k+1 < len(all) && all[k+1].elem == all[i].elem {
			k++
		}
		dr, dz := all[k].b[0]-all[i].a[0], all[k].b[1]-all[i].a[1]
		if !up {
			dr = -dr
		}
		if dz >= leastWall {
			found = true
			least = min(least, max(0, math.Atan2(dr, dz)*180/math.Pi))
		}
		i = k + 1
	}
	return least, found
}
