package shop

import (
	"math"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/plumb"
	"wheelmold/mesh/solid"
	"wheelmold/mold/drawing"
)

// cutAlong adds a section by the plane of the view, through the wheel's axis, with what is
// round about the axis or about a hole in the plane as it shows behind.
func (s *sheet) cutAlong(caption string, look outline.View, row, column int) (*view, error) {
	v := s.add(caption, look, row, column)
	v.cut = true
	r, err := outline.Section(brep.NewEvaluator(s.m.Model), s.b.Root, look, sag)
	if err != nil {
		return nil, err
	}
	v.Areas = append(v.Areas, drawing.Area{Look: drawing.Cut, Of: s.piece.Name, Region: r})
	depth, err := plumb.NewAlong(s.b.Root, solid.Frame{O: look.O, X: look.U, Y: look.V, Z: look.W()})
	if err != nil {
		return nil, err
	}
	rays := depth.Line()
	behind := drawing.Line{Look: drawing.Visible, Of: s.piece.Name}
	for _, e := range s.b.Edges {
		c := e.Curve
		if c.Radius == 0 || c.Normal.Cross(axisZ).Norm() > 1e-9 || math.Abs(look.W().Dot(c.Center)) > 1e-6 {
			continue
		}
		behind.Paths = append(behind.Paths, v.turned(r, rays, e)...)
	}
	if len(behind.Paths) > 0 {
		v.Lines = append(v.Lines, behind)
	}
	return v, nil
}

// turned is what of an edge around an axis in the plane shows behind a section: as a
// straight line, where no material is in front of it.
func (v *view) turned(r outline.Region, rays *plumb.Line, e *brep.Edge) []outline.Path {
	along, height := v.level()
	lo, hi := v.behind(e, along)
	if hi-lo < clear {
		return nil
	}
	at := func(x float64) point {
		p := point{}
		p[along], p[height] = x, v.at(e.Curve.Center)[height]
		return p
	}
	mid, radius := v.at(e.Curve.Center)[along], e.Curve.Radius
	shows := func(x float64) bool {
		p := at(x)
		if r.Contains(p) || r.Away(p) < clear {
			return false
		}
		far := math.Sqrt(max(0, radius*radius-(x-mid)*(x-mid)))
		return free(rays, p, height, far, 1) || free(rays, p, height, far, -1)
	}
	var out []outline.Path
	const parts = 512
	from, was := lo, false
	for i := range parts + 2 {
		x := lo + (hi-lo)*(float64(i)+.5)/parts
		now := i < parts && shows(x)
		if now == was {
			continue
		}
		edge := min(x, hi)
		if i > 0 && i < parts {
			edge = turn(shows, x-(hi-lo)/parts, x)
		} else if i == 0 {
			edge = lo
		}
		if now {
			from = edge
		} else if edge-from > clear {
			out = append(out, outline.Path{Start: at(from), Segments: []outline.Segment{{To: at(edge)}}})
		}
		was = now
	}
	return out
}

// free tells whether nothing lies between the plane and a point far behind it, seen just
// beside the point.
func free(rays *plumb.Line, p point, height int, far, side float64) bool {
	const beside = 0.005 // mm
	p[height] += side * beside
	for _, r := range rays.Runs(p[0], p[1]) {
		if min(r.Hi, 0)-max(r.Lo, -far) > beside {
			return false
		}
	}
	return true
}

// clear is the length below which nothing is drawn, mm.
const clear = 1e-3

// turn is where between a and b a property changes.
func turn(is func(float64) bool, a, b float64) float64 {
	for was := is(a); b-a > 1e-9; {
		if mid := (a + b) / 2; is(mid) == was {
			a = mid
		} else {
			b = mid
		}
	}
	return (a + b) / 2
}

// behind is between which places an edge about an axis in the plane reaches on and behind
// the plane.
func (v *view) behind(e *brep.Edge, along int) (lo, hi float64) {
	const parts = 256
	lo, hi = math.Inf(1), math.Inf(-1)
	w := v.look.W()
	for i := range parts + 1 {
		p := e.Curve.At(e.T0 + (e.T1-e.T0)*float64(i)/parts)
		if w.Dot(p) < 1e-6 {
			x := v.at(p)[along]
			lo, hi = min(lo, x), max(hi, x)
		}
	}
	mid, r := v.at(e.Curve.Center)[along], e.Curve.Radius
	for _, x := range []*float64{&lo, &hi} { // exact where the plane cuts the edge
		if d := *x - mid; math.Abs(math.Abs(d)-r) < r*1e-4 {
			*x = mid + math.Copysign(r, d)
		}
	}
	return lo, hi
}

// level is along which coordinate of a section edges around the wheel's axis run, and
// which tells their height.
func (v *view) level() (along, height int) {
	if math.Abs(v.look.U.Dot(axisZ)) > .5 {
		return 1, 0
	}
	return 0, 1
}
