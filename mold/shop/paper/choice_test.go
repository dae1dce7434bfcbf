package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

// square is a plate of a width, seen from both sides and cut.
func square(id string, w float64, rows int) Sheet {
	v := View{Caption: "seen from inside", Lines: []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{rounded(w, w, w/20)}}}}
	v.Dims = []Dim{{Kind: drawing.Across, From: Point{-w / 2, 0}, To: Point{w / 2, 0}, Value: w, Name: "width"}}
	cut := View{Caption: "section A-A", Column: 1, Lines: []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{rounded(w/12, w, 1)}}}}
	back := v
	back.Column, back.Dims = 2, nil
	x := Table{Title: "Holes", Head: []string{"mark", "X", "Y"}}
	for i := range rows {
		x.Rows = append(x.Rows, []string{fmt.Sprint("A", i+1), "1", "2"})
	}
	return Sheet{ID: id, Title: id, Views: []View{v, cut, back}, Tables: []Table{x}, Fields: []Field{{"piece", id}}}
}

// What fits on an A3 as large as life comes so; what would be small there, at half size on
// an A2.
func TestSmallPiecesAreLargeAndLargeOnesNotSmall(t *testing.T) {
	for _, c := range []struct {
		width, scale float64
		size         string
	}{
		{60, 2, "A3"}, {118, 1, "A3"}, {150, 1, "A3"}, {240, 1. / 2, "A3"}, {379, 1. / 2, "A2"}, {430, 1. / 2, "A2"},
	} {
		if p := pagesOf(t, square("plate", c.width, 8))[0]; p.Scale != c.scale || p.Size != c.size {
			t.Errorf("%g mm: %s on %s, want %s on %s", c.width, drawing.ScaleName(p.Scale), p.Size, drawing.ScaleName(c.scale), c.size)
		}
	}
}

// Twins come at one scale on one paper, whatever stands beside their views.
func TestTwinsAgree(t *testing.T) {
	other := square("other", 90, 8)
	differ := 0
	for _, w := range []float64{55, 75, 118, 160, 240, 379} {
		for _, rows := range []int{60, 90, 120} {
			short, long := square("short", w, 2), square("long", w+0.5, rows)
			if a, b := pagesOf(t, short)[0], pagesOf(t, long)[0]; a.Scale != b.Scale || a.Size != b.Size {
				differ++
			}
			pages := pagesOf(t, short, other, long)
			i := slices.IndexFunc(pages, func(p *Page) bool { return p.ID == "long" })
			if pages[0].Scale != pages[i].Scale || pages[0].Size != pages[i].Size {
				t.Errorf("%g mm: %s on %s, %s on %s", w, drawing.ScaleName(pages[0].Scale), pages[0].Size, drawing.ScaleName(pages[i].Scale), pages[i].Size)
			}
		}
	}
	if differ == 0 {
		t.Error("alone, they would agree too")
	}
}

// pageWith is the page on which a text stands.
func pageWith(t *testing.T, pages []*Page, text string) int {
	t.Helper()
	for i, p := range pages {
		if slices.ContainsFunc(p.Texts, func(x Text) bool { return x.Text == text }) {
			return i
		}
	}
	t.Fatalf("%q is nowhere", text)
	return 0
}

