package report

import (
	"cmp"
	"encoding/xml"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// chart is a picture of figures for the page. Its SVG names no colors and has no
// styles of its own: all is drawn in the color of the text around, and whoever wants
// more finds classes: c-line, c-axis, c-grid, c-tick, c-name, c-label, c-mark, c-dot.
type chart struct {
	ID    string // of the SVG; its title and description are ID-title and ID-desc
	Title string
	Desc  string        // what is to be read off it, for those who do not see it
	SVG   template.HTML // empty where there is nothing to show
}

// Widths of charts in mm: of a page's text, and of half of it.
const wholePage, halfPage = 180, 88

// Sizes of text in mm, readable on paper at arm's length: 9 and 8 points.
const textSize, smallText = 3.2, 2.8

// letter is the width of a usual letter over the text's size, rather too large than
// too small: nobody knows the reader's fonts.
const letter = 0.56

// widthOf is about how wide a text gets, mm.
func widthOf(text string, size float64) float64 {
	return letter * size * float64(utf8.RuneCountInString(text))
}

// canvas collects the elements of an SVG in mm.
type canvas struct {
	strings.Builder
	width, height float64
}

// mm prints a coordinate: a hundredth of a millimeter is finer than any ink.
func mm(v float64) string { return number(v, 2) }

// escape makes any text fit for XML.
func escape(text string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(text)) // a Builder never fails
	return b.String()
}

// Anchors of texts.
const (
	atStart  = "start"
	atMiddle = "middle"
	atEnd    = "end"
)

// text writes a line of text with its base line at y, and what a pointer over it tells.
func (c *canvas) text(class string, x, y, size float64, anchor, text, hint string) {
	if hint != "" {
		hint = "<title>" + escape(hint) + "</title>"
	}
	fmt.Fprintf(c, `<text class="%s" x="%s" y="%s" font-size="%s" text-anchor="%s">%s%s</text>`+"\n", class, mm(x), mm(y), mm(size), anchor, hint, escape(text))
}

// pen is how a line is drawn.
type pen struct {
	class   string
	width   float64 // mm
	opacity float64 // 0: opaque
	dash    string  // empty: not broken
}

func (p pen) attributes() string {
	s := fmt.Sprintf(`class="%s" fill="none" stroke="currentColor" stroke-width="%s"`, p.class, mm(p.width))
	if p.opacity > 0 {
		s += fmt.Sprintf(` stroke-opacity="%s"`, mm(p.opacity))
	}
	if p.dash != "" {
		s += fmt.Sprintf(` stroke-dasharray="%s"`, p.dash)
	}
	return s
}

func (c *canvas) line(p pen, x1, y1, x2, y2 float64) {
	fmt.Fprintf(c, `<line %s x1="%s" y1="%s" x2="%s" y2="%s"/>`+"\n", p.attributes(), mm(x1), mm(y1), mm(x2), mm(y2))
}

// path draws a line through points.
func (c *canvas) path(p pen, points [][2]float64) {
	var d strings.Builder
	for i, q := range points {
		op := "L"
		if i == 0 {
			op = "M"
		}
		d.WriteString(op + mm(q[0]) + " " + mm(q[1]))
	}
	fmt.Fprintf(c, `<path %s stroke-linejoin="round" stroke-linecap="round" d="%s"/>`+"\n", p.attributes(), d.String())
}

func (c *canvas) dot(x, y, r float64) {
	fmt.Fprintf(c, `<circle class="c-dot" fill="currentColor" cx="%s" cy="%s" r="%s"/>`+"\n", mm(x), mm(y), mm(r))
}

// close wraps what was drawn up as a chart.
func (c *canvas) close(id, title, desc string) chart {
	e := escape(id)
	head := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" class="chart" id="%s" role="img" aria-labelledby="%s-title %s-desc" viewBox="0 0 %s %s" width="%smm" height="%smm" font-family="sans-serif" fill="currentColor">`,
		e, e, e, mm(c.width), mm(c.height), mm(c.width), mm(c.height))
	names := fmt.Sprintf("\n<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n", e, escape(title), e, escape(desc))
	return chart{id, title, desc, template.HTML(head + names + c.String() + "</svg>")}
}

// lineChart is figures against one another as lines.
type lineChart struct {
	ID, Title, Desc string
	Width, Height   float64 // mm
	X, Y            axis
	Series          []series // told apart by dashes and by their names: up to as many as dashes
	Notes           []note
	Marks           []mark // by X, from the left
	Levels          []mark // of Y
}

// series is one line, broken where a figure is missing (not finite).
type series struct {
	Name   string // stands at the line's end
	Points [][2]float64
}

