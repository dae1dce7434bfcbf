package machining

import (
	"wheelmold/mesh"
	"wheelmold/mesh/plumb"
	"wheelmold/mesh/solid"
)

// sights reads one solid along lines of any direction. It is for one goroutine.
type sights struct {
	root *solid.Node
	all  []*sight
}

// sight are the lines along one direction and against it.
type sight struct {
	frame solid.Frame
	line  *plumb.Line
}

// along returns the lines along d, and -1 if the frame's Z runs the other way.
func (s *sights) along(d mesh.Vec) (*sight, float64, error) {
	for _, v := range s.all {
		if c := v.frame.Z.Dot(d); c > 1-1e-15 || c < -1+1e-15 {
			if c < 0 {
				return v, -1, nil
			}
			return v, 1, nil
		}
	}
	v := &sight{frame: solid.AxisFrame(mesh.Vec{}, d)}
	p, err := plumb.NewAlong(s.root, v.frame)
	if err != nil {
		return nil, 0, err
	}
	v.line = p.Line()
	s.all = append(s.all, v)
	return v, 1, nil
}

// way is what lies on the line from a point along a direction.
type way struct {
	blocked bool    // material lies ahead
	inside  bool    // the point itself lies in material
	rest    float64 // of that material ahead, mm
	gap     float64 // to the next material ahead; 0 where there is none or the point is inside
	beyond  float64 // thickness of that next material
}

// look tells what lies ahead of p along d.
func (s *sights) look(p, d mesh.Vec) (way, error) {
	v, sign, err := s.along(d)
	if err != nil {
		return way{}, err
	}
	q := v.frame.Local(p)
	runs := v.line.Runs(q[0], q[1])
	var w way
	for i := range runs {
		r := runs[i]
		if sign < 0 {
			r = runs[len(runs)-1-i]
			r.Lo, r.Hi = -r.Hi, -r.Lo
		}
		z := sign * q[2]
		switch {
		case r.Hi <= z:
			continue
		case r.Lo < z:
			w.inside, w.rest = true, r.Hi-z
		default:
			w.gap, w.beyond = r.Lo-z, r.Hi-r.Lo
		}
		w.blocked = true
		return w, nil
	}
	return w, nil
}
