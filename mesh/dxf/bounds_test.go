package dxf

import (
	"math"
	"testing"
)

// What a drawing covers: a program that opens the file shows this much of it. Each
// entity by itself, away from the origin, so that no side is there by chance.
func TestBoundsOfEachEntity(t *testing.T) {
	s := math.Sqrt(.5)
	for _, x := range []struct {
		name   string
		entity Entity
		lo, hi Point
	}{
		{"line, falling", Line{Point{3, 9}, Point{7, 4}}, Point{3, 4}, Point{7, 9}},
		{"dot", Dot{Point{-3, 4}}, Point{-3, 4}, Point{-3, 4}},
		{"text", Text{Point{5, -6}, 3.5, "A"}, Point{5, -6}, Point{5, -6}},
		{"circle", Circle{Point{10, -20}, 3}, Point{7, -23}, Point{13, -17}},
		{"arc over the top", Arc{Point{10, -20}, 2, 45, 135}, Point{10 - 2*s, -20 + 2*s}, Point{10 + 2*s, -18}},
		{"arc past 0°", Arc{Point{10, -20}, 2, 315, 45}, Point{10 + 2*s, -20 - 2*s}, Point{12, -20 + 2*s}},
		{"three quarters of a turn", Arc{Point{10, -20}, 2, 0, 270}, Point{8, -22}, Point{12, -18}},
		{"half a turn by its bulge", Polyline{false, []Vertex{{Point{10, 5}, 1}, {Point{10, 9}, 0}}}, Point{10, 5}, Point{12, 9}},
		{"clockwise", Polyline{false, []Vertex{{Point{10, 5}, -1}, {Point{10, 9}, 0}}}, Point{8, 5}, Point{10, 9}},
	} {
		d := &Drawing{Items: []Item{{"0", x.entity}}}
		if lo, hi := d.Bounds(); dist(lo, x.lo) > 1e-12 || dist(hi, x.hi) > 1e-12 {
			t.Errorf("%s: from %v to %v, want %v to %v", x.name, lo, hi, x.lo, x.hi)
		}
		// What was shown before still is, however far away.
		d.Items = append(d.Items, Item{"0", Dot{Point{100, 200}}}, Item{"0", Dot{Point{-100, -200}}})
		if lo, hi := d.Bounds(); lo != (Point{-100, -200}) || hi != (Point{100, 200}) {
			t.Errorf("%s between two dots: from %v to %v", x.name, lo, hi)
		}
	}
}
