package flat

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/dxf"
	"wheelmold/mesh/outline"
	"wheelmold/mold/holes"
)

// hole draws a whole hole that opens to the viewer: a circle for each diameter that is
// seen, the largest first, and a point at the center. A cone gives a circle only where
// nothing else of the hole is round, as in a sprue.
func (v *View) hole(h *holes.Hole) {
	fromEnd, shown := v.shows(h)
	if h.Half || !shown {
		return
	}
	c := v.Plane.At(h.At)
	least, wider := holeLayer(h)
	ds := seen(h, fromEnd)
	for i, d := range ds {
		layer := least
		if i < len(ds)-1 {
			layer = wider
		}
		v.add(layer, dxf.Circle{Center: c, Radius: d / 2})
	}
	v.add(Centers, dxf.Dot{At: c})
}

// shows tells whether a hole opens square to the viewer, and whether it does so with the
// end that it is not drilled from.
func (v *View) shows(h *holes.Hole) (fromEnd, ok bool) {
	along := h.Dir.Dot(v.Plane.W())
	return along > 0, math.Abs(along) >= square && (along < 0 || h.Through)
}

// seen lists the diameters of a hole that are seen from its opening, or from its other
// end, each less than the one before, mm.
func seen(h *holes.Hole, fromEnd bool) []float64 {
	var walls, cones []float64
	for i := range h.Steps {
		s := h.Steps[i]
		if fromEnd {
			s = h.Steps[len(h.Steps)-1-i]
			s.D0, s.D1 = s.D1, s.D0
		}
		if math.Abs(s.D0-s.D1) < same {
			walls = append(walls, s.D0)
		} else {
			cones = append(cones, s.D0, s.D1)
		}
	}
	if len(walls) == 0 {
		walls = cones
	}
	out := walls[:1]
	for _, d := range walls[1:] {
		if d < out[len(out)-1]-same {
			out = append(out, d)
		}
	}
	return out
}

// onAxis tells whether a point lies on a hole's axis.
func onAxis(h *holes.Hole, p mesh.Vec) bool {
	return p.Sub(h.At).Cross(h.Dir).Norm() < onPatch
}

func straight(a, b outline.Point) outline.Path {
	return outline.Path{Start: a, Segments: []outline.Segment{{To: b}}}
}
