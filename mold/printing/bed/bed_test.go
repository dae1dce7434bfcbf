package bed

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"wheelmold/mesh"
)

// box is what a placed piece takes.
func box(p Place, sizes []mesh.Vec) mesh.Box {
	s := sizes[p.Item]
	if p.Turned {
		s[0], s[1] = s[1], s[0]
	}
	return mesh.Box{Lo: p.At, Hi: p.At.Add(s)}
}

// apart is how far two boxes are from each other, seen from above, along the axis
// on which they are farther apart; negative where they overlap.
func apart(a, b mesh.Box) float64 {
	d := math.Inf(-1)
	for k := range 2 {
		d = max(d, a.Lo[k]-b.Hi[k], b.Lo[k]-a.Hi[k])
	}
	return d
}

// judge proves loads: every piece on the bed once or a misfit, in its place in the
// order, inside, apart. There is no tolerance: coordinates are whole steps.
func judge(sizes []mesh.Vec, b Bed, loads []Load, misfits []int) error {
	seen := make([]int, len(sizes))
	for _, i := range misfits {
		seen[i]++
	}
	for n, l := range loads {
		if len(l.Places) == 0 {
			return fmt.Errorf("load %d is empty", n)
		}
		for k, p := range l.Places {
			seen[p.Item]++
			q := box(p, sizes)
			if q.Lo[0] < 0 || q.Lo[1] < 0 || q.Lo[2] != 0 || q.Hi[0] > b.X || q.Hi[1] > b.Y || q.Hi[2] > b.Z {
				return fmt.Errorf("load %d: piece %d at %v is not on the bed", n, p.Item, q)
			}
			for _, o := range l.Places[:k] {
				if o.Item >= p.Item {
					return fmt.Errorf("load %d: piece %d before %d", n, o.Item, p.Item)
				}
				if d := apart(q, box(o, sizes)); d < b.Gap {
					return fmt.Errorf("load %d: pieces %d and %d are %g apart, want %g", n, o.Item, p.Item, d, b.Gap)
				}
			}
		}
	}
	for i, n := range seen {
		if n != 1 {
			return fmt.Errorf("piece %d is there %d times", i, n)
		}
	}
	return nil
}

func TestJudgeSeesFaults(t *testing.T) {
	sizes := []mesh.Vec{{10, 20, 5}, {10, 20, 5}}
	b := Bed{40, 40, 10, 5}
	at := func(x, y float64, turned bool) []Load {
		return []Load{{[]Place{{0, mesh.Vec{}, false}, {1, mesh.Vec{x, y, 0}, turned}}}}
	}
	if err := judge(sizes, b, at(15, 20, false), nil); err != nil {
		t.Error(err)
	}
	for _, l := range [][]Load{at(14, 4, false), at(31, 0, false), at(15, 21, false), at(21, 0, true), at(-1, 30, true), nil} {
		if judge(sizes, b, l, nil) == nil {
			t.Errorf("no fault in %v", l)
		}
	}
	if judge(sizes, b, at(15, 0, false), []int{1}) == nil {
		t.Error("a piece that is placed and a misfit is no fault")
	}
}

func TestPackKeepsPiecesApart(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for n := range 400 {
		b := Bed{50 + 300*rnd.Float64(), 50 + 300*rnd.Float64(), 50 + 150*rnd.Float64(), 20 * rnd.Float64()}
		if n%5 == 0 {
			b.Gap = 0
		}
		sizes := make([]mesh.Vec, rnd.IntN(25))
		for i := range sizes {
			sizes[i] = mesh.Vec{1 + 200*rnd.Float64(), 1 + 200*rnd.Float64(), 1 + 150*rnd.Float64()}
		}
		loads, misfits := Pack(sizes, b)
		if err := judge(sizes, b, loads, misfits); err != nil {
			t.Fatalf("%+v %v: %v", b, sizes, err)
		}
		for _, i := range misfits {
			s := sizes[i]
			if s[2] <= b.Z && max(s[0], s[1]) < max(b.X, b.Y)-step && min(s[0], s[1]) < min(b.X, b.Y)-step {
				t.Errorf("%v fits on %+v and is called a misfit", s, b)
			}
		}
		if again, m := Pack(sizes, b); !reflect.DeepEqual(again, loads) || !slices.Equal(m, misfits) {
			t.Errorf("%v: other loads on another run", sizes)
		}
	}
}

// On a bed of a few steps, one step too much or too little shows, and free
// rectangles often coincide.
func TestPackToTheStep(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	steps := func(n int) float64 { return step * float64(n) }
	for range 2000 {
		b := Bed{steps(6 + rnd.IntN(7)), steps(6 + rnd.IntN(7)), 1, steps(rnd.IntN(3))}
		sizes := make([]mesh.Vec, 1+rnd.IntN(12))
		for i := range sizes {
			sizes[i] = mesh.Vec{steps(1 + rnd.IntN(6)), steps(1 + rnd.IntN(6)), 1}
		}
		loads, misfits := Pack(sizes, b)
		if err := judge(sizes, b, loads, misfits); err != nil {
			t.Fatalf("%+v %v: %v", b, sizes, err)
		}
	}
}

