package plumb

import (
	"cmp"
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
	rolled        // revolved about a level axis
	laid          // extruded along a level axis
)

// straight: an axis that leans by less (a sine) is upright, and one that rises by less
// is level. It is the tolerance at which mesh/solid takes two directions for one.
const straight = 1e-9

// leaf is a leaf made ready. Unless it leans, the outline is cut into pieces over
// which the first coordinate only grows or only falls. It is turned so that the lines
// run along the second coordinate: an outline about a level axis has heights along the
// axis first and then the radius; one that is extruded along a level axis is turned
// about that axis.
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
	turn := func(p solid.Point2) solid.Point2 { return p }
	switch {
	case math.Hypot(l.Frame.Z[0], l.Frame.Z[1]) < straight:
		out.stand = turned
		if l.Extruded {
			out.stand = prism
		}
	case math.Abs(l.Frame.Z[2]) >= straight:
		return out
	case l.Extruded:
		out.stand, turn = laid, out.upright
	default:
		out.stand, turn = rolled, func(p solid.Point2) solid.Point2 { return solid.Point2{p[1], p[0]} }
	}
	for _, e := range l.Elems {
		e.A, e.B, e.C = turn(e.A), turn(e.B), turn(e.C)
		out.pieces = append(out.pieces, pieces(&e)...)
	}
	return out
}

// upright turns a point of the frame of a leaf that is laid, so that the second
// coordinate runs up.
func (lf *leaf) upright(p solid.Point2) solid.Point2 {
	x, y := lf.of.Frame.X[2], lf.of.Frame.Y[2]
	return solid.Point2{y*p[0] - x*p[1], x*p[0] + y*p[1]}
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
	case rolled:
		l.roll(lf, f.Local(solid.Vec{x, y, f.O[2]}))
	case laid:
		if q := f.Local(solid.Vec{x, y, f.O[2]}); q[2] >= lf.of.Z0 && q[2] < lf.of.Z1 {
			p := lf.upright(solid.Point2{q[0], q[1]})
			at := l.crossings(lf.pieces, p[0])
			for i := 1; i < len(at); i += 2 {
				l.add(f.O[2]+(at[i-1]-p[1]), f.O[2]+(at[i]-p[1]))
			}
		}
	default:
		l.lean(lf.of, x, y)
	}
	return l.keep(mark)
}

// roll adds the runs in a leaf about a level axis: where the line is as far from the
// axis as the outline reaches at its place along the axis. q is the line's point at
// the height of the axis, in the frame.
func (l *Line) roll(lf *leaf, q solid.Vec) {
	p := lf.upright(solid.Point2{q[0], q[1]}) // how far the line passes, and its foot
	at, mark := l.crossings(lf.pieces, q[2]), len(l.runs)
	up := func(r float64) float64 { return math.Sqrt(max(0, r*r-p[0]*p[0])) }
	height := lf.of.Frame.O[2] - p[1]
	for i := 1; i < len(at); i += 2 {
		lo, hi := up(at[i-1]), up(at[i])
		switch {
		case hi == 0:
		case lo == 0:
			l.add(height-hi, height+hi)
		default:
			l.add(height-hi, height-lo)
			l.add(height+lo, height+hi)
		}
	}
	slices.SortFunc(l.runs[mark:], func(a, b Run) int { return cmp.Compare(a.Lo, b.Lo) })
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
