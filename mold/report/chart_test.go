package report

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"wheelmold/mold/pour"
)

// element is an element of an SVG, read back.
type element struct {
	name string
	attr map[string]string
	text string // its own, without that of what is in it
}

func (e *element) number(t *testing.T, attr string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.attr[attr], 64)
	if err != nil {
		t.Fatalf("%s of %+v: %v", attr, e, err)
	}
	return v
}

// parse reads a chart as the XML that it must be.
func parse(t *testing.T, c chart) (all []*element) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(string(c.SVG)))
	var open []*element
	for {
		token, err := d.Token()
		if err == io.EOF {
			return all
		}
		if err != nil {
			t.Fatalf("%v in %s", err, c.SVG)
		}
		switch x := token.(type) {
		case xml.StartElement:
			e := &element{name: x.Name.Local, attr: map[string]string{}}
			for _, a := range x.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			open, all = append(open, e), append(all, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				open[len(open)-1].text += string(x)
			}
		}
	}
}

func pick(all []*element, name, class string) (out []*element) {
	for _, e := range all {
		if e.name == name && strings.HasPrefix(e.attr["class"], class) {
			out = append(out, e)
		}
	}
	return out
}

// ruler reads the ticks of an axis: where a figure lies on paper, by two of them.
func ruler(t *testing.T, all []*element, axis string, log bool) func(v float64) float64 {
	t.Helper()
	other := map[string]string{"x": "y", "y": "x"}[axis]
	byRow := map[string][]*element{}
	for _, e := range pick(all, "text", "c-tick") {
		byRow[e.attr[other]] = append(byRow[e.attr[other]], e)
	}
	var ticks []*element
	for _, row := range byRow {
		if len(row) > len(ticks) {
			ticks = row
		}
	}
	a, b := ticks[0], ticks[len(ticks)-1]
	va, _ := strconv.ParseFloat(a.text, 64)
	vb, _ := strconv.ParseFloat(b.text, 64)
	at, bt := a.number(t, axis), b.number(t, axis)
	return func(v float64) float64 {
		if log {
			return at + (bt-at)*math.Log(v/va)/math.Log(vb/va)
		}
		return at + (bt-at)*(v-va)/(vb-va)
	}
}

// points reads a path.
func points(t *testing.T, d string) (out [][2]float64) {
	t.Helper()
	for part := range strings.FieldsFuncSeq(d, func(r rune) bool { return r == 'M' || r == 'L' }) {
		var p [2]float64
		if _, err := fmt.Sscan(part, &p[0], &p[1]); err != nil {
			t.Fatal(err)
		}
		out = append(out, p)
	}
	return out
}

// offLine is how far a point is from a line.
func offLine(line [][2]float64, x, y float64) float64 {
	off := math.Inf(1)
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		dx, dy := b[0]-a[0], b[1]-a[1]
		k := min(max(((x-a[0])*dx+(y-a[1])*dy)/(dx*dx+dy*dy+1e-12), 0), 1)
		off = min(off, math.Hypot(a[0]+k*dx-x, a[1]+k*dy-y))
	}
	return off
}

func plainChart() *lineChart {
	return &lineChart{
		ID: "c", Title: "Title", Desc: "Desc", Width: wholePage, Height: 80,
		X: axis{Name: "x in mm", Lo: 0, Hi: 97}, Y: axis{Name: "y in g", Lo: 0, Hi: 7.3},
		Series: []series{{"one", [][2]float64{{0, 0}, {10, 3}, {97, 7.3}}}, {"two", [][2]float64{{20, 1}, {60, 1.5}}}, {"three", [][2]float64{{40, 2}, {97, 7.2}}}},
		Marks:  []mark{{10, "begin"}, {12, "a little later"}, {90, "a rather long text"}, {500, "off the axis"}},
		Notes:  []note{{[2]float64{10, 3}, "here"}}, Levels: []mark{{5, "half"}},
	}
}