// Tables of one name, and tables whose rows are named alike, stand on one page; what has
// no room on one page is still all there.
func TestTablesThatBelongTogether(t *testing.T) {
	table := func(title, head, keep string, rows int) Table {
		x := Table{Title: title, Head: []string{head, "says"}, Keep: keep}
		for i := range rows {
			x.Rows = append(x.Rows, []string{fmt.Sprint(title, " ", i), strings.Repeat("word ", 18)})
		}
		return x
	}
	apart := 0
	for rows := 4; rows <= 28; rows += 3 {
		s := square("x", 150, 0)
		s.Tables = []Table{table("sizes", "mark", "", rows), table("pockets", "what", "", 5), table("places", "mark", "", 28-rows),
			table("corners", "corner", "outline", 6), table("angles", "edge", "outline", 6)}
		pages := pagesOf(t, s)
		for _, pair := range [][2]string{{"sizes", "places"}, {"corners", "angles"}} {
			if a, b := pageWith(t, pages, pair[0]), pageWith(t, pages, pair[1]); a != b {
				t.Errorf("%d rows: %s on page %d, %s on page %d", rows, pair[0], a+1, pair[1], b+1)
			}
		}
		for i := range s.Tables {
			s.Tables[i].Keep = fmt.Sprint(i)
		}
		if pages = pagesOf(t, s); pageWith(t, pages, "sizes") != pageWith(t, pages, "places") {
			apart++
		}
	}
	if apart == 0 {
		t.Error("nothing was to be kept together")
	}
	s := square("x", 150, 0)
	s.Tables = []Table{table("sizes", "mark", "", 70), table("places", "mark", "", 60)}
	pages := pagesOf(t, s)
	for _, x := range []string{"sizes 69", "places 59"} {
		pageWith(t, pages, x)
	}
	for _, p := range pages {
		for _, c := range p.Collisions() {
			t.Error(c)
		}
	}
}

// A detail shows what lies in its window, at its own scale. Of a circle of 10 mm seen
// through a window of 5 mm around a point of it, 2·acos(7/8) of its turn is there.
func TestWindow(t *testing.T) {
	const scale, r, w = 3.0, 10.0, 5.0
	at := Point{r, 0}
	v := View{Caption: "X", Scale: scale, Window: &Round{at, w}, Areas: []drawing.Area{{Look: drawing.Cut, Of: "x", Region: outline.Region{circle(Point{}, r)}}}}
	g := layView(&v, v.scaleBeside(1./5), false)
	long := 0.0
	for i, s := range g.strokes {
		for _, p := range s.Paths {
			for x := range p.Stretches() {
				for _, share := range []float64{0, .3, .5, 1} {
					if d := dist(x.At(share), times(at, scale)); d > w*scale+1e-6 {
						t.Fatalf("stroke %d reaches %.3f mm from the window's middle", i, d)
					}
				}
				if s.Width == wide {
					long += x.Length()
				}
			}
		}
	}
	if want := scale * r * 2 * math.Acos(7./8); math.Abs(long-want) > 1e-6 {
		t.Errorf("%.4f mm of the circle are drawn, want %.4f", long, want)
	}
	if len(g.strokes) < 3 || captionOf(&v, 1./5) != "X (3:1)" {
		t.Errorf("%d strokes, caption %q", len(g.strokes), captionOf(&v, 1./5))
	}
}

// A detail neither counts as the view that is to be large, nor is it left out: its letter
// stands by its circle.
func TestDetails(t *testing.T) {
	s := square("plate", 379, 8)
	s.Views[0].Details = []Detail{{Round{Point{150, 150}, 6}, "X"}}
	detail := View{Caption: "X", Row: 1, Free: true, Scale: 10, Window: &Round{Point{150, 150}, 6}, Lines: s.Views[0].Lines}
	detail.Lines = append(detail.Lines, drawing.Line{Look: drawing.Visible, Paths: []outline.Path{circle(Point{150, 150}, 4)}})
	s.Views = append(s.Views, detail)
	p := pagesOf(t, s)[0]
	if p.Scale != 1./2 {
		t.Errorf("at %s, want 1:2", drawing.ScaleName(p.Scale))
	}
	pageWith(t, []*Page{p}, "X (10:1)")
	pageWith(t, []*Page{p}, "X")
	if c := p.Collisions(); len(c) > 0 {
		t.Error(c)
	}
}

