package step

import (
	"wheelmold/mesh/region"
)

// curve returns an edge's curve, which runs from V0 to V1.
func (w *writer) curve(s *region.Solid, e *region.Edge) ref {
	switch e.Shape {
	case region.Line:
		a, b := s.Vertices[e.V0], s.Vertices[e.V1]
		return w.entity("LINE", "", w.point(a), w.shared("VECTOR", "", w.direction(b.Sub(a).Unit()), 1.0))
	case region.Circle:
		return w.shared("CIRCLE", "", w.placement(e.Center, e.X.Cross(e.Y), e.X), e.A)
	case region.Ellipse:
		return w.shared("ELLIPSE", "", w.placement(e.Center, e.X.Cross(e.Y), e.X), e.A, e.B)
	}
	return w.spline(e)
}

// spline returns the curve of an edge that has no name.
func (w *writer) spline(e *region.Edge) ref {
	f, err := fit(e)
	if err != nil {
		w.fail(err)
	}
	points := make([]ref, len(f.control))
	for i, p := range f.control {
		points[i] = w.entity("CARTESIAN_POINT", "", p)
	}
	times := make([]int, len(f.knots))
	for i := range times {
		times[i] = 1
	}
	times[0], times[len(times)-1] = degree+1, degree+1
	return w.entity("B_SPLINE_CURVE_WITH_KNOTS", "", degree, points, enum("UNSPECIFIED"), e.V0 == e.V1, false,
		times, f.knots, enum("UNSPECIFIED"))
}

// edges returns the EDGE_CURVE of every edge.
func (w *writer) edges(s *region.Solid) []ref {
	vertices := make([]ref, len(s.Vertices))
	vertex := func(i int) ref {
		if vertices[i] == 0 {
			vertices[i] = w.entity("VERTEX_POINT", "", w.point(s.Vertices[i]))
		}
		return vertices[i]
	}
	edges := make([]ref, len(s.Edges))
	for i, e := range s.Edges {
		edges[i] = w.entity("EDGE_CURVE", "", vertex(e.V0), vertex(e.V1), w.curve(s, e), true)
	}
	return edges
}