// note is a point on a line with a text to the lower right of it, if there is any.
type note struct {
	At   [2]float64
	Text string
}

// mark is a line across the chart with a text: of one upright above it, of one that is
// level at its left end.
type mark struct {
	At   float64
	Text string
}

// dashes of the series, by their order.
var dashes = []string{"", "2.4 1.4", "0.01 1.5"}

// Measures of a chart, mm.
const (
	lineGap  = 1.35 // distance of text lines over their size
	tickLong = 1.2
	beside   = 1.2 // between a thing and its text
)

// draw draws the chart, or nothing if no line has two points in a row.
func (l *lineChart) draw() chart {
	runs := make([][][][2]float64, len(l.Series))
	any := false
	for i, s := range l.Series {
		runs[i] = l.runs(s.Points)
		any = any || len(runs[i]) > 0
	}
	if !any || !l.X.valid() || !l.Y.valid() {
		return chart{ID: l.ID, Title: l.Title, Desc: l.Desc}
	}
	f := l.frame()
	c := &canvas{width: l.Width, height: l.Height}
	f.grid(c)
	f.marks(c, l.marks())
	f.levels(c, l.Levels)
	for i, parts := range runs {
		for _, run := range parts {
			for k, p := range run {
				run[k] = [2]float64{f.x.at(p[0]), f.y.at(p[1])}
			}
			c.path(pen{class: fmt.Sprintf("c-line c-line-%d", i+1), width: 0.6, dash: dashes[i%len(dashes)]}, run)
		}
	}
	for _, n := range l.Notes {
		if l.X.has(n.At[0]) && l.Y.has(n.At[1]) {
			x, y := f.x.at(n.At[0]), f.y.at(n.At[1])
			c.dot(x, y, 0.8)
			if n.Text == "" {
				continue
			}
			c.text("c-label", x+beside+0.4, y+f.size, f.size, atStart, n.Text, "")
		}
	}
	l.names(c, f, runs)
	return c.close(l.ID, l.Title, l.Desc)
}

// runs parts a line where figures are missing or off the axes.
func (l *lineChart) runs(points [][2]float64) (out [][][2]float64) {
	var run [][2]float64
	end := func() {
		if len(run) > 1 {
			out = append(out, run)
		}
		run = nil
	}
	for _, p := range points {
		if !l.X.has(p[0]) || !l.Y.has(p[1]) {
			end()
			continue
		}
		run = append(run, p)
	}
	end()
	return out
}

// names writes each line's name at its end, apart from one another.
func (l *lineChart) names(c *canvas, f *frame, runs [][][][2]float64) {
	type name struct {
		text string
		x, y float64
	}
	var all []name
	for i, s := range l.Series {
		if n := len(runs[i]); n > 0 && s.Name != "" {
			run := runs[i][n-1]
			end := run[len(run)-1]
			all = append(all, name{s.Name, end[0] + beside, end[1] + f.size/3})
		}
	}
	slices.SortStableFunc(all, func(a, b name) int { return cmp.Compare(a.y, b.y) })
	for i := range all {
		if i > 0 {
			all[i].y = max(all[i].y, all[i-1].y+f.size*lineGap)
		}
		c.text("c-label", all[i].x, all[i].y, f.size, atStart, all[i].text, "")
	}
}

// frame is the place of a chart's axes on paper.
type frame struct {
	x, y   scale
	xa, ya axis
	size   float64 // of text
	row    []int   // of each mark's text, from the lowest
	turned []bool  // it ends at its line
	lowest float64 // base line of the lowest row
	xt, yt []float64
}

func (l *lineChart) frame() *frame {
	f := &frame{xa: l.X, ya: l.Y, size: textSize}
	if l.Width < (wholePage+halfPage)/2 {
		f.size = smallText
	}
	line := f.size * lineGap
	f.yt = l.Y.ticks(int(l.Height / 9))
	left := 0.0
	for _, v := range f.yt {
		left = max(left, widthOf(l.Y.label(v), f.size))
	}
	left += tickLong + beside
	f.x = l.X.scale(left, l.Width-l.right(left, f.size))
	f.xt = l.X.ticks(int((f.x.to - f.x.from) / (5.5 * f.size)))
	marks := l.marks()
	f.row, f.turned = rows(marks, f.x, l.Width, f.size)
	top := line // the name of y
	if len(marks) > 0 {
		top += line * float64(slices.Max(f.row)+1)
	}
	f.lowest = top - 0.3*f.size
	f.y = l.Y.scale(l.Height-2*line-tickLong, top+0.4*f.size)
	return f
}

