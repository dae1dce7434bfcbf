package svg

import (
	"math"
	"strconv"
	"strings"

	"wheelmold/mold/drawing"
	"wheelmold/mold/drawing/svg/element"
)

// dims draws the dimensions, texts above all lines. A dimension's name is in the
// tooltip, and beside the value where there is room; if not, in the key.
func (p *picture) dims() {
	inks := make([]drawing.Ink, len(p.d.Dims))
	for i := range p.d.Dims {
		ink := p.d.Dims[i].Ink(p.place.Scale)
		p.Open("g", "class", "d-dim")
		p.Text("title", p.d.Dims[i].Name+": "+p.d.Dims[i].Text())
		p.Empty("path", "d", p.straight(ink.Lines...))
		heads := ""
		for _, a := range ink.Arrows {
			heads += p.arrow(a)
		}
		p.Empty("path", "d", heads, "fill", "currentColor", "stroke", "none")
		p.Close("g")
		inks[i] = ink
	}
	for i, ink := range inks {
		p.Open("g", "class", "d-dim")
		p.Text("title", p.d.Dims[i].Name+": "+p.d.Dims[i].Text())
		p.label(ink.Label)
		p.Close("g")
	}
}

// arrow is a narrow closed arrowhead, ISO 129-1.
func (p *picture) arrow(a drawing.Arrow) string {
	const l, half = drawing.ArrowLength, 0.42
	back := func(side float64) point {
		return p.place.At(point{a.Tip[0] - l*a.Dir[0] - side*a.Dir[1], a.Tip[1] - l*a.Dir[1] + side*a.Dir[0]})
	}
	return "M" + element.Pair(p.place.At(a.Tip)) + "L" + element.Pair(back(half)) + "L" + element.Pair(back(-half)) + "Z"
}

// label writes a line of text with a halo that keeps it legible on hatching.
func (p *picture) label(l drawing.Label) {
	at := p.place.At(l.At)
	attributes := []string{"class", "d-text d-halo", "x", element.Number(at[0]), "y", element.Number(at[1]), "text-anchor", "middle",
		"fill", "currentColor", "stroke", "#fff", "stroke-width", "0.9", "paint-order", "stroke"}
	if turn := math.Atan2(l.Dir[1], l.Dir[0]) * 180 / math.Pi; math.Abs(turn) > 1e-6 {
		attributes = append(attributes, "transform", "rotate("+element.Number(-turn)+" "+element.Pair(at)+")")
	}
	if l.Name == "" {
		p.Text("text", l.Text, attributes...)
		return
	}
	p.Tag("text", ">", attributes)
	p.WriteString(element.Escape(l.Text) + " ")
	p.Tag("tspan", ">", []string{"class", "d-name", "font-size", element.Number(drawing.NameSize)})
	p.WriteString(element.Escape(l.Name) + "</tspan></text>\n")
}

// balloon draws a name, with a leader to a dot on what it names unless it stands
// there itself.
func (p *picture) balloon(b drawing.Balloon) {
	s := p.place.Scale
	tip, at := point{b.Tip[0] * s, b.Tip[1] * s}, point{b.At[0] * s, b.At[1] * s}
	p.Open("g", "class", "d-balloon")
	if leader, ok := b.Leader(s); ok {
		t := p.place.At(tip)
		p.Empty("path", "d", p.straight(leader))
		p.Empty("circle", "cx", element.Number(t[0]), "cy", element.Number(t[1]), "r", "0.6", "fill", "currentColor", "stroke", "none")
	}
	p.label(drawing.NameLabel(b.Text, at))
	p.Close("g")
}

// shapes are the marks, told apart by shape alone, about their middle, no larger
// than drawing.MarkSize.
var shapes = map[drawing.MarkKind]string{
	drawing.Trap:   "M-1.6 1.2L1.6 1.2L0 -1.6Z",
	drawing.Drill:  "M-1.1 0A1.1 1.1 0 0 1 1.1 0A1.1 1.1 0 0 1 -1.1 0ZM-1.6 0L1.6 0M0 -1.6L0 1.6",
	drawing.Narrow: "M-1.6 -1.2L-0.2 0L-1.6 1.2ZM1.6 -1.2L0.2 0L1.6 1.2Z",
	drawing.WayOut: "M-1.5 0L0 -1.5L1.5 0L0 1.5Z",
}

