package region

import (
	"math"

	"wheelmold/mesh/solid"
)

// cutRing cuts a ring open that nothing bounds, or mere holes: along a meridian and
// along a circle about the axis, which meet in one vertex. Its outline runs along each of
// them twice: U[0] and V[0] are where they lie.
func (k *cutter) cutRing(face int) error {
	f := k.Faces[face]
	c := f.Carrier
	u, okU := clearAngle(func(u float64) bool {
		m := meridianAt(c, u)
		return k.meetsNone(f, m.crossings)
	})
	v, okV := clearAngle(func(v float64) bool {
		return k.meetsNone(f, func(e *Edge) []float64 { return latitudeCrossings(c, e, v) })
	})
	if !okU || !okV {
		return k.fail("holes leave no way to cut a ring along", c, c.P(0, f.V[0]))
	}
	p := k.addVertex(c.P(u, v))
	tube := k.addSeam(face, u, v, v+2*math.Pi, p, p)
	about := &Edge{Shape: Circle, V0: p, V1: p, T0: u, T1: u + 2*math.Pi, X: c.Frame.X, Y: c.Frame.Y,
		Carriers: [2]*solid.Carrier{c, c}, Faces: [2]int{face, face}, Seam: true}
	about.A = c.R0 + c.M*math.Cos(v)
	about.B = about.A
	about.Center = c.Frame.O.AddScaled(c.Z0+c.M*math.Sin(v), c.Frame.Z)
	about.finish()
	k.Edges = append(k.Edges, about)
	k.meet[p] += 2
	i := len(k.Edges) - 1
	outline := Loop{{i, false}, {tube, false}, {i, true}, {tube, true}}
	f.Loops = append([]Loop{outline}, f.Loops...)
	f.Seam, f.cut = u, true
	f.U, f.V = [2]float64{u, u + 2*math.Pi}, [2]float64{v, v + 2*math.Pi}
	return nil
}

// clearAngle is the first of many angles that is clear.
func clearAngle(clear func(float64) bool) (float64, bool) {
	const n = 90
	for i := range 4 {
		if x := float64(i) * math.Pi / 2; clear(x) {
			return x, true
		}
	}
	for i := range n {
		if x := .03 + 2*math.Pi*float64(i)/n; clear(x) {
			return x, true
		}
	}
	return 0, false
}

// meetsNone reports whether a line on the face meets none of its edges.
func (k *cutter) meetsNone(f *Face, crossings func(e *Edge) []float64) bool {
	for _, l := range f.Loops {
		for _, u := range l {
			if len(crossings(k.Edges[u.Edge])) > 0 {
				return false
			}
		}
	}
	return true
}

// latitudeCrossings are the parameters at which an edge on a ring passes the circle of
// constant v.
func latitudeCrossings(c *solid.Carrier, e *Edge, v float64) []float64 {
	all := e.search(func(t float64) float64 {
		_, x := c.UV(e.At(t))
		return math.Sin(x - v)
	})
	kept := all[:0]
	for _, t := range all {
		if _, x := c.UV(e.At(t)); math.Cos(x-v) > 0 {
			kept = append(kept, t)
		}
	}
	return kept
}
