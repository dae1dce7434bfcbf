package machining

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/holes"
)

// Steps off a face, mm. A ray begins outside the face by stepOut or, where a tool's way is
// asked for, by the process's own tolerance if that is more: an undercut by less comes out
// like a straight wall. What a wall rises to is asked a step inside of it.
const (
	stepOut = 1e-3
	stepIn  = 2e-2
)

// mostLean is the sine by which a face may lean over a tool and still be taken for
// straight within the tolerance; the ray tells whether it is.
const mostLean = 0.1

// Spots on a face: spotsFirst at first, spotsMore on one that is hidden in part.
const (
	spotsFirst = 24
	spotsMore  = 400
)

// face is a face with what is known of its reach.
type face struct {
	*region.Face
	area    float64
	hole    *holes.Hole // that it is the wall of
	mark    bool        // an engraving
	squared bool        // there as soon as the blank is squared
	spots   []spot
	// reach are the candidates that see each spot; good are those of them from which no
	// upright wall rises higher beside the tool than the longest cutter reaches.
	reach, good []set
}

// bench is one piece on the mill.
type bench struct {
	m      *mold.Mold
	piece  *mold.Piece
	solid  *region.Solid
	sights *sights
	holes  []holes.Hole
	faces  []face
	list   []candidate
	long   float64 // longest reach of a cutter; +Inf where the shop states none
	off    float64 // step off a face with which a tool's way is asked for, mm
	seams  []seam
	rims   []*outline // of each face, once it was asked for
	err    error      // the first one
}

// look is sights.look, which fails for solids alone that have no boundary either.
func (b *bench) look(p, d mesh.Vec) way {
	w, err := b.sights.look(p, d)
	if err != nil && b.err == nil {
		b.err = err
	}
	return w
}

// see tells whether a tool from d gets to a spot, and how high the material stands beside
// it there if it lies on an upright wall. Mating faces are flat only if they are cut
// square to the tool or along it.
func (b *bench) see(f *face, q spot, d mesh.Vec) (ok bool, beside float64) {
	along := q.n.Dot(d)
	if along < -mostLean {
		return false, 0
	}
	if along > upright && along < 1-upright && f.Carrier.Kind == solid.Plane && slices.Contains(f.Roles, mold.RoleParting) {
		return false, 0
	}
	if b.look(q.p.AddScaled(b.off, q.n), d).blocked {
		return false, 0
	}
	if along < upright {
		beside = b.look(q.p.AddScaled(-stepIn, q.n), d).rest
	}
	return true, beside
}

// judge finds the sets of a face's spots. Candidates that the job does not declare are
// tried only where none of the others reaches.
func (b *bench) judge(f *face) {
	f.reach, f.good = make([]set, len(f.spots)), make([]set, len(f.spots))
	for k, q := range f.spots {
		for i, c := range b.list {
			if !c.declared {
				continue
			}
			if ok, beside := b.see(f, q, c.Dir); ok {
				f.reach[k] |= 1 << i
				if f.hole != nil || beside <= b.long {
					f.good[k] |= 1 << i
				}
			}
		}
	}
}

// share of a face's spots for which a test holds: 1 exactly if it does for all.
func (f *face) share(holds func(k int) bool) float64 {
	sum, count := 0.0, 0
	for k, q := range f.spots {
		if holds(k) {
			sum, count = sum+q.share, count+1
		}
	}
	if count == len(f.spots) {
		return 1
	}
	return min(sum, 1)
}

// least is the area in mm² below which nothing is said of a face: a shop would not find it.
const least = 0.5

// access judges all faces, those that are hidden in part from many more points.
func (b *bench) access() {
	for i := range b.faces {
		f := &b.faces[i]
		n := spotsFirst
		if f.mark {
			n = spotsFirst / 4
		}
		f.spots = b.rim(i).spots(n)
		if f.squared {
			f.reach, f.good = make([]set, len(f.spots)), make([]set, len(f.spots))
			continue
		}
		b.judge(f)
		s := f.share(func(k int) bool { return f.reach[k] == 0 })
		if s > 0 && s < 1 && s*f.area > least {
			f.spots = b.rim(i).spots(spotsMore)
			b.judge(f)
		}
	}
}

