package svg_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/drawing"
	"wheelmold/mold/drawing/svg"
	"wheelmold/mold/moldtest"
)

var stock = map[string][]drawing.Drawing{}

// sections are an example's section drawings, made once.
func sections(t testing.TB, name string) []drawing.Drawing {
	t.Helper()
	if stock[name] == nil {
		m, err := mold.New(moldtest.Example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		d, err := drawing.Sections(m, nil)
		if err != nil {
			t.Fatal(err)
		}
		stock[name] = d
	}
	return stock[name]
}

func written(t testing.TB, d *drawing.Drawing) string {
	t.Helper()
	var b bytes.Buffer
	if err := svg.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// each calls f with every section of the examples.
func each(t *testing.T, f func(t *testing.T, d *drawing.Drawing)) {
	for _, name := range []string{"albatross", "kestrel", "wren"} {
		for _, d := range sections(t, name) {
			t.Run(name+"/"+d.ID, func(t *testing.T) { f(t, &d) })
		}
	}
}

// element is an XML element with its text.
type element struct {
	XMLName  xml.Name
	Attr     []xml.Attr `xml:",any,attr"`
	Text     string     `xml:",chardata"`
	Children []element  `xml:",any"`
}

func (e *element) get(name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func (e *element) number(t testing.TB, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSuffix(e.get(name), "mm"), 64)
	if err != nil {
		t.Fatalf("%s of %s: %v", name, e.XMLName.Local, err)
	}
	return v
}

// walk calls f with the element and all below.
func (e *element) walk(f func(*element)) {
	f(e)
	for i := range e.Children {
		e.Children[i].walk(f)
	}
}

func (e *element) content() string {
	s := e.Text
	for _, c := range e.Children {
		s += c.content()
	}
	return s
}

func parsed(t testing.TB, s string) *element {
	t.Helper()
	var e element
	d := xml.NewDecoder(strings.NewReader(strings.TrimSpace(s)))
	if err := d.Decode(&e); err != nil {
		t.Fatalf("%v in %.200s", err, s)
	}
	if _, err := d.Token(); err != io.EOF {
		t.Fatal("more than one element")
	}
	return &e
}

// One element, told apart from others on the page by its IDs, with all that a strict
// policy forbids left out.
func TestElementFitsAPage(t *testing.T) {
	each(t, func(t *testing.T, d *drawing.Drawing) {
		e := parsed(t, written(t, d))
		ids, classes := map[string]string{}, 0
		var used []string
		e.walk(func(x *element) {
			if n := x.XMLName.Local; n == "style" || n == "script" || x.get("style") != "" {
				t.Errorf("a %s with style %q", n, x.get("style"))
			}
			for _, a := range x.Attr {
				if strings.HasPrefix(a.Name.Local, "on") {
					t.Errorf("a handler: %s", a.Name.Local)
				}
				for _, m := range regexp.MustCompile(`url\(#([^)]*)\)`).FindAllStringSubmatch(a.Value, -1) {
					used = append(used, m[1])
				}
			}
			if id := x.get("id"); id != "" {
				if ids[id] != "" || !strings.HasPrefix(id, "d-"+d.ID) {
					t.Errorf("the ID %q is taken, or not of this drawing", id)
				}
				ids[id] = x.content()
			}
			if strings.Contains(x.get("class"), "d-cut") && strings.Contains(x.get("class"), "d-of-lid") {
				classes++
			}
		})
		for _, id := range append(used, strings.Fields(e.get("aria-labelledby"))...) {
			if _, ok := ids[id]; !ok {
				t.Errorf("nothing has the ID %q", id)
			}
		}
		if e.get("role") != "img" || ids["d-"+d.ID+"-title"] != d.Title || ids["d-"+d.ID+"-desc"] != d.Note {
			t.Error("title or description are missing")
		}
		if classes != 1 {
			t.Errorf("%d areas of the lid", classes)
		}
	})
}

// Paper and scale: what is 100 mm long is drawn 100 mm long at 1:1, what is as wide as
// it is high is limited by the width, and everything fits the paper.
func TestDrawnToScale(t *testing.T) {
	for _, c := range []struct {
		long, high, want float64
		text             string
	}{{100, 50, 100, "1:1"}, {80, 40, 160, "2:1"}, {170, 170, 170, "1:1"}, {190, 95, 95, "1:2"}, {100, 260, 50, "1:2"}, {450, 20, 90, "1:5"}} {
		plate := outline.Path{Closed: true, Segments: []outline.Segment{{To: drawing.Point{c.long, 0}}, {To: drawing.Point{c.long, c.high}}, {To: drawing.Point{0, c.high}}, {}}}
		d := drawing.Drawing{ID: "plate", Title: "plate", Areas: []drawing.Area{{Look: drawing.Cut, Of: "base", Region: outline.Region{plate}}}}
		text := written(t, &d)
		e := parsed(t, text)
		if w, h := e.number(t, "width"), e.number(t, "height"); w > drawing.Paper.Width || h > drawing.Paper.Height {
			t.Errorf("%g mm long: %g by %g mm of paper", c.long, w, h)
		}
		if want := fmt.Sprintf("0 0 %s %s", strings.TrimSuffix(e.get("width"), "mm"), strings.TrimSuffix(e.get("height"), "mm")); e.get("viewBox") != want {
			t.Errorf("view box %q in %q", e.get("viewBox"), want)
		}
		e.walk(func(x *element) {
			if strings.Contains(x.get("class"), "d-tint") {
				p := pathOf(t, x.get("d"))
				if got := p[1].to[0] - p[0].to[0]; math.Abs(got-c.want) > 1e-3 {
					t.Errorf("%g mm long: drawn %g mm long, want %g", c.long, got, c.want)
				}
			}
		})
		if !strings.Contains(text, "scale "+c.text+", mm [in]") {
			t.Errorf("%g mm long: the scale %s is not stated", c.long, c.text)
		}
	}
}

// step is one command of path data.
type step struct {
	kind  byte
	to    drawing.Point
	r     float64
	sweep bool
}

// pathOf reads path data of the commands M, L, A and Z.
func pathOf(t testing.TB, data string) (out []step) {
	t.Helper()
	for _, m := range regexp.MustCompile(`([MLAZ])([^MLAZ]*)`).FindAllStringSubmatch(data, -1) {
		var v []float64
		for _, f := range strings.Fields(m[2]) {
			x, err := strconv.ParseFloat(f, 64)
			if err != nil {
				t.Fatalf("%q in path data: %v", f, err)
			}
			v = append(v, x)
		}
		s := step{kind: m[1][0]}
		switch {
		case s.kind == 'A' && len(v) == 7:
			if v[0] != v[1] || v[2] != 0 || v[3] != 0 {
				t.Fatalf("an arc that is not a circle's, or a large one: %q", m[0])
			}
			s.r, s.sweep, s.to = v[0], v[4] == 1, drawing.Point{v[5], v[6]}
		case s.kind == 'Z' && len(v) == 0:
		case (s.kind == 'M' || s.kind == 'L') && len(v) == 2:
			s.to = drawing.Point{v[0], v[1]}
		default:
			t.Fatalf("path data %q", m[0])
		}
		out = append(out, s)
	}
	return out
}

// middle is the point halfway along an arc, by SVG's rules: with the sweep flag it
// turns from +x to +y, downward.
func middle(from drawing.Point, s step) drawing.Point {
	d := drawing.Point{s.to[0] - from[0], s.to[1] - from[1]}
	l := math.Hypot(d[0], d[1])
	h := s.r - math.Sqrt(math.Max(0, s.r*s.r-l*l/4)) // sagitta of the lesser arc
	if s.sweep {
		h = -h
	}
	return drawing.Point{from[0] + d[0]/2 - d[1]/l*h, from[1] + d[1]/2 + d[0]/l*h}
}

// Every arc of the areas, read back from the file, lies on the circle of the model
// that it stands for, bulging the right way.
func TestArcsLieOnTheirCircles(t *testing.T) {
	const within = 2e-3 // mm of paper: coordinates are rounded to a thousandth
	arcs := 0
	each(t, func(t *testing.T, d *drawing.Drawing) {
		text := written(t, d)
		e := parsed(t, text)
		var tints []string
		e.walk(func(x *element) {
			if x.XMLName.Local == "path" && strings.Contains(x.get("class"), "d-tint") {
				tints = append(tints, x.get("d"))
			}
		})
		for i, a := range d.Areas {
			steps := pathOf(t, tints[i])
			k := 0
			// Where the paper lies follows from the first point.
			first := drawing.Point{steps[0].to[0] - a.Region[0].Start[0]*d.Scale, steps[0].to[1] + a.Region[0].Start[1]*d.Scale}
			on := func(p drawing.Point) drawing.Point {
				return drawing.Point{first[0] + p[0]*d.Scale, first[1] - p[1]*d.Scale}
			}
			near := func(what string, got, want drawing.Point) {
				t.Helper()
				if math.Hypot(got[0]-want[0], got[1]-want[1]) > within {
					t.Fatalf("%s of %s at %.4f, want %.4f", what, a.Of, got, want)
				}
			}
			for _, p := range a.Region {
				near("start", steps[k].to, on(p.Start))
				from, model := steps[k].to, p.Start
				k++
				for _, s := range p.Segments {
					parts := max(1, len(s.Via)+1)
					if s.Radius > 0 {
						parts = int(math.Ceil(math.Abs(s.Sweep(model))/math.Pi - 1e-6))
					}
					a0 := math.Atan2(model[1]-s.Center[1], model[0]-s.Center[0])
					for n := range parts {
						st := steps[k]
						switch {
						case s.Radius > 0:
							arcs++
							half := a0 + s.Sweep(model)*(float64(n)+.5)/float64(parts)
							want := on(drawing.Point{s.Center[0] + s.Radius*math.Cos(half), s.Center[1] + s.Radius*math.Sin(half)})
							near("middle of an arc", middle(from, st), want)
						case n < len(s.Via):
							near("point of a curve", st.to, on(s.Via[n]))
						}
						from = st.to
						k++
					}
					near("end", from, on(s.To))
					model = s.To
				}
				if p.Closed {
					if steps[k].kind != 'Z' {
						t.Fatalf("%s: a closed path goes on with %c", a.Of, steps[k].kind)
					}
					k++
				}
			}
			if k != len(steps) {
				t.Fatalf("%s: %d commands for %d", a.Of, len(steps), k)
			}
		}
	})
	if arcs < 20 {
		t.Errorf("only %d arcs", arcs)
	}
}

// ems is about how wide a text is in Helvetica: digits and most small letters are 0.556
// of the type's size wide or a little less, narrow ones half of it.
func ems(text string) (w float64) {
	for _, r := range text {
		if w += 0.5; strings.ContainsRune("fijlt .,:[]", r) {
			w -= 0.22
		}
	}
	return w
}

// box is about what a text covers on paper.
func box(t testing.TB, x *element) (lo, hi drawing.Point) {
	size := 3.5
	if x.get("font-size") != "" {
		size = x.number(t, "font-size")
	}
	w := size * ems(strings.TrimSpace(x.Text))
	for _, c := range x.Children {
		w += c.number(t, "font-size") * ems(" "+c.Text)
	}
	u, v := x.number(t, "x"), x.number(t, "y")
	l, r := u, u+w
	if x.get("text-anchor") == "middle" {
		l, r = u-w/2, u+w/2
	}
	lo, hi = drawing.Point{l, v - 0.72*size}, drawing.Point{r, v + 0.2*size}
	if strings.HasPrefix(x.get("transform"), "rotate(-90 ") {
		lo, hi = drawing.Point{u - 0.72*size, v - w/2}, drawing.Point{u + 0.2*size, v + w/2}
	}
	return lo, hi
}

// No text covers another, or leaves the paper.
func TestTextsKeepApart(t *testing.T) {
	each(t, func(t *testing.T, d *drawing.Drawing) {
		e := parsed(t, written(t, d))
		type placed struct {
			lo, hi drawing.Point
			text   string
		}
		var all []placed
		e.walk(func(x *element) {
			if x.XMLName.Local != "text" {
				return
			}
			lo, hi := box(t, x)
			p := placed{lo, hi, x.content()}
			if lo[0] < 0 || lo[1] < 0 || hi[0] > e.number(t, "width") || hi[1] > e.number(t, "height") {
				t.Errorf("%q at %.1f leaves the paper", p.text, lo)
			}
			for _, q := range all {
				if p.lo[0] < q.hi[0] && q.lo[0] < p.hi[0] && p.lo[1] < q.hi[1] && q.lo[1] < p.hi[1] {
					t.Errorf("%q and %q cover each other", p.text, q.text)
				}
			}
			all = append(all, p)
		})
		if len(all) < 15 {
			t.Errorf("only %d texts", len(all))
		}
	})
}

// Every dimension's name is to be read on paper: beside its value, or in the key behind
// the letter that stands there.
func TestDimensionsAreNamedOnPaper(t *testing.T) {
	letters := 0
	each(t, func(t *testing.T, d *drawing.Drawing) {
		texts := map[string]int{}
		var key string
		parsed(t, written(t, d)).walk(func(x *element) {
			switch {
			case x.get("class") == "d-key":
				key = ", " + x.content() + ","
			case x.XMLName.Local == "text":
				texts[x.content()]++
			}
		})
		key = strings.Join(strings.Fields(key), " ")
		for i := range d.Dims {
			m := &d.Dims[i]
			name := m.Name
			if m.Bare {
				letters++
				name = m.Key
				if want := m.Key + ": " + m.Name; !strings.Contains(key, want) {
					t.Errorf("the key says %q, and not %q", key, want)
				}
			}
			if text := m.Text() + " " + name; texts[text] == 0 || name == "" {
				t.Errorf("no text %q", text)
			}
		}
	})
	if letters == 0 {
		t.Error("no dimension of the examples has a letter")
	}
}

// Texts come from jobs: none gets out of its place.
func TestHostileTexts(t *testing.T) {
	evil := "\"'</title><script>alert(1)</script>&amp;\x00\x1b[31m\xff\u202e]]>"
	ring := outline.Path{Start: drawing.Point{10, 0}, Closed: true, Segments: []outline.Segment{{To: drawing.Point{10, 0}, Radius: 10, CCW: true}}}
	d := drawing.Drawing{
		ID: "x\" onload=\"alert(1)", Title: evil, Note: evil,
		Areas:    []drawing.Area{{Look: drawing.Look(evil), Of: evil, Region: outline.Region{ring}}, {Look: drawing.Cut, Of: evil, Region: outline.Region{ring}}},
		Lines:    []drawing.Line{{Look: drawing.Look(evil), Of: evil, Paths: []outline.Path{ring}}},
		Dims:     []drawing.Dim{{Kind: drawing.Across, From: drawing.Point{-10, 0}, To: drawing.Point{10, 0}, At: -20, Value: 20, Name: evil}},
		Balloons: []drawing.Balloon{{Text: evil, Tip: drawing.Point{0, 0}, At: drawing.Point{0, 30}}},
		Marks:    []drawing.Mark{{Kind: drawing.MarkKind(evil), Text: evil}},
	}
	e := parsed(t, written(t, &d))
	e.walk(func(x *element) {
		if x.XMLName.Local == "script" {
			t.Error("a script got in")
		}
		for _, a := range x.Attr {
			if strings.HasPrefix(a.Name.Local, "on") || strings.ContainsAny(a.Value, "<>\"") {
				t.Errorf("attribute %s = %q", a.Name.Local, a.Value)
			}
		}
	})
	if want := "\"'</title><script>alert(1)</script>&amp;[31m]]>"; e.Children[0].Text != want {
		t.Errorf("the title reads %q, want %q", e.Children[0].Text, want)
	}
}

// The same bytes on every run and any number of cores.
func TestSameBytes(t *testing.T) {
	make := func(cores int) string {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		delete(stock, "wren")
		d := sections(t, "wren")
		return written(t, &d[0]) + written(t, &d[1])
	}
	one := make(1)
	for range 2 {
		if make(4) != one {
			t.Error("the drawings differ")
		}
	}
}

func TestNothingToDraw(t *testing.T) {
	var b bytes.Buffer
	for _, d := range []drawing.Drawing{
		{ID: "empty"},
		{ID: "nan", Lines: []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{{Segments: []outline.Segment{{To: drawing.Point{math.NaN(), 1}}}}}}}},
	} {
		if err := svg.Write(&b, &d); err == nil || b.Len() > 0 {
			t.Errorf("%s: error %v, %d bytes", d.ID, err, b.Len())
		}
	}
}

