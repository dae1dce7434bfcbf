package machining

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
)

// spot is a point of a face that stands for a share of its area.
type spot struct {
	p     mesh.Vec
	n     mesh.Vec // outward, of length 1
	share float64  // of all of a face they add up to 1
}

// golden is the irrational step by which points are shifted from fiber to fiber, so that
// they fill a face evenly and lie in line with nothing.
const golden = 0.6180339887498949

// outline is a face's border in its carrier's parameters, with everything that finds
// where a line of constant u passes it.
type outline struct {
	s     *region.Solid
	f     *region.Face
	turns bool // u is an angle
	edges []border
}

// border is an edge of a face, sampled: u runs on without a jump.
type border struct {
	edge     *region.Edge
	reversed bool
	t, u     []float64
}

// borderSteps are how many steps an edge is sampled in, so that angles turn by far less
// than half a turn between two.
const borderSteps = 24

func newOutline(s *region.Solid, f *region.Face) *outline {
	o := &outline{s: s, f: f, turns: f.Carrier.Kind != solid.Plane}
	for _, l := range f.Loops {
		for _, use := range l {
			o.edges = append(o.edges, o.border(use))
		}
	}
	return o
}

func (o *outline) border(use region.Use) border {
	e := o.s.Edges[use.Edge]
	steps := borderSteps
	if e.Shape == region.Line && !o.turns {
		steps = 1
	}
	b := border{edge: e, reversed: use.Reversed}
	for i := range steps + 1 {
		t := e.T0 + (e.T1-e.T0)*float64(i)/float64(steps)
		u, _ := o.f.Carrier.UV(e.At(t))
		if i > 0 && o.turns {
			u = b.u[i-1] + solid.WrapAngle(u-b.u[i-1])
		}
		b.t, b.u = append(b.t, t), append(b.u, u)
	}
	return b
}

// rim is where a fiber enters or leaves a face.
type rim struct {
	v     float64
	enter bool
}

// fiber returns the stretches of v in which the line of constant u lies on the face. A
// face lies on the left of its border, so that where this runs toward greater u the face
// is above.
func (o *outline) fiber(u float64) [][2]float64 {
	var rims []rim
	for i := range o.edges {
		rims = o.edges[i].cross(o, u, rims)
	}
	slices.SortFunc(rims, func(a, b rim) int { return cmp.Compare(a.v, b.v) })
	low, high := o.ends()
	n := len(rims)
	switch {
	case n == 0 && len(o.edges) == 0:
		return [][2]float64{{low, high}}
	case n == 0:
		return nil
	}
	if !rims[0].enter && rims[n-1].enter && o.f.Carrier.Kind == solid.Torus { // on around the tube
		rims = append(rims[1:], rim{rims[0].v + 2*math.Pi, false})
	}
	if !rims[0].enter {
		rims = slices.Insert(rims, 0, rim{low, true})
	}
	if rims[len(rims)-1].enter {
		rims = append(rims, rim{high, false})
	}
	var out [][2]float64
	for i := 1; i < len(rims); i++ {
		if rims[i-1].enter && !rims[i].enter && rims[i].v > rims[i-1].v {
			out = append(out, [2]float64{rims[i-1].v, rims[i].v})
		}
	}
	return out
}

// ends are the v at which a carrier itself ends: poles, a cone's tip, one turn of a tube.
func (o *outline) ends() (low, high float64) {
	c := o.f.Carrier
	switch c.Kind {
	case solid.Sphere:
		return -math.Pi / 2, math.Pi / 2
	case solid.Torus:
		return -math.Pi, math.Pi
	case solid.Cone:
		tip := -c.R0 / c.DR
		return tip, tip
	}
	return 0, 0
}

