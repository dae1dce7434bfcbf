package tess

import (
	"errors"
	"math"
	"slices"
)

// Faults of the input of a triangulation. All of them mean that the outline of
// a face crosses or touches itself at this fineness; the caller tries a finer one.
var (
	errCrossing  = errors.New("outline segments cross")
	errOnSegment = errors.New("a vertex lies on an outline segment")
	errSame      = errors.New("two vertices of an outline coincide")
	errLeak      = errors.New("the outline is not closed")
)

// triangulator makes constrained Delaunay triangulations; its buffers live on
// from one call to the next.
//
// Triangle t has the half-edges 3t, 3t+1, 3t+2 in counter-clockwise order;
// half-edge e starts at vertex from[e], and twin[e] is the same edge in the
// neighbor, or -1 on the rim of the helper triangle that holds all points.
type triangulator struct {
	pts   []point2
	from  []int32
	twin  []int32
	kind  []uint8 // see fixed, inward
	out   []int32 // a half-edge that starts at each vertex
	stack []int32
	cross []int32 // half-edges that a segment being inserted crosses
	inner []bool  // triangles left of the segments
	order []keyed
	last  int32 // half-edge where the last insertion ended
}

const (
	fixed  = 1 << iota // on a segment: never flipped
	inward             // and the face lies on this side
)

func next(e int32) int32 {
	if e%3 == 2 {
		return e - 2
	}
	return e + 1
}

func prev(e int32) int32 {
	if e%3 == 0 {
		return e + 2
	}
	return e - 1
}

// triangulate appends to dst the triangles of the region left of the directed
// segments, counter-clockwise, as indices into pts. Points on no segment become
// vertices where they lie inside. The triangulation is Delaunay up to rounding
// among those that contain the segments; every triangle is positively oriented
// without rounding.
func (d *triangulator) triangulate(dst [][3]int32, pts []point2, seg [][2]int32) ([][3]int32, error) {
	if len(pts) < 3 {
		return dst, errLeak
	}
	d.start(pts)
	for _, k := range d.curveOrder(len(pts)) {
		if err := d.insert(k.index); err != nil {
			return dst, err
		}
	}
	for _, s := range seg {
		if err := d.constrain(s[0], s[1]); err != nil {
			return dst, err
		}
	}
	return d.collect(dst, int32(len(pts)))
}

// start lays the triangle that holds all points. Its corners stand off by 40
// times the extent, askew, so that no side runs parallel to the data.
func (d *triangulator) start(pts []point2) {
	lo, hi := pts[0], pts[0]
	for _, p := range pts {
		for k := range p {
			lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
		}
	}
	w := 40 * max(hi[0]-lo[0], hi[1]-lo[1], 1e-9)
	x, y := (lo[0]+hi[0])/2, (lo[1]+hi[1])/2
	d.pts = append(append(d.pts[:0], pts...), point2{x - w, y - .7*w}, point2{x + w, y - .71*w}, point2{x + .013*w, y + w})
	n := int32(len(pts))
	d.from = append(d.from[:0], n, n+1, n+2)
	d.twin = append(d.twin[:0], -1, -1, -1)
	d.kind = append(d.kind[:0], 0, 0, 0)
	d.out = slices.Grow(d.out[:0], len(pts)+3)[:len(pts)+3]
	for i := range d.out {
		d.out[i] = -1
	}
	d.out[n], d.out[n+1], d.out[n+2] = 0, 1, 2
	d.last = 0
}

// keyed is a point with its place along a space-filling curve.
type keyed struct {
	key   uint32
	index int32
}

// curveOrder orders the points along a Hilbert curve, so that each is found a
// few steps from the one before.
func (d *triangulator) curveOrder(n int) []keyed {
	d.order = d.order[:0]
	if n < 24 { // found quickly in any order
		for i := 0; i < n; i++ {
			d.order = append(d.order, keyed{0, int32(i)})
		}
		return d.order
	}
	// The helper triangle spans 2w across for data at most w/40 wide.
	a, b := d.pts[n], d.pts[n+1]
	w := (b[0] - a[0]) / 80
	x0, y0 := (a[0]+b[0])/2-w/2, a[1]+.7*40*w-w/2
	for i, p := range d.pts[:n] {
		d.order = append(d.order, keyed{hilbert(uint32((p[0]-x0)/w*65535), uint32((p[1]-y0)/w*65535)), int32(i)})
	}
	slices.SortFunc(d.order, func(a, b keyed) int {
		if a.key != b.key {
			if a.key < b.key {
				return -1
			}
			return 1
		}
		return int(a.index - b.index)
	})
	return d.order
}

