package report

import (
	"fmt"
	"math"
	"testing"
)

// bars is a chart of three rows on half a page: a bar, one that reaches beyond the axis
// on both sides, and one without figures.
func bars(width float64) *rangeChart {
	return &rangeChart{ID: "r", Title: "Title", Desc: "Desc", Width: width,
		X: axis{Name: "mass in g", Lo: 0.01, Hi: 10, Log: true},
		Rows: []rangeRow{
			{"base/shells", "stays in", Band{0.02, 0.3, 4}, "0.02, 0.3, 4 g", false},
			{"", "gets out", Band{0.001, 0.002, 90}, "up to 90 g", true},
			{"lid", "stays in", Band{math.NaN(), 1, 2}, "nobody knows", false},
		}}
}

// Rows stand one below another, evenly, each bar at the height of its texts; lines of the
// grid run past all of them, from the top of the paper to the axis, whose figures and name
// stand below on the paper.
func TestRangeChartHasItsRowsOnTheGrid(t *testing.T) {
	for _, width := range []float64{wholePage, halfPage} {
		all := parse(t, bars(width).draw())
		var w, h float64
		if _, err := fmt.Sscanf(all[0].attr["viewBox"], "0 0 %g %g", &w, &h); err != nil || w != width {
			t.Fatalf("paper of %s: %v", all[0].attr["viewBox"], err)
		}
		foot := 0.0
		for _, e := range pick(all, "line", "c-axis") {
			foot = max(foot, e.number(t, "y1"))
		}
		grid := pick(all, "line", "c-grid")
		if len(grid) < 3 {
			t.Fatalf("%d lines of the grid", len(grid))
		}
		for _, e := range grid {
			if x, a, b := e.number(t, "x1"), e.number(t, "y1"), e.number(t, "y2"); x != e.number(t, "x2") || min(a, b) != 0 || max(a, b) != foot {
				t.Errorf("width %g: a line of the grid at %g mm runs from %g to %g, the axis lies at %g", width, x, a, b, foot)
			}
		}
		var texts []float64 // heights of the rows' kinds
		for _, e := range pick(all, "text", "c-label") {
			if e.text == "stays in" || e.text == "gets out" {
				texts = append(texts, e.number(t, "y")-e.number(t, "font-size")/3)
			}
		}
		if len(texts) != 3 {
			t.Fatalf("%d rows", len(texts))
		}
		if a, b := texts[1]-texts[0], texts[2]-texts[1]; math.Abs(a-b) > 0.02 || a < textSize {
			t.Errorf("width %g: rows at %v", width, texts)
		}
		// The ticks at the middle of a bar reach 1.5 mm up and down.
		if texts[0] < 1.5 || texts[2] > foot-1.5 {
			t.Errorf("width %g: rows at %v, between 0 and %g", width, texts, foot)
		}
		for _, e := range append(pick(all, "text", "c-tick"), pick(all, "text", "c-name")...) {
			if e.text == "" { // the heights have no name
				continue
			}
			if top := e.number(t, "y") - e.number(t, "font-size"); top < foot || e.number(t, "y") > h {
				t.Errorf("width %g: %q stands at %g, the axis at %g, the paper ends at %g", width, e.text, e.number(t, "y"), foot, h)
			}
		}
		row := map[float64]int{}
		for _, e := range pick(all, "line", "c-line") {
			row[math.Round((e.number(t, "y1")+e.number(t, "y2"))*50)/100]++
		}
		near := func(y float64) (n int) {
			for at, k := range row {
				if math.Abs(at-y) < 0.03 {
					n += k
				}
			}
			return n
		}
		// The bar, two ends and its middle; of the second nothing but the bar is on the axis.
		if a, b, c := near(texts[0]), near(texts[1]), near(texts[2]); a != 4 || b != 1 || c != 0 || len(row) != 2 {
			t.Errorf("width %g: %d, %d and %d strokes in the rows: %v", width, a, b, c, row)
		}
	}
}

// What gets out is told from what stays in by broken bars, the middle from the ends by its
// size, and a bar that is longer than the axis ends with it.
func TestRangeChartTellsItsBarsApart(t *testing.T) {
	all := parse(t, bars(wholePage).draw())
	grid := pick(all, "line", "c-grid")
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, e := range grid { // the axis begins and ends with a figure
		lo, hi = min(lo, e.number(t, "x1")), max(hi, e.number(t, "x1"))
	}
	var level, upright []*element
	for _, e := range pick(all, "line", "c-line") {
		if e.attr["y1"] == e.attr["y2"] {
			level = append(level, e)
		} else {
			upright = append(upright, e)
		}
	}
	if len(level) != 2 || len(upright) != 3 {
		t.Fatalf("%d bars, %d ticks", len(level), len(upright))
	}
	if level[0].attr["stroke-dasharray"] != "" || level[1].attr["stroke-dasharray"] == "" {
		t.Errorf("dashes: %q stays in, %q gets out", level[0].attr["stroke-dasharray"], level[1].attr["stroke-dasharray"])
	}
	if a, b := level[1].number(t, "x1"), level[1].number(t, "x2"); math.Abs(a-lo) > 0.02 || math.Abs(b-hi) > 0.02 {
		t.Errorf("a bar beyond the axis runs from %g to %g mm, the axis from %g to %g", a, b, lo, hi)
	}
	long := func(e *element) float64 { return math.Abs(e.number(t, "y2") - e.number(t, "y1")) }
	if ends, middle := max(long(upright[0]), long(upright[1])), long(upright[2]); middle < 1.5*ends || upright[2].number(t, "stroke-width") <= upright[0].number(t, "stroke-width") {
		t.Errorf("ends are %g mm high, the middle %g", ends, middle)
	}
}

// Names, kinds, bars and what is said of them stand in columns that do not meet, on the
// paper, by the width that is taken for letters.
func TestRangeChartKeepsItsColumnsApart(t *testing.T) {
	for _, width := range []float64{wholePage, halfPage} {
		all := parse(t, bars(width).draw())
		begin, end := math.Inf(1), math.Inf(-1)
		for _, e := range pick(all, "line", "c-line") {
			begin, end = min(begin, e.number(t, "x1")), max(end, e.number(t, "x2"))
		}
		var names, kinds, kindsTo, says = 0.0, math.Inf(1), 0.0, math.Inf(1)
		for _, e := range pick(all, "text", "c-label") {
			x, w := e.number(t, "x"), widthOf(e.text, e.number(t, "font-size"))
			switch {
			case e.attr["text-anchor"] == atEnd:
				if x > width {
					t.Errorf("width %g: %q ends at %g", width, e.text, x)
				}
				says = min(says, x-w)
			case x == 0:
				names = max(names, w)
			default:
				kinds, kindsTo = min(kinds, x), max(kindsTo, x+w)
			}
		}
		if !(names < kinds && kindsTo < begin && begin < end && end < says) {
			t.Errorf("width %g: names to %.2f, kinds from %.2f to %.2f, bars from %.2f to %.2f, the rest from %.2f", width, names, kinds, kindsTo, begin, end, says)
		}
	}
}
