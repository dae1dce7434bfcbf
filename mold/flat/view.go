package flat

import (
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/dxf"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/mold/views"
)

const (
	// same: lengths in mm that differ by less are one.
	same = 1e-6
	// square: directions whose cosine is nearer to 1 are one.
	square = 1 - 1e-9
)

// subject is a piece to draw.
type subject struct {
	m     *mold.Mold
	p     *mold.Piece
	b     *brep.Boundary
	holes []holes.Hole
	edges []edge
}

// edge is an edge with its layer.
type edge struct {
	*brep.Edge
	sides [2]side
	layer string
}

// use is the edge run from its beginning.
func (e *edge) use() brep.FaceEdge { return brep.FaceEdge{Edge: e.Edge} }

func newSubject(m *mold.Mold, p *mold.Piece, b *brep.Boundary) (*subject, error) {
	s := &subject{m: m, p: p, b: b}
	var err error
	if s.holes, err = holes.Of(m, p.Name, b); err != nil {
		return nil, err
	}
	pa := patchesOf(b.Root)
	for _, e := range b.Edges {
		x := pa.sides(b, e)
		s.edges = append(s.edges, edge{e, x, layer(x)})
	}
	return s, nil
}

// looks lists the views from which the piece may be drawn.
func (s *subject) looks() []look {
	set := views.Of(s.m, s.p)
	switch s.p.Kind {
	case mold.Hub:
		return []look{{set.Lower, true}, {set.Upper, true}}
	case mold.Plate:
		return []look{{set.Inside, true}, {set.Outside, true}}
	}
	out := []look{{set.Inside, true}}
	add := func(v views.View, always bool) {
		if !slices.ContainsFunc(out, func(o look) bool { return o.Plane.W().Dot(v.Plane.W()) > square }) {
			out = append(out, look{v, always})
		}
	}
	side := func(name string, toViewer mesh.Vec) views.View {
		return views.View{Name: name, Plane: views.Upright(toViewer), Origin: set.Inside.Origin, Axes: [2]string{"", "Z"}}
	}
	faces := s.partings()
	for i, w := range faces {
		add(side(fmt.Sprintf("parting face %d of %d", i+1, len(faces)), w), true)
	}
	for _, v := range []views.View{set.Lower, set.Upper, set.Outside} {
		add(v, false)
	}
	for _, w := range append(s.engraved(), s.openings()...) {
		add(side("outer side", w), false)
	}
	return out
}

// partings are the directions across the wheel's axis to which parting faces look.
func (s *subject) partings() []mesh.Vec {
	return s.sideways(func(e *edge, x, _ *side) bool { return slices.Contains(x.roles, mold.RoleParting) })
}

// engraved are the directions across the wheel's axis from which marks are read.
func (s *subject) engraved() []mesh.Vec {
	return s.sideways(func(e *edge, x, other *side) bool {
		return e.layer == Marks && !slices.Contains(x.roles, mold.RoleMark) && slices.Contains(other.roles, mold.RoleMark)
	})
}

// sideways are the directions across the wheel's axis to which those flat faces look that
// are wanted of an edge and its two sides.
func (s *subject) sideways(want func(e *edge, x, other *side) bool) []mesh.Vec {
	var out []mesh.Vec
	for i := range s.edges {
		e := &s.edges[i]
		for k := range e.sides {
			x := &e.sides[k]
			if x.face.Carrier.Kind == solid.Plane && math.Abs(x.out[2]) < same && want(e, x, &e.sides[1-k]) &&
				!slices.ContainsFunc(out, func(w mesh.Vec) bool { return w.Dot(x.out) > square }) {
				out = append(out, x.out)
			}
		}
	}
	return out
}

// openings are the directions across the axis from which holes are seen into.
func (s *subject) openings() []mesh.Vec {
	var out []mesh.Vec
	for i := range s.holes {
		h := &s.holes[i]
		if math.Abs(h.Dir[2]) > same {
			continue
		}
		out = append(out, h.Dir.Scale(-1))
		if h.Through {
			out = append(out, h.Dir)
		}
	}
	return out
}

// view draws the piece as it is looked at.
func (s *subject) view(l look) (View, error) {
	v := View{Name: l.Name, Plane: l.plane(), about: append([]string{l.Name}, frame(&l.View)...)}
	strokes, err := s.strokes(v.Plane)
	if err != nil {
		return v, err
	}
	if v.Outline, err = contour(strokes); err != nil {
		return v, err
	}
	v.path(Outline, v.Outline)
	strokes[Edges] = off(strokes[Edges], v.Outline)
	for _, la := range layers {
		for _, p := range chained(strokes[la.Name]) {
			v.path(la.Name, p)
		}
	}
	for i := range s.holes {
		v.hole(&s.holes[i])
	}
	v.axes(s.p.Kind)
	if s.p.Kind == mold.Hub {
		s.lockAxes(&v)
	}
	return v, nil
}

func (v *View) add(layer string, e dxf.Entity) { v.items = append(v.items, item{layer, e}) }

func (v *View) path(layer string, p outline.Path) {
	v.add(layer, dxf.Of(p))
	v.drawn = append(v.drawn, p)
}

// ofHole tells whether an edge belongs to a whole hole that is seen along its axis, and
// is drawn as circles.
func (s *subject) ofHole(e *edge, w mesh.Vec) bool {
	for i := range s.holes {
		h := &s.holes[i]
		if h.Half || math.Abs(h.Dir.Dot(w)) < square {
			continue
		}
		for _, x := range e.sides {
			c := x.face.Carrier
			if (c.Kind == solid.Cylinder || c.Kind == solid.Cone) && x.face.Negative && slices.Contains(x.roles, h.Role) && onAxis(h, c.Frame.O) {
				return true
			}
		}
	}
	return false
}
