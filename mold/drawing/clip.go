package drawing

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh/outline"
)

// behind is the part of a region on one side of a line: where n·p <= n·at. Curves of
// paths that are cut count as their chords. Parts that the line keeps apart are paths
// of their own.
//
// Walking the borders, what is kept comes in chains from where a border enters to
// where it leaves. Along the line inside and outside take turns, so that of all
// crossings in their order there the first goes with the second, the third with the
// fourth: these are the bridges from chain to chain.
func behind(r outline.Region, n, at Point) (out outline.Region) {
	c := clip{n: n, at: at}
	for _, path := range r {
		if c.add(path) {
			out = append(out, path)
		}
	}
	return append(out, c.loops()...)
}

// clip is a region being cut by a line.
type clip struct {
	n, at  Point
	chains [][]Point
}

// height is how far a point lies on the side that is cut off.
func (c *clip) height(p Point) float64 { return dot(c.n, minus(p, c.at)) }

// add cuts a path into chains, and tells whether it is kept whole.
func (c *clip) add(path outline.Path) (whole bool) {
	pts := corners(path, math.Pi/32)
	pts = pts[:len(pts)-1]
	first := -1 // where the path comes in
	for i, p := range pts {
		if c.height(p) > 0 && c.height(pts[(i+1)%len(pts)]) <= 0 {
			first = i
			break
		}
	}
	if first < 0 {
		return c.height(pts[0]) <= 0
	}
	var chain []Point
	for k := range pts {
		p, q := pts[(first+k)%len(pts)], pts[(first+k+1)%len(pts)]
		a, b := c.height(p), c.height(q)
		switch {
		case a > 0 && b <= 0:
			chain = []Point{between(p, q, a/(a-b)), q}
		case a <= 0 && b > 0:
			c.chains = append(c.chains, append(chain, between(p, q, a/(a-b))))
		case a <= 0:
			chain = append(chain, q)
		}
	}
	return false
}

// loops joins the chains along the line.
func (c *clip) loops() (out outline.Region) {
	type crossing struct {
		s     float64 // place along the line
		chain int
		leave bool
	}
	var all []crossing
	along := Point{-c.n[1], c.n[0]}
	for i, ch := range c.chains {
		all = append(all, crossing{dot(along, ch[0]), i, false}, crossing{dot(along, ch[len(ch)-1]), i, true})
	}
	slices.SortStableFunc(all, func(a, b crossing) int { return cmp.Compare(a.s, b.s) })
	next := make([]int, len(c.chains))
	for i := 0; i+1 < len(all); i += 2 {
		a, b := all[i], all[i+1]
		if b.leave {
			a, b = b, a
		}
		next[a.chain] = b.chain
	}
	used := make([]bool, len(c.chains))
	for i := range c.chains {
		var loop []Point
		for k := i; !used[k]; k = next[k] {
			used[k] = true
			loop = append(loop, c.chains[k]...)
		}
		if len(loop) > 2 {
			out = append(out, ring(loop...))
		}
	}
	return out
}