// What is drawn lies where the ticks say: figures are read back from the paper.
func TestLineChartIsToScale(t *testing.T) {
	for _, log := range []bool{false, true} {
		l := plainChart()
		if log {
			l.Y.Lo, l.Y.Log = 0.5, true
			l.Series[0].Points[0][1] = 0.5
		}
		all := parse(t, l.draw())
		x, y := ruler(t, all, "x", false), ruler(t, all, "y", log)
		size := textSize
		lines := pick(all, "path", "c-line")
		if len(lines) != 3 {
			t.Fatalf("%d lines", len(lines))
		}
		for i, e := range lines {
			for k, p := range points(t, e.attr["d"]) {
				want := l.Series[i].Points[k]
				// The figures of y stand a third of their size below their ticks.
				if math.Abs(p[0]-x(want[0])) > 0.02 || math.Abs(p[1]-(y(want[1])-size/3)) > 0.02 {
					t.Errorf("log %v: %v is drawn at %v, by the ticks at %.3f, %.3f", log, want, p, x(want[0]), y(want[1])-size/3)
				}
			}
		}
		for i := range lines {
			if lines[i].attr["stroke-dasharray"] == lines[(i+1)%3].attr["stroke-dasharray"] {
				t.Error("two lines look alike in black and white")
			}
		}
		var at []float64
		for _, e := range pick(all, "line", "c-mark") {
			if e.attr["x1"] == e.attr["x2"] {
				at = append(at, e.number(t, "x1"))
			} else if got, want := e.number(t, "y1"), y(l.Levels[0].At)-size/3; math.Abs(got-want) > 0.02 {
				t.Errorf("log %v: level at %g mm, want %g", log, got, want)
			}
		}
		dot := pick(all, "circle", "c-dot")[0]
		if math.Abs(dot.number(t, "cx")-x(10)) > 0.02 || math.Abs(dot.number(t, "cy")-(y(3)-size/3)) > 0.02 {
			t.Errorf("log %v: the note is at %v", log, dot.attr)
		}
		if len(at) != 3 {
			t.Fatalf("%d marks: one is off the axis", len(at))
		}
		for i, v := range at {
			if math.Abs(v-x(l.Marks[i].At)) > 0.02 {
				t.Errorf("mark %q at %g mm, want %g", l.Marks[i].Text, v, x(l.Marks[i].At))
			}
		}
	}
}

// No text meets another, nor leaves the paper, however marks crowd, by the width that
// is taken for letters.
func TestChartTextsKeepApart(t *testing.T) {
	for _, width := range []float64{wholePage, halfPage} {
		for shift := range 40 {
			l := plainChart()
			l.Width = width
			l.Notes = nil
			l.Levels = nil
			for i := range l.Marks {
				l.Marks[i].At = float64(shift)/40*97 + float64(i)*float64(shift%7)
			}
			all := parse(t, l.draw())
			type box struct {
				text           string
				x0, x1, y0, y1 float64
			}
			var boxes []box
			for _, e := range pick(all, "text", "") {
				w, h := widthOf(e.text, e.number(t, "font-size")), e.number(t, "font-size")
				x, y := e.number(t, "x"), e.number(t, "y")
				x -= map[string]float64{atMiddle: w / 2, atEnd: w}[e.attr["text-anchor"]]
				b := box{e.text, x, x + w, y - 0.75*h, y + 0.2*h}
				if b.x0 < -0.1 || b.x1 > width+0.1 || b.y0 < 0 || b.y1 > l.Height {
					t.Errorf("width %g, shift %d: %q leaves the paper: %v", width, shift, e.text, b)
				}
				for _, o := range boxes {
					if b.x0 < o.x1-0.1 && o.x0 < b.x1-0.1 && b.y0 < o.y1 && o.y0 < b.y1 {
						t.Errorf("width %g, shift %d: %q meets %q", width, shift, e.text, o.text)
					}
				}
				boxes = append(boxes, b)
			}
		}
	}
}

