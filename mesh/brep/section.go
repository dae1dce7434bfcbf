package brep

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// Section is where a plane cuts a solid: the edges of an area in that plane,
// each with the material on the left looking against the normal that was asked
// for (run from V1 to V0 where Reversed). They form closed loops.
type Section struct {
	Plane    *solid.Carrier
	Vertices []Vec
	Edges    []FaceEdge
}

// backSteps are the lattice steps by which a plane gives way that passes surfaces
// more closely than this package can tell them apart.
var backSteps = [...]float64{0, 1, 3, 7}

// Section cuts root by the plane through o across the unit vector n, and keeps
// what lies behind it (on the side of -n): where the plane runs along a face, the
// face belongs to the area if its material is behind. A plane within 5e-5 mm of a
// parallel one of the model is taken for it. Where a plane passes a vertex, or
// where it would touch, at less than a lattice step but not at all exactly, its
// section may not close; it is then taken 1, 3, or 7 lattice steps behind. Plane
// tells which was cut.
//
// No boundary is evaluated; the plane is one more carrier, met with those whose
// patches reach it. The error is a *Refusal where a cone or torus is cut
// within 1e-3 of square to its axis but not square to it, or an *InternalError.
func (ev *Evaluator) Section(root *solid.Node, o, n Vec) (*Section, error) {
	plane, _ := ev.model.PlaneNear(o, n, touchTol)
	o = plane.Project(o)
	var first error
	for _, k := range backSteps {
		s, err := ev.sectionAt(root, o.AddScaled(-k*solid.Lattice, n), n)
		if _, refused := err.(*Refusal); err == nil || refused {
			return s, err
		}
		if first == nil {
			first = err
		}
	}
	return nil, first
}

func (ev *Evaluator) sectionAt(root *solid.Node, o, n Vec) (*Section, error) {
	plane, turned := ev.model.PlaneNear(o, n, touchTol)
	b, s := newSlicer(ev, root, plane)
	for _, t := range b.used {
		m := ev.planeMeeting(plane, t.carrier)
		if m.unsolved {
			return nil, &Refusal{Kind: NearlyAcross, Names: []string{t.patches[0].Leaf.Name}, At: plane.Project(onAxis(t.carrier, (t.H0+t.H1)/2))}
		}
		for _, tr := range m.tracks {
			b.cut(s, t, tr)
		}
	}
	out := &Section{Plane: plane, Vertices: b.vertices.points}
	behind := solid.Below
	if turned {
		behind = solid.Above
	}
	for _, e := range b.edges {
		if e.V0 == e.V1 && e.Mid.Dist(out.Vertices[e.V0]) < touchTol {
			continue // shorter than its vertex is known
		}
		if left, right := b.sidesIn(plane, e, behind); left != right {
			out.Edges = append(out.Edges, FaceEdge{e.Edge, right != turned})
		}
	}
	return out, out.check()
}

// planeMeeting is the meeting of a plane with a carrier of the model, shared if
// the plane is the model's own.
func (ev *Evaluator) planeMeeting(plane, c *carrier) *meeting {
	switch {
	case plane.ID < 0:
		return meet(plane, c)
	case plane.ID < c.ID:
		return ev.meeting(plane, c)
	}
	return ev.meeting(c, plane)
}

// newSlicer returns a builder that knows what of the solid comes near the plane,
// and the plane as a surface of its own.
func newSlicer(ev *Evaluator, root *solid.Node, plane *carrier) (*builder, *surface) {
	b := &builder{
		ev: ev, root: root,
		byID:     make([]*surface, len(ev.model.Carriers)),
		vertices: newPointIndex(),
		mids:     make(edgeIndex, 128),
	}
	s := &surface{carrier: plane, box: mesh.EmptyBox(), whole: true}
	for _, l := range root.Leaves() {
		if !planeReaches(plane, l.Box, 4*maxSide) {
			continue
		}
		b.leaves = append(b.leaves, l)
		s.box = s.box.Join(l.Box)
		for i := range l.Patches {
			if p := &l.Patches[i]; p.Carrier != plane && planeReaches(plane, p.Box, contactTol) {
				b.use(p)
			}
		}
	}
	b.listUsed()
	return b, s
}

// planeReaches reports whether the plane comes within eps of the box.
func planeReaches(plane *carrier, x Box, eps float64) bool {
	n, far := plane.Frame.Z, eps
	for i := range n {
		far += math.Abs(n[i]) * (x.Hi[i] - x.Lo[i]) / 2
	}
	return math.Abs(plane.F(x.Lo.Add(x.Hi).Scale(.5))) <= far
}

// sidesIn asks on both sides of an edge in the plane, as seen against its normal,
// whether material lies behind. A plane at will may pass a surface by far less than
// a lattice step: only the edge's own carriers may be that near.
func (b *builder) sidesIn(plane *carrier, e *workEdge, behind solid.Bits) (left, right bool) {
	h := b.clearOf(e.Mid, b.stepLimit(e), func(p *solid.Patch, d float64) bool {
		return d <= contactTol && slices.Contains(e.Carriers, p.Carrier)
	})
	dir := plane.Frame.Z.Cross(e.direction())
	at := func(d Vec) bool { return b.root.Beside(plane, stepOff(e, plane, d, h))&behind != 0 }
	return at(dir), at(dir.Scale(-1))
}

// check makes sure that the edges form closed loops.
func (s *Section) check() error {
	open := make([]int, len(s.Vertices))
	for _, e := range s.Edges {
		from, to := e.Ends()
		open[from]++
		open[to]--
	}
	for v, n := range open {
		if n != 0 {
			return &InternalError{What: "the outline of a section is open", At: s.Vertices[v]}
		}
	}
	return nil
}

// Ends are the vertices that the use of the edge runs from and to.
func (e *FaceEdge) Ends() (from, to int) {
	if e.Reversed {
		return e.Edge.V1, e.Edge.V0
	}
	return e.Edge.V0, e.Edge.V1
}
