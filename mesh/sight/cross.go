package sight

import (
	"math"

	"wheelmold/mesh/outline"
)

// cross cuts the parts where contours cross them or end on them.
func (d *drawing) cross() {
	for i, a := range d.parts {
		for _, b := range d.parts[i+1:] {
			if apart(&a.box, &b.box) {
				continue
			}
			cutA, cutB := b.hides(a), a.hides(b)
			if !cutA && !cutB {
				continue
			}
			meet(a, b, func(at, bt float64) {
				if cutA {
					a.cuts = append(a.cuts, at)
				}
				if cutB {
					b.cuts = append(b.cuts, bt)
				}
			})
			if cutA {
				b.endsOn(a)
			}
			if cutB {
				a.endsOn(b)
			}
		}
	}
}

// hides reports whether a part may change what is seen of another one. A curve is cut
// by each that lies on it, so that what is drawn twice has the same cuts.
func (p *part) hides(q *part) bool {
	return p.contour && p.box.Hi[2] >= q.box.Lo[2] || p.curve != nil && q.curve != nil
}

// endsOn cuts q where an end of p lies on it.
func (p *part) endsOn(q *part) {
	ends := [2]point{p.From, p.To}
	if c := p.curve; c != nil {
		ends = [2]point{c.p[0], c.p[len(c.p)-1]}
	}
	for _, e := range ends {
		if q.curve != nil {
			if t, away := q.curve.foot(e, onIt); away < onIt {
				q.cuts = append(q.cuts, t)
			}
		} else if share, on := q.Bears(e, onIt); on {
			q.cuts = append(q.cuts, share)
		}
	}
}

// meet calls cut for every place where two parts cross.
func meet(a, b *part, cut func(at, bt float64)) {
	switch {
	case a.curve == nil && b.curve == nil:
		for _, p := range outline.Crossings(&a.Stretch, &b.Stretch) {
			at, onA := a.Bears(p, onIt)
			bt, onB := b.Bears(p, onIt)
			if onA && onB {
				cut(at, bt)
			}
		}
	case a.curve == nil:
		b.curve.across(a, func(bt, at float64) { cut(at, bt) })
	case b.curve == nil:
		a.curve.across(b, cut)
	default:
		a.curve.curves(b.curve, cut)
	}
}

// across finds where the curve changes sides of a straight line or a circle.
func (c *curve) across(p *part, cut func(t, share float64)) {
	side := func(q point) float64 {
		if p.Radius > 0 {
			return dist(q, p.Center) - p.Radius
		}
		return (p.To[0]-p.From[0])*(q[1]-p.From[1]) - (p.To[1]-p.From[1])*(q[0]-p.From[0])
	}
	c.near(&p.box, func(k int) {
		was := side(c.p[k])
		if (was < 0) == (side(c.p[k+1]) < 0) {
			return
		}
		t := bisect(c.t[k], c.t[k+1], func(t float64) bool { return (side(c.at(t)) < 0) == (was < 0) })
		if share, on := p.Bears(c.at(t), onIt); on {
			cut(t, share)
		}
	})
}

// curves finds where two curves cross, from where their chords do.
func (c *curve) curves(o *curve, cut func(t, ot float64)) {
	for i := range c.boxes {
		o.near(&c.boxes[i], func(m int) {
			s := o.chord(m)
			for k := i * block; k < min((i+1)*block, len(c.p)-1); k++ {
				r := c.chord(k)
				for _, p := range outline.Crossings(&r, &s) {
					x, y := r.Share(p), s.Share(p)
					if x >= 0 && x <= 1 && y >= 0 && y <= 1 {
						cut(polish(c, o, c.t[k]+x*(c.t[k+1]-c.t[k]), o.t[m]+y*(o.t[m+1]-o.t[m])))
					}
				}
			}
		})
	}
}

// polish brings two places near a crossing onto it, by Newton's method with chords as
// slopes.
func polish(a, b *curve, s, t float64) (float64, float64) {
	ha, hb := 1e-6*(a.t[len(a.t)-1]-a.t[0]), 1e-6*(b.t[len(b.t)-1]-b.t[0])
	for range 8 {
		p, q := a.at(s), b.at(t)
		da, db := a.at(s+ha), b.at(t+hb)
		da, db = point{(da[0] - p[0]) / ha, (da[1] - p[1]) / ha}, point{(db[0] - q[0]) / hb, (db[1] - q[1]) / hb}
		det := da[1]*db[0] - da[0]*db[1]
		if det == 0 {
			break
		}
		x, y := q[0]-p[0], q[1]-p[1]
		ds, dt := (y*db[0]-x*db[1])/det, (da[0]*y-da[1]*x)/det
		if math.Abs(ds) > 1e3*ha || math.Abs(dt) > 1e3*hb { // they all but run along each other
			break
		}
		s, t = s+ds, t+dt
	}
	return s, t
}
