package sight

import (
	"math"
	"slices"
)

const (
	// beside is how far to the left and right of a line it is looked past, mm: far
	// above the rounding of places (1e-9), far below the lattice.
	beside = 3e-6
	// before: material in front of a line hides it if it reaches farther before it
	// than this, mm. Beside a line in a groove rise its walls, at up to 89.9°.
	before = .002
	// blink: what lies between two cuts nearer than this takes its visibility from
	// what comes before, mm.
	blink = 1e-5
)

// piece is as much of a part as is hidden or visible all along, from one of its
// places to another.
type piece struct {
	from, to float64
	hidden   bool
}

// seen splits a part at its cuts.
func (d *drawing) seen(p *part) []piece {
	lo, hi, length := 0.0, 1.0, p.Length()
	if p.curve != nil {
		lo, hi = p.t0, p.t1
	}
	apart := func(a, b float64) float64 {
		if p.curve != nil {
			return dist(p.curve.at(a), p.curve.at(b))
		}
		return (b - a) * length
	}
	slices.Sort(p.cuts)
	var out []piece
	from := lo
	cuts := slices.DeleteFunc(p.cuts, func(c float64) bool { return c >= hi || apart(c, hi) < blink })
	for _, to := range append(cuts, hi) {
		if to <= from || to < hi && apart(from, to) < blink {
			continue
		}
		h := d.hidden(p, (from+to)/2)
		if k := len(out) - 1; k >= 0 && out[k].hidden == h && p.curve == nil {
			out[k].to = to
		} else {
			out = append(out, piece{from, to, h})
		}
		from = to
	}
	return out
}

// hidden reports whether material lies in front of a place of the part, on both sides
// of it.
func (d *drawing) hidden(p *part, place float64) bool {
	t := d.param(p, place)
	q := d.local(p.at(t))
	x, y := d.heading(p, place)
	return d.behind(q, -y, x) && d.behind(q, y, -x)
}

func (d *drawing) heading(p *part, place float64) (x, y float64) {
	var h point
	if p.curve != nil {
		dt := (p.t1 - p.t0) * 1e-5
		a, b := p.curve.at(place-dt), p.curve.at(place+dt)
		h = point{b[0] - a[0], b[1] - a[1]}
	} else {
		h = p.Heading(place)
	}
	l := math.Hypot(h[0], h[1])
	return h[0] / l, h[1] / l
}

func (d *drawing) behind(q vec, x, y float64) bool {
	runs := d.rays.Runs(q[0]+beside*x, q[1]+beside*y)
	return len(runs) > 0 && runs[len(runs)-1].Hi > q[2]+before
}