// Ticks are 1, 2 or 5 times a power of ten apart, of times what a watch shows, and
// neither few nor more than asked for.
func TestTicks(t *testing.T) {
	for _, c := range []struct {
		a    axis
		most int
		want []float64
	}{
		{axis{Lo: 0, Hi: 97}, 5, []float64{0, 20, 40, 60, 80}},
		{axis{Lo: 0, Hi: 97}, 10, []float64{0, 10, 20, 30, 40, 50, 60, 70, 80, 90}},
		{axis{Lo: 0, Hi: 32}, 7, []float64{0, 5, 10, 15, 20, 25, 30}},
		{axis{Lo: -0.3, Hi: 0.3}, 3, []float64{-0.2, 0, 0.2}},
		{axis{Lo: 125, Hi: 7011}, 4, []float64{2000, 4000, 6000}},
		{axis{Lo: 480, Hi: 605, Time: true}, 6, []float64{480, 510, 540, 570, 600}},
		{axis{Lo: 0, Hi: 2400, Time: true}, 5, []float64{0, 600, 1200, 1800, 2400}},
		{axis{Lo: 0.5, Hi: 20, Log: true}, 9, []float64{0.5, 1, 2, 5, 10, 20}},
		{axis{Lo: 0.01, Hi: 100, Log: true}, 6, []float64{0.01, 0.1, 1, 10, 100}},
	} {
		got := c.a.ticks(c.most)
		same := slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Max(1, math.Abs(b)) })
		if !same {
			t.Errorf("%+v: %v, want %v", c.a, got, c.want)
		}
	}
	for _, v := range []float64{1e-4, 0.013, 0.2, 0.5, 3, 7.77, 1e5} {
		below, above := niceBelow(v), niceAbove(v)
		if below > v*(1+1e-9) || above < v*(1-1e-9) || above/below > 2.5+1e-9 {
			t.Errorf("%g lies between %g and %g", v, below, above)
		}
	}
}

// hostile is text that would break out of an element or an attribute, and a
// character that XML cannot hold.
const hostile = "a\"'><script>alert(1)</script>&amp;\x01"

func TestChartEscapes(t *testing.T) {
	l := plainChart()
	l.ID, l.Title, l.Desc, l.X.Name, l.Series[0].Name, l.Marks[0].Text, l.Notes[0].Text, l.Levels[0].Text = hostile, hostile, hostile, hostile, hostile, hostile, hostile, hostile
	l.X.Other = func(float64) string { return hostile }
	r := &rangeChart{ID: hostile, Title: hostile, Desc: hostile, Width: wholePage, X: axis{Name: hostile, Lo: 1, Hi: 10, Log: true}, Rows: []rangeRow{{hostile, hostile, Band{1, 2, 3}, hostile, true}}}
	for name, c := range map[string]chart{"lines": l.draw(), "bars": r.draw()} {
		all := parse(t, c)
		if bad := append(pick(all, "script", ""), pick(all, "style", "")...); len(bad) > 0 {
			t.Errorf("%s: text became elements", name)
		}
		meant, found := strings.Replace(hostile, "\x01", "\uFFFD", 1), 0
		for _, e := range all {
			if e.text == meant {
				found++
			}
			if _, ok := e.attr["style"]; ok {
				t.Errorf("%s: %s has a style of its own", name, e.name)
			}
		}
		if found < 5 {
			t.Errorf("%s: the text is read back %d times", name, found)
		}
	}
}

// Every chart names itself for those who do not see it.
func TestChartNames(t *testing.T) {
	all := parse(t, plainChart().draw())
	svg := all[0]
	if svg.name != "svg" || svg.attr["role"] != "img" || svg.attr["aria-labelledby"] != "c-title c-desc" || svg.attr["viewBox"] != "0 0 180 80" {
		t.Errorf("%+v", svg.attr)
	}
	for id, want := range map[string]string{"c-title": "Title", "c-desc": "Desc"} {
		if i := slices.IndexFunc(all, func(e *element) bool { return e.attr["id"] == id }); i < 0 || all[i].text != want {
			t.Errorf("nothing with the id %s that says %q", id, want)
		}
	}
}