// mark draws a mark's shape and number at a place on paper.
func (p *picture) mark(kind drawing.MarkKind, number int, at point, tip string) {
	shape, ok := shapes[kind]
	if !ok {
		shape = "M-1.2 -1.2L1.2 -1.2L1.2 1.2L-1.2 1.2Z"
	}
	p.Open("g", "class", "d-mark d-"+drawing.Slug(string(kind)), "transform", "translate("+element.Pair(at)+")")
	p.Text("title", tip)
	p.Empty("path", "class", "d-halo d-paper", "d", shape, "fill", "#fff", "stroke", "#fff", "stroke-width", "1.1")
	p.Empty("path", "class", "d-shape d-paper", "d", shape, "fill", "#fff", "stroke-width", "0.35")
	p.Text("text", strconv.Itoa(number), "class", "d-text d-halo", "x", "2.2", "y", "1.1", "font-size", "3",
		"fill", "currentColor", "stroke", "#fff", "stroke-width", "0.9", "paint-order", "stroke")
	p.Close("g")
}

// key is one line under the drawing: what a mark or a filling means, or the scale.
type key struct {
	lines []string
	mark  int // its number; 0: none
	kind  drawing.MarkKind
	area  *drawing.Area // whose filling is shown
}

const (
	keyPitch  = 4.6 // from line to line
	keyIndent = 8.0
	keySize   = 3.0
	leastKey  = 100.0 // room for a key's text under a narrow drawing
)

func (k *key) width() float64 {
	w := 0.0
	for _, l := range k.lines {
		w = math.Max(w, drawing.TextWidth(l, keySize))
	}
	if k.mark > 0 || k.area != nil {
		w += keyIndent
	}
	return w
}

func rows(keys []key) (n int) {
	for _, k := range keys {
		n += len(k.lines)
	}
	return n
}

// meanings are what fillings say that are not told apart by names.
var meanings = []struct {
	look drawing.Look
	text string
}{
	{drawing.Wet10, "wetted in 1 to 5 of 10 casts"},
	{drawing.Wet50, "wetted in 5 to 9 of 10 casts"},
	{drawing.Wet90, "wetted in 9 of 10 casts or more"},
	{drawing.Liquid, "urethane in sprue and vents"},
	{drawing.Air, "air that stays"},
}

// legend lists what stands under the drawing, in lines of a width.
func (p *picture) legend(width float64) (keys []key) {
	for _, m := range meanings {
		for i := range p.d.Areas {
			if a := &p.d.Areas[i]; a.Look == m.look {
				keys = append(keys, key{lines: []string{m.text}, area: a})
				break
			}
		}
	}
	for i, m := range p.d.Marks {
		keys = append(keys, key{lines: wrapped(strconv.Itoa(i+1)+"  "+element.Clean(m.Text), width-keyIndent-2*margin), mark: i + 1, kind: m.Kind})
	}
	if letters := p.d.Letters(); letters != "" {
		keys = append(keys, key{lines: wrapped(element.Clean(letters), width-2*margin)})
	}
	return append(keys, key{lines: []string{"scale " + drawing.ScaleName(p.place.Scale) + ", mm [in]"}})
}

// wrapped breaks a text between words.
func wrapped(text string, width float64) (lines []string) {
	for _, w := range strings.Split(text, " ") {
		if n := len(lines); n > 0 && drawing.TextWidth(lines[n-1]+" "+w, keySize) <= width {
			lines[n-1] += " " + w
			continue
		}
		lines = append(lines, w)
	}
	return lines
}

// key writes what the signs mean, and the scale.
func (p *picture) key() {
	y := p.view.Hi[1] - p.view.Lo[1] + 2*margin
	p.Open("g", "class", "d-key")
	for _, k := range p.keys {
		x := margin
		middle := y + keyPitch/2
		switch {
		case k.area != nil:
			box := "M1 " + element.Number(middle-1.6) + "h6v3.2h-6Z"
			color, opacity := tintOf(k.area)
			p.Open("g", "class", "d-area d-"+drawing.Slug(string(k.area.Look)))
			p.Empty("path", "class", "d-tint", "d", box, "fill", color, "fill-opacity", opacity, "stroke", "none")
			p.Empty("path", "d", box, "fill", "url(#"+p.hatch.of(p.id, k.area)+")")
			p.Close("g")
			x += keyIndent
		case k.mark > 0:
			p.Empty("path", "class", "d-shape d-paper", "transform", "translate(4 "+element.Number(middle)+")", "d", shapes[k.kind], "fill", "#fff", "stroke-width", "0.35")
			x += keyIndent
		}
		for _, l := range k.lines {
			p.Text("text", l, "class", "d-text", "x", element.Number(x), "y", element.Number(y+keyPitch/2+1.1), "font-size", element.Number(keySize), "fill", "currentColor", "stroke", "none")
			y += keyPitch
		}
	}
	p.Close("g")
}
