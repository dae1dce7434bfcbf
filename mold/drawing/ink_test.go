package drawing

import (
	"math"
	"testing"
)

// A dimension of 40 mm has arrows and text between its points, one of 3 mm beyond
// them; texts read from below or from the right and stand above their line.
func TestInk(t *testing.T) {
	for _, c := range []struct {
		name    string
		d       Dim
		tips    [2]Point // in the order of the line
		outward bool     // the arrows point away from each other
		reads   Point
		text    Box // where its middle must lie
	}{
		{"wide", Dim{Kind: Across, From: Point{40, 0}, To: Point{0, 5}, At: -10, Value: 40}, [2]Point{{0, -10}, {40, -10}}, true, Point{1, 0}, Box{Point{19, -9.5}, Point{21, -7}}},
		{"narrow", Dim{Kind: Across, From: Point{0, 0}, To: Point{3, 0}, At: -10, Value: 3}, [2]Point{{0, -10}, {3, -10}}, false, Point{1, 0}, Box{Point{6, -9.5}, Point{20, -7}}},
		{"narrow, to the left", Dim{Kind: Across, From: Point{0, 0}, To: Point{3, 0}, At: -10, Value: 3, Beside: -1}, [2]Point{{0, -10}, {3, -10}}, false, Point{1, 0}, Box{Point{-20, -9.5}, Point{-3, -7}}},
		{"high", Dim{Kind: Plumb, From: Point{0, 0}, To: Point{2, 40}, At: 9, Value: 40}, [2]Point{{9, 0}, {9, 40}}, true, Point{0, 1}, Box{Point{6, 19}, Point{8.5, 21}}},
		{"oblique", Dim{Kind: Aligned, From: Point{30, 40}, To: Point{0, 0}, At: 5, Value: 50}, [2]Point{{-4, 3}, {26, 43}}, true, Point{.6, .8}, Box{Point{8, 22}, Point{11, 26}}},
		{"circle", Dim{Kind: Diameter, From: Point{-10, 0}, To: Point{10, 0}, Value: 20}, [2]Point{{-10, 0}, {10, 0}}, true, Point{1, 0}, Box{Point{16, .5}, Point{35, 3}}},
	} {
		k := c.d.Ink(1)
		for i, a := range k.Arrows {
			if dist(a.Tip, c.tips[i]) > 1e-9 {
				t.Errorf("%s: an arrow at %.3f, want %.3f", c.name, a.Tip, c.tips[i])
			}
			away := dot(a.Dir, minus(c.tips[i], c.tips[1-i])) > 0
			if away != c.outward || math.Abs(dot(a.Dir, a.Dir)-1) > 1e-12 {
				t.Errorf("%s: arrow %d points to %.3f", c.name, i, a.Dir)
			}
		}
		if dist(k.Label.Dir, c.reads) > 1e-9 {
			t.Errorf("%s: reads toward %.3f", c.name, k.Label.Dir)
		}
		b := k.Label.Box()
		if m := between(b.Lo, b.Hi, .5); !c.text.holds(m) {
			t.Errorf("%s: the text is at %.2f, want within %.2f", c.name, m, c.text)
		}
		for _, l := range k.Lines {
			if c.name != "oblique" && b.MeetsLine(l) { // boxes are upright
				t.Errorf("%s: the text lies on a line of its own", c.name)
			}
		}
	}
}

// Extension lines start beside the points and end a little past the dimension line.
func TestExtensionLines(t *testing.T) {
	k := (&Dim{Kind: Across, From: Point{0, 0}, To: Point{20, 4}, At: -5, Value: 20}).Ink(2)
	want := [][2]Point{{{0, -extendGap}, {0, -10 - extendPast}}, {{40, 8 - extendGap}, {40, -10 - extendPast}}}
	for i, l := range k.Lines[1:] {
		if dist(l[0], want[i][0]) > 1e-9 || dist(l[1], want[i][1]) > 1e-9 {
			t.Errorf("%.3f, want %.3f", l, want[i])
		}
	}
}

// Widths of common words in Helvetica, by its metrics (thousandths of the size: digits
// 556, period 278, brackets 278): the estimate is no less, and not a third more.
func TestTextWidthIsEnough(t *testing.T) {
	for text, want := range map[string]float64{
		"110.61": 5*.556 + .278, "[4.355]": 4*.556 + .278 + 2*.278,
		"rubber": .333 + 3*.556 + .556 + .333, "shell A": .5 + .556 + .556 + .222 + .222 + .278 + .667,
		"Ø30": .778 + 2*.556, "counterbore": .5 + .556*3 + .278 + .556 + .333 + .556*2 + .333 + .556,
	} {
		if got := TextWidth(text, 1); got < want || got > want*1.35 {
			t.Errorf("%q: %.3f, in Helvetica %.3f", text, got, want)
		}
	}
}

func TestBoxMeetsLine(t *testing.T) {
	b := Box{Point{0, 0}, Point{4, 2}}
	for _, c := range []struct {
		line [2]Point
		want bool
	}{
		{[2]Point{{-1, 1}, {5, 1}}, true}, {[2]Point{{1, 1}, {2, 1}}, true}, {[2]Point{{-1, 3}, {5, 3}}, false},
		{[2]Point{{-1, 1}, {1, 4}}, false}, {[2]Point{{-1, 1}, {1, 3}}, false}, {[2]Point{{-1, -1}, {1, 1}}, true}, {[2]Point{{2, -9}, {2, -1}}, false},
	} {
		if got := b.MeetsLine(c.line); got != c.want {
			t.Errorf("%v: %t", c.line, got)
		}
	}
}

// ISO 5455 writes enlargements as 2:1, reductions as 1:2.
func TestScaleNames(t *testing.T) {
	names := ""
	for _, s := range Scales {
		names += ScaleName(s) + " "
	}
	if names != "50:1 20:1 10:1 5:1 2:1 1:1 1:2 1:5 1:10 1:20 1:50 " {
		t.Error(names)
	}
}
