package brep

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// A face is walked in its carrier's parameters, so its edges must keep clear of
// where those break: a sphere's poles, and the circle on which a torus's v jumps
// by a turn. Where they do not, the face gets a copy of its carrier that is the
// same surface in other parameters.

// edgeSteps samples an edge to see where it runs in a face's parameters.
const edgeSteps = 24

// walk calls f on points along the edge, ends included.
func (e *Edge) walk(f func(p Vec)) {
	for k := 0; k <= edgeSteps; k++ {
		f(e.Curve.At(e.T0 + (e.T1-e.T0)*float64(k)/edgeSteps))
	}
}

// Poles nearer than poleClear to an edge, in radii, make the face turn its axis;
// it is content with poleGood.
const (
	poleClear = .01
	poleGood  = .2
)

// turnSphere gives the face an axis whose poles keep off its edges.
func (f *Face) turnSphere() {
	c := f.Carrier
	center := onAxis(c, c.Z0)
	var path []Vec // along all edges, as directions from the center
	var breaks []int
	var dirs []Vec
	for _, e := range f.Edges {
		e.Edge.walk(func(p Vec) { path = append(path, p.Sub(center).Scale(1/c.M)) })
		breaks = append(breaks, len(path))
		if e.Edge.Curve.Radius > 0 {
			dirs = append(dirs, e.Edge.Curve.Normal)
		}
	}
	clearance := func(axis Vec) float64 {
		best, from := math.Inf(1), 0
		for _, to := range breaks {
			for k := from; k+1 < to; k++ {
				best = min(best, segmentDist(axis, path[k], path[k+1]), segmentDist(axis.Scale(-1), path[k], path[k+1]))
			}
			from = to
		}
		return best
	}
	if clearance(c.Frame.Z) > poleClear {
		return
	}
	for i := 1; i < 27; i++ { // axes and diagonals, of the world
		d := Vec{float64(i % 3), float64(i / 3 % 3), float64(i / 9)}
		for k := range d {
			if d[k] == 2 {
				d[k] = -1
			}
		}
		dirs = append(dirs, d.Unit())
	}
	axis, most := c.Frame.Z, 0.0
	for _, d := range dirs {
		if k := clearance(d); k > most {
			axis, most = upward(d), k
			if k > poleGood {
				break
			}
		}
	}
	turned := *c
	turned.Frame = solid.AxisFrame(center, axis)
	turned.Z0, turned.H0, turned.H1 = 0, -c.M, c.M
	f.Carrier = &turned
}

// segmentDist is the distance of p from the straight piece a-b.
func segmentDist(p, a, b Vec) float64 {
	d := b.Sub(a)
	l := d.Dot(d)
	if l == 0 {
		return p.Dist(a)
	}
	t := max(0, min(1, p.Sub(a).Dot(d)/l))
	return p.Dist(a.AddScaled(t, d))
}

// arc is a range of angles, from <= to.
type arc struct{ from, to float64 }

// freeArcs returns the gaps that the angles of the face's edges leave on a full
// turn, widest first.
func (f *Face) freeArcs(angle func(p Vec) float64) []arc {
	var taken []arc
	for _, e := range f.Edges {
		var a arc
		last, first := 0.0, true
		e.Edge.walk(func(p Vec) {
			v := angle(p)
			if first {
				a, last, first = arc{v, v}, v, false
				return
			}
			last += solid.WrapAngle(v - last)
			a.from, a.to = min(a.from, last), max(a.to, last)
		})
		if a.to-a.from > 2*math.Pi-.1 {
			return nil
		}
		turns := 2 * math.Pi * math.Floor(a.from/(2*math.Pi))
		a = arc{a.from - turns, a.to - turns}
		taken = append(taken, a)
		if a.to > 2*math.Pi {
			taken = append(taken, arc{a.from - 2*math.Pi, a.to - 2*math.Pi})
		}
	}
	slices.SortFunc(taken, func(a, b arc) int { return cmp.Compare(a.from, b.from) })
	var free []arc
	end := taken[0].from
	for _, a := range taken {
		if a.from > end {
			free = append(free, arc{end, a.from})
		}
		end = max(end, a.to)
	}
	if next := taken[0].from + 2*math.Pi; next > end {
		free = append(free, arc{end, next})
	}
	slices.SortStableFunc(free, func(a, b arc) int { return cmp.Compare(b.to-b.from, a.to-a.from) })
	// Samples may miss an edge's extreme angle by a hundredth.
	return slices.DeleteFunc(free, func(a arc) bool { return a.to-a.from < .02 })
}

// oddAngle avoids the places where features are put.
const oddAngle = .7371

// unwrapTorus finds a circle v = const on which to cut the face open, off the
// face and its edges where there is one, and notes the parts of that circle
// which lie inside the face.
func (b *builder) unwrapTorus(f *Face) {
	c := f.Carrier
	tube := func(p Vec) float64 {
		_, v := c.UV(p)
		return v
	}
	free := f.freeArcs(tube)
	// The carrier's own cut is good where it lies in a gap off the face.
	own := math.Atan2(c.VY, c.VX) + math.Pi
	for _, a := range free {
		if k := solid.WrapAngle(own - (a.from+a.to)/2); math.Abs(k) < (a.to-a.from)/2 && !b.faceHolds(f, c.P(oddAngle, own)) {
			return
		}
	}
	for _, a := range free {
		if v := (a.from + a.to) / 2; !b.faceHolds(f, c.P(oddAngle, v)) {
			f.cutAt(v)
			return
		}
	}
	cut := oddAngle
	if len(free) > 0 {
		cut = (free[0].from + free[0].to) / 2
	}
	var at []float64
	for _, e := range f.Edges {
		for _, t := range e.Edge.crossings(tube, cut) {
			u, _ := c.UV(e.Edge.Curve.At(t))
			at = append(at, u)
		}
	}
	if len(at) == 0 {
		at = append(at, 0)
	}
	slices.Sort(at)
	at = append(at, at[0]+2*math.Pi)
	for i := 0; i+1 < len(at); i++ {
		if b.faceHolds(f, c.P((at[i]+at[i+1])/2, cut)) {
			f.inside = append(f.inside, arc{at[i], at[i+1]})
		}
	}
	f.cutAt(cut)
	f.AroundTube = len(f.inside) > 0
}

// cutAt makes v jump at the given angle.
func (f *Face) cutAt(v float64) {
	c := *f.Carrier
	c.VY, c.VX = math.Sincos(v + math.Pi)
	f.Carrier = &c
}

// crossings returns the parameters where an angle along the edge passes a value.
func (e *Edge) crossings(angle func(p Vec) float64, value float64) []float64 {
	diff := func(t float64) float64 { return solid.WrapAngle(angle(e.Curve.At(t)) - value) }
	var out []float64
	last, from := diff(e.T0), e.T0
	for k := 1; k <= samples; k++ {
		t := e.T0 + (e.T1-e.T0)*float64(k)/samples
		d := diff(t)
		if (d < 0) != (last < 0) && math.Abs(d-last) < math.Pi {
			a, b := from, t
			for i := 0; i < 60; i++ {
				if m := (a + b) / 2; (diff(m) < 0) == (last < 0) {
					a = m
				} else {
					b = m
				}
			}
			out = append(out, (a+b)/2)
		}
		last, from = d, t
	}
	return out
}
