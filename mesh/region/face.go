package region

import (
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// regions finds the faces on one carrier and side: its loops, sorted by what lies
// between them.
func (b *builder) regions(k int) error {
	f := b.Boundary.Faces[k]
	c := f.Carrier
	if len(f.Edges) == 0 {
		_, has := tips(c)
		b.addFace(k, nil, has)
		return nil
	}
	loops, err := b.link(c, b.uses[k])
	if err != nil {
		return err
	}
	w := make([]*course, len(loops))
	for i, l := range loops {
		w[i] = b.course(c, l)
	}
	j := newJoiner(len(w) + 2) // the last two stand for the lower and the upper tip
	if len(w) > 1 || w[0].around != 0 || w[0].area < 0 {
		for i := range w {
			if err := b.lookOut(j, c, w, i, f.AroundTube); err != nil {
				return err
			}
		}
	}
	if isWhole(c) {
		j.joinHoles(w)
	}
	return b.sortLoops(k, w, j)
}

// isWhole reports whether a carrier is a ring, which without any border would be a face.
func isWhole(c *solid.Carrier) bool {
	_, has := tips(c)
	return c.Kind == solid.Torus && !has[0]
}

// joinHoles joins those sets of loops that are mere holes in a ring: what is left of it
// hangs together.
func (j joiner) joinHoles(w []*course) {
	bound := map[int]bool{} // by something else than holes
	for i, x := range w {
		if x.around != 0 || x.area > 0 {
			bound[j.find(i)] = true
		}
	}
	first := -1
	for i := range w {
		switch r := j.find(i); {
		case bound[r]:
		case first < 0:
			first = i
		default:
			j.join(first, i)
		}
	}
}

// joiner is a union-find.
type joiner []int

func newJoiner(n int) joiner {
	j := make(joiner, n)
	for i := range j {
		j[i] = i
	}
	return j
}

func (j joiner) find(i int) int {
	for j[i] != i {
		j[i] = j[j[i]]
		i = j[i]
	}
	return i
}

func (j joiner) join(a, b int) {
	a, b = j.find(a), j.find(b)
	j[max(a, b)] = min(a, b)
}

// lookOut joins loop i with what a line over the face meets: up from its highest point
// where the face lies above it, or down from its lowest. The loop around a face of
// its own needs none: whatever lies inside looks for it.
func (b *builder) lookOut(j joiner, c *solid.Carrier, w []*course, i int, tube bool) error {
	sense := 1.0
	switch {
	case w[i].tube != 0:
		return b.fail("a ring's face goes around its tube between edges", c, b.at(w[i].loop[0], 0))
	case w[i].around < 0:
		sense = -1
	case w[i].around == 0 && w[i].area > 0:
		return nil
	}
	from, ok := b.outermost(c, w[i], sense)
	if !ok {
		return b.fail("no side of a loop looks over its face", c, b.at(w[i].loop[0], .5))
	}
	hit := b.shoot(c, w, i, from, sense, tube)
	if hit < 0 {
		_, has := tips(c)
		switch {
		case sense < 0 && has[0]:
			hit = len(w)
		case sense > 0 && has[1]:
			hit = len(w) + 1
		case tube: // around to itself
			return nil
		default:
			return b.fail("a face has no end", c, c.P(from.u, from.v))
		}
	}
	j.join(i, hit)
	return nil
}

// outermost is the highest place (the lowest, where sense is -1) of a loop at which the
// face lies above (below) it. Corners are left out, and where features tend to lie.
func (b *builder) outermost(c *solid.Carrier, w *course, sense float64) (best place, ok bool) {
	top := math.Inf(-1)
	for i, u := range w.loop {
		n := max(2, b.steps(c, u))
		for k := range n {
			x := (float64(k) + .3713) / float64(n)
			p := b.read(c, u, i, x)
			m := meridianAt(c, p.u)
			if sense*p.v > top && sense*b.heading(u, x).Dot(m.n) > 1e-6 {
				best, ok, top = p, true, sense*p.v
			}
		}
	}
	return best, ok
}

// shoot returns the loop that a line of constant u meets first, or -1. Around a tube it
// may come back from the other side.
func (b *builder) shoot(c *solid.Carrier, w []*course, from int, p place, sense float64, tube bool) int {
	m := meridianAt(c, p.u)
	nearest, hit := math.Inf(1), -1
	for i := range w {
		if i == from {
			continue
		}
		for _, u := range w[i].loop {
			e := b.Edges[u.Edge]
			for _, t := range m.crossings(e) {
				_, v := c.UV(e.At(t))
				d := sense * (v - p.v)
				if tube && d < 0 {
					d += 2 * math.Pi
				}
				if d > 0 && d < nearest {
					nearest, hit = d, i
				}
			}
		}
	}
	return hit
}

// sortLoops makes a face of every set of joined loops.
func (b *builder) sortLoops(k int, w []*course, j joiner) error {
	for i := range w {
		if j.find(i) != i {
			continue
		}
		var mine []*course
		for n := i; n < len(w); n++ {
			if j.find(n) == i {
				mine = append(mine, w[n])
			}
		}
		tip := [2]bool{j.find(len(w)) == i, j.find(len(w)+1) == i}
		if _, has := tips(b.Boundary.Faces[k].Carrier); tip[1] && onlyHoles(mine) {
			tip = has // a ball with holes holds both poles
		}
		if err := b.order(k, mine, tip); err != nil {
			return err
		}
		b.addFace(k, mine, tip)
	}
	return nil
}

func onlyHoles(w []*course) bool {
	return !slices.ContainsFunc(w, func(x *course) bool { return x.around != 0 || x.area > 0 })
}

// order puts the loops that go around first, the lower one before the upper one, or the
// outer one, and makes sure that there are as many as a face must have.
func (b *builder) order(k int, w []*course, tip [2]bool) error {
	rank := func(x *course) int {
		switch {
		case x.around > 0:
			return 0
		case x.around < 0:
			return 1
		case x.area > 0:
			return 2
		}
		return 3
	}
	count := [4]int{}
	ranks := map[*course]int{}
	for _, x := range w {
		ranks[x] = rank(x)
		count[ranks[x]]++
	}
	slices.SortStableFunc(w, func(x, y *course) int { return ranks[x] - ranks[y] })
	for i, t := range tip { // the lower tip ends a face like a loop around it
		if t {
			count[i]++
		}
	}
	around := count[0] + count[1]
	if around+count[2] == 0 && isWhole(b.Boundary.Faces[k].Carrier) || count[2] == 1 && around == 0 || count[2] == 0 && count[0] == 1 && count[1] == 1 {
		return nil
	}
	return b.fail("loops do not bound a face", b.Boundary.Faces[k].Carrier, b.at(w[0].loop[0], .5))
}

// addFace adds one region of the boundary's face k.
func (b *builder) addFace(k int, w []*course, tip [2]bool) {
	g := b.Boundary.Faces[k]
	f := &Face{Carrier: g.Carrier, Negative: g.Negative, tip: tip}
	id := len(b.Faces)
	for _, x := range w {
		f.Loops = append(f.Loops, x.loop)
		if x.around != 0 {
			f.Wraps++
		}
		for _, u := range x.loop {
			e := b.Edges[u.Edge]
			for i, h := range b.parts[u.Edge][0].Half {
				if h.Face == k {
					e.Faces[i] = id
				}
			}
		}
	}
	f.Around = f.Wraps > 0 || tip[0] || tip[1] || onlyHoles(w)
	b.setRanges(f, w)
	b.Faces = append(b.Faces, f)
	b.of = append(b.of, k)
	b.setRoles(f, k)
}

// setRanges sets the ranges of the parameters.
func (s *Solid) setRanges(f *Face, w []*course) {
	c := f.Carrier
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for i, x := range w {
		if i > 0 && !f.Around {
			break // holes lie within, but maybe a whole turn from the outline as it was followed
		}
		s.extent(c, x, &lo, &hi)
	}
	at, _ := tips(c)
	for i, t := range f.tip {
		if t {
			lo[1], hi[1] = min(lo[1], at[i]), max(hi[1], at[i])
		}
	}
	if f.Around && f.Wraps == 0 && isWhole(c) {
		mid := math.Atan2(c.VY, c.VX)
		lo[1], hi[1] = mid-math.Pi, mid+math.Pi
	}
	if f.Around {
		lo[0], hi[0] = -math.Pi, math.Pi
	}
	f.U, f.V = [2]float64{lo[0], hi[0]}, [2]float64{lo[1], hi[1]}
}

// beside is how far off an edge the roles of a face are read, mm: below the lattice on
// which features lie (solid.Lattice), above the rounding of a point on a carrier.
const beside = 1e-5

// setRoles copies the roles of the boundary's face, or those of the region's own leaves
// where there are several.
func (b *builder) setRoles(f *Face, k int) {
	g := b.Boundary.Faces[k]
	if len(g.Roles) < 2 || len(f.Loops) == 0 {
		f.Roles = slices.Clone(g.Roles)
		return
	}
	c := f.Carrier
	for _, l := range f.Loops {
		for _, u := range l {
			for _, p := range b.parts[u.Edge] {
				d := b.leftOf(c, p, u.Reversed)
				b.addRoles(f, c.Project(p.Mid.AddScaled(beside, d)))
			}
		}
	}
	slices.Sort(f.Roles)
}

// leftOf is the direction along the carrier to the left of the middle of a part, run
// with its edge or against it.
func (b *builder) leftOf(c *solid.Carrier, p part, reversed bool) Vec {
	t := (p.T0 + p.T1) / 2
	d := derivative(p.Curve, t).Unit()
	if p.reversed != reversed {
		d = d.Scale(-1)
	}
	return c.N(p.Mid).Cross(d)
}

// addRoles adds the roles of the patches of the face's carrier that hold q.
func (b *builder) addRoles(f *Face, q Vec) {
	for _, p := range b.patches[f.Carrier.ID] {
		if p.Role != "" && !slices.Contains(f.Roles, p.Role) && p.Holds(q, beside/10) {
			f.Roles = append(f.Roles, p.Role)
		}
	}
}
