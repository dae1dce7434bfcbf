package mold

import (
	"math"
	"slices"
	"testing"
)

// What pieces are lapped to are their sizes in the closed mold, and those as they leave
// the machine less the stock on each face; put together, three are as wide as the block.
func TestLapping(t *testing.T) {
	const stock = 0.3
	for _, c := range []struct {
		sets  []string
		ends  float64 // lapped, of each piece
		outer int
	}{
		{[]string{"mold.split=four-piece"}, 2, 1},
		{[]string{"mold.split=four-piece", "mold.segments=3"}, 2, 0},
		{[]string{"mold.split=four-piece", "mold.segments=4"}, 2, 1},
		{[]string{"mold.split=open top"}, 2, 1},
		{[]string{"mold.split=clam"}, 0, 1},
		{[]string{"mold.split=cup and lid"}, 1, 0},
	} {
		m, err := New(splitJob(t, 80, 30, 12, "filament", append(c.sets, "mold.mating.stock=0.3mm")...))
		if err != nil {
			t.Fatalf("%v: %v", c.sets, err)
		}
		p, ok := m.Lapping()
		if !ok || p.Stock != stock || len(p.Outer) != c.outer || (p.Height > 0) != (c.ends > 0) {
			t.Errorf("%v: %+v", c.sets, p)
		}
		same := func(what string, got, want float64) {
			t.Helper()
			if math.Abs(got-want) > 1e-4 { // lengths lie on the lattice
				t.Errorf("%v: %s is %v, want %v", c.sets, what, got, want)
			}
		}
		block := m.Block.Bounds()
		if p.Across > 0 {
			same("the distance of the flat faces", p.Across, block.Hi[1]-block.Lo[1])
		}
		for _, x := range m.Pieces {
			if x.Raw == x.Root {
				continue
			}
			is, was := x.Root.Bounds(), x.Raw.Bounds()
			if c.ends > 0 {
				same(x.Name+"'s height", is.Hi[2]-is.Lo[2], p.Height)
				same(x.Name+"'s height as made", was.Hi[2]-was.Lo[2], p.Height+c.ends*stock)
			}
			if len(p.Outer) == 1 && slices.Contains([]int{2, 4}, len(m.Layout.Sides)) {
				same(x.Name+"'s width", max(is.Hi[1], -is.Lo[1]), p.Outer[0])
				same(x.Name+"'s width as made", was.Hi[1]-was.Lo[1], p.Outer[0]+stock)
			}
		}
	}
	m, err := New(splitJob(t, 80, 30, 12, "filament"))
	if err != nil {
		t.Fatal(err)
	}
	if p, ok := m.Lapping(); ok {
		t.Errorf("nothing to lap, and %+v", p)
	}
}
