package brep

import (
	"math"
	"slices"
	"sync"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// lineReach bounds the parameter of a straight line before its patches trim
// it, mm: beyond any mold this program makes.
const lineReach = 1e4

// upward returns d or -d, whichever has its first significant component
// positive: the same line or circle found from two pairs of carriers then runs
// the same way.
func upward(d Vec) Vec {
	for _, c := range d {
		if math.Abs(c) > dirTol {
			if c < 0 {
				return d.Scale(-1)
			}
			break
		}
	}
	return d
}

// lineThrough returns the line through o along d; its parameter is measured
// from the foot of the world's origin.
func lineThrough(o, d Vec) *Curve {
	d = upward(d.Unit())
	o = o.AddScaled(-o.Dot(d), d)
	return &Curve{
		At: func(t float64) Vec { return o.AddScaled(t, d) },
		T0: -lineReach, T1: lineReach,
		Line: true, dir: d,
	}
}

// rayFrom returns the half line that starts at the cone's tip o and runs along d.
func rayFrom(o, d Vec) *Curve {
	c := lineThrough(o, d)
	t := o.Dot(c.dir)
	if c.dir.Dot(d) > 0 {
		c.T0, c.ends[0], c.fixed[0] = t, o, true
	} else {
		c.T1, c.ends[1], c.fixed[1] = t, o, true
	}
	return c
}

// circleAbout returns the circle of radius r about c in the plane normal to n.
func circleAbout(c, n Vec, r float64) *Curve {
	n = upward(n)
	x, y := solid.Across(n)
	return &Curve{
		At: func(t float64) Vec {
			s, k := math.Sincos(t)
			return c.AddScaled(r*k, x).AddScaled(r*s, y)
		},
		T0: 0, T1: 2 * math.Pi,
		Closed: true, Radius: r, Center: c, Normal: n,
	}
}

// tangent marks c as a curve along which its carriers touch.
func (c *Curve) tangent() *Curve {
	c.Smooth = true
	return c
}

// track is a curve with the samples that every solid of the model shares.
type track struct {
	*Curve
	box Box // holds the whole curve

	once  sync.Once
	t     []float64 // parameters, ends included
	p     []Vec     // points
	arc   []float64 // upper bound of the arc length between neighbors, mm
	bulge []float64 // how far the arc may leave the box of its ends, mm
}

const (
	samples = 48
	// chordFactor bounds arc over chord between neighboring samples of a branch:
	// an arc that turned by 1.2 radians between them would just exceed it.
	chordFactor = 1.06
)

// newTrack boxes c; a line is boxed only once it is trimmed (see clip).
func newTrack(c *Curve) *track {
	tr := &track{Curve: c}
	switch {
	case c.Line:
	case c.Radius > 0:
		for i, n := range c.Normal {
			r := c.Radius * math.Sqrt(max(0, 1-n*n))
			tr.box.Lo[i], tr.box.Hi[i] = c.Center[i]-r, c.Center[i]+r
		}
	default:
		tr.sample()
		tr.box = mesh.EmptyBox()
		for _, p := range tr.p {
			tr.box = tr.box.Include(p)
		}
		tr.box = tr.box.Grow(slices.Max(tr.arc) / 2)
	}
	return tr
}

// sample fills in the samples, once.
func (tr *track) sample() { tr.once.Do(tr.fill) }

func (tr *track) fill() {
	n, factor := samples, chordFactor
	switch {
	case tr.Line:
		n, factor = 1, 1+1e-9
	case tr.Radius > 0: // arc over chord of 1/48 turn is 1.0007
		factor = 1.001
	}
	tr.t, tr.p = make([]float64, n+1), make([]Vec, n+1)
	tr.arc, tr.bulge = make([]float64, n), make([]float64, n)
	for k := range tr.t {
		tr.t[k] = tr.T0 + (tr.T1-tr.T0)*float64(k)/float64(n)
		tr.p[k] = tr.At(tr.t[k])
	}
	for k := range tr.arc {
		c := tr.p[k].Dist(tr.p[k+1])
		g := c * factor
		// An arc of length g over the chord c bulges at most √(g²-c²)/2 off it.
		tr.arc[k], tr.bulge[k] = g, 1e-5
		if !tr.Line {
			tr.bulge[k] += .5 * math.Sqrt(g*g-c*c)
		}
	}
}

// clip returns the part of a straight line within both boxes, a little longer
// so that no end falls on a patch's border; nil if there is none.
func (tr *track) clip(a, b Box) *track {
	lo, hi := tr.T0, tr.T1
	o, d := tr.At(0), tr.dir
	for _, x := range [...]Box{a, b} {
		for i := range d {
			if math.Abs(d[i]) < 1e-12 {
				if o[i] < x.Lo[i]-contactTol || o[i] > x.Hi[i]+contactTol {
					return nil
				}
				continue
			}
			u, v := (x.Lo[i]-o[i])/d[i], (x.Hi[i]-o[i])/d[i]
			lo, hi = max(lo, min(u, v)), min(hi, max(u, v))
		}
	}
	if lo > hi {
		return nil
	}
	c := *tr.Curve
	c.T0, c.T1 = max(c.T0, lo-.0123), min(c.T1, hi+.0131)
	c.fixed[0] = c.fixed[0] && c.T0 == tr.T0
	c.fixed[1] = c.fixed[1] && c.T1 == tr.T1
	if c.T1-c.T0 < vertexTol {
		return nil
	}
	p, q := c.At(c.T0), c.At(c.T1)
	return &track{Curve: &c, box: Box{Lo: p, Hi: p}.Include(q)}
}

// segBox reports whether the arc between samples k and k+1 can meet box.
func (tr *track) segBox(k int, box *Box) bool {
	a, e, w := &tr.p[k], &tr.p[k+1], tr.bulge[k]
	for i := range a {
		lo, hi := a[i], e[i]
		if lo > hi {
			lo, hi = hi, lo
		}
		if lo-w > box.Hi[i] || hi+w < box.Lo[i] {
			return false
		}
	}
	return true
}

// arcBox bounds arc k.
func (tr *track) arcBox(k int) Box {
	return Box{Lo: tr.p[k], Hi: tr.p[k]}.Include(tr.p[k+1]).Grow(tr.bulge[k])
}