// What is missing breaks a line and is not drawn; where nothing is left there is no
// picture.
func TestChartWithoutFigures(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	l := plainChart()
	l.Series = []series{{"one", [][2]float64{{0, 1}, {10, 2}, {20, nan}, {30, 3}, {40, 4}, {50, inf}, {inf, 1}}}}
	l.Marks, l.Notes, l.Levels = []mark{{nan, "no"}, {inf, "no"}}, []note{{[2]float64{nan, 1}, "no"}}, []mark{{nan, "no"}}
	c := l.draw()
	if s := string(c.SVG); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") || strings.Contains(s, ">no<") {
		t.Errorf("draws what is missing: %s", s)
	}
	if got := len(pick(parse(t, c), "path", "c-line")); got != 2 {
		t.Errorf("%d parts of a line that is broken once", got)
	}
	for name, change := range map[string]func(*lineChart){
		"no series":     func(l *lineChart) { l.Series = nil },
		"no two points": func(l *lineChart) { l.Series[0].Points = [][2]float64{{0, 1}, {nan, 2}, {20, 3}} },
		"no axis":       func(l *lineChart) { l.X.Hi = nan },
		"no length":     func(l *lineChart) { l.Y.Hi = l.Y.Lo },
		"log of zero":   func(l *lineChart) { l.Y.Log = true },
	} {
		l := plainChart()
		l.Series = l.Series[:1]
		change(l)
		if c := l.draw(); c.SVG != "" || c.Title != "Title" {
			t.Errorf("%s: %s", name, c.SVG)
		}
	}
	for name, c := range map[string]chart{
		"filling": fillChart(&Pour{}), "thickening": thickChart(&Pour{}), "flash": flashBars(&Flash{}),
		"bars": (&rangeChart{X: axis{Lo: 1, Hi: 2}, Rows: []rangeRow{{Band: Band{nan, 1, 2}}}}).draw(),
	} {
		if c.SVG != "" {
			t.Errorf("%s: %s", name, c.SVG)
		}
	}
}

// A bar reaches from what one in ten stays below to what nine in ten do, with its tick
// at the middle one; what lies below the axis begins at it, without an end.
func TestRangeChartIsToScale(t *testing.T) {
	f := &Flash{Lost: Band{0.5, 2, 9}, Lines: []FlashLine{
		{Name: "base/shells", Flash: Band{0.02, 0.3, 4}, Leak: Band{0, 0.001, 0.5}},
		{Name: "lid/hub", Flash: Band{0, 0, 0.002}},
	}}
	c := flashBars(f)
	all := parse(t, c)
	x := ruler(t, all, "x", true)
	var got [][2]float64
	for _, e := range pick(all, "line", "c-line") {
		got = append(got, [2]float64{e.number(t, "x1"), e.number(t, "x2")})
	}
	want := [][2]float64{
		{0.02, 4}, {0.02, 0.02}, {4, 4}, {0.3, 0.3},
		{0.01, 0.5}, {0.5, 0.5},
		{0.5, 9}, {0.5, 0.5}, {9, 9}, {2, 2},
	}
	if len(got) != len(want) {
		t.Fatalf("%d strokes, want %d", len(got), len(want))
	}
	for i, w := range want {
		if math.Abs(got[i][0]-x(w[0])) > 0.02 || math.Abs(got[i][1]-x(w[1])) > 0.02 {
			t.Errorf("stroke %d from %g to %g mm, want %.2f to %.2f", i, got[i][0], got[i][1], x(w[0]), x(w[1]))
		}
	}
	if !strings.Contains(c.Desc, "not shown: lid/hub") {
		t.Errorf("a joint is missing and not told: %s", c.Desc)
	}
	for _, text := range []string{"base/shells", "gets out", "0.02, 0.3, 4 g", "0, <0.01, 0.5 g"} {
		if !slices.ContainsFunc(all, func(e *element) bool { return e.text == text }) {
			t.Errorf("%q is missing", text)
		}
	}
}

