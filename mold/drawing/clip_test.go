package drawing

import (
	"math"
	"testing"

	"wheelmold/mesh/outline"
)

// What a line keeps apart comes as paths of their own; where it crosses a hole the
// parts beside the hole hang together with nothing.
func TestBehindKeepsPartsApart(t *testing.T) {
	// A U, 3 wide and 2 high, with legs 1 wide, and a frame, 4 wide, with a hole of 2.
	u := outline.Region{ring(Point{0, 0}, Point{3, 0}, Point{3, 2}, Point{2, 2}, Point{2, 1}, Point{1, 1}, Point{1, 2}, Point{0, 2})}
	// A comb, 5 wide and 2 high, with three teeth 1 wide.
	comb := outline.Region{ring(Point{0, 0}, Point{5, 0}, Point{5, 2}, Point{4, 2}, Point{4, 1}, Point{3, 1}, Point{3, 2}, Point{2, 2}, Point{2, 1}, Point{1, 1}, Point{1, 2}, Point{0, 2})}
	frame := outline.Region{
		ring(Point{0, 0}, Point{4, 0}, Point{4, 4}, Point{0, 4}),
		ring(Point{1, 1}, Point{1, 3}, Point{3, 3}, Point{3, 1}),
	}
	for _, c := range []struct {
		name  string
		r     outline.Region
		n, at Point
		areas []float64
	}{
		{"legs of the U", u, Point{0, -1}, Point{0, 1.5}, []float64{.5, .5}},
		{"foot of the U", u, Point{0, 1}, Point{0, .5}, []float64{1.5}},
		{"U below half its legs", u, Point{0, 1}, Point{0, 1.5}, []float64{4}},
		{"comb below half its teeth", comb, Point{0, 1}, Point{0, 1.5}, []float64{5 + 3*.5}},
		{"teeth of the comb", comb, Point{0, -1}, Point{0, 1.5}, []float64{.5, .5, .5}},
		{"left leg, at a slant", u, Point{1, -.1}, Point{.5, 1}, []float64{1}},
		{"half of the frame", frame, Point{1, 0}, Point{2, 0}, []float64{6}},
		{"a side of the frame", frame, Point{1, 0}, Point{.5, 0}, []float64{2}},
		{"frame less its lower side", frame, Point{0, -1}, Point{0, 1.5}, []float64{2.5*4 - 1.5*2}},
	} {
		got := behind(c.r, c.n, c.at)
		if len(got) != len(c.areas) {
			t.Errorf("%s: %d parts, want %d", c.name, len(got), len(c.areas))
			continue
		}
		for i, path := range got {
			if a := (outline.Region{path}).Area(); math.Abs(a-c.areas[i]) > 1e-12 {
				t.Errorf("%s: part of %g, want %g", c.name, a, c.areas[i])
			}
			if p, ok := bridgeOutside(path, c.r, c.n, c.at); ok {
				t.Errorf("%s: a line is drawn through the open at %v", c.name, p)
			}
		}
	}
}

// bridgeOutside looks for a place where a path runs along the line and not inside the
// region, just behind the line.
func bridgeOutside(path outline.Path, r outline.Region, n, at Point) (Point, bool) {
	from := path.Start
	for _, s := range path.Segments {
		a, b := dot(n, minus(from, at)), dot(n, minus(s.To, at))
		middle := between(from, s.To, .5)
		if math.Abs(a)+math.Abs(b) < 1e-12 && from != s.To && !r.Contains(plus(middle, scaled(n, -1e-6))) {
			return middle, true
		}
		from = s.To
	}
	return Point{}, false
}