// hilbert returns the place of a cell of a 2¹⁶ × 2¹⁶ grid along the Hilbert curve.
func hilbert(x, y uint32) uint32 {
	x, y = min(x, 65535), min(y, 65535)
	var k uint32
	for s := uint32(1 << 15); s > 0; s >>= 1 {
		var rx, ry uint32
		if x&s != 0 {
			rx = 1
		}
		if y&s != 0 {
			ry = 1
		}
		k = k<<2 | 3*rx ^ ry
		if ry == 0 {
			if rx == 1 {
				x, y = 65535-x, 65535-y
			}
			x, y = y, x
		}
	}
	return k
}

// locate walks from the last insertion to the triangle that holds p, and
// returns a half-edge of it: the one that p lies on if on is set.
func (d *triangulator) locate(p point2) (e int32, on bool, err error) {
	e = d.last - d.last%3
	for steps := 0; steps <= 2*len(d.from); steps++ {
		moved, flat := false, int32(-1)
		for k := int32(0); k < 3; k++ {
			f := e + (k+int32(steps))%3
			o := orient(d.pts[d.from[f]], d.pts[d.from[next(f)]], p)
			if o < 0 {
				if d.twin[f] < 0 {
					return 0, false, errLeak
				}
				e, moved = d.twin[f]-d.twin[f]%3, true
				break
			}
			if o == 0 {
				flat = f
			}
		}
		if moved {
			continue
		}
		if flat >= 0 {
			return flat, true, nil
		}
		return e, false, nil
	}
	return 0, false, errLeak
}

func (d *triangulator) insert(i int32) error {
	p := d.pts[i]
	e, on, err := d.locate(p)
	if err != nil {
		return err
	}
	for k := int32(0); k < 3; k++ {
		if d.pts[d.from[e-e%3+k]] == p {
			return errSame
		}
	}
	d.stack = d.stack[:0]
	if on {
		d.splitEdge(e, i)
	} else {
		d.splitTriangle(e, i)
	}
	d.last = d.out[i]
	d.settle()
	return nil
}

// grow appends room for one triangle and returns its first half-edge.
func (d *triangulator) grow() int32 {
	e := int32(len(d.from))
	d.from = append(d.from, 0, 0, 0)
	d.twin = append(d.twin, -1, -1, -1)
	d.kind = append(d.kind, 0, 0, 0)
	return e
}

// set makes half-edge e start at v with twin t.
func (d *triangulator) set(e, v, t int32, kind uint8) {
	d.from[e], d.twin[e], d.kind[e] = v, t, kind
	if t >= 0 {
		d.twin[t] = e
	}
	d.out[v] = e
}

func (d *triangulator) splitTriangle(e, i int32) {
	e -= e % 3
	a, b, c := d.from[e], d.from[e+1], d.from[e+2]
	tb, tc := d.twin[e+1], d.twin[e+2]
	kb, kc := d.kind[e+1], d.kind[e+2]
	f, g := d.grow(), d.grow()
	// a b i, b c i, c a i
	d.set(f, b, tb, kb)
	d.set(g, c, tc, kc)
	d.set(e, a, d.twin[e], d.kind[e])
	d.set(e+1, b, f+2, 0)
	d.set(f+1, c, g+2, 0)
	d.set(g+1, a, e+2, 0)
	d.set(e+2, i, g+1, 0)
	d.set(f+2, i, e+1, 0)
	d.set(g+2, i, f+1, 0)
	d.stack = append(d.stack, e, f, g)
}

