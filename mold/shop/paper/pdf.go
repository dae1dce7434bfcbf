package paper

import (
	"errors"
	"io"
	"math"
	"time"

	"github.com/go-pdf/fpdf"

	"wheelmold/mesh/outline"
)

// WritePDF writes pages as one PDF, each of its own size, in a face that every reader
// has. Letters that Windows-1252 lacks become question marks.
func WritePDF(w io.Writer, pages []*Page, title string) error {
	if len(pages) == 0 {
		return errors.New("a PDF needs a page")
	}
	return document(pages, title, true).Output(w)
}

// document draws all pages; packed ones are compressed.
func document(pages []*Page, title string, packed bool) *fpdf.Fpdf {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: pages[0].Width, Ht: pages[0].Height}})
	// The same pages give the same bytes: no clock, no order of a map.
	fixed := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	f.SetCreationDate(fixed)
	f.SetModificationDate(fixed)
	f.SetCatalogSort(true)
	f.SetCompression(packed)
	f.SetProducer("wheelmold", false)
	f.SetTitle(clean(title), true)
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetLineJoinStyle("round")
	for _, p := range pages {
		f.AddPageFormat("P", fpdf.SizeType{Wd: p.Width, Ht: p.Height})
		s := pdf{f, p.Height}
		for i := range p.Strokes {
			s.stroke(&p.Strokes[i])
		}
		for i := range p.Texts {
			s.text(&p.Texts[i])
		}
	}
	return f
}

// pdf is a page being written, with v downward from its upper edge.
type pdf struct {
	*fpdf.Fpdf
	height float64
}

func (f pdf) at(p Point) (x, y float64) { return p[0], f.height - p[1] }

func (f pdf) stroke(s *Stroke) {
	if len(s.Paths) == 0 {
		return
	}
	f.SetLineWidth(s.Width)
	f.SetDashPattern(s.Dashes, 0)
	for i := range s.Paths {
		f.path(&s.Paths[i])
	}
	switch {
	case s.Blank:
		f.SetFillColor(255, 255, 255)
		f.DrawPath("f*")
	case s.Filled:
		f.SetFillColor(0, 0, 0)
		f.DrawPath("f*")
	default:
		f.DrawPath("D")
	}
}

func (f pdf) path(p *outline.Path) {
	f.MoveTo(f.at(p.Start))
	for s := range p.Stretches() {
		if s.Radius == 0 {
			f.LineTo(f.at(s.To))
			continue
		}
		for n, k := math.Ceil(math.Abs(s.Sweep)/(math.Pi/4)-1e-9), 0.0; k < n; k++ {
			f.arc(s.Part(k/n, (k+1)/n))
		}
	}
	if p.Closed {
		f.ClosePath()
	}
}

// arc is an arc of an eighth of a turn at most as one cubic, whose control points lie
// 4/3·tan(sweep/4) of the radius along the tangents: off by 4e-6 of the radius at most.
func (f pdf) arc(s outline.Stretch) {
	k := 4. / 3 * math.Tan(s.Sweep/4)
	a, b := minus(s.From, s.Center), minus(s.To, s.Center)
	x0, y0 := f.at(plus(s.From, times(Point{-a[1], a[0]}, k)))
	x1, y1 := f.at(minus(s.To, times(Point{-b[1], b[0]}, k)))
	x, y := f.at(s.To)
	f.CurveBezierCubicTo(x0, y0, x1, y1, x, y)
}

func (f pdf) text(t *Text) {
	style := ""
	if t.Bold {
		style = "B"
	}
	f.SetFont("Helvetica", style, 0)
	f.SetFontUnitSize(t.Size)
	s := latin(t.Text)
	shift := f.GetStringWidth(s) * map[Anchor]float64{Start: 0, Middle: 0.5, End: 1}[t.Anchor]
	x, y := f.at(t.At)
	if turn := math.Atan2(t.Dir[1], t.Dir[0]) * 180 / math.Pi; math.Abs(turn) > 1e-6 {
		f.TransformBegin()
		f.TransformRotate(turn, x, y)
		f.Text(x-shift, y, s)
		f.TransformEnd()
		return
	}
	f.Text(x-shift, y, s)
}
