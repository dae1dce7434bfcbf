package flat

import (
	"errors"
	"math"
	"slices"

	"wheelmold/hub"
	"wheelmold/mesh/dxf"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
	"wheelmold/mold/holes"
	"wheelmold/mold/views"
)

// halfSection is the hub as it is turned: half of its section as one closed run above the
// axis, with the lock holes and the circle of the bolt holes, which are drilled later.
func (s *subject) halfSection() (View, error) {
	v := View{Name: "half section along the axis, for turning"}
	low := views.HubEnds(s.m)[0]
	v.about = []string{
		v.Name + "; " + low + " on the left",
		"origin: the axis and the " + low + "'s end face, z " + number(s.m.Core.Z0) + " mm of the closed mold",
		"x to the right: z of the closed mold", "y up: the radius",
	}
	c := s.m.Core
	leaves := s.p.Raw.Leaves()
	i := slices.IndexFunc(leaves, func(l *solid.Leaf) bool { return !l.Extruded && l.Role == hub.RoleBond })
	if i < 0 {
		return v, errors.New("nothing of it is turned")
	}
	v.Outline = turned(leaves[i].Elems, c.Z0)
	v.path(Profile, v.Outline)
	v.origin()
	axis := func(a, b outline.Point) { v.path(CenterLines, straight(a, b)) }
	axis(outline.Point{-overhang, 0}, outline.Point{c.Length + overhang, 0})
	if c.BoltCount > 0 {
		axis(outline.Point{-overhang, c.BoltCircleR}, outline.Point{c.Length + overhang, c.BoltCircleR})
	}
	if c.LockCount > 0 {
		x, bottom := c.LockFrom, c.BodyR-c.LockDepth
		v.add(LockHoles, dxf.Polyline{Vertices: []dxf.Vertex{
			{At: outline.Point{x - c.LockR, c.BodyR}}, {At: outline.Point{x - c.LockR, bottom}},
			{At: outline.Point{x + c.LockR, bottom}}, {At: outline.Point{x + c.LockR, c.BodyR}},
		}})
		axis(outline.Point{x, bottom - overhang}, outline.Point{x, c.EndR() + overhang})
	}
	return v, nil
}

// turned is an outline in (r, z) as a lathe has it: x along the axis from z0, y the
// radius. Mirrored so, it is run the other way to stay counterclockwise.
func turned(elems []solid.Elem, z0 float64) outline.Path {
	at := func(p solid.Point2) outline.Point { return outline.Point{p[1] - z0, p[0]} }
	out := outline.Path{Start: at(elems[len(elems)-1].B), Closed: true}
	for i := len(elems) - 1; i >= 0; i-- {
		e := &elems[i]
		s := outline.Segment{To: at(e.A)}
		if e.Arc {
			s.Center, s.Radius, s.CCW = at(e.C), e.R, e.CCW
		}
		out.Segments = append(out.Segments, s)
	}
	return joined(out)
}

// lockAxes draws the axes of lock holes, which lie across the hub's, on a view of an end.
func (s *subject) lockAxes(v *View) {
	for i := range s.holes {
		h := &s.holes[i]
		if layer, _ := holeLayer(h); layer != LockHoles {
			continue
		}
		v.path(LockHoles, straight(s.lockAxis(v, h)))
	}
}

// lockAxis is the axis of a lock hole on a view of an end, from the hole's floor outward.
func (s *subject) lockAxis(v *View, h *holes.Hole) (floor, end outline.Point) {
	c, at := s.m.Core, v.Plane.At(h.At)
	r := math.Hypot(at[0], at[1])
	return scaled(at, (c.BodyR-c.LockDepth)/r), scaled(at, (r+overhang)/r)
}

// isSection tells a section from a view.
func (v *View) isSection() bool { return v.Plane == outline.View{} }

func scaled(p outline.Point, k float64) outline.Point { return outline.Point{p[0] * k, p[1] * k} }
