package machining

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/holes"
)

// drillDepth is how deep a twist drill drills, in diameters: common practice, with the
// chips cleared again and again.
const drillDepth = 10

// pilotDepth is how deep, in diameters, a counterbore with a pilot cuts a flat floor: enough
// for the head of any screw. Assumed.
const pilotDepth = 2

// deepHoles lists the parts of holes that are deeper than a twist drill drills.
func (b *bench) deepHoles() []Deep {
	var out []Deep
	for i := range b.holes {
		h := &b.holes[i]
		for k := range h.Steps {
			x := Deep{Sort: Hole, Name: h.Name, Roles: []string{h.Role}, Count: 1, Depth: b.drillTo(h, k), Diameter: narrowest(&h.Steps[k]), At: h.At}
			x.Reach = drillDepth * x.Diameter
			if seat, ok := b.counterbore(h, k); ok { // whose tool drills it, too
				out = addHole(out, seat)
			} else if x.Depth > x.Reach+sameRadius {
				x.Change = b.wider(&x)
				out = addHole(out, x)
			}
		}
	}
	return out
}

// addHole adds a deep hole to those alike.
func addHole(all []Deep, x Deep) []Deep {
	i := slices.IndexFunc(all, func(y Deep) bool {
		return y.Sort == x.Sort && math.Abs(x.Depth-y.Depth) < sameRadius && math.Abs(x.Diameter-y.Diameter) < sameRadius && x.Roles[0] == y.Roles[0]
	})
	if i < 0 {
		return append(all, x)
	}
	all[i].Count++
	return all
}

// counterbore tells whether a step of a hole ends in a flat floor that neither an end mill
// which fits nor a counterbore with a pilot gets down to. The floor is cut from where the step opens, whatever drills the rest.
func (b *bench) counterbore(h *holes.Hole, k int) (x Deep, ok bool) {
	s := &h.Steps[k]
	depth := s.To
	switch {
	case h.Role == mold.RoleJack: // a clearance behind a thread: nothing sits on its floor
		return x, false
	case k+1 < len(h.Steps) && max(h.Steps[k+1].D0, h.Steps[k+1].D1) < s.D1-sameRadius:
	case k > 0 && max(h.Steps[k-1].D0, h.Steps[k-1].D1) < s.D0-sameRadius && h.Through:
		depth = h.Depth() - s.From
	default:
		return x, false
	}
	x = Deep{Sort: Counterbore, Name: h.Name, Roles: []string{h.Role}, Count: 1, Depth: depth, Diameter: narrowest(s), At: h.At}
	x.Reach = pilotDepth * x.Diameter
	for _, c := range b.m.Job.Machining.Cutters {
		if !ball(c) && c.Diameter <= x.Diameter+sameRadius {
			x.Reach = max(x.Reach, c.Reach)
		}
	}
	x.Change = b.shallower(&x)
	return x, depth > x.Reach+sameRadius && len(b.list) > 0 && len(b.m.Job.Machining.Cutters) > 0
}

// drillTo is how deep a drill has to go for one step of a hole, mm: from its opening, or
// from its other end where the tool gets there, if no narrower step is in the way; where
// both ends will do, the drills meet as near to the middle as the step goes.
func (b *bench) drillTo(h *holes.Hole, k int) float64 {
	s, depth := &h.Steps[k], h.Depth()
	free := func(steps []holes.Step) bool {
		return !slices.ContainsFunc(steps, func(t holes.Step) bool { return narrowest(&t) < narrowest(s)-sameRadius })
	}
	near := free(h.Steps[:k]) && b.offers(h.Dir.Scale(-1))
	far := h.Through && free(h.Steps[k+1:]) && b.offers(h.Dir)
	switch {
	case near && far:
		at := max(s.From, min(s.To, depth/2))
		return max(meet(at > s.From, at), meet(at < s.To, depth-at))
	case far:
		return depth - s.From
	}
	return s.To
}

// narrowest is a step's least diameter, mm.
func narrowest(s *holes.Step) float64 { return min(s.D0, s.D1) }

// meet is v if a drill comes from that end at all.
func meet(comes bool, v float64) float64 {
	if comes {
		return v
	}
	return 0
}

// offers tells whether the job has the piece cut from a direction. On a lathe's own axis
// it always has.
func (b *bench) offers(d mesh.Vec) bool {
	return len(b.list) == 0 || slices.ContainsFunc(b.list, func(c candidate) bool { return c.declared && c.Dir.Dot(d) > 1-upright })
}