// splitEdge puts vertex i on half-edge e and its twin.
func (d *triangulator) splitEdge(e, i int32) {
	t := d.twin[e]
	a, b, c, o := d.from[e], d.from[next(e)], d.from[prev(e)], d.from[prev(t)]
	bc, ca := d.twin[next(e)], d.twin[prev(e)]
	ao, ob := d.twin[next(t)], d.twin[prev(t)]
	kbc, kca := d.kind[next(e)], d.kind[prev(e)]
	kao, kob := d.kind[next(t)], d.kind[prev(t)]
	ke, kt := d.kind[e], d.kind[t]
	e, t = e-e%3, t-t%3
	f, g := d.grow(), d.grow()
	// a i c | i b c above, a o i | o b i below: c is left of a→b, o right of it.
	d.set(e, a, -1, ke)
	d.set(e+1, i, -1, 0)
	d.set(e+2, c, ca, kca)
	d.set(f, i, -1, ke)
	d.set(f+1, b, bc, kbc)
	d.set(f+2, c, e+1, 0)
	d.set(t, i, e, kt)
	d.set(t+1, a, ao, kao)
	d.set(t+2, o, -1, 0)
	d.set(g, b, f, kt)
	d.set(g+1, i, t+2, 0)
	d.set(g+2, o, ob, kob)
	d.stack = append(d.stack, e+2, f+1, t+1, g+2)
}

// flip turns the edge of half-edge e to the other diagonal of its two
// triangles. The six half-edges stay those of the same two triangles.
func (d *triangulator) flip(e int32) {
	t := d.twin[e]
	a, b, c, o := d.from[e], d.from[t], d.from[prev(e)], d.from[prev(t)]
	ne, pe, nt, pt := next(e), prev(e), next(t), prev(t)
	bc, ca, ao, ob := d.twin[ne], d.twin[pe], d.twin[nt], d.twin[pt]
	kbc, kca, kao, kob := d.kind[ne], d.kind[pe], d.kind[nt], d.kind[pt]
	// c a o with the diagonal o→c at e; o b c with c→o at t
	d.set(e, o, t, 0)
	d.set(ne, c, ca, kca)
	d.set(pe, a, ao, kao)
	d.set(t, c, e, 0)
	d.set(nt, o, ob, kob)
	d.set(pt, b, bc, kbc)
}

// settle restores the Delaunay property across the half-edges on the stack.
func (d *triangulator) settle() {
	for len(d.stack) > 0 {
		e := d.stack[len(d.stack)-1]
		d.stack = d.stack[:len(d.stack)-1]
		t := d.twin[e]
		if t < 0 || d.kind[e]&fixed != 0 {
			continue
		}
		p, q, r, s := d.pts[d.from[e]], d.pts[d.from[t]], d.pts[d.from[prev(e)]], d.pts[d.from[prev(t)]]
		// The circle alone would do but for rounding: the flip must also keep
		// both triangles positive.
		if inCircle(p, q, r, s) && orient(r, p, s) > 0 && orient(s, q, r) > 0 {
			ne, pe, nt, pt := next(e), prev(e), next(t), prev(t)
			d.flip(e)
			d.stack = append(d.stack, ne, pe, nt, pt)
		}
	}
}

// constrain makes a→b an edge of the triangulation with the face on its left.
func (d *triangulator) constrain(a, b int32) error {
	if a == b {
		return errSame
	}
	e := d.edge(a, b)
	if e < 0 {
		if err := d.crossed(a, b); err != nil {
			return err
		}
		if err := d.clear(a, b); err != nil {
			return err
		}
		if e = d.edge(a, b); e < 0 {
			return errCrossing
		}
	}
	d.kind[e] |= fixed | inward
	if t := d.twin[e]; t >= 0 {
		d.kind[t] |= fixed
	}
	return nil
}

// edge returns the half-edge a→b, or -1.
func (d *triangulator) edge(a, b int32) int32 {
	start := d.out[a]
	e := start
	for {
		if d.from[next(e)] == b {
			return e
		}
		if e = d.twin[prev(e)]; e == start {
			return -1
		}
		if e < 0 {
			break // a is on the rim: the rest lies the other way round
		}
	}
	for t := d.twin[start]; t >= 0; t = d.twin[next(t)] {
		if d.from[t] == b {
			return d.twin[t]
		}
		if d.from[next(next(t))] == b {
			return next(t)
		}
	}
	return -1
}

