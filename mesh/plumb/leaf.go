package plumb

import (
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// stand is how a leaf's axis stands to the lines.
type stand uint8

const (
	leaning stand = iota
	turned        // revolved about an upright axis
	prism         // extruded along an upright axis
)

// straight: an axis that leans by less (a sine) is upright. It is the tolerance at
// which mesh/solid takes two directions for one.
const straight = 1e-9

// leaf is a leaf made ready. Of an upright one the outline is cut into pieces over
// which the first coordinate only grows or only falls.
type leaf struct {
	of     *solid.Leaf
	stand  stand
	pieces []piece
}

// piece is a part of an outline over lo <= first coordinate < hi. The half-open
// range counts a corner once, so that every line crosses an even number of pieces.
type piece struct {
	lo, hi float64
	// Straight: second = b + slope·(first - a). Arc: second = b + side·√(r² - (first - a)²).
	a, b, slope float64
	side, r     float64
}

func (p *piece) at(u float64) float64 {
	if p.side == 0 {
		return p.b + p.slope*(u-p.a)
	}
	return p.b + p.side*math.Sqrt(max(0, p.r*p.r-(u-p.a)*(u-p.a)))
}

func newLeaf(l *solid.Leaf) *leaf {
	out := &leaf{of: l}
	if math.Hypot(l.Frame.Z[0], l.Frame.Z[1]) >= straight {
		return out
	}
	out.stand = turned
	if l.Extruded {
		out.stand = prism
	}
	for i := range l.Elems {
		out.pieces = append(out.pieces, pieces(&l.Elems[i])...)
	}
	return out
}

// pieces cuts a segment where its first coordinate turns.
func pieces(e *solid.Elem) []piece {
	if !e.Arc {
		a, b := e.A, e.B
		if a[0] > b[0] {
			a, b = b, a
		}
		if a[0] == b[0] {
			return nil
		}
		return []piece{{lo: a[0], hi: b[0], a: a[0], b: a[1], slope: (b[1] - a[1]) / (b[0] - a[0])}}
	}
	// An arc of at most 120° turns once at most, where it runs through 0 or π.
	t0, t1 := e.Angles()
	cuts, ends := []float64{t0, t1}, []float64{e.A[0], e.B[0]}
	lo, hi := min(t0, t1), max(t0, t1)
	if k := math.Floor(lo/math.Pi) + 1; k*math.Pi < hi {
		side := 1.0
		if math.Mod(k, 2) != 0 {
			side = -1
		}
		cuts, ends = []float64{t0, k * math.Pi, t1}, []float64{e.A[0], e.C[0] + side*e.R, e.B[0]}
	}
	var out []piece
	for i := 1; i < len(cuts); i++ {
		side := 1.0
		if math.Sin((cuts[i-1]+cuts[i])/2) < 0 {
			side = -1
		}
		a, b := min(ends[i-1], ends[i]), max(ends[i-1], ends[i])
		if a < b {
			out = append(out, piece{lo: a, hi: b, a: e.C[0], b: e.C[1], side: side, r: e.R})
		}
	}
	return out
}

// crossings collects the second coordinates at which the outline passes the first
// coordinate u, sorted.
func (l *Line) crossings(ps []piece, u float64) []float64 {
	l.at = l.at[:0]
	for i := range ps {
		if p := &ps[i]; u >= p.lo && u < p.hi {
			l.at = append(l.at, p.at(u))
		}
	}
	slices.Sort(l.at)
	return l.at
}

func (l *Line) leaf(lf *leaf, x, y float64) []Run {
	f := &lf.of.Frame
	mark := len(l.runs)
	switch lf.stand {
	case turned:
		at := l.crossings(lf.pieces, math.Hypot(x-f.O[0], y-f.O[1]))
		for i := 1; i < len(at); i += 2 {
			l.add(f.O[2]+f.Z[2]*at[i-1], f.O[2]+f.Z[2]*at[i])
		}
		if f.Z[2] < 0 {
			slices.Reverse(l.runs[mark:])
		}
	case prism:
		q := f.Local(solid.Vec{x, y, f.O[2]})
		above := 0
		for _, v := range l.crossings(lf.pieces, q[0]) {
			if v > q[1] {
				above++
			}
		}
		if above%2 == 1 {
			l.add(f.O[2]+f.Z[2]*lf.of.Z0, f.O[2]+f.Z[2]*lf.of.Z1)
		}
	default:
		l.lean(lf.of, x, y)
	}
	return l.keep(mark)
}

func (l *Line) add(a, b float64) { l.runs = append(l.runs, Run{min(a, b), max(a, b)}) }

// lean adds the runs in a leaf that leans. Every surface of the leaf is met, beyond
// its patch too; what lies between two meetings is inside or outside as a whole,
// and its middle tells which.
func (l *Line) lean(lf *solid.Leaf, x, y float64) {
	mid := (lf.Box.Lo[2] + lf.Box.Hi[2]) / 2
	half := (lf.Box.Hi[2]-lf.Box.Lo[2])/2 + 1 // past the box, so that both ends are outside
	r := newRay(&lf.Frame, solid.Vec{x, y, mid}, half)
	l.at = append(l.at[:0], -half, half)
	if lf.Extruded {
		l.at = r.level(lf.Z0, r.level(lf.Z1, l.at))
	}
	for i := range lf.Elems {
		if lf.Extruded {
			l.at = r.wall(&lf.Elems[i], l.at)
		} else {
			l.at = r.round(&lf.Elems[i], l.at)
		}
	}
	slices.Sort(l.at)
	mark := len(l.runs)
	for i := 1; i < len(l.at); i++ {
		a, b := mid+l.at[i-1], mid+l.at[i]
		if b-a < Thin/100 || lf.Dist(solid.Vec{x, y, (a + b) / 2}) >= 0 {
			continue
		}
		if k := len(l.runs) - 1; k >= mark && a-l.runs[k].Hi < Thin {
			l.runs[k].Hi = b
			continue
		}
		l.add(a, b)
	}
}