// deepWalls lists the upright walls beside which no cutter gets to the bottom, from
// whatever direction.
func (b *bench) deepWalls() []Deep {
	var out []Deep
	for i := range b.faces {
		f := &b.faces[i]
		short := func(k int) bool { return f.reach[k] != 0 && f.good[k] == 0 }
		if f.share(short)*f.area < least {
			continue
		}
		x := Deep{Sort: Wall, Roles: f.Roles, Count: 1, Reach: b.long}
		for k, q := range f.spots {
			if short(k) {
				b.deepen(&x, f, q)
			}
		}
		for _, q := range b.borderSpots(i) { // the deepest places are at an edge
			b.deepen(&x, f, q)
		}
		x.Change = b.longer(&x, f, short)
		out = merge(out, x)
	}
	return out
}

// deepen takes the depth that the tool has to go down to a spot, from where it is least.
func (b *bench) deepen(x *Deep, f *face, q spot) {
	need := math.Inf(1)
	for _, c := range b.list {
		if ok, beside := b.see(f, q, c.Dir); ok && c.declared {
			need = min(need, beside)
		}
	}
	if !math.IsInf(need, 1) && need > x.Depth {
		x.Depth, x.At = need, q.p
	}
}

// borderSpots are points of a face just beside its edges.
func (b *bench) borderSpots(i int) []spot {
	const beside = 0.05 // mm, clear of what stands on the other side of the edge
	var out []spot
	for _, s := range b.seams {
		for k := range 2 {
			if s.face[k] != i {
				continue
			}
			for n := range cornerSpots + 1 {
				x := b.at(&s, .01+.98*float64(n)/cornerSpots)
				p := b.faces[i].Carrier.Project(x.p.AddScaled(beside, x.in[k]))
				out = append(out, spot{p: p, n: outward(b.faces[i].Face, p)})
			}
		}
	}
	return out
}

// merge adds a deep place to those of the same faces: the worst of them counts.
func merge(all []Deep, x Deep) []Deep {
	for i := range all {
		y := &all[i]
		if y.Sort != x.Sort || !slices.Equal(y.Roles, x.Roles) {
			continue
		}
		n := y.Count + x.Count
		if worse(&x, y) {
			*y = x
		}
		y.Count = n
		return all
	}
	return append(all, x)
}

// worse tells which of two places of one sort is harder to cut: the narrower gap, else the
// deeper one.
func worse(x, y *Deep) bool {
	if d := x.Diameter - y.Diameter; math.Abs(d) > sameRadius {
		return d < 0
	}
	return x.Depth > y.Depth
}

// slots lists the gaps between upright walls that no cutter is slender enough for. Of a
// face that turns a few points are asked, each of which looks another way.
func (b *bench) slots(us []SetUp) []Deep {
	const few = 4
	var out []Deep
	from := directions(us)
	for i := range b.faces {
		f := &b.faces[i]
		if f.hole != nil || f.mark || len(b.m.Job.Machining.Cutters) == 0 {
			continue
		}
		step := 1
		if f.Carrier.Kind != solid.Plane {
			step = max(1, len(f.spots)/few)
		}
		var worst Deep
		for k := 0; k < len(f.spots); k += step {
			if x, ok := b.slot(f, k, from); ok && (worst.Sort == "" || worse(&x, &worst)) {
				worst = x
			}
		}
		if worst.Sort != "" {
			worst.Roles, worst.Count = f.Roles, 1
			worst.Change = b.slender(&worst)
			out = merge(out, worst)
		}
	}
	return out
}

// slot tells whether a spot is on the wall of a slot that no cutter goes down in.
func (b *bench) slot(f *face, k int, from []Direction) (out Deep, ok bool) {
	q := f.spots[k]
	for _, d := range from {
		if !f.reach[k].has(b.index(d)) {
			continue
		}
		if q.n.Dot(d.Dir) > upright {
			return out, false // a floor, or a slope, in this direction
		}
		gap := b.look(q.p.AddScaled(stepOut, q.n), q.n).gap
		if gap == 0 || !b.opposite(q, gap+stepOut) {
			return out, false
		}
		beside := b.look(q.p.AddScaled(-stepIn, q.n), d.Dir).rest
		x := Deep{Sort: Slot, Depth: beside, Diameter: gap + stepOut, At: q.p}
		stout := false // a cutter gets down there that is too thick
		for _, c := range b.m.Job.Machining.Cutters {
			if c.Diameter > x.Diameter+sameRadius {
				stout = stout || c.Reach >= beside
				continue
			}
			x.Reach = max(x.Reach, c.Reach)
		}
		if x.Reach >= beside || !stout {
			return out, false
		}
		if !ok || x.Reach > out.Reach {
			out, ok = x, true
		}
	}
	return out, ok
}

// opposite tells whether what lies a gap away from a spot faces it: a slope that the line
// just meets makes no slot.
func (b *bench) opposite(q spot, gap float64) bool {
	p := q.p.AddScaled(gap, q.n)
	k := b.faceAt(p)
	return k >= 0 && outward(b.faces[k].Face, p).Dot(q.n) < -.5
}
