package brep

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// mark is a place where a track is cut: by the patch of a third carrier, at a
// smooth joint, or at an open end.
type mark struct {
	t float64
	p Vec
	// sine measures how sharply the third carrier cuts: the triple product of
	// the normals; 0 where the point is known to touchTol only.
	sine float64
}

// minSine: below it three carriers do not fix a point, and the mark counts as a
// contact.
const minSine = 1e-4

// exactEnd is the sine of an end that is known in closed form.
const exactEnd = .01

// cut breaks a curve of s and t at every trimmed patch that it meets and adds
// the parts that lie on patches of both.
func (b *builder) cut(s, t *surface, tr *track) {
	if tr.Line {
		if tr = tr.clip(s.box, t.box); tr == nil {
			return
		}
	}
	if !tr.box.Overlaps(s.box, contactTol) || !tr.box.Overlaps(t.box, contactTol) {
		return
	}
	box := b.findLive(s, t, tr)
	marks := b.marks[:0]
	for _, k := range b.used {
		if k != s && k != t && k.crosses(tr, box) {
			marks = b.cutBySurface(marks, s, t, k, tr)
		}
	}
	for _, k := range [2]*surface{s, t} {
		marks = b.cutByJoints(marks, k, tr)
	}
	b.marks = mergeMarks(openEnds(marks, tr), tr)
	b.addParts(s, t, tr, b.marks)
}

// findLive notes which arcs of a general curve come near patches of both of its
// carriers, and returns their box. Cuts elsewhere would part nothing: what lies
// on both carriers' patches ends at patches, too.
func (b *builder) findLive(s, t *surface, tr *track) Box {
	b.live = b.live[:0]
	if tr.Line || tr.Radius > 0 {
		return tr.box
	}
	tr.sample()
	box := mesh.EmptyBox()
	for i := range tr.arc {
		live := s.near(tr, i) && t.near(tr, i)
		b.live = append(b.live, live)
		if live {
			box = box.Join(tr.arcBox(i))
		}
	}
	return box
}

// near reports whether arc i of the track may meet a patch of k.
func (k *surface) near(tr *track, i int) bool {
	if k.whole {
		return true
	}
	for _, p := range k.patches {
		if tr.segBox(i, &p.Box) {
			return true
		}
	}
	return false
}

// crosses reports whether a patch of k can cut the track within the box.
func (k *surface) crosses(tr *track, box Box) bool {
	if !k.box.Overlaps(box, contactTol) {
		return false
	}
	hit := len(k.patches) == 1
	for i := 0; i < len(k.patches) && !hit; i++ {
		hit = k.patches[i].Box.Overlaps(box, contactTol)
	}
	return hit && !k.contains(tr)
}

// contains: a carrier that holds three odd points of a branch holds it all.
func (k *surface) contains(tr *track) bool {
	for _, x := range [3]float64{.0713, .3371, .7177} {
		if math.Abs(k.F(tr.At(tr.T0+(tr.T1-tr.T0)*x))) >= carrierTol {
			return false
		}
	}
	return true
}

func (b *builder) cutBySurface(marks []mark, s, t, k *surface, tr *track) []mark {
	closed := b.seek.closed(tr, k.carrier)
	if !closed {
		b.seek.f, b.seek.short = k.F, bend(k.carrier)/8
		b.seek.run(tr, func(i int) bool { return (len(b.live) == 0 || b.live[i]) && k.near(tr, i) })
	}
	for at := range b.seek.contacts(closed, tr.T1-tr.T0) {
		if p := tr.At(at); k.holds(p, vertexTol) {
			p, sine := polish(p, s.carrier, t.carrier, k.carrier)
			marks = append(marks, mark{at, p, sine})
		}
	}
	return marks
}

// cutByJoints cuts at the smooth joints of the outlines that bear s, where no
// crossing of carriers marks the end of a patch.
func (b *builder) cutByJoints(marks []mark, s *surface, tr *track) []mark {
	var last *solid.Leaf
	for _, p := range s.patches {
		if p.Leaf == last {
			continue
		}
		last = p.Leaf
		for i := range last.Joints {
			j := &last.Joints[i]
			if !j.Box.Overlaps(tr.box, contactTol) {
				continue
			}
			normal, d, flat := j.Plane()
			closed := flat && b.seek.plane(tr, normal, d)
			if !closed {
				tr.sample()
				if n := len(tr.p); math.Abs(j.F(tr.p[0])) < flatF && math.Abs(j.F(tr.p[n/2])) < flatF {
					continue // the curve runs along the joint
				}
				b.seek.f, b.seek.short = j.F, 0
				b.seek.run(tr, func(i int) bool { return tr.segBox(i, &j.Box) })
			}
			for at := range b.seek.contacts(closed, tr.T1-tr.T0) {
				if p := tr.At(at); j.Dist(p) < vertexTol {
					marks = append(marks, mark{t: at, p: p})
				}
			}
		}
	}
	return marks
}