// marks are those that lie on the axis.
func (l *lineChart) marks() (out []mark) {
	for _, m := range l.Marks {
		if l.X.has(m.At) {
			out = append(out, m)
		}
	}
	return out
}

// right is the room that names and notes take beside the axes.
func (l *lineChart) right(left, size float64) float64 {
	room := widthOf(l.X.label(l.X.Hi), size) / 2 // of the last tick's label, at most
	x := l.X.scale(left, l.Width-room)
	over := 0.0
	for _, s := range l.Series {
		if runs := l.runs(s.Points); len(runs) > 0 {
			last := runs[len(runs)-1]
			over = max(over, x.at(last[len(last)-1][0])+beside+widthOf(s.Name, size)-l.Width)
		}
	}
	for _, n := range l.Notes {
		if l.X.has(n.At[0]) {
			over = max(over, x.at(n.At[0])+2*beside+widthOf(n.Text, size)-l.Width)
		}
	}
	return room + over
}

// rows places the texts of marks above one another, so that none meets another, or a
// line. A text begins at its line, and lies above all later ones whose lines it
// reaches. Where there is no room for that it is turned: it ends at its line, and lies
// above all earlier ones that it reaches.
func rows(marks []mark, x scale, right, size float64) (row []int, turned []bool) {
	row, turned = make([]int, len(marks)), make([]bool, len(marks))
	at := func(i int) float64 { return x.at(marks[i].At) }
	width := func(i int) float64 { return beside + widthOf(marks[i].Text, size) }
	for i := len(marks) - 1; i >= 0; i-- {
		end := at(i) + width(i)
		turned[i] = end > right || i+1 < len(marks) && turned[i+1] && end > at(i+1)
		for k := i + 1; k < len(marks) && at(k) < end && !turned[i]; k++ {
			row[i] = max(row[i], row[k]+1)
		}
	}
	for i := range marks {
		for k := 0; k < i && turned[i]; k++ {
			end := at(k)
			if !turned[k] {
				end += width(k)
			}
			if end > at(i)-width(i) {
				row[i] = max(row[i], row[k]+1)
			}
		}
	}
	return row, turned
}

// grid draws the axes with ticks, their figures and names.
func (f *frame) grid(c *canvas) {
	grid := pen{class: "c-grid", width: 0.15, opacity: 0.3}
	axis := pen{class: "c-axis", width: 0.3}
	line := f.size * lineGap
	for _, v := range f.yt {
		y := f.y.at(v)
		c.line(grid, f.x.from, y, f.x.to, y)
		c.line(axis, f.x.from-tickLong, y, f.x.from, y)
		c.text("c-tick", f.x.from-tickLong-beside/2, y+f.size/3, f.size, atEnd, f.ya.label(v), f.ya.hint(v))
	}
	for _, v := range f.xt {
		x := f.x.at(v)
		c.line(grid, x, f.y.from, x, f.y.to)
		c.line(axis, x, f.y.from, x, f.y.from+tickLong)
		c.text("c-tick", x, f.y.from+tickLong+f.size, f.size, atMiddle, f.xa.label(v), f.xa.hint(v))
	}
	c.line(axis, f.x.from, f.y.from, f.x.to, f.y.from)
	c.line(axis, f.x.from, f.y.from, f.x.from, f.y.to)
	c.text("c-name", 0, f.size, f.size, atStart, f.ya.Name, "")
	c.text("c-name", f.x.to, f.y.from+tickLong+f.size+line, f.size, atEnd, f.xa.Name, "")
}

// dashed is the pen of lines that are part of no series.
var dashed = pen{class: "c-mark", width: 0.25, dash: "4 1"}

// marks draws upright lines.
func (f *frame) marks(c *canvas, marks []mark) {
	for i, m := range marks {
		x, y := f.x.at(m.At), f.lowest-float64(f.row[i])*f.size*lineGap
		c.line(dashed, x, f.y.from, x, y-0.8*f.size)
		if f.turned[i] {
			c.text("c-label", x-beside/2, y, f.size, atEnd, m.Text, "")
			continue
		}
		c.text("c-label", x+beside/2, y, f.size, atStart, m.Text, "")
	}
}

// levels draws level lines.
func (f *frame) levels(c *canvas, levels []mark) {
	for _, m := range levels {
		if f.ya.has(m.At) {
			y := f.y.at(m.At)
			c.line(dashed, f.x.from, y, f.x.to, y)
			c.text("c-label", f.x.from+beside, y-0.3*f.size, f.size, atStart, m.Text, "")
		}
	}
}

// finite reports whether a figure can be drawn.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
