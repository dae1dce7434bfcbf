package brep

import (
	"math"

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
	t   []float64 // parameters, ends included
	p   []Vec     // points
	arc []float64 // upper bound of the arc length between neighbors, mm
	box Box       // holds the whole curve
}

const (
	samples = 48
	// chordFactor bounds arc over chord between neighboring samples of a branch:
	// an arc that turned by 1.2 radians between them would just exceed it.
	chordFactor = 1.06
)

// newTrack samples c; a line is sampled only once it is trimmed (see clip).
func newTrack(c *Curve) *track {
	if c.Line {
		return &track{Curve: c}
	}
	tr := &track{Curve: c}
	tr.sample(samples)
	return tr
}

func (tr *track) sample(n int) {
	tr.t, tr.p, tr.arc = make([]float64, n+1), make([]Vec, n+1), make([]float64, n)
	tr.box = solid.Box{Lo: tr.At(tr.T0), Hi: tr.At(tr.T0)}
	for k := range tr.t {
		tr.t[k] = tr.T0 + (tr.T1-tr.T0)*float64(k)/float64(n)
		tr.p[k] = tr.At(tr.t[k])
		tr.box = tr.box.Include(tr.p[k])
	}
	factor := chordFactor
	switch {
	case tr.Line:
		factor = 1 + 1e-9
	case tr.Radius > 0: // arc over chord of 1/48 turn is 1.0007
		factor = 1.001
	}
	longest := 0.0
	for k := range tr.arc {
		tr.arc[k] = tr.p[k].Dist(tr.p[k+1]) * factor
		longest = max(longest, tr.arc[k])
	}
	if !tr.Line {
		tr.box = tr.box.Grow(longest / 2)
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
	out := &track{Curve: &c}
	out.sample(1)
	return out
}

// segBox reports whether the arc between samples k and k+1 can meet box.
func (tr *track) segBox(k int, box *Box) bool {
	a, e, g := &tr.p[k], &tr.p[k+1], tr.arc[k]
	w := 1e-5
	if !tr.Line {
		// An arc of length g over the chord c bulges at most √(g²-c²)/2 off it.
		c := a.Dist(*e)
		w += .5 * math.Sqrt(max(0, g*g-c*c))
	}
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