// bend is the smallest radius at which a carrier's distance function bends, mm.
func bend(c *carrier) float64 {
	switch c.Kind {
	case solid.Plane:
		return math.Inf(1)
	case solid.Cylinder:
		return c.R0
	case solid.Cone:
		return c.MaxR / 4
	}
	return c.M
}

// polish moves p to the common point of three carriers by Newton's method and
// returns the sine of the crossing, 0 where it is too flat to fix a point.
func polish(p Vec, a, b, c *carrier) (Vec, float64) {
	sine := 0.0
	for k := 0; k < 3; k++ {
		na, nb, nc := a.N(p), b.N(p), c.N(p)
		bc := nb.Cross(nc)
		d := na.Dot(bc)
		if math.Abs(d) < minSine {
			break
		}
		sine = math.Abs(d)
		step := bc.Scale(a.F(p)).AddScaled(b.F(p), nc.Cross(na)).AddScaled(c.F(p), na.Cross(nb)).Scale(1 / d)
		if step.Norm() > 1e-5 {
			break
		}
		p = p.Sub(step)
	}
	return p, sine
}

func openEnds(marks []mark, tr *track) []mark {
	if tr.Closed {
		return marks
	}
	for i, t := range [2]float64{tr.T0, tr.T1} {
		if tr.fixed[i] {
			marks = append(marks, mark{t, tr.ends[i], exactEnd})
		} else {
			marks = append(marks, mark{t: t, p: tr.At(t)})
		}
	}
	return marks
}

// mergeMarks sorts the marks and joins those of one point, keeping the sharpest.
func mergeMarks(marks []mark, tr *track) []mark {
	slices.SortStableFunc(marks, func(a, b mark) int {
		switch {
		case a.t < b.t:
			return -1
		case a.t > b.t:
			return 1
		}
		return 0
	})
	out := marks[:0]
	for _, m := range marks {
		if n := len(out); n == 0 || !out[n-1].join(m, tr, 0) {
			out = append(out, m)
		}
	}
	if n := len(out) - 1; tr.Closed && n > 0 && out[0].join(out[n], tr, tr.T1-tr.T0) {
		out = out[:n]
	}
	return out
}

// join takes n into m if both are one point and so is the arc between them: a
// branch may start and end at the same turning point. lap is the period by which
// m follows n.
func (m *mark) join(n mark, tr *track, lap float64) bool {
	tol := vertexTol * 1.5
	if m.sine == 0 || n.sine == 0 {
		tol = touchTol
	}
	if m.p.Dist(n.p) >= tol || m.p.Dist(tr.At((m.t+lap+n.t)/2)) >= 2*tol {
		return false
	}
	if n.sine > m.sine {
		m.p, m.sine = n.p, n.sine
	}
	return true
}

// addParts adds the track's parts between marks that lie on patches of s and t.
func (b *builder) addParts(s, t *surface, tr *track, marks []mark) {
	if len(marks) == 0 {
		if tr.Closed {
			p := tr.At(tr.T0)
			b.addPart(s, t, tr, mark{tr.T0, p, 1}, mark{tr.T1, p, 1})
		}
		return
	}
	for k := 0; k+1 < len(marks); k++ {
		b.addPart(s, t, tr, marks[k], marks[k+1])
	}
	if tr.Closed {
		first := marks[0]
		first.t += tr.T1 - tr.T0
		b.addPart(s, t, tr, marks[len(marks)-1], first)
	}
}

func (b *builder) addPart(s, t *surface, tr *track, from, to mark) {
	mid := tr.At((from.t + to.t) / 2)
	if !s.holds(mid, carrierTol) || !t.holds(mid, carrierTol) {
		return
	}
	v0, v1 := b.vertexAt(from), b.vertexAt(to)
	tol := 2 * vertexTol
	if from.sine == 0 || to.sine == 0 {
		tol = touchTol
	}
	e := b.mids.find(mid, v0, v1, tol)
	if e == nil {
		e = &workEdge{Edge: &Edge{Curve: tr.Curve, T0: from.t, T1: to.t, V0: v0, V1: v1, Mid: mid}}
		b.mids.add(e)
		b.edges = append(b.edges, e)
	}
	e.lieOn(s.carrier)
	e.lieOn(t.carrier)
}

func (b *builder) vertexAt(m mark) int {
	if m.sine == 0 {
		return b.vertices.at(m.p, touchTol)
	}
	return b.vertices.at(m.p, vertexTol)
}