// sets are the choices that each spot leaves, where a cutter is long enough only those, and
// each inner edge that comes out sharp from somewhere, and inner radius that some cutter
// makes.
func (b *bench) sets() []set {
	var out []set
	for i := range b.faces {
		f := &b.faces[i]
		for k := range f.spots {
			m := f.good[k]
			if m == 0 {
				m = f.reach[k]
			}
			if m != 0 && !slices.Contains(out, m) {
				out = append(out, m)
			}
		}
	}
	for _, m := range slices.Concat(b.squareFrom(), b.roundFrom()) {
		if !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out
}

// hidden lists the faces that no declared direction reaches, the largest first.
func (b *bench) hidden() []Hidden {
	var out []Hidden
	for i := range b.faces {
		f := &b.faces[i]
		s := f.share(func(k int) bool { return f.reach[k] == 0 })
		if f.squared || s*f.area < least {
			continue
		}
		// Evenly spread points do better than the binomial law of points at random, which
		// is an upper bound of the error.
		h := Hidden{Roles: f.Roles, Count: 1, Shapes: []string{f.Carrier.Kind.String()}, Area: s * f.area, Of: f.area,
			Error: f.area * math.Sqrt(s*(1-s)/float64(len(f.spots)))}
		var left []int
		for k := range f.spots {
			if f.reach[k] == 0 {
				left = append(left, k)
			}
		}
		h.At = f.spots[left[len(left)/2]].p
		h.Reaches = b.wouldReach(f, left, math.Inf(1))
		h.Change = b.open(f, h.Reaches)
		out = append(out, h)
	}
	slices.SortStableFunc(out, func(a, b Hidden) int { return -compare(a.Area, b.Area) })
	return out
}

// gather adds up hidden faces of the same roles that the same change brings into reach;
// the first of them, the largest, tells where.
func gather(all []Hidden) (out []Hidden) {
	for _, h := range all {
		i := slices.IndexFunc(out, func(x Hidden) bool {
			return slices.Equal(x.Roles, h.Roles) && x.Change.Key == h.Change.Key && x.Change.Allowed == h.Change.Allowed &&
				(x.Change.Key != "" || x.Change.Hint == h.Change.Hint) && (len(x.Reaches) == 0) == (len(h.Reaches) == 0)
		})
		if i < 0 {
			out = append(out, h)
			continue
		}
		x := &out[i]
		x.Count, x.Area, x.Of, x.Error = x.Count+1, x.Area+h.Area, x.Of+h.Of, math.Hypot(x.Error, h.Error)
		x.Shapes = union(x.Shapes, h.Shapes)
		for _, d := range h.Reaches {
			if !slices.ContainsFunc(x.Reaches, func(e Direction) bool { return e.Name == d.Name }) {
				x.Reaches = append(x.Reaches, d)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Hidden) int { return -compare(a.Area, b.Area) })
	return out
}

func compare(a, b float64) int {
	switch {
	case a < b-1e-9:
		return -1
	case a > b+1e-9:
		return 1
	}
	return 0
}

// wouldReach are the fewest directions, among those that the job does not declare, that
// reach all of what is hidden, as a few of its spots tell; none for what is undercut from
// everywhere. Beside upright walls the tool goes down deep mm at most.
func (b *bench) wouldReach(f *face, left []int, deep float64) []Direction {
	var sets []set
	var from set
	for i := 0; i < len(left); i += 1 + len(left)/spotsFirst {
		k := left[i]
		var m set
		for i, c := range b.list {
			if ok, beside := b.see(f, f.spots[k], c.Dir); ok && !c.declared && beside <= deep {
				m |= 1 << i
			}
		}
		if m == 0 {
			return nil
		}
		sets, from = append(sets, m), from|m
	}
	var out []Direction
	chosen := fewest(from, sets)
	for i, c := range b.list {
		if chosen.has(i) {
			out = append(out, c.Direction)
		}
	}
	return out
}

// holeOf is the round hole whose wall a face is, of those of the piece.
func holeOf(f *region.Face, all []holes.Hole) *holes.Hole {
	c := f.Carrier
	if c.Kind != solid.Cylinder && c.Kind != solid.Cone || !f.Negative {
		return nil
	}
	for i := range all {
		h := &all[i]
		off := h.At.Sub(c.Frame.O)
		if c.Frame.Z.Cross(h.Dir).Norm() > upright || off.AddScaled(-off.Dot(c.Frame.Z), c.Frame.Z).Norm() > stepOut {
			continue
		}
		for _, v := range f.V {
			p := c.P(0, v)
			if d := p.Sub(h.At).Dot(h.Dir); d > -stepOut && d < h.Depth()+stepOut {
				return h
			}
		}
	}
	return nil
}
