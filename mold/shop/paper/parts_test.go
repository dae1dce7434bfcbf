package paper

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

// Hatch lines lie inside what is cut, and there are as many as its area takes: each
// stands for a strip as wide as their spacing.
func TestHatchFillsWhatIsCut(t *testing.T) {
	hole := circle(Point{3, 2}, 18)
	hole.Segments[0].CCW = false
	r := outline.Region{circle(Point{}, 40), hole}
	area := math.Pi * (40*40 - 18*18)
	for n, h := range hatchAngles {
		got := 0.0
		for _, l := range hatched(r, n) {
			got += dist(l[0], l[1]) * h.spacing
			for _, share := range []float64{0.01, 0.5, 0.99} {
				if p := plus(l[0], times(minus(l[1], l[0]), share)); !r.Contains(p) {
					t.Errorf("hatch %d leaves the area at %.2f", n, p)
				}
			}
			if a := math.Atan2(l[1][1]-l[0][1], l[1][0]-l[0][0]) * 180 / math.Pi; math.Abs(a-h.angle) > 1e-6 {
				t.Errorf("hatch %d runs at %.3f°, want %g°", n, a, h.angle)
			}
		}
		if math.Abs(got/area-1) > 0.01 {
			t.Errorf("hatch %d fills %.0f mm², want %.0f", n, got, area)
		}
	}
}

// Views of one column stand below each other with their u on one line, those of one row
// with their v, and rows run downward.
func TestViewsStandInProjection(t *testing.T) {
	s := plate()
	side := s.Views[1]
	side.Row, side.Column = 0, 1
	s.Views = append(s.Views, side)
	g := layViews(&s, 0.5, false).arrange(0)
	if g.at[0][0] != g.at[1][0] || g.at[0][1] != g.at[2][1] {
		t.Errorf("origins at %.3f", g.at)
	}
	if !(g.at[1][1] < g.at[0][1]) || !(g.at[2][0] > g.at[0][0]) {
		t.Errorf("rows or columns run the wrong way: %.3f", g.at)
	}
	for i := range g.boxes {
		for k := range i {
			if g.boxes[i].Meets(g.boxes[k]) {
				t.Errorf("views %d and %d cover each other", k, i)
			}
		}
	}
}

// Leaders of round dimensions end on their circle and come along its radius.
func TestRoundDimensionsPointAtTheMiddle(t *testing.T) {
	for _, r := range []float64{1.5, 6, 30} {
		c := Point{20, 10}
		v := View{Lines: []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{rounded(160, 100, 5), circle(c, r)}}}}
		v.Dims = []Dim{{Kind: drawing.Diameter, From: Point{c[0] - r, c[1]}, To: Point{c[0] + r, c[1]}, Value: 2 * r, Name: "hole"}}
		g := layView(&v, 2, false)
		if len(g.lines) != 2 || len(g.missed) > 0 {
			t.Fatalf("%d lines, missed %v", len(g.lines), g.missed)
		}
		tip, elbow, middle := g.lines[0][0], g.lines[0][1], times(c, 2)
		if math.Abs(dist(tip, middle)-2*r) > 1e-9 {
			t.Errorf("r %g: the tip lies %.4f mm from the middle", r, dist(tip, middle))
		}
		a, b := unit(minus(elbow, tip)), unit(minus(tip, middle))
		if math.Abs(a[0]*b[1]-a[1]*b[0]) > 1e-9 {
			t.Errorf("r %g: the leader does not point at the middle", r)
		}
	}
}

// By the first angle the view from the left stands on the right; by the third, on the
// left. Both ends of the cone are seen, so that it is its small end that is on the left.
func TestProjectionSymbol(t *testing.T) {
	for _, third := range []bool{false, true} {
		var k ink
		k.projection(third, Point{})
		cone, end := k.strokes[0].Paths[0], k.strokes[1].Paths[0].Segments[0].Center
		lo, hi := outline.Region{cone}.Bounds()
		if right := end[0] > hi[0]; right == third {
			t.Errorf("third angle %v: circles at %.1f, the cone from %.1f to %.1f", third, end[0], lo[0], hi[0])
		}
		small, large := 0.0, 0.0
		for s := range cone.Stretches() {
			if s.From[0] == lo[0] {
				small = max(small, math.Abs(s.From[1]))
			} else {
				large = max(large, math.Abs(s.From[1]))
			}
		}
		if small >= large {
			t.Errorf("third angle %v: %.1f at the left, %.1f at the right", third, small, large)
		}
	}
}

// Circles come out round, at their place and size, in points from the lower left.
func TestCirclesInPDF(t *testing.T) {
	const pt = 72 / 25.4
	c, r := Point{60, 200}, 35.0
	p := &Page{Width: 210, Height: 297, Strokes: []Stroke{{Paths: []outline.Path{circle(c, r)}, Width: 0.5}}}
	var at Point
	n := 0
	for line := range strings.Lines(pdfOf(t, []*Page{p})) {
		var x, y, x1, y1, x2, y2 float64
		var op string
		if k, _ := fmt.Sscan(line, &x, &y, &op); k == 3 && op == "m" {
			at = Point{x, y}
		}
		if k, _ := fmt.Sscan(line, &x1, &y1, &x2, &y2, &x, &y, &op); k != 7 || op != "c" {
			continue
		}
		n++
		for _, s := range []float64{0.25, 0.5, 0.75, 1} {
			q := 1 - s
			b := plus(plus(times(at, q*q*q), times(Point{x1, y1}, 3*q*q*s)), plus(times(Point{x2, y2}, 3*q*s*s), times(Point{x, y}, s*s*s)))
			// Coordinates are written to a hundredth of a point.
			if off := dist(times(b, 1/pt), c) - r; math.Abs(off) > 0.005 {
				t.Errorf("off the circle by %.4f mm", off)
			}
		}
		at = Point{x, y}
	}
	if n != 8 {
		t.Errorf("%d curves, want 8", n)
	}
}

