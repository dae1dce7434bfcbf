package contact

import (
	"math"
	"slices"
)

// Sheets finds the flat contacts of the bodies, in the order in which their
// bodies are given.
func Sheets(bodies []Body, s Settings) []*Sheet {
	faces, tags := flats(bodies, &s)
	pairs := facing(faces, s.MaxGap, tags.rank)
	var out []*Sheet
	for _, family := range families(pairs, tags.rank) {
		out = append(out, newSheet(family, bodies, tags))
	}
	return out
}

// facing lists the pairs whose common area is not empty.
func facing(faces []flat, maxGap float64, rank []int) []pair {
	var out []pair
	for i := range faces {
		for j := range faces {
			if !faces[i].up || faces[j].up {
				continue
			}
			if p, ok := newPair(&faces[i], &faces[j], maxGap); ok && p.hasArea(rank) {
				out = append(out, p)
			}
		}
	}
	return out
}

func (p *pair) outlines() []*outline { return []*outline{p.low.out, p.high.out} }

func (p *pair) hasArea(rank []int) bool {
	return anyLine(p.lo, p.hi, p.outlines(), func(fix int, x float64) bool {
		var s [8]Span
		return len(p.cut(s[:0], fix, x, rank)) > 0
	})
}

// evenLines is the number of lines that search a box each way whatever edges
// there are; beside is how far off an edge's end others run, mm: above touch, so
// that faces which only touch have nothing in common there.
const (
	evenLines = 64
	beside    = 1e-4
)

// anyLine reports whether f holds on any of many lines through the box: evenly
// spaced ones, and those close to an end of a piece, for corners that poke out and
// for what lies between two edges.
func anyLine(lo, hi point, outlines []*outline, f func(fix int, x float64) bool) bool {
	for fix := range 2 {
		a, b := lo[fix], hi[fix]
		if b-a <= 4*touch { // a box of two borders, widened by touch, is a line
			continue
		}
		for k := range evenLines {
			// Off the half by an odd amount, lest every line hit a designed place.
			if f(fix, a+(b-a)*(float64(k)+.4142)/evenLines) {
				return true
			}
		}
		for _, x := range ends(fix, lo, hi, outlines) {
			if x+beside < b && f(fix, x+beside) || x-beside > a && f(fix, x-beside) {
				return true
			}
		}
	}
	return false
}

// ends lists the coordinates of the pieces' ends in the box, in order.
func ends(fix int, lo, hi point, outlines []*outline) []float64 {
	out := []float64{lo[fix], hi[fix]}
	for _, o := range outlines {
		for i := range o.pieces {
			for _, q := range [...]point{o.pieces[i].a, o.pieces[i].b} {
				if q[0] >= lo[0] && q[0] <= hi[0] && q[1] >= lo[1] && q[1] <= hi[1] {
					out = append(out, q[fix])
				}
			}
		}
	}
	slices.Sort(out)
	return slices.CompactFunc(out, func(a, b float64) bool { return math.Abs(a-b) <= touch })
}

// families groups the pairs that hang together, by first member.
func families(pairs []pair, rank []int) [][]pair {
	family := make([]int, len(pairs)) // index of its first member
	for i := range pairs {
		family[i] = i
		for j := range i {
			if family[j] != family[i] && pairs[j].abuts(&pairs[i], rank) {
				a, b := min(family[i], family[j]), max(family[i], family[j])
				for k := range family[:i+1] {
					if family[k] == b {
						family[k] = a
					}
				}
			}
		}
	}
	var out [][]pair
	for i := range pairs {
		var members []pair
		for j := range pairs {
			if family[j] == i {
				members = append(members, pairs[j])
			}
		}
		if members != nil {
			out = append(out, members)
		}
	}
	return out
}

// abuts reports whether two pairs between the same planes share a border: on
// some line a run of one ends where a run of the other begins.
func (p *pair) abuts(q *pair, rank []int) bool {
	if p.low.frame != q.low.frame || math.Abs(p.low.d-q.low.d) > touch || math.Abs(p.gap-q.gap) > touch {
		return false
	}
	var lo, hi point
	for d := range lo {
		lo[d], hi[d] = max(p.lo[d], q.lo[d])-touch, min(p.hi[d], q.hi[d])+touch
		if lo[d] > hi[d] {
			return false
		}
	}
	return anyLine(lo, hi, append(p.outlines(), q.outlines()...), func(fix int, x float64) bool {
		var s, t [8]Span
		return anyTouch(p.cut(s[:0], fix, x, rank), q.cut(t[:0], fix, x, rank))
	})
}

func anyTouch(a, b []Span) bool {
	for _, r := range a {
		for _, s := range b {
			if math.Abs(r.Hi.At-s.Lo.At) <= touch || math.Abs(s.Hi.At-r.Lo.At) <= touch {
				return true
			}
		}
	}
	return false
}

func newSheet(pairs []pair, bodies []Body, tags *labels) *Sheet {
	first := &pairs[0]
	f := *first.low.frame
	f.O = plus(f.Z.Scale(first.low.d))
	s := &Sheet{
		Normal: f.Z, Gap: first.gap, Frame: f,
		lo: [2]float64(first.lo), hi: [2]float64(first.hi),
		pairs: pairs, rank: tags.rank,
	}
	below, above := make([]bool, len(bodies)), make([]bool, len(bodies))
	for i := range pairs {
		p := &pairs[i]
		below[p.low.body], above[p.high.body] = true, true
		for d := range 2 {
			s.lo[d], s.hi[d] = min(s.lo[d], p.lo[d]), max(s.hi[d], p.hi[d])
		}
	}
	for i, b := range bodies {
		if below[i] {
			s.Low = append(s.Low, b.Name)
		}
		if above[i] {
			s.High = append(s.High, b.Name)
		}
	}
	s.take(tags)
	return s
}

// take gives the sheet its own labels, those of edges near its places, in the
// order of the table.
func (s *Sheet) take(tags *labels) {
	near := make([]bool, len(tags.list))
	for i := range s.pairs {
		p := &s.pairs[i]
		for _, o := range p.outlines() {
			for k := range o.pieces {
				near[o.pieces[k].label] = near[o.pieces[k].label] || o.pieces[k].reaches(p.lo, p.hi)
			}
		}
	}
	s.local = make([]int, len(near))
	for i, ok := range near {
		if ok {
			s.local[i] = len(s.Labels)
			s.Labels = append(s.Labels, tags.list[i])
		}
	}
}

// reaches reports whether the piece's bounds meet a box; what ends a run does.
func (p *piece) reaches(lo, hi point) bool {
	for d := range lo {
		if max(p.a[d], p.b[d]) < lo[d]-4*touch || min(p.a[d], p.b[d]) > hi[d]+4*touch {
			return false
		}
	}
	return true
}