// Dimensions say millimeters to a hundredth and inches to a thousandth, in this order.
func TestDimensionTexts(t *testing.T) {
	for _, c := range []struct {
		d    drawing.Dim
		want string
	}{
		{drawing.Dim{Kind: drawing.Across, Value: 25.4}, "25.4 [1.000]"},
		{drawing.Dim{Kind: drawing.Plumb, Value: 0.06}, "0.06 [0.002]"},
		{drawing.Dim{Kind: drawing.Across, Value: 110.6134, Turned: true}, "Ø110.61 [4.355]"},
		{drawing.Dim{Kind: drawing.Diameter, Value: 40}, "Ø40 [1.575]"},
		{drawing.Dim{Kind: drawing.Radius, Value: 3}, "R3 [0.118]"},
	} {
		if got := c.d.Text(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// Arrowheads are closed triangles 2.5 mm long on the ends of their dimension line.
func TestArrowheads(t *testing.T) {
	d := drawing.Drawing{ID: "a", Dims: []drawing.Dim{{Kind: drawing.Across, From: drawing.Point{0, 0}, To: drawing.Point{60, 0}, At: -10, Value: 60}},
		Lines: []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{{Segments: []outline.Segment{{To: drawing.Point{60, 0}}}}}}}}
	heads := 0
	parsed(t, written(t, &d)).walk(func(x *element) {
		if x.XMLName.Local != "path" || x.get("fill") != "currentColor" {
			return
		}
		p := pathOf(t, x.get("d"))
		for i := 0; i+3 < len(p); i += 4 {
			heads++
			tip, a, b := p[i].to, p[i+1].to, p[i+2].to
			area := math.Abs((a[0]-tip[0])*(b[1]-tip[1])-(b[0]-tip[0])*(a[1]-tip[1])) / 2
			base := drawing.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
			long := base[0] - tip[0] // into the line: to the right from the left end
			if want := map[int]float64{1: 2.5, 2: -2.5}[heads]; math.Abs(long-want) > 2e-3 || area < 0.8 || area > 1.4 || p[i+3].kind != 'Z' {
				t.Errorf("head %d is %.3f mm long and has %.3f mm²", heads, long, area)
			}
		}
	})
	if heads != 2 {
		t.Errorf("%d heads", heads)
	}
}

// A window lets nothing through but what it shows, and every other line whole.
func TestWindowIsClosedByBreakLines(t *testing.T) {
	for _, d := range sections(t, "kestrel") {
		e := parsed(t, written(t, &d))
		clips, breaks := 0, 0
		e.walk(func(x *element) {
			switch {
			case x.XMLName.Local == "clipPath":
				clips++
				// To the left and right the drawing goes on, so that nothing is added there.
				if got, want := x.Children[0].number(t, "width"), (d.Window[1][0]-d.Window[0][0])*d.Scale; math.Abs(got-want) > 2e-3 {
					t.Errorf("a window of %.3f mm, want %.3f", got, want)
				}
			case x.get("class") == "d-break":
				breaks++
			}
		})
		if want := map[string]int{"section-sprue": 0, "section-ball-bolt": 1}[d.ID]; clips != want || breaks != 2*want {
			t.Errorf("%s: %d windows, %d break lines", d.ID, clips, breaks)
		}
	}
}
