package tess

import "testing"

// outlined is a face's maker with vertices at points of a chart as wide as high, and closed
// outlines through them by index, all of them free.
func outlined(at []point2, loops ...[]int32) *faceMaker {
	m := &faceMaker{}
	for _, p := range at {
		m.u, m.v = append(m.u, p[0]), append(m.v, p[1])
	}
	for _, l := range loops {
		for i, a := range l {
			m.band.strip.free = append(m.band.strip.free, int32(len(m.seg)))
			m.seg = append(m.seg, [2]int32{a, l[(i+1)%len(l)]})
		}
	}
	m.band.strip.chart = strip{m: m, xs: 1, ys: 1}
	return m
}

// The nearest vertex of the outline is taken if nothing stands before it; where there is
// none, or none that is wanted, none is made up.
func TestNearestVertexThatIsSeen(t *testing.T) {
	// A box, and a bar below it that hides its left half from the origin.
	at := []point2{{0, 0}, {-1, 1}, {1, 1}, {1, 2}, {-1, 2}, {-.9, .8}, {-.2, .8}, {-.2, .7}, {-.9, .7}, {.7, 0}}
	box, bar := []int32{1, 2, 3, 4}, []int32{5, 6, 7, 8}
	all := func(int32) bool { return true }
	for _, c := range []struct {
		name   string
		m      *faceMaker
		from   int32
		wanted func(m *faceMaker) func(int32) bool
		want   int32
	}{
		{"the box's lower right corner", outlined(at, box), 9, nil, 2},
		{"either of two as near: the first", outlined(at, box), 0, nil, 1},
		{"the bar is nearer", outlined(at, box, bar), 0, nil, 7},
		{"the bar hides the only corner that is wanted", outlined(at, box, bar), 0, func(m *faceMaker) func(int32) bool { return func(x int32) bool { return m.seg[x][0] == 1 } }, -1},
		{"a wanted corner beside the bar", outlined(at, box, bar), 0, func(m *faceMaker) func(int32) bool { return func(x int32) bool { return m.seg[x][0] == 2 } }, 2},
		{"the box's own upper side is behind it", outlined(at, box), 0, func(m *faceMaker) func(int32) bool { return func(x int32) bool { return m.seg[x][0] == 3 } }, -1},
		{"none wanted", outlined(at, box, bar), 0, func(*faceMaker) func(int32) bool { return func(int32) bool { return false } }, -1},
		{"no outline", outlined(at), 0, nil, -1},
		{"not the vertex itself", outlined(at, box), 1, func(m *faceMaker) func(int32) bool { return func(x int32) bool { return m.seg[x][0] < 3 } }, 2},
	} {
		wanted := all
		if c.wanted != nil {
			wanted = c.wanted(c.m)
		}
		chart := func(v int32) point2 { return at[v] }
		if got := c.m.nearestSeen(chart, at[c.from], wanted); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// A bridge leads from a node of a row to the outline that has the face between: up to the
// lower side of a slot, down to its upper one. A node from which the slot is hidden is
// passed over, and where no side has the face between there is no bridge.
func TestBridgesLeadAcrossTheFace(t *testing.T) {
	// A slot, clockwise as the edge of a hole, between rows at heights 0 and 3.
	at := []point2{{-.5, 1}, {-.5, 2}, {.5, 2}, {.5, 1}, {-.55, 0}, {.1, 3}, {-.7, .4}, {-.5, .4}, {-.5, .5}, {-.7, .5},
		{-1.5, .4}, {-1.5, .5}, {1.5, .5}, {1.5, .4}, {-.2, 0}, {1.6, 0}}
	slot, small, bar := []int32{0, 1, 2, 3}, []int32{6, 9, 8, 7}, []int32{10, 11, 12, 13}
	low, high := rowNode{u: -.55, vert: 4}, rowNode{u: .1, vert: 5}
	shaded, beside := rowNode{u: -.2, vert: 14}, rowNode{u: 1.6, vert: 15}
	for _, c := range []struct {
		name  string
		m     *faceMaker
		nodes []rowNode
		up    bool
		far   int32
		ok    bool
	}{
		{"up", outlined(at, slot), []rowNode{low}, true, 0, true},
		{"down", outlined(at, slot), []rowNode{high}, false, 1, true},
		{"up from the upper row", outlined(at, slot), []rowNode{high}, true, 0, false},
		{"down from the lower row", outlined(at, slot), []rowNode{low}, false, 0, false},
		{"no node", outlined(at, slot), nil, true, 0, false},
		{"no outline", outlined(at), []rowNode{low}, true, 0, false},
		{"a hole in between is nearer", outlined(at, slot, small), []rowNode{low}, true, 7, true},
		{"a bar before the slot", outlined(at, slot, bar), []rowNode{shaded}, true, 0, false},
		{"another node, beside the bar", outlined(at, slot, bar), []rowNode{shaded, beside}, true, 13, true},
	} {
		r := &c.m.band.strip.chart
		n, far, ok := c.m.bridgeFrom(r, c.nodes, c.up)
		if ok != c.ok || ok && (far.vert != c.far || far.u != at[c.far][0] || n != c.nodes[len(c.nodes)-1]) {
			t.Errorf("%s: from %+v to %+v, %v; want to %d, %v", c.name, n, far, ok, c.far, c.ok)
		}
	}
}
