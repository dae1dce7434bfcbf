package contact

import (
	"math"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
)

// outline is a flat face, of any number of regions with holes, ready to be cut
// by grid lines.
type outline struct {
	lo, hi point
	pieces []piece
	sorted [2]buckets // by u for columns, by v for rows
}

// newOutline draws face k of b in the frame's chart.
func newOutline(b *brep.Boundary, k int, f *solid.Frame, tags *labels) *outline {
	o := &outline{}
	for _, fe := range b.Faces[k].Edges {
		e := fe.Edge
		label := tags.of(e, k)
		p, q := chart(f, b.Vertices[e.V0]), chart(f, b.Vertices[e.V1])
		switch {
		case e.Curve.Line:
			o.pieces = append(o.pieces, piece{a: p, b: q, label: label, size: math.Hypot(q[0]-p[0], q[1]-p[1])})
		case e.Curve.Radius > 0:
			o.pieces = arcPieces(o.pieces, f, e, p, q, label)
		default:
			o.pieces = curvePieces(o.pieces, f, e, p, q, label)
		}
	}
	o.lo, o.hi = point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	for i := range o.pieces {
		p := &o.pieces[i]
		for d := range 2 {
			o.lo[d], o.hi[d] = min(o.lo[d], p.a[d], p.b[d]), max(o.hi[d], p.a[d], p.b[d])
		}
	}
	for d := range o.sorted {
		o.sorted[d].fill(o, d)
	}
	return o
}

// cut appends the places where the line with coordinate fix at x crosses the
// outline, in order: run by run, begin and end. Labels are those of the table.
func (o *outline) cut(ends []End, fix int, x float64) []End {
	for _, i := range o.sorted[fix].at(x) {
		p := &o.pieces[i]
		if !p.meets(fix, x) {
			continue
		}
		at, across := p.cross(fix, x)
		ends = append(ends, End{At: at, Label: int(p.label), Across: across})
		for k := len(ends) - 1; k > 0 && ends[k].At < ends[k-1].At; k-- {
			ends[k], ends[k-1] = ends[k-1], ends[k]
		}
	}
	return ends
}

// holds reports whether (u, v) lies inside.
func (o *outline) holds(u, v float64) bool {
	in := false
	for _, i := range o.sorted[axisV].at(v) {
		if p := &o.pieces[i]; p.meets(axisV, v) {
			if at, _ := p.cross(axisV, v); at <= u {
				in = !in
			}
		}
	}
	return in
}

// buckets list pieces by equal intervals of one coordinate, so that a line looks
// only at pieces near it.
type buckets struct {
	lo, scale float64
	first     []int32 // bucket k holds items[first[k]:first[k+1]]
	items     []int32
}

// maxBuckets bounds what the long edges cost, which lie in many buckets.
const maxBuckets = 512

func (b *buckets) fill(o *outline, d int) {
	n := max(1, min(maxBuckets, 2*len(o.pieces)))
	b.first = make([]int32, n+1)
	if len(o.pieces) == 0 {
		return
	}
	b.lo, b.scale = o.lo[d], float64(n)/max(o.hi[d]-o.lo[d], touch)
	for i := range o.pieces {
		lo, hi := b.span(&o.pieces[i], d)
		for k := lo; k <= hi; k++ {
			b.first[k+1]++
		}
	}
	for k := range n {
		b.first[k+1] += b.first[k]
	}
	b.items = make([]int32, b.first[n])
	next := append([]int32(nil), b.first...)
	for i := range o.pieces {
		lo, hi := b.span(&o.pieces[i], d)
		for k := lo; k <= hi; k++ {
			b.items[next[k]] = int32(i)
			next[k]++
		}
	}
}

// span returns the first and last bucket of a piece. Rounding does no harm: of
// two coordinates the greater never has the smaller index.
func (b *buckets) span(p *piece, d int) (lo, hi int) {
	lo, hi = b.index(p.a[d]), b.index(p.b[d])
	return min(lo, hi), max(lo, hi)
}

func (b *buckets) index(x float64) int {
	n := len(b.first) - 1
	k := (x - b.lo) * b.scale
	if !(k > 0) {
		return 0
	}
	return int(min(k, float64(n-1)))
}

func (b *buckets) at(x float64) []int32 {
	k := b.index(x)
	return b.items[b.first[k]:b.first[k+1]]
}
