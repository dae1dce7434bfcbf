package contact

import (
	"cmp"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
)

// Sheet is a family of flat places, between one plane and another, where bodies
// touch or face each other across one designed gap. Places that share a border,
// such as those of two shells side by side on one base, are one sheet; one place
// may also have several separate regions.
//
// A Sheet is never changed once made, and may be used by several goroutines.
type Sheet struct {
	Normal mesh.Vec // unit, from Low to High; its first significant component is positive
	Gap    float64  // designed distance of the planes, mm; 0 where they touch
	// Frame carries the chart: Frame.Global({u, v, 0}) lies on the lower plane,
	// {u, v, Gap} on the upper one.
	Frame     solid.Frame
	Low, High []string // bodies below and above, in the order given
	Labels    []Label  // what Span's labels count

	lo, hi [2]float64
	pairs  []pair
	local  []int // from the label table of all sheets to Labels
	rank   []int // of the table's labels
}

// pair is a face that looks up and one above it that looks down.
type pair struct {
	low, high *flat
	gap       float64
	lo, hi    point // where both outlines' bounds overlap
}

// newPair checks distance and bounds.
func newPair(low, high *flat, maxGap float64) (p pair, ok bool) {
	p = pair{low: low, high: high, gap: high.d - low.d}
	if low.body == high.body || low.frame != high.frame || p.gap < -touch || p.gap > maxGap+touch {
		return p, false
	}
	if p.gap < touch {
		p.gap = 0
	}
	for d := range 2 {
		p.lo[d] = max(low.out.lo[d], high.out.lo[d])
		p.hi[d] = min(low.out.hi[d], high.out.hi[d])
	}
	return p, p.hi[0]-p.lo[0] > touch && p.hi[1]-p.lo[1] > touch
}

// cut appends the runs that a line has in both faces.
func (p *pair) cut(runs []Span, fix int, x float64, rank []int) []Span {
	if x < p.lo[fix] || x > p.hi[fix] {
		return runs
	}
	var s, t [32]End // enough for a line through a dozen holes
	a, b := p.low.out.cut(s[:0], fix, x), p.high.out.cut(t[:0], fix, x)
	for i, j := 0, 0; i+1 < len(a) && j+1 < len(b); {
		r := Span{both(a[i], b[j], 1, rank), both(a[i+1], b[j+1], -1, rank)}
		if r.Hi.At-r.Lo.At > touch {
			runs = append(runs, r)
		}
		if a[i+1].At < b[j+1].At {
			i += 2
		} else {
			j += 2
		}
	}
	return runs
}

// both returns the one of two ends that comes later in the sense given; of two
// at one place the one of higher rank.
func both(a, b End, sense float64, rank []int) End {
	d := (b.At - a.At) * sense
	if d > touch || d > -touch && rank[b.Label] > rank[a.Label] {
		return b
	}
	return a
}

// joined puts runs in order and joins those that touch.
func joined(runs []Span) []Span {
	slices.SortStableFunc(runs, func(a, b Span) int { return cmp.Compare(a.Lo.At, b.Lo.At) })
	out := runs[:0]
	for _, r := range runs {
		if n := len(out); n > 0 && r.Lo.At <= out[n-1].Hi.At+touch {
			if r.Hi.At > out[n-1].Hi.At {
				out[n-1].Hi = r.Hi
			}
			continue
		}
		out = append(out, r)
	}
	return out
}

// Bounds returns a box of the chart that holds the sheet: where the bounds of the
// facing faces overlap.
func (s *Sheet) Bounds() (lo, hi [2]float64) { return s.lo, s.hi }

// Row returns the sheet's runs along u at height v.
func (s *Sheet) Row(v float64) []Span { return s.cut(axisV, v) }

// Col returns the sheet's runs along v at u.
func (s *Sheet) Col(u float64) []Span { return s.cut(axisU, u) }

func (s *Sheet) cut(fix int, x float64) []Span {
	runs := make([]Span, 0, 8)
	for i := range s.pairs {
		runs = s.pairs[i].cut(runs, fix, x, s.rank)
	}
	runs = joined(runs)
	for i := range runs {
		runs[i].Lo.Label = s.local[runs[i].Lo.Label]
		runs[i].Hi.Label = s.local[runs[i].Hi.Label]
	}
	return runs
}

// Names returns the bodies below and above a point of the sheet, empty off it.
func (s *Sheet) Names(u, v float64) (low, high string) {
	for i := range s.pairs {
		if p := &s.pairs[i]; p.low.out.holds(u, v) && p.high.out.holds(u, v) {
			return p.low.name, p.high.name
		}
	}
	return "", ""
}
