package contact

import (
	"math"
	"slices"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// round is a face of a cylinder or cone that takes part.
type round struct {
	body   int
	axis   *solid.Frame // of all faces about this axis
	inward bool         // looks at the axis: a hole's wall
	wall   wall
	lo, hi float64 // heights of its edges, mm
	roles  []string
	apex   float64 // height of the tip, where it lies on the face; else NaN
	arcs   []turn
	curves []winding
	corner []float64 // angles of the edges' ends, rad
}

// turn is an edge at constant height.
type turn struct{ z, from, sweep float64 }

// winding is any other edge that does not run along a ruling, by samples.
type winding struct {
	edge  *brep.Edge
	angle [curveSamples + 1]float64
}

func roundFaces(bodies []Body, s *Settings) []round {
	var out []round
	var axes []*solid.Carrier
	var frames []*solid.Frame
	axis := func(c *solid.Carrier) *solid.Frame {
		for i, a := range axes {
			if solid.Coaxial(a, c) {
				return frames[i]
			}
		}
		f := c.Frame
		axes, frames = append(axes, c), append(frames, &f)
		return &f
	}
	for i, b := range bodies {
		if b.Boundary == nil {
			continue
		}
		for _, f := range b.Boundary.Faces {
			if k := f.Carrier.Kind; (k == solid.Cylinder || k == solid.Cone) && s.mates(f.Roles) {
				r := newRound(b.Boundary, f, axis(f.Carrier))
				r.body = i
				out = append(out, r)
			}
		}
	}
	return out
}

func newRound(b *brep.Boundary, f *brep.Face, axis *solid.Frame) round {
	c := f.Carrier
	r := round{axis: axis, inward: f.Negative, roles: f.Roles, apex: math.NaN(), lo: math.Inf(1), hi: math.Inf(-1)}
	up := axis.Local(c.Frame.O)[2]
	r.wall = wall{r: c.R0}
	if c.Kind == solid.Cone {
		k := c.DR / c.DZ
		r.wall = wall{r: c.R0 - (c.Z0+up)*k, slope: k}
		if f.Apex {
			r.apex = -r.wall.r / k
			r.reach(r.apex)
		}
	}
	for _, fe := range f.Edges {
		e := fe.Edge
		for _, v := range [...]int{e.V0, e.V1} {
			q := axis.Local(b.Vertices[v])
			r.reach(q[2])
			r.corner = append(r.corner, math.Atan2(q[1], q[0]))
		}
		r.edge(e)
	}
	return r
}

// reach widens the range of heights.
func (r *round) reach(z float64) { r.lo, r.hi = min(r.lo, z), max(r.hi, z) }

// edge adds an edge as the lines of constant angle meet it.
func (r *round) edge(e *brep.Edge) {
	c := e.Curve
	if c.Line {
		return // a ruling: between two angles, met by none
	}
	if c.Radius > 0 && c.Normal.Cross(r.axis.Z).Norm() < parallel {
		q := r.axis.Local(c.At(e.T0))
		t := turn{z: r.axis.Local(c.Center)[2], from: math.Atan2(q[1], q[0]), sweep: e.T1 - e.T0}
		if c.Normal.Dot(r.axis.Z) < 0 {
			t.from -= t.sweep
		}
		r.arcs = append(r.arcs, t)
		return
	}
	w := winding{edge: e}
	for k := range w.angle {
		q := r.axis.Local(c.At(w.at(k)))
		r.reach(q[2])
		w.angle[k] = math.Atan2(q[1], q[0])
	}
	r.curves = append(r.curves, w)
}

func (w *winding) at(k int) float64 {
	return w.edge.T0 + (w.edge.T1-w.edge.T0)*float64(k)/curveSamples
}

// heights appends where the line of constant angle crosses the face's edges, in
// order: run by run. The angle must be none at which an edge ends.
func (r *round) heights(out []float64, angle float64) []float64 {
	if !math.IsNaN(r.apex) {
		out = append(out, r.apex)
	}
	for _, t := range r.arcs {
		d := math.Mod(angle-t.from, 2*math.Pi)
		if d < 0 {
			d += 2 * math.Pi
		}
		if d < t.sweep {
			out = append(out, t.z)
		}
	}
	for i := range r.curves {
		out = r.windings(out, &r.curves[i], angle)
	}
	slices.Sort(out)
	return out
}

// windings appends the heights at which a curve crosses the angle.
func (r *round) windings(out []float64, w *winding, angle float64) []float64 {
	for k := range curveSamples {
		a, b := solid.WrapAngle(w.angle[k]-angle), solid.WrapAngle(w.angle[k+1]-angle)
		if (a <= 0) == (b <= 0) || math.Abs(a-b) > math.Pi {
			continue
		}
		t0, t1 := w.at(k), w.at(k+1)
		for range halvings {
			t := (t0 + t1) / 2
			q := r.axis.Local(w.edge.Curve.At(t))
			if (solid.WrapAngle(math.Atan2(q[1], q[0])-angle) <= 0) == (a <= 0) {
				t0 = t
			} else {
				t1 = t
			}
		}
		out = append(out, r.axis.Local(w.edge.Curve.At(t0))[2])
	}
	return out
}

// sector stands for a range of angles, rad.
type sector struct{ at, width float64 }

// sectorsPerTurn is the least number of angles at which two walls are compared:
// each stands for a degree, so that a hole's share of a ring is right to a few
// parts in a thousand. Walls that end in rulings and level arcs are exact.
const sectorsPerTurn = 360

// narrow is the angle between ends of edges that lie at one place, rad: above
// what vertices may be off (1e-7 mm, on walls of a few mm), and no loss.
const narrow = 1e-6

// sectors part the turn at the ends of both faces' edges, and further.
func sectors(a, b *round) []sector {
	cuts := append(slices.Clone(a.corner), b.corner...)
	slices.Sort(cuts)
	if len(cuts) == 0 {
		return nil
	}
	var out []sector
	for i, c := range cuts {
		width := cuts[(i+1)%len(cuts)] - c
		if i == len(cuts)-1 {
			width += 2 * math.Pi
		}
		if width < narrow {
			continue
		}
		n := math.Ceil(width / (2 * math.Pi) * sectorsPerTurn)
		for k := range int(n) {
			out = append(out, sector{c + width*(float64(k)+.5)/n, width / n})
		}
	}
	return out
}
