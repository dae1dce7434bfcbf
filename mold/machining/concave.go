package machining

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// Radii: sameRadius is the slack that lengths on the lattice need; a ball end is one whose
// corner takes half of the cutter.
const sameRadius = 1e-3 // mm

func ball(c params.Cutter) bool {
	return c.CornerRadius > 0 && c.CornerRadius >= c.Diameter/2-sameRadius
}

// bend is the sharpest inner radius of a face: +Inf where it is nowhere hollow.
type bend struct {
	radius float64
	tube   bool // of a torus's tube or a sphere, not around the axis
}

// hollow finds the principal radii of a face that its material lies outside of. They are,
// of a surface of revolution, that of its outline and the length of the normal from the
// face to the axis; the latter is monotonic along each of the outlines, so that its least
// value is at an end of the face or where a torus is level.
func (f *face) hollow() bend {
	c := f.Carrier
	out := bend{radius: math.Inf(1)}
	sign := 1.0
	if f.Negative {
		sign = -1
	}
	for _, v := range f.heights() {
		p := c.P(f.U[0], v)
		r, _, e := c.RZ(p)
		if c.Kind == solid.Plane {
			return out
		}
		if k := -sign * c.N(p).Dot(e); k > upright && r/k < out.radius {
			out.radius = r / k
		}
	}
	if (c.Kind == solid.Torus || c.Kind == solid.Sphere) && f.Negative && c.M < out.radius+sameRadius {
		out = bend{c.M, true}
	}
	return out
}

// heights are the values of v at which a face may be narrowest.
func (f *face) heights() []float64 {
	out := []float64{f.V[0], f.V[1]}
	if c := f.Carrier; c.Kind == solid.Torus {
		for k := -2; k <= 2; k++ {
			if v := float64(k) * math.Pi; v > f.V[0] && v < f.V[1] {
				out = append(out, v)
			}
		}
	}
	return out
}

// radii lists the inner radii that none of the cutters makes, and the smallest of all.
// Holes are drilled and marks engraved with tools of their own. Where no cutter gets down at
// all, the wall is too deep, not the radius too small.
func (b *bench) radii() (tight []Concave, smallest *Concave) {
	for i := range b.faces {
		f := &b.faces[i]
		h, ok := f.rounded()
		if !ok {
			continue
		}
		c := b.concave(f, h)
		if smallest == nil || c.Radius < smallest.Radius {
			smallest = &c
		}
		if c.Cutter == nil && len(b.m.Job.Machining.Cutters) > 0 && !(c.Along && c.Depth > b.long) {
			tight = append(tight, c)
		}
	}
	tight = gatherRadii(tight)
	slices.SortStableFunc(tight, func(a, b Concave) int { return compare(a.Radius, b.Radius) })
	return tight, smallest
}

// gatherRadii counts those alike, at the first of their places.
func gatherRadii(all []Concave) (out []Concave) {
	for _, c := range all {
		i := slices.IndexFunc(out, func(x Concave) bool {
			return math.Abs(x.Radius-c.Radius) < sameRadius && x.Along == c.Along && slices.Equal(x.Roles, c.Roles) && x.Change.Hint == c.Change.Hint
		})
		if i < 0 {
			out = append(out, c)
		} else {
			out[i].Count++
		}
	}
	return out
}

// rounded is the sharpest inner radius of a face that a cutter has to make.
func (f *face) rounded() (bend, bool) {
	h := f.hollow()
	return h, !math.IsInf(h.radius, 1) && f.hole == nil && !f.mark && f.share(func(k int) bool { return f.reach[k] != 0 }) > 0
}

// concave finds the cutter for an inner radius, from the declared direction that allows the
// largest.
func (b *bench) concave(f *face, h bend) Concave {
	q := f.middle()
	out := Concave{Roles: f.Roles, Count: 1, Shape: f.Carrier.Kind.String(), Radius: h.radius, At: q.p}
	first := true
	for i := range b.list {
		c, ok := b.concaveFrom(f, h, i)
		if !ok {
			continue
		}
		if first || better(&c, &out) {
			first = false
			out.Along, out.Depth, out.Cutter, out.Left = c.Along, c.Depth, c.Cutter, c.Left
		}
	}
	if math.IsInf(out.Left, 1) {
		out.Left = 0
	}
	if out.Cutter == nil {
		out.Change = b.rounder(f, &out)
	}
	return out
}