// What is said of a detail stands outside its window, off its edge, and a detail that has
// no room beside the views goes on on the next page.
func TestWhatIsSaidOfDetails(t *testing.T) {
	w := Round{Point{40, 20}, 4}
	v := View{Caption: "X", Scale: 5, Window: &w, Lines: []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{circle(w.At, 2)}}}}
	v.Callouts = []Callout{{Tip: Point{42, 20}, Text: "R2 or less, all around"}, {Tip: Point{38, 20}, Text: "keep its edges sharp"}}
	g := layView(&v, 5, false)
	if len(g.blocks) != 2 {
		t.Fatalf("%d texts", len(g.blocks))
	}
	for _, b := range g.blocks {
		near := Point{min(max(w.At[0]*5, b.box.Lo[0]), b.box.Hi[0]), min(max(w.At[1]*5, b.box.Lo[1]), b.box.Hi[1])}
		if d := dist(near, times(w.At, 5)); d < w.R*5 {
			t.Errorf("a text stands %.1f mm from the middle of a window of %g mm", d, w.R*5)
		}
	}
	s := square("plate", 150, 8)
	for i := range 12 {
		x := v
		x.Caption = fmt.Sprint("detail ", i)
		s.Views = append(s.Views, x)
	}
	pages := pagesOf(t, s)
	if len(pages) < 2 || pages[0].Size != "A3" || pages[0].Scale != 1 {
		t.Errorf("%d pages, the first on %s at %s", len(pages), pages[0].Size, drawing.ScaleName(pages[0].Scale))
	}
	for i := range 12 {
		pageWith(t, pages, fmt.Sprintf("detail %d (5:1)", i))
	}
	for _, p := range pages {
		for _, c := range p.Collisions() {
			t.Errorf("%s: %s", p.ID, c)
		}
	}
}

// Letters cut into a face are thin, and no leader takes them for an edge.
func TestEngraving(t *testing.T) {
	edge := rounded(100, 60, 5)
	letter := through(Point{-20, -5}, Point{0, 20}, Point{20, -5})
	g := layView(&View{Lines: []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{edge}}, {Look: Engraved, Paths: []outline.Path{letter}}}}, 1, false)
	if g.strokes[0].Width != wide || g.strokes[1].Width != narrow || g.strokes[1].Dashes != nil {
		t.Errorf("lines %g and %g mm wide", g.strokes[0].Width, g.strokes[1].Width)
	}
	if _, on := g.pathAt(letter.Start); on {
		t.Error("a leader may point at the letter")
	}
	if _, on := g.pathAt(edge.Start); !on {
		t.Error("no leader may point at the edge")
	}
	if g.free(drawing.Box{Lo: Point{-2, 15}, Hi: Point{2, 25}}) {
		t.Error("a text may cover the letter")
	}
}

// Slim views are no wider, with nothing less in them, and some are narrower.
func TestSlimViews(t *testing.T) {
	narrower := 0
	for seed := range uint64(20) {
		s := random(seed)
		for i := range s.Views {
			wide, slim := layView(&s.Views[i], 1, false), layView(&s.Views[i], 1, true)
			w, _ := sizeOf(wide.extent)
			n, _ := sizeOf(slim.extent)
			if n < w-1 {
				narrower++
			}
			if n > w+10 || len(slim.blocks) != len(wide.blocks) {
				t.Errorf("%s: %.0f mm wide with %d texts, slim %.0f with %d", s.ID, w, len(wide.blocks), n, len(slim.blocks))
			}
		}
	}
	if narrower == 0 {
		t.Error("none is narrower")
	}
}

// Rows close up beside a high view of another column, as columns do above a wide one.
func TestViewsCloseUp(t *testing.T) {
	box := func(w, h float64) []drawing.Line {
		return []drawing.Line{{Look: drawing.Visible, Paths: []outline.Path{rounded(w, h, 1)}}}
	}
	s := Sheet{Views: []View{{Lines: box(50, 20)}, {Row: 1, Lines: box(50, 20)}, {Row: 1, Column: 1, Lines: box(30, 90)}}}
	if g := layViews(&s, 1, false).arrange(1); math.Abs(g.at[0][1]-g.at[1][1]-20-viewGap) > 1e-9 || g.at[1][1] != g.at[2][1] {
		t.Errorf("origins at %.3f", g.at)
	}
	s = Sheet{Views: []View{{Lines: box(20, 50)}, {Column: 1, Lines: box(20, 50)}, {Row: 1, Column: 1, Lines: box(50, 30)}}}
	if g := layViews(&s, 1, false).arrange(0); math.Abs(g.at[1][0]-g.at[0][0]-20-viewGap) > 1e-9 || g.at[1][0] != g.at[2][0] {
		t.Errorf("origins at %.3f", g.at)
	}
}
