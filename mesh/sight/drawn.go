package sight

import (
	"cmp"
	"slices"

	"wheelmold/mesh/outline"
)

// drawn is a piece of a curve that is to be drawn.
type drawn struct {
	*part
	piece
}

// curves returns the lines that are neither straight nor round: of pieces that run
// along others only the first, visible ones before hidden ones, edges before
// silhouettes.
func (d *drawing) curves(tol float64) []Line {
	var all []drawn
	for _, p := range d.parts {
		if p.curve != nil {
			for _, x := range d.seen(p) {
				all = append(all, drawn{p, x})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b drawn) int {
		return cmp.Or(cmp.Compare(number(a.hidden), number(b.hidden)), cmp.Compare(number(a.silhouette), number(b.silhouette)))
	})
	var kept []drawn
	for _, x := range all {
		if !x.covered(kept) {
			kept = append(kept, x)
		}
	}
	var out []Line
	for _, x := range chained(kept) {
		out = append(out, Line{Path: d.path(x, tol), Hidden: x.hidden, Silhouette: x.silhouette})
	}
	return out
}

// covered reports whether the piece runs along others all the way, by five places.
func (x *drawn) covered(by []drawn) bool {
	for _, k := range [5]float64{.1, .3, .5, .7, .9} {
		q := x.curve.at(x.from + k*(x.to-x.from))
		if !slices.ContainsFunc(by, func(y drawn) bool { return y.bears(q) }) {
			return false
		}
	}
	return true
}

func (x *drawn) bears(q point) bool {
	if q[0] < x.box.Lo[0] || q[0] > x.box.Hi[0] || q[1] < x.box.Lo[1] || q[1] > x.box.Hi[1] {
		return false
	}
	t, away := x.curve.foot(q, same)
	return away < same && t >= x.from && t <= x.to
}

// chained joins the pieces of one curve that follow each other.
func chained(ps []drawn) []drawn {
	var out []drawn
	for _, x := range ps {
		if k := len(out) - 1; k >= 0 && out[k].part == x.part && out[k].hidden == x.hidden && out[k].to == x.from {
			out[k].to = x.to
			continue
		}
		out = append(out, x)
	}
	return out
}

func (d *drawing) path(x drawn, tol float64) outline.Path {
	c := d.sample(x.at, x.from, x.to, tol)
	n := len(c.p) - 1
	if x.from == x.t0 {
		c.p[0] = d.end(x.stroke, x.stroke.t0)
	}
	if x.to == x.t1 {
		c.p[n] = d.end(x.stroke, x.stroke.t1)
	}
	out := outline.Path{Start: c.p[0], Closed: dist(c.p[0], c.p[n]) < speck}
	if out.Closed {
		c.p[n] = c.p[0]
	}
	out.Segments = []outline.Segment{{To: c.p[n], Via: c.p[1:n]}}
	return out
}