// The charts of a pour show its figures: from the start of the pour to full, and the
// mix until it gels.
func TestPourCharts(t *testing.T) {
	s, p, m := sheetOf(t, "kestrel", pour.Options{Wheels: 1, Molds: 1}, time.Time{})
	all := parse(t, fillChart(&s.Pour))
	line := pick(all, "path", "c-line")
	if len(line) != 1 || len(points(t, line[0].attr["d"])) != len(p.Filling) {
		t.Fatalf("%d lines", len(line))
	}
	y := ruler(t, all, "y", false)
	for i, q := range points(t, line[0].attr["d"]) {
		if math.Abs(q[1]-(y(p.Filling[i].Level)-textSize/3)) > 0.03 {
			t.Errorf("%g mm is drawn at %g", p.Filling[i].Level, q[1])
		}
	}
	// What is poured stands on the line.
	dots := pick(all, "circle", "c-dot")
	if len(dots) != 4 {
		t.Errorf("%d quarters", len(dots))
	}
	for _, e := range dots {
		if off := offLine(points(t, line[0].attr["d"]), e.number(t, "cx"), e.number(t, "cy")); off > 0.05 {
			t.Errorf("a quarter lies %.2f mm off the line", off)
		}
	}
	quarter := p.Filling[slices.IndexFunc(p.Filling, func(f pour.Fill) bool { return f.Mass >= m.PouredMass()/4 })]
	for _, want := range []string{
		"full " + span(p.Clock.PourEnd), "vents close at " + length(m.Tread.Top), mass(m.PouredMass()), mass(quarter.Mass),
	} {
		if !slices.ContainsFunc(all, func(e *element) bool { return e.text == want }) {
			t.Errorf("%q is missing", want)
		}
	}
	all = parse(t, thickChart(&s.Pour))
	y = ruler(t, all, "y", true)
	thick := points(t, pick(all, "path", "c-line")[0].attr["d"])
	for i, x := range p.Thickening {
		if math.Abs(thick[i][1]-(y(x.Bucket)-textSize/3)) > 0.03 {
			t.Errorf("%g Pa·s is drawn at %g", x.Bucket, thick[i][1])
		}
	}
	for _, want := range []string{"pour from " + span(p.Clock.PourStart), "pot life ends " + span(p.Clock.PourBy), "gel " + span(p.Clock.Gel)} {
		if !slices.ContainsFunc(all, func(e *element) bool { return e.text == want }) {
			t.Errorf("%q is missing", want)
		}
	}
	warm, _, _ := sheetOf(t, "kestrel", pour.Options{Wheels: 1, Molds: 1}, time.Time{}, "pour.mold_temperature=35C")
	if got := len(pick(parse(t, thickChart(&warm.Pour)), "path", "c-line")); got != 2 {
		t.Errorf("%d lines for a mix that is warmer in the mold", got)
	}
}

// Of many batches the first ones and the last are drawn, each with its own clock.
func TestFillChartOfManyBatches(t *testing.T) {
	p := &Pour{Clock: Clock{PourStart: 100, PourEnd: 150, PourBy: 400}}
	for k := range 5 {
		for i := range 3 {
			v := float64(2*k + i)
			p.Filling = append(p.Filling, Fill{Level: v, Poured: 10 * v, Clock: 100 + 25*float64(i), Left: 300 - 25*float64(i), Batch: k + 1})
		}
	}
	c := fillChart(p)
	all := parse(t, c)
	if got := len(pick(all, "path", "c-line")); got != 3 {
		t.Errorf("%d lines", got)
	}
	for _, want := range []string{"batch 1, to 20 g (0.71 oz)", "batch 2, to 40 g (1.41 oz)", "batch 5, to 100 g (3.5 oz)", "poured 2:30 min"} {
		if !slices.ContainsFunc(all, func(e *element) bool { return e.text == want }) {
			t.Errorf("%q is missing", want)
		}
	}
	if !strings.Contains(c.Desc, "5 batches, of which 3 are shown") {
		t.Error(c.Desc)
	}
}
