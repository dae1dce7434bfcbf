package element

import (
	"math"
	"strings"
	"testing"

	"wheelmold/mesh/outline"
)

// Millimeters of paper stand to a thousandth, without zeros behind, and nothing is -0.
func TestNumber(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", 1: "1", -1: "-1", 12.5: "12.5", 210.297: "210.297", -0.125: "-0.125",
		1.0004: "1", 1.0006: "1.001", -1.0006: "-1.001", 1. / 3: "0.333", 0.0004: "0", -0.0004: "0", math.Copysign(0, -1): "0", 1e6: "1000000",
	} {
		if got := Number(v); got != want {
			t.Errorf("%v is written %q, want %q", v, got, want)
		}
	}
	if got := Pair(outline.Point{-1.5, 2.00049}); got != "-1.5 2" {
		t.Errorf("a pair is written %q", got)
	}
}

// On paper v runs down from the upper edge: the view's upper left corner is the origin.
func TestPlacing(t *testing.T) {
	p := Placing{Scale: 2, Left: -30, Top: 50}
	for _, c := range []struct{ drawn, want outline.Point }{
		{outline.Point{-15, 25}, outline.Point{0, 0}},  // the corner
		{outline.Point{0, 0}, outline.Point{30, 50}},   // the view's origin
		{outline.Point{10, 0}, outline.Point{50, 50}},  // to the right
		{outline.Point{0, -10}, outline.Point{30, 70}}, // down
	} {
		if got := p.Of(c.drawn); got != c.want {
			t.Errorf("%v lies at %v, want %v", c.drawn, got, c.want)
		}
		if got := p.At(outline.Point{2 * c.drawn[0], 2 * c.drawn[1]}); got != c.want {
			t.Errorf("%v on paper lies at %v, want %v", c.drawn, got, c.want)
		}
	}
}

// A slot of half circles, an arrow and a curve, as SVG 2 (chapter 9) has path data: M, L and
// Z, and A with radii, rotation, large-arc and sweep flag. With y downward the sweep flag is
// 1 where an arc runs clockwise to the eye.
func TestPathData(t *testing.T) {
	line := func(x, y float64) outline.Segment { return outline.Segment{To: outline.Point{x, y}} }
	arc := func(x, y, cx, cy, r float64, ccw bool) outline.Segment {
		return outline.Segment{To: outline.Point{x, y}, Center: outline.Point{cx, cy}, Radius: r, CCW: ccw}
	}
	paper := Placing{Scale: 10, Left: 0, Top: 100}
	for _, c := range []struct {
		name  string
		paths []outline.Path
		want  string
	}{
		{"nothing", nil, ""},
		{"slot", []outline.Path{{Start: outline.Point{2, 1}, Closed: true, Segments: []outline.Segment{line(5, 1), arc(5, 3, 5, 2, 1, true), line(2, 3), arc(2, 1, 2, 2, 1, true)}}},
			"M20 90L50 90A10 10 0 0 0 50 70L20 70A10 10 0 0 0 20 90Z"},
		{"clockwise", []outline.Path{{Start: outline.Point{2, 3}, Segments: []outline.Segment{arc(2, 1, 2, 2, 1, false)}}},
			"M20 70A10 10 0 0 1 20 90"},
		{"a whole circle in two halves", []outline.Path{{Start: outline.Point{3, 2}, Closed: true, Segments: []outline.Segment{arc(3, 2, 2, 2, 1, true)}}},
			"M30 80A10 10 0 0 0 10 80A10 10 0 0 0 30 80Z"},
		{"two lines", []outline.Path{{Start: outline.Point{0, 0}, Segments: []outline.Segment{line(1, 0)}}, {Start: outline.Point{0, 1}, Segments: []outline.Segment{line(1, 1)}}},
			"M0 100L10 100M0 90L10 90"},
		{"a curve by its points", []outline.Path{{Start: outline.Point{0, 0}, Segments: []outline.Segment{{To: outline.Point{2, 0}, Via: []outline.Point{{1, 1}}}}}},
			"M0 100L10 90L20 100"},
	} {
		if got := paper.Data(c.paths); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Elements as XML has them, with what a job brings escaped and what no reader sees left out.
func TestWriter(t *testing.T) {
	var w Writer
	w.Open("g", "class", "d-mark", "title", `<"a" & 'b'>`)
	w.Text("text", "Ø 5 < 6\x00\x1b\u202e\xff", "x", "1")
	w.Empty("path", "d", "M0 0")
	w.Empty("g")
	w.Close("g")
	want := []string{
		`<g class="d-mark" title="&lt;&quot;a&quot; &amp; &#39;b&#39;&gt;">`,
		`<text x="1">Ø 5 &lt; 6</text>`,
		`<path d="M0 0"/>`,
		`<g/>`,
		`</g>`, "",
	}
	if got := w.String(); got != strings.Join(want, "\n") {
		t.Errorf("written\n%s", got)
	}
}