// Loads that can be told by thought alone.
func TestPackFewestLoads(t *testing.T) {
	square := func(n int, a float64) []mesh.Vec { return slices.Repeat([]mesh.Vec{{a, a, 10}}, n) }
	for name, c := range map[string]struct {
		sizes []mesh.Vec
		bed   Bed
		want  []int // pieces by load
	}{
		"nothing":                         {nil, Bed{200, 200, 200, 5}, nil},
		"four squares fill a bed":         {square(4, 100), Bed{200, 200, 10, 0}, []int{4}},
		"with their gaps":                 {square(4, 100), Bed{205, 205, 10, 5}, []int{4}},
		"a fifth does not":                {square(5, 100), Bed{205, 205, 10, 5}, []int{4, 1}},
		"nor do four a step too large":    {square(4, 100+step), Bed{205, 205, 10, 5}, []int{1, 1, 1, 1}},
		"no gap at the edge of the bed":   {square(1, 205), Bed{205, 205, 10, 5}, []int{1}},
		"turned":                          {[]mesh.Vec{{50, 200, 10}}, Bed{200, 50, 10, 5}, []int{1}},
		"one turned beside others":        {[]mesh.Vec{{60, 160, 9}, {60, 160, 9}, {125, 35, 9}}, Bed{200, 165, 10, 5}, []int{3}},
		"strips around a square":          {[]mesh.Vec{{100, 20, 9}, {20, 80, 9}, {80, 20, 9}, {60, 60, 9}, {20, 60, 9}}, Bed{100, 100, 9, 0}, []int{5}},
		"plates first, shells in between": {[]mesh.Vec{{120, 120, 12}, {120, 60, 30}, {120, 60, 30}, {120, 120, 12}, {40, 40, 30}}, Bed{256, 250, 250, 8}, []int{5}},
	} {
		t.Run(name, func(t *testing.T) {
			loads, misfits := Pack(c.sizes, c.bed)
			if err := judge(c.sizes, c.bed, loads, misfits); err != nil {
				t.Error(err)
			}
			var got []int
			for _, l := range loads {
				got = append(got, len(l.Places))
			}
			if !slices.Equal(got, c.want) || len(misfits) > 0 {
				t.Errorf("loads of %v pieces, want %v, misfits %v", got, c.want, misfits)
			}
		})
	}
}

func TestMisfits(t *testing.T) {
	b := Bed{200, 100, 50, 5}
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		size mesh.Vec
		fits bool
	}{
		{mesh.Vec{200, 100, 50}, true},
		{mesh.Vec{100, 200, 50}, true},
		{mesh.Vec{200 + step, 100, 50}, false},
		{mesh.Vec{100 + step, 200, 50}, false},
		{mesh.Vec{10, 10, 50 + 1e-9}, false},
		{mesh.Vec{150, 101, 1}, false}, // smaller by area
		{mesh.Vec{206, 1, 1}, false},   // short enough for the diagonal
		{mesh.Vec{nan, 1, 1}, false},
		{mesh.Vec{1, 1, nan}, false},
		{mesh.Vec{inf, 1, 1}, false},
	} {
		sizes := []mesh.Vec{{20, 20, 20}, c.size, {20, 20, 20}}
		loads, misfits := Pack(sizes, b)
		if got := len(misfits) == 0; got != c.fits || b.Holds(c.size) != c.fits {
			t.Errorf("%v fits: %v, want %v", c.size, got, c.fits)
		}
		if !c.fits && (!slices.Equal(misfits, []int{1}) || len(loads) != 1 || len(loads[0].Places) != 2) {
			t.Errorf("%v: loads %v, misfits %v", c.size, loads, misfits)
		}
	}
}

// A load lies in the middle: what is left of the bed is the same at either side.
func TestLoadLiesInTheMiddle(t *testing.T) {
	loads, _ := Pack([]mesh.Vec{{30, 20, 5}, {30, 20, 5}}, Bed{100, 60, 10, 10})
	all := mesh.EmptyBox()
	for _, p := range loads[0].Places {
		b := box(p, []mesh.Vec{{30, 20, 5}, {30, 20, 5}})
		all = all.Join(b)
	}
	if all.Lo[0]+all.Hi[0] != 100 || all.Lo[1]+all.Hi[1] != 60 {
		t.Errorf("the load lies at %v", all)
	}
}

// A bed cut into pieces, cuts as wide as the gap, can be filled again; what is
// found may be worse, but no more than one load in twenty.
func TestPackNearTheOptimum(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	b := Bed{220, 220, 250, 6}
	beds, loads := 0, 0
	for range 200 {
		n := 1 + rnd.IntN(3)
		var sizes []mesh.Vec
		for range n {
			sizes = append(sizes, cuts(rnd, mesh.Vec{b.X, b.Y, 10}, b.Gap, 2)...)
		}
		rnd.Shuffle(len(sizes), func(i, k int) { sizes[i], sizes[k] = sizes[k], sizes[i] })
		got, misfits := Pack(sizes, b)
		if err := judge(sizes, b, got, misfits); err != nil {
			t.Fatal(err)
		}
		beds, loads = beds+n, loads+len(got)
	}
	t.Logf("%d loads for %d full beds", loads, beds)
	if 20*loads > 21*beds {
		t.Errorf("%d loads for what fills %d beds", loads, beds)
	}
}

// cuts cuts a piece along one side and both parts again, so many times over.
func cuts(rnd *rand.Rand, s mesh.Vec, gap float64, times int) []mesh.Vec {
	k := 0
	if s[1] > s[0] {
		k = 1
	}
	if times == 0 || s[k] < 6*gap {
		return []mesh.Vec{s}
	}
	a, b := s, s
	a[k] = math.Floor((s[k] - gap) * (0.2 + 0.6*rnd.Float64()))
	b[k] -= a[k] + gap
	return append(cuts(rnd, a, gap, times-1), cuts(rnd, b, gap, times-1)...)
}

func TestHiddenKeepsOneOfEqualRectangles(t *testing.T) {
	r := rect{1, 2, 3, 4}
	list := []rect{{1, 2, 3, 3}, r, {2, 2, 3, 4}, r}
	for i, want := range []bool{true, false, false, true} {
		if hidden(list, i) != want {
			t.Errorf("%v hidden: %v", list[i], !want)
		}
	}
}