// crossed lists in d.cross the half-edges that the open segment ab crosses, in
// order from a, those sides that start on its right.
func (d *triangulator) crossed(a, b int32) error {
	d.cross = d.cross[:0]
	pa, pb := d.pts[a], d.pts[b]
	start := d.out[a]
	e := start
	for {
		v, w := d.from[next(e)], d.from[prev(e)]
		ov := orient(pa, pb, d.pts[v])
		if ov == 0 && (d.pts[v][0]-pa[0])*(pb[0]-pa[0])+(d.pts[v][1]-pa[1])*(pb[1]-pa[1]) > 0 {
			return errOnSegment
		}
		if ov < 0 && orient(pa, pb, d.pts[w]) > 0 {
			break
		}
		e = d.twin[prev(e)]
		if e < 0 || e == start {
			return errCrossing
		}
	}
	for e = next(e); ; {
		if d.kind[e]&fixed != 0 {
			return errCrossing
		}
		d.cross = append(d.cross, e)
		t := d.twin[e]
		o := d.from[prev(t)]
		if o == b {
			return nil
		}
		switch s := orient(pa, pb, d.pts[o]); {
		case s == 0:
			return errOnSegment
		case s > 0:
			e = next(t)
		default:
			e = prev(t)
		}
	}
}

// clear flips the crossed edges away one by one: those whose two triangles make
// a convex quadrangle at once, the others when their neighbors have gone
// (Sloan, A fast algorithm for generating constrained Delaunay triangulations, 1993).
func (d *triangulator) clear(a, b int32) error {
	pa, pb := d.pts[a], d.pts[b]
	// Each edge is known by its ends, since flips move half-edges about.
	ends := make([][2]int32, len(d.cross))
	for i, e := range d.cross {
		ends[i] = [2]int32{d.from[e], d.from[next(e)]}
	}
	var made [][2]int32
	limit := 20*len(ends) + len(ends)*len(ends) + 100
	for k := 0; len(ends) > 0; k++ {
		if k > limit {
			return errCrossing
		}
		v := ends[0]
		ends = ends[1:]
		e := d.edge(v[0], v[1])
		if e < 0 {
			return errCrossing
		}
		t := d.twin[e]
		c, o := d.from[prev(e)], d.from[prev(t)]
		p, q, r, s := d.pts[v[0]], d.pts[v[1]], d.pts[c], d.pts[o]
		if orient(r, p, s) <= 0 || orient(s, q, r) <= 0 {
			ends = append(ends, v)
			continue
		}
		d.flip(e)
		switch {
		case c != a && c != b && o != a && o != b && orient(pa, pb, r)*orient(pa, pb, s) < 0:
			ends = append(ends, [2]int32{o, c})
		case (c == a || c == b) && (o == a || o == b):
		default:
			made = append(made, [2]int32{o, c})
		}
	}
	// The new edges are Delaunay but for the segment itself.
	e := d.edge(a, b)
	if e < 0 {
		return errCrossing
	}
	d.kind[e] |= fixed
	d.kind[d.twin[e]] |= fixed
	d.stack = d.stack[:0]
	for _, v := range made {
		if e := d.edge(v[0], v[1]); e >= 0 {
			d.stack = append(d.stack, e)
			d.settle()
		}
	}
	return nil
}

// collect floods from the inward sides of the segments and appends what it
// reaches. n is the first vertex of the helper triangle.
func (d *triangulator) collect(dst [][3]int32, n int32) ([][3]int32, error) {
	d.inner = slices.Grow(d.inner[:0], len(d.from)/3)[:len(d.from)/3]
	clear(d.inner)
	d.stack = d.stack[:0]
	mark := func(t int32) {
		if !d.inner[t] {
			d.inner[t] = true
			d.stack = append(d.stack, t)
		}
	}
	for e, k := range d.kind {
		if k&inward != 0 {
			mark(int32(e) / 3)
		}
	}
	for len(d.stack) > 0 {
		t := d.stack[len(d.stack)-1]
		d.stack = d.stack[:len(d.stack)-1]
		for e := 3 * t; e < 3*t+3; e++ {
			switch {
			case d.kind[e]&fixed == 0:
				if d.twin[e] < 0 {
					return dst, errLeak
				}
				mark(d.twin[e] / 3)
			case d.kind[e]&inward == 0: // reached a segment from its outer side
				return dst, errLeak
			}
		}
	}
	for t, in := range d.inner {
		if !in {
			continue
		}
		v := [3]int32{d.from[3*t], d.from[3*t+1], d.from[3*t+2]}
		if v[0] >= n || v[1] >= n || v[2] >= n {
			return dst, errLeak
		}
		dst = append(dst, v)
	}
	return dst, nil
}

// finite reports whether every coordinate is a number.
func finite(pts []point2) bool {
	for _, p := range pts {
		if s := p[0] + p[1]; math.IsNaN(s) || math.IsInf(s, 0) {
			return false
		}
	}
	return true
}
