package svg_test

import (
	"math"
	"strings"
	"testing"

	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

// What stands under a drawing keeps a margin of 1 mm to both edges of the paper, its text
// beside the marks of 8 mm, and each line takes as many words as go in: below a narrow drawing
// it may get 100 mm wide, below a wider one not wider than that.
func TestKeyIsAsWideAsThePaper(t *testing.T) {
	const margin, indent, size = 1.0, 8.0, 3.0
	long := strings.TrimSpace(strings.Repeat("air of 3 ml is in it, up by a ridge ", 8))
	for _, wide := range []float64{30, 100, 150} {
		plate := outline.Path{Closed: true, Segments: []outline.Segment{{To: drawing.Point{wide, 0}}, {To: drawing.Point{wide, 40}}, {To: drawing.Point{0, 40}}, {}}}
		d := drawing.Drawing{
			ID: "plate", Title: "plate", Scale: 1,
			Areas: []drawing.Area{{Look: drawing.Air, Of: "air", Region: outline.Region{plate}}},
			Marks: []drawing.Mark{{Kind: drawing.Trap, At: drawing.Point{10, 10}, Text: long}, {Kind: drawing.Drill, At: drawing.Point{20, 10}, Text: "drill here"}},
			Dims:  []drawing.Dim{{Kind: drawing.Across, From: drawing.Point{5, 20}, To: drawing.Point{9, 20}, At: 20, Value: 4, Name: long, Key: "A", Bare: true}},
		}
		extent := d.Extent(1)
		drawn := extent.Hi[0] - extent.Lo[0] + 2*margin
		paper := math.Max(drawn, 100)
		e := parsed(t, written(t, &d))
		var lines []*element
		e.walk(func(x *element) {
			if x.get("class") == "d-key" {
				x.walk(func(y *element) {
					if y.XMLName.Local == "text" {
						lines = append(lines, y)
					}
				})
			}
		})
		var texts []string
		high, widest := margin+extent.Hi[1]-extent.Lo[1]+0.72*size, 0.0 // clear of the drawing
		for i, x := range lines {
			texts = append(texts, x.Text)
			left := x.number(t, "x")
			right := left + drawing.TextWidth(x.Text, size)
			widest = math.Max(widest, right+margin)
			if left < margin-1e-9 || right > paper-margin+1e-9 {
				t.Errorf("%g mm wide: %q reaches from %.2f to %.2f mm of %g", wide, x.Text, left, right, paper)
			}
			if y := x.number(t, "y"); y <= high {
				t.Errorf("%g mm wide: %q at %.2f mm is no line below that at %.2f", wide, x.Text, y, high)
			} else {
				high = y
			}
			if i+1 == len(lines) || startsKey(lines[i+1].Text) {
				continue
			}
			next, _, _ := strings.Cut(lines[i+1].Text, " ")
			if more := left + drawing.TextWidth(x.Text+" "+next, size); more <= paper-margin {
				t.Errorf("%g mm wide: %q would go into the line before, which ends at %.2f of %g", wide, next, right, paper)
			}
			if lines[i+1].number(t, "x") != left {
				t.Errorf("%g mm wide: %q does not begin below the line before", wide, lines[i+1].Text)
			}
		}
		if want := "air that stays 1  " + long + " 2  drill here A: " + long + " scale 1:1, mm [in]"; strings.Join(texts, " ") != want {
			t.Errorf("%g mm wide: the key says\n%s", wide, strings.Join(texts, " "))
		}
		for _, x := range lines {
			want := margin
			if x.Text == "air that stays" || strings.HasPrefix(x.Text, "1  ") || strings.HasPrefix(x.Text, "2  ") {
				want += indent
			}
			if startsKey(x.Text) && x.number(t, "x") != want {
				t.Errorf("%g mm wide: %q begins at %g, want %g", wide, x.Text, x.number(t, "x"), want)
			}
		}
		if got, want := e.number(t, "width"), math.Max(drawn, widest); math.Abs(got-want) > 1e-3 {
			t.Errorf("%g mm wide: %g mm of paper, want %g", wide, got, want)
		}
		if bottom := e.number(t, "height"); high > bottom-0.2*size {
			t.Errorf("%g mm wide: the last line stands at %.2f mm of %g", wide, high, bottom)
		}
	}
}

// startsKey tells whether a line of TestKeyIsAsWideAsThePaper begins what it says.
func startsKey(line string) bool {
	for _, first := range []string{"air that stays", "1  ", "2  ", "A: ", "scale "} {
		if strings.HasPrefix(line, first) {
			return true
		}
	}
	return false
}
