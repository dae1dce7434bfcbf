package paper

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

func pagesOf(t testing.TB, s ...Sheet) []*Page {
	t.Helper()
	pages, err := Lay(s...)
	if err != nil {
		t.Fatal(err)
	}
	return pages
}

func svgOf(t testing.TB, p *Page) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteSVG(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// pdfOf is a PDF whose pages can be read.
func pdfOf(t testing.TB, pages []*Page) string {
	t.Helper()
	var b bytes.Buffer
	if err := document(pages, "test", false).Output(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// textsOf are the texts of an SVG, which must be well-formed.
func textsOf(t testing.TB, svg string) (texts []string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	in := ""
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return texts
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			if in = x.Name.Local; in == "script" || in == "style" || in == "foreignObject" {
				t.Errorf("element %s", in)
			}
			for _, a := range x.Attr {
				if strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "href" || a.Name.Local == "style" {
					t.Errorf("attribute %s", a.Name.Local)
				}
			}
		case xml.CharData:
			if in == "text" {
				texts = append(texts, string(x))
			}
		case xml.EndElement:
			in = ""
		}
	}
}

// shownText is an operator that shows a text: its string ends at the first parenthesis
// that is not escaped.
var shownText = regexp.MustCompile(` Td \(((?:[^()\\]|\\.)*)\) Tj ET`)

// shown are the texts that a PDF's pages show.
func shown(t testing.TB, pdf string) (texts []string) {
	t.Helper()
	unescape := strings.NewReplacer(`\(`, "(", `\)`, ")", `\\`, `\`)
	for _, m := range shownText.FindAllStringSubmatch(pdf, -1) {
		texts = append(texts, unescape.Replace(m[1]))
	}
	if n := strings.Count(pdf, " Td ("); n != len(texts) {
		t.Errorf("%d texts begin, %d end", n, len(texts))
	}
	return texts
}

// random is a sheet with views, dimensions and tables as they may come.
func random(seed uint64) Sheet {
	r := rand.New(rand.NewPCG(seed, 1))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	s := plate()
	s.ID = fmt.Sprint("random-", seed)
	w, h := between(20, 400), between(20, 300)
	plan := View{Caption: "seen from above"}
	plan.Lines = []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{rounded(w, h, min(w, h)/20)}}}
	for i := range 4 + r.IntN(20) {
		c, d := Point{between(-.45, .45) * w, between(-.45, .45) * h}, between(1, 10)
		plan.Lines[0].Paths = append(plan.Lines[0].Paths, circle(c, d/2))
		plan.Marks = append(plan.Marks, Mark{fmt.Sprint("A", i+1), c, d / 2})
		switch i % 4 {
		case 0:
			plan.Dims = append(plan.Dims, Dim{Kind: drawing.Diameter, From: Point{c[0] - d/2, c[1]}, To: Point{c[0] + d/2, c[1]}, Value: d, Fit: "H7", Name: fmt.Sprint("hole ", i+1)})
		case 1:
			plan.Dims = append(plan.Dims, Dim{Kind: drawing.Across, From: Point{-w / 2, 0}, To: c, Value: c[0] + w/2, Tolerance: "±0.1", Name: fmt.Sprint("across ", i+1)})
		case 2:
			plan.Dims = append(plan.Dims, Dim{Kind: drawing.Plumb, From: Point{0, -h / 2}, To: c, Value: c[1] + h/2, Name: fmt.Sprint("up ", i+1)})
		case 3:
			plan.Callouts = append(plan.Callouts, Callout{Tip: plus(c, Point{0, d / 2}), Text: fmt.Sprintf("M%.0f ↓%.1f", d, 2*d), Finish: "Ra 1.6"})
		}
	}
	plan.Cuts = []Cutting{{Point{-w / 2, 0}, Point{w / 2, 0}, "A", Point{0, -1}}}
	thick := between(5, 60)
	side := View{Caption: "section A-A", Row: 1, Areas: []drawing.Area{{Look: drawing.Cut, Of: "x", Region: outline.Region{through(Point{-w / 2, 0}, Point{w / 2, 0}, Point{w / 2, thick}, Point{-w / 2, thick}, Point{-w / 2, 0})}}}}
	side.Dims = []Dim{{Kind: drawing.Plumb, From: Point{w / 2, 0}, To: Point{w / 2, thick}, Value: thick, Tolerance: "±0.2", Name: "thickness"}}
	side.Callouts = []Callout{{Tip: Point{0, thick}, Datum: "A", Control: &Control{Symbol: Flatness, Value: "0.02"}}}
	s.Views = []View{plan, side}
	for range r.IntN(60) {
		s.Tables[0].Rows = append(s.Tables[0].Rows, s.Tables[0].Rows[r.IntN(8)])
	}
	return s
}

// Nothing covers anything else, and all stays within the frame.
func TestNothingOverlaps(t *testing.T) {
	sheets := []Sheet{plate()}
	for seed := range uint64(40) {
		sheets = append(sheets, random(seed))
	}
	for _, s := range sheets {
		for _, p := range pagesOf(t, s) {
			for _, c := range p.Collisions() {
				t.Errorf("%s, %s at %s: %s", p.ID, p.Size, drawing.ScaleName(p.Scale), c)
			}
		}
	}
}

// The check finds what is wrong: a text moved onto another, and one out of the frame.
func TestCollisionsAreFound(t *testing.T) {
	p := pagesOf(t, plate())[0]
	n := len(p.Texts)
	p.Texts = append(p.Texts, p.Texts[3])
	if got := p.Collisions(); len(got) != 1 {
		t.Errorf("one text twice: %q", got)
	}
	p.Texts = p.Texts[:n]
	p.Texts[0].At[0] = p.Width - margin
	if got := p.Collisions(); len(got) != 1 || !strings.Contains(got[0], "leaves") {
		t.Errorf("a text across the frame: %q", got)
	}
}

// What every dimension, mark, cell and note says is to be read in both files.
func TestAllIsWritten(t *testing.T) {
	for seed := range uint64(12) {
		s := random(seed)
		pages := pagesOf(t, s)
		var texts []string
		for _, p := range pages {
			texts = append(texts, textsOf(t, svgOf(t, p))...)
		}
		svg, pdf := strings.Join(texts, " "), strings.Join(shown(t, pdfOf(t, pages)), " ")
		want := func(text string) {
			if !strings.Contains(svg, text) {
				t.Errorf("%s: the SVG lacks %q", s.ID, text)
			}
			if !strings.Contains(pdf, latin(text)) {
				t.Errorf("%s: the PDF lacks %q", s.ID, text)
			}
		}
		for _, v := range s.Views {
			for i := range v.Dims {
				want(v.Dims[i].Text())
			}
			for _, m := range v.Marks {
				want(m.Text)
			}
			want(v.Caption)
		}
		for _, n := range s.Notes {
			for _, word := range strings.Fields(n) {
				want(word)
			}
		}
		for _, f := range s.Fields {
			want(f.Label)
			want(f.Value)
		}
		if rows := strings.Count(svg, "through"); rows < len(s.Tables[0].Rows)/3 {
			t.Errorf("%s: %d rows of %d", s.ID, rows, len(s.Tables[0].Rows))
		}
	}
}

// Every row of a table is on some page, however long it is, under its heads.
func TestLongTablesGoOn(t *testing.T) {
	s := plate()
	const rows = 500
	for i := range rows {
		s.Tables[0].Rows = append(s.Tables[0].Rows, []string{fmt.Sprint("C", i+1), "0", "0", "Ø3", "4"})
	}
	pages := pagesOf(t, s)
	if len(pages) < 3 {
		t.Fatalf("%d pages", len(pages))
	}
	count := map[string]int{}
	for i, p := range pages {
		heads := 0
		for _, x := range p.Texts {
			count[x.Text]++
			if x.Text == "mark" {
				heads++
			}
		}
		if want := 1; i > 0 && heads < want {
			t.Errorf("page %d has no heads", i+1)
		}
		if want := fmt.Sprintf("%d of %d", i+1, len(pages)); count[want] != 1 {
			t.Errorf("page %d is not numbered %q", i+1, want)
		}
		for _, c := range p.Collisions() {
			t.Errorf("%s: %s", p.ID, c)
		}
	}
	for i := range rows {
		if n := count[fmt.Sprint("C", i+1)]; n != 1 {
			t.Errorf("row C%d is there %d times", i+1, n)
		}
	}
}

// A dimension for which no place is left is said in a table.
func TestWhatFindsNoRoomIsSaid(t *testing.T) {
	v := View{Lines: []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{rounded(100, 50, 5)}}}}
	for i := range 40 {
		v.Dims = append(v.Dims, Dim{Kind: drawing.Across, From: Point{-40, 0}, To: Point{40, 0}, Side: Below, Value: 80 + float64(i)/100, Name: fmt.Sprint("length ", i)})
	}
	pages := pagesOf(t, Sheet{ID: "x", Title: "X", Views: []View{v}})
	texts := map[string]bool{}
	for _, p := range pages {
		for _, x := range p.Texts {
			texts[x.Text] = true
		}
	}
	if !texts["length 39"] {
		t.Error("no table tells of the 40th length")
	}
	for i := range v.Dims {
		if !texts[v.Dims[i].Text()] {
			t.Errorf("%s is nowhere", v.Dims[i].Text())
		}
	}
}

// Sizes of ISO 216, and a scale of ISO 5455 at which the piece is drawn.
func TestPaperAndScale(t *testing.T) {
	sizes := map[string][2]float64{"A4": {210, 297}, "A3": {420, 297}, "A2": {594, 420}, "A1": {841, 594}, "A0": {1189, 841}}
	for seed := range uint64(10) {
		s := random(seed)
		for _, p := range pagesOf(t, s) {
			if want := sizes[p.Size]; want != [2]float64{p.Width, p.Height} {
				t.Errorf("%s is %g × %g", p.Size, p.Width, p.Height)
			}
			svg := svgOf(t, p)
			if want := fmt.Sprintf(`width="%gmm" height="%gmm" viewBox="0 0 %[1]g %[2]g"`, p.Width, p.Height); !strings.Contains(svg, want) {
				t.Errorf("no %s", want)
			}
			const pt = 72 / 25.4
			if want := fmt.Sprintf("/MediaBox [0 0 %.2f %.2f]", p.Width*pt, p.Height*pt); !strings.Contains(pdfOf(t, []*Page{p}), want) {
				t.Errorf("no %s", want)
			}
		}
		p := pagesOf(t, s)[0]
		lo, hi := s.Views[0].Lines[0].Paths[0].Start, p.Strokes[0].Paths[0]
		want := (s.Views[0].Lines[0].Paths[0].Segments[0].To[0] - lo[0]) * p.Scale
		if got := hi.Segments[0].To[0] - hi.Start[0]; math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: an edge is %.4f mm long on paper, want %.4f", s.ID, got, want)
		}
	}
}

// The same bytes on every run and any number of cores.
func TestSameBytes(t *testing.T) {
	make := func(cores int) string {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		pages := pagesOf(t, plate(), random(3))
		var b bytes.Buffer
		if err := WritePDF(&b, pages, "job"); err != nil {
			t.Fatal(err)
		}
		return b.String() + svgOf(t, pages[0])
	}
	one := make(1)
	for range 3 {
		if make(4) != one {
			t.Error("the files differ")
		}
	}
}

// Texts come from jobs: none gets out of its place or breaks a file.
func TestHostileTexts(t *testing.T) {
	evil := "</text><script>alert(1)</script>&\x00\x1b[31m\xff\u202e) Tj ET \\ " + strings.Repeat("Ẑ̷̡̢", 30) + strings.Repeat("W", 200) + " 漢字 Ω"
	s := plate()
	s.ID, s.Title = "\" onload=\"alert(1)", evil
	for i := range s.Fields {
		s.Fields[i] = Field{evil, evil}
	}
	s.Notes = append(s.Notes, evil)
	s.Tables[0].Title, s.Tables[0].Note = evil, evil
	s.Tables[0].Rows = append(s.Tables[0].Rows, []string{evil, evil, evil, evil, evil, evil, evil})
	s.Views[0].Callouts = append(s.Views[0].Callouts, Callout{Tip: Point{80, 0}, Text: evil, Finish: evil, Control: &Control{Value: evil, Datums: []string{evil}}, Datum: evil})
	s.Views[0].Dims[0].After, s.Views[0].Caption = evil, evil
	s.Views[0].Marks[0].Text, s.Views[0].Cuts[0].Letter, s.Views[0].Origins[0].U = evil, evil, evil
	pages := pagesOf(t, s)
	for _, p := range pages {
		texts := strings.Join(textsOf(t, svgOf(t, p)), " ")
		if strings.ContainsAny(texts, "\x00\x1b\u202e") {
			t.Error("control characters")
		}
		for _, c := range p.Collisions() {
			t.Errorf("%s: %.200s", p.Size, c)
		}
	}
	if texts := shown(t, pdfOf(t, pages)); len(texts) < 100 {
		t.Errorf("%d texts in the PDF", len(texts))
	}
}

func TestNothingToDraw(t *testing.T) {
	nan := View{Lines: []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{through(Point{math.NaN(), 0}, Point{1, 1})}}}}
	for _, s := range []Sheet{{ID: "empty"}, {ID: "view", Views: []View{{}}}, {ID: "nan", Views: []View{nan}}} {
		if _, err := Lay(s); err == nil || !strings.Contains(err.Error(), s.ID) {
			t.Errorf("%s: %v", s.ID, err)
		}
	}
	if err := WritePDF(io.Discard, nil, ""); err == nil {
		t.Error("a PDF without pages")
	}
}

func TestDimensionTexts(t *testing.T) {
	for _, c := range []struct {
		d    Dim
		want string
	}{
		{Dim{Kind: drawing.Diameter, Value: 28.9749, Fit: "h7", Tolerance: "(0 / -0.021)"}, "Ø28.975 h7 (0 / -0.021)"},
		{Dim{Kind: drawing.Across, Value: 40, Tolerance: "±0.3"}, "40 ±0.3"},
		{Dim{Kind: drawing.Across, Value: 34.64101, Turned: true}, "Ø34.64"},
		{Dim{Kind: drawing.Across, Value: 34.64101, Decimals: 3}, "34.641"},
		{Dim{Kind: drawing.Radius, Value: 12, Times: 4}, "4× R12"},
		{Dim{Kind: drawing.Diameter, Value: 9.525, Spherical: true}, "SØ9.53"},
		{Dim{Kind: drawing.Plumb, Value: 127.279, Reference: true}, "(127.28)"},
		{Dim{Kind: drawing.Diameter, Value: 5.5, Times: 4, After: "through"}, "4× Ø5.5 through"},
		{Dim{Kind: drawing.Across, Value: -0.001}, "0"},
	} {
		if got := c.d.Text(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
