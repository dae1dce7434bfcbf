package bed

import (
	"cmp"
	"slices"

	"wheelmold/mesh"
)

// item is a piece's box seen from above with its gap, in steps.
type item struct{ index, w, d int }

// rect is a rectangle on the bed, in steps.
type rect struct{ x, y, w, d int }

func (r rect) overlaps(q rect) bool {
	return r.x < q.x+q.w && q.x < r.x+r.w && r.y < q.y+q.d && q.y < r.y+r.d
}

func (r rect) contains(q rect) bool {
	return r.x <= q.x && r.y <= q.y && q.x+q.w <= r.x+r.w && q.y+q.d <= r.y+r.d
}

// orders are what pieces are sorted by, the largest first. Large pieces leave the
// least choice, but what counts as large depends on the bed.
var orders = []func(item) int{
	func(i item) int { return i.w * i.d },
	func(i item) int { return max(i.w, i.d) },
	func(i item) int { return min(i.w, i.d) },
	func(i item) int { return i.w + i.d },
}

// rules tell what a piece leaves of a free rectangle into whose corner it is laid;
// the least is best.
var rules = []func(free, piece rect) [2]int{
	func(f, p rect) [2]int { return [2]int{min(f.w-p.w, f.d-p.d), max(f.w-p.w, f.d-p.d)} },
	func(f, p rect) [2]int { return [2]int{f.w*f.d - p.w*p.d, min(f.w-p.w, f.d-p.d)} },
	func(f, p rect) [2]int { return [2]int{p.y + p.d, p.x} },
	func(f, p rect) [2]int { return [2]int{p.x + p.w, p.y} },
}

// fewest fills sheets in every order by every rule, and returns the first of those
// that take the fewest.
func fewest(list []item, room rect) []*sheet {
	var best []*sheet
	for _, size := range orders {
		sorted := slices.Clone(list)
		slices.SortStableFunc(sorted, func(a, b item) int { return cmp.Compare(size(b), size(a)) })
		for _, rule := range rules {
			if s := fill(sorted, room, rule); best == nil || len(s) < len(best) {
				best = s
			}
		}
	}
	return best
}

// fill lays each piece on the first sheet that has room for it.
func fill(list []item, room rect, rule func(free, piece rect) [2]int) []*sheet {
	var sheets []*sheet
	for _, it := range list {
		if !slices.ContainsFunc(sheets, func(s *sheet) bool { return s.lay(it, rule) }) {
			s := &sheet{room: room, free: []rect{room}}
			s.lay(it, rule)
			sheets = append(sheets, s)
		}
	}
	return sheets
}

// sheet is a load while it is filled. Its free rectangles are maximal: each is as
// large as the pieces allow, and they overlap. (A Thousand Ways to Pack the Bin, 2010,
// section 2.3.)
type sheet struct {
	room rect
	free []rect
	laid []laid
}

type laid struct {
	index  int
	at     rect
	turned bool
}

// lay lays a piece where the rule likes it best, and reports whether there is room.
func (s *sheet) lay(it item, rule func(free, piece rect) [2]int) bool {
	var best laid
	var least [2]int
	found := false
	for _, f := range s.free {
		for _, p := range []laid{
			{it.index, rect{f.x, f.y, it.w, it.d}, false},
			{it.index, rect{f.x, f.y, it.d, it.w}, true},
		} {
			if !f.contains(p.at) {
				continue
			}
			if left := rule(f, p.at); !found || slices.Compare(left[:], least[:]) < 0 {
				best, least, found = p, left, true
			}
		}
	}
	if found {
		s.laid = append(s.laid, best)
		s.take(best.at)
	}
	return found
}

// take takes a rectangle out of the free ones, and drops those that others contain.
func (s *sheet) take(p rect) {
	var parts []rect
	for _, f := range s.free {
		if !f.overlaps(p) {
			parts = append(parts, f)
			continue
		}
		for _, part := range []rect{
			{f.x, f.y, p.x - f.x, f.d},
			{p.x + p.w, f.y, f.x + f.w - p.x - p.w, f.d},
			{f.x, f.y, f.w, p.y - f.y},
			{f.x, p.y + p.d, f.w, f.y + f.d - p.y - p.d},
		} {
			if part.w > 0 && part.d > 0 {
				parts = append(parts, part)
			}
		}
	}
	s.free = s.free[:0]
	for i, r := range parts {
		if !hidden(parts, i) {
			s.free = append(s.free, r)
		}
	}
}

// hidden reports whether another rectangle contains the i-th; of equal ones the
// first is not.
func hidden(list []rect, i int) bool {
	for k, q := range list {
		if k != i && q.contains(list[i]) && (q != list[i] || k < i) {
			return true
		}
	}
	return false
}

// load is the sheet as it is printed: in the middle of the bed.
func (s *sheet) load(gap int) Load {
	slices.SortFunc(s.laid, func(a, b laid) int { return cmp.Compare(a.index, b.index) })
	right, back := 0, 0
	for _, p := range s.laid {
		right, back = max(right, p.at.x+p.at.w), max(back, p.at.y+p.at.d)
	}
	dx, dy := (s.room.w-right)/2, (s.room.d-back)/2
	var l Load
	for _, p := range s.laid {
		at := mesh.Vec{float64(p.at.x+dx) * step, float64(p.at.y+dy) * step, 0}
		l.Places = append(l.Places, Place{p.index, at, p.turned})
	}
	return l
}