// concaveFrom finds it from one of the candidates, if the job declares that and it sees the
// face.
func (b *bench) concaveFrom(f *face, h bend, i int) (c Concave, ok bool) {
	d := b.list[i]
	if !d.declared || !b.mostlyFrom(f, i) {
		return c, false
	}
	level := f.Carrier.Frame.Z.Cross(d.Dir).Norm() < upright
	if c.Along = !h.tube && level; c.Along {
		c.Depth = b.deepest(f, d.Dir)
	}
	c.Cutter, c.Left = b.cutterFor(h, c.Along, level, c.Depth)
	return c, true
}

// roundFrom are the candidates from which a cutter makes each inner radius.
func (b *bench) roundFrom() []set {
	var out []set
	for i := range b.faces {
		f := &b.faces[i]
		h, ok := f.rounded()
		if !ok {
			continue
		}
		var m set
		for k := range b.list {
			if c, ok := b.concaveFrom(f, h, k); ok && c.Cutter != nil {
				m |= 1 << k
			}
		}
		if m != 0 && !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out
}

func better(a, b *Concave) bool {
	switch {
	case a.Cutter != nil && b.Cutter != nil:
		return a.Cutter.Diameter > b.Cutter.Diameter
	case a.Cutter != nil || b.Cutter != nil:
		return a.Cutter != nil
	}
	return a.Left < b.Left
}

// cutterFor picks the largest cutter that makes a radius. Along the tool it is the cutter's
// own; around an axis along the tool a rounded corner will do; anything else is made by
// ball ends. Where none does, left is what the smallest that gets there leaves standing in
// a quarter round: the fillet of its radius R less that of r reaches (R-r)·(√2-1) further
// out of the corner.
func (b *bench) cutterFor(h bend, along, level bool, depth float64) (best *params.Cutter, left float64) {
	left = math.Inf(1)
	most := h.radius + sameRadius
	if h.tube {
		most += tolerance(b.m.Job.Machining.GeneralTolerance, h.radius)
	}
	for i := range b.m.Job.Machining.Cutters {
		c := &b.m.Job.Machining.Cutters[i]
		r := c.CornerRadius
		switch {
		case along && c.Reach < depth-sameRadius, !along && !ball(*c) && !(level && h.tube && r > 0):
			continue
		case along:
			r = c.Diameter / 2
		}
		if r > most {
			left = min(left, (r-h.radius)*(math.Sqrt2-1))
			continue
		}
		if best == nil || c.Diameter > best.Diameter {
			best = c
		}
	}
	if best != nil {
		left = 0
	}
	return best, left
}

// tolerance is by how much in mm the radius of a rounded edge may be off, as the sheet
// states none of its own: ISO 2768-1:1989, table 2, from memory of the standard.
func tolerance(class string, radius float64) float64 {
	t := 1.0
	switch {
	case radius <= 3:
		t = 0.2
	case radius <= 6:
		t = 0.5
	}
	if class == "coarse" {
		t *= 2
	}
	return min(t, radius/2)
}

// mostlyFrom tells whether a direction sees most of what is seen of a face at all; a fifth
// of it may be left to others.
func (b *bench) mostlyFrom(f *face, i int) bool {
	const most = 0.8
	seen := f.share(func(k int) bool { return f.reach[k] != 0 })
	return f.share(func(k int) bool { return f.reach[k].has(i) }) >= most*seen
}

func (b *bench) index(d Direction) int {
	return slices.IndexFunc(b.list, func(c candidate) bool { return c.Dir == d.Dir })
}

// deepest is how far the tool goes down beside a face along it at most, mm: from the face's
// lowest edge, seen from d.
func (b *bench) deepest(f *face, d mesh.Vec) float64 {
	const above = 1e-4 // mm, clear of the floor
	low := f.V[0]
	if f.Carrier.Frame.Z.Dot(d) < 0 {
		low = f.V[1]
	}
	out := 0.0
	for _, q := range f.spots {
		_, v := f.Carrier.UV(q.p)
		p := q.p.AddScaled(-math.Abs(v-low)+above, d).AddScaled(-stepIn, q.n)
		out = max(out, b.look(p, d).rest+above)
	}
	return out
}

// middle is the spot nearest to the middle of all.
func (f *face) middle() spot {
	var at mesh.Vec
	for _, q := range f.spots {
		at = at.AddScaled(q.share, q.p)
	}
	return slices.MinFunc(f.spots, func(a, b spot) int { return compare(a.p.Dist(at), b.p.Dist(at)) })
}
