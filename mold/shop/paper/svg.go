package paper

import (
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"wheelmold/mold/drawing"
	"wheelmold/mold/drawing/svg/element"
)

// WriteSVG writes a page as an SVG of its size: black on white wherever it stands, without
// scripts and styles. Texts come as wide as they were laid out, whatever the face.
func WriteSVG(w io.Writer, p *Page) error {
	var x element.Writer
	place := element.Placing{Scale: 1, Top: p.Height}
	id := "sheet-" + drawing.Slug(p.ID)
	x.Open("svg", "xmlns", "http://www.w3.org/2000/svg", "class", "shop-page", "role", "img", "aria-labelledby", id+"-title",
		"width", element.Number(p.Width)+"mm", "height", element.Number(p.Height)+"mm",
		"viewBox", "0 0 "+element.Number(p.Width)+" "+element.Number(p.Height),
		"font-family", "Arial, Helvetica, 'Liberation Sans', sans-serif", "fill", "none", "stroke", "#000", "stroke-linejoin", "round", "stroke-linecap", "butt")
	x.Text("title", p.Title, "id", id+"-title")
	x.Empty("rect", "width", element.Number(p.Width), "height", element.Number(p.Height), "fill", "#fff", "stroke", "none")
	for i := range p.Strokes {
		writeStroke(&x, place, &p.Strokes[i])
	}
	for i := range p.Texts {
		writeText(&x, place, &p.Texts[i])
	}
	x.Close("svg")
	_, err := w.Write(x.Bytes())
	return err
}

func writeStroke(x *element.Writer, place element.Placing, s *Stroke) {
	data := place.Data(s.Paths)
	if data == "" {
		return
	}
	if s.Filled {
		color := "#000"
		if s.Blank {
			color = "#fff"
		}
		x.Empty("path", "d", data, "fill", color, "fill-rule", "evenodd", "stroke", "none")
		return
	}
	a := []string{"d", data, "stroke-width", element.Number(s.Width)}
	if len(s.Dashes) > 0 {
		var dashes []string
		for _, d := range s.Dashes {
			dashes = append(dashes, element.Number(d))
		}
		a = append(a, "stroke-dasharray", strings.Join(dashes, " "))
	}
	x.Empty("path", a...)
}

func writeText(x *element.Writer, place element.Placing, t *Text) {
	at := place.At(t.At)
	a := []string{"x", element.Number(at[0]), "y", element.Number(at[1]), "font-size", element.Number(t.Size), "fill", "#000", "stroke", "none"}
	if t.Bold {
		a = append(a, "font-weight", "bold")
	}
	if utf8.RuneCountInString(t.Text) > 1 { // spacing and glyphs, so that letters do not overlap
		a = append(a, "textLength", element.Number(widthOf(t.Text, t.Size, t.Bold)), "lengthAdjust", "spacingAndGlyphs")
	}
	if name := map[Anchor]string{Middle: "middle", End: "end"}[t.Anchor]; name != "" {
		a = append(a, "text-anchor", name)
	}
	if turn := math.Atan2(t.Dir[1], t.Dir[0]) * 180 / math.Pi; math.Abs(turn) > 1e-6 {
		a = append(a, "transform", "rotate("+element.Number(-turn)+" "+element.Pair(at)+")")
	}
	x.Text("text", t.Text, a...)
}