// No text is wider than its box: Helvetica's own widths, as far as the letters go.
func TestWrappedTextsFit(t *testing.T) {
	text := "Edges of the cavity stay sharp: no break, at most 0.1 mm. " + strings.Repeat("x", 90) + " end"
	for _, width := range []float64{20, 60, 172} {
		lines := wrapped(text, typeSize, width)
		for _, l := range lines {
			if w := widthOf(l, typeSize, false); w > width+1e-5 {
				t.Errorf("%q is %.2f mm wide, more than %g", l, w, width)
			}
		}
		if got, want := strings.ReplaceAll(strings.Join(lines, ""), " ", ""), strings.ReplaceAll(text, " ", ""); got != want {
			t.Errorf("wrapped to %g mm it reads %q", width, got)
		}
	}
	if got := shortened(text, typeSize, false, 30); !strings.HasSuffix(got, "…") || widthOf(got, typeSize, false) > 30 {
		t.Errorf("shortened to %q", got)
	}
	// Adobe's metrics of Helvetica: digits 556, A 667, Ø 778 of 1000, bold a 556.
	for _, c := range []struct {
		text string
		bold bool
		want float64
	}{{"0", false, 0.556}, {"A", false, 0.667}, {"Ø", false, 0.778}, {"a", true, 0.556}} {
		if got := widthOf(c.text, 1, c.bold); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s is %.3f wide, want %.3f", c.text, got, c.want)
		}
	}
}

// An SVG has what a page has at its place and size, from the upper left: circles, and
// texts at their base line, as wide as in Helvetica, whose u and p are 0.556 of the size.
func TestPlacesInSVG(t *testing.T) {
	c := Point{60, 200}
	p := &Page{Width: 210, Height: 297, Strokes: []Stroke{{Paths: []outline.Path{circle(c, 35)}, Width: 0.5}},
		Texts: []Text{{Text: "up", At: Point{30, 40}, Dir: Point{0, 1}, Size: 3.5, Anchor: Middle}}}
	svg := svgOf(t, p)
	for _, want := range []string{
		`d="M95 97A35 35 0 0 0 25 97A35 35 0 0 0 95 97Z" stroke-width="0.5"`,
		`x="30" y="257" font-size="3.5" fill="#000" stroke="none" textLength="3.892" lengthAdjust="spacingAndGlyphs" text-anchor="middle" transform="rotate(-90 30 257)">up<`,
	} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %s in\n%s", want, svg)
		}
	}
	// The same text in the PDF reads upward from below its middle.
	if pdf := pdfOf(t, []*Page{p}); len(shown(t, pdf)) != 1 || !strings.Contains(pdf, "0.00000 1.00000 -1.00000 0.00000") {
		t.Error("the PDF does not turn the text by a quarter counterclockwise")
	}
}

// Texts of a PDF begin where their anchor wants it: digits are 0.556 of the size wide.
func TestAnchorsInPDF(t *testing.T) {
	const pt, wide = 72 / 25.4, 2 * 0.556 * 3.5
	for anchor, left := range map[Anchor]float64{Start: 0, Middle: wide / 2, End: wide} {
		p := &Page{Width: 210, Height: 297, Texts: []Text{{Text: "00", At: Point{100, 50}, Dir: Point{1, 0}, Size: 3.5, Anchor: anchor}}}
		if want := fmt.Sprintf("BT %.2f %.2f Td (00) Tj", (100-left)*pt, 50*pt); !strings.Contains(pdfOf(t, []*Page{p}), want) {
			t.Errorf("anchor %d: no %s", anchor, want)
		}
	}
}

// A hole's name stands in it if it is large, unless it holds others, and near it if not.
func TestMarksStandByTheirHoles(t *testing.T) {
	big, small := Mark{"A1", Point{}, 20}, Mark{"B1", Point{12, 0}, 2}
	shape := []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{rounded(100, 100, 5), circle(big.At, big.R), circle(small.At, small.R)}}}
	placeOf := func(name string, marks ...Mark) Point {
		for _, b := range layView(&View{Lines: shape, Marks: marks}, 1, false).blocks {
			if b.name == "mark "+name {
				return times(plus(b.box.Lo, b.box.Hi), 0.5)
			}
		}
		t.Fatalf("no mark %s", name)
		return Point{}
	}
	if d := dist(placeOf("A1", big), big.At); d > big.R-3 {
		t.Errorf("alone, the large hole's name is %.1f mm from its middle", d)
	}
	if d := dist(placeOf("A1", big, small), big.At); d < big.R+1 || d > big.R+8 {
		t.Errorf("with another in it, the large hole's name is %.1f mm from its middle", d)
	}
	if d := dist(placeOf("B1", big, small), small.At); d < small.R+1 || d > small.R+6 {
		t.Errorf("the small hole's name is %.1f mm from its middle", d)
	}
}