// cross adds where the border passes the fiber at u.
func (b *border) cross(o *outline, u float64, rims []rim) []rim {
	for i := 1; i < len(b.u); i++ {
		lo, hi := min(b.u[i-1], b.u[i]), max(b.u[i-1], b.u[i])
		at := u
		if o.turns { // the turn on which the step lies
			at += 2 * math.Pi * math.Ceil((lo-u)/(2*math.Pi))
		}
		if at < lo || at >= hi {
			continue
		}
		_, v := o.f.Carrier.UV(b.edge.At(b.find(o, i, at)))
		rims = append(rims, rim{v, b.u[i] > b.u[i-1] != b.reversed})
	}
	return rims
}

// find is the parameter of the border's edge in step i at which it has the given u: false
// position, kept from stalling by halving the weight of an end that stays.
func (b *border) find(o *outline, i int, u float64) float64 {
	t0, t1 := b.t[i-1], b.t[i]
	f0, f1 := b.u[i-1]-u, b.u[i]-u
	t := t0
	for range 60 {
		t = t1 - f1*(t1-t0)/(f1-f0)
		w, _ := o.f.Carrier.UV(b.edge.At(t))
		f := w - u
		if o.turns {
			f = solid.WrapAngle(f)
		}
		if math.Abs(f) < 1e-11 {
			break
		}
		if (f < 0) == (f1 < 0) {
			t1, f1 = t, f
			f0 /= 2
		} else {
			t0, f0, t1, f1 = t1, f1, t, f
		}
	}
	return t
}

// holds tells whether a point on the carrier lies on the face.
func (o *outline) holds(p mesh.Vec) bool {
	const near = 1e-5 // mm or radians, what edges are known to
	u, v := o.f.Carrier.UV(p)
	for _, r := range o.fiber(u) {
		turn := 0.0
		if o.f.Carrier.Kind == solid.Torus {
			turn = 2 * math.Pi * math.Ceil((r[0]-near-v)/(2*math.Pi))
		}
		if v+turn > r[0]-near && v+turn < r[1]+near {
			return true
		}
	}
	return false
}

// density is the area that a step of u and v has at v, in mm² per unit of both.
func density(c *solid.Carrier, v float64) float64 {
	switch c.Kind {
	case solid.Cylinder:
		return c.R0
	case solid.Cone:
		return math.Abs(c.R0 + v*c.DR)
	case solid.Torus:
		return c.M * math.Abs(c.R0+c.M*math.Cos(v))
	case solid.Sphere:
		return c.M * c.M * math.Cos(v)
	}
	return 1
}

// spots spreads about n points over a face, evenly by area: on fibers of constant u, on
// each as many as its share of the area asks for, at least one in every stretch.
func (o *outline) spots(n int) []spot {
	f := o.f
	from, to := f.U[0], f.U[1]
	if o.turns && (f.Around || len(o.edges) == 0) {
		from, to = 0, 2*math.Pi
	}
	columns := max(3, int(math.Sqrt(float64(n))+.5))
	type stretch struct {
		u, lo, hi, area float64
	}
	var all []stretch
	sum := 0.0
	for i := range columns {
		u := from + (to-from)*(float64(i)+.5)/float64(columns)
		if o.turns && f.Around { // off the directions that features prefer
			u += 0.0817
		}
		for _, r := range o.fiber(u) {
			x := stretch{u, r[0], r[1], (r[1] - r[0]) * density(f.Carrier, (r[0]+r[1])/2)}
			all, sum = append(all, x), sum+x.area
		}
	}
	var out []spot
	total := 0.0
	for i, x := range all {
		k := max(1, int(float64(n)*x.area/sum+.5))
		shift := math.Mod(.5+float64(i)*golden, 1)
		for j := range k {
			v := x.lo + (x.hi-x.lo)*(float64(j)+shift)/float64(k)
			q := spot{p: f.Carrier.P(x.u, v), share: (x.hi - x.lo) / float64(k) * density(f.Carrier, v)}
			q.n = outward(f, q.p)
			out, total = append(out, q), total+q.share
		}
	}
	for i := range out {
		out[i].share /= total
	}
	return out
}

// outward is the direction out of the solid at a point of a face.
func outward(f *region.Face, p mesh.Vec) mesh.Vec {
	n := f.Carrier.N(p)
	if f.Negative {
		return n.Scale(-1)
	}
	return n
}
