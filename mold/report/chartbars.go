package report

import (
	"strings"
)

// rangeChart is what is likely of each of some figures: a bar from what one in ten
// lies below to what nine in ten do, with a tick at the middle one.
type rangeChart struct {
	ID, Title, Desc string
	Width           float64 // mm
	X               axis
	Rows            []rangeRow
}

// rangeRow is one bar.
type rangeRow struct {
	Name   string // of what; empty: as above
	Kind   string // which of its figures
	Band   Band
	Says   string // at the right
	Broken bool   // drawn as a broken line
}

// draw draws the chart, or nothing without a bar.
func (r *rangeChart) draw() chart {
	bars := 0
	for i := range r.Rows {
		if r.Rows[i].drawn() {
			bars++
		}
	}
	if bars == 0 || !r.X.valid() {
		return chart{ID: r.ID, Title: r.Title, Desc: r.Desc}
	}
	size := textSize
	if r.Width < (wholePage+halfPage)/2 {
		size = smallText
	}
	line := size * lineGap
	pitch := line * 1.15
	var names, kinds, says float64
	for i := range r.Rows {
		x := &r.Rows[i]
		names, kinds, says = max(names, widthOf(x.Name, size)), max(kinds, widthOf(x.Kind, size)), max(says, widthOf(x.Says, size))
	}
	f := &frame{xa: r.X, size: size}
	f.x = r.X.scale(names+kinds+3*beside, r.Width-max(says+2*beside, 2*size))
	f.xt = r.X.ticks(int((f.x.to - f.x.from) / (3.5 * size)))
	foot := pitch*float64(len(r.Rows)) + 0.5*line
	c := &canvas{width: r.Width, height: foot + 2*line + tickLong}
	f.y = scale{0, 1, foot, 0, false}
	f.grid(c)
	for i := range r.Rows {
		r.Rows[i].draw(c, f, pitch*(float64(i)+0.75), names+beside)
	}
	return c.close(r.ID, r.Title, r.Desc)
}

// drawn reports whether the row has a bar.
func (r *rangeRow) drawn() bool {
	return finite(r.Band.P10) && finite(r.Band.P50) && finite(r.Band.P90)
}

// draw draws the row around a height. What lies below the axis' least starts at it,
// without the bar's end.
func (r *rangeRow) draw(c *canvas, f *frame, y, kind float64) {
	c.text("c-label", 0, y+f.size/3, f.size, atStart, r.Name, "")
	c.text("c-label", kind, y+f.size/3, f.size, atStart, r.Kind, "")
	c.text("c-label", c.width, y+f.size/3, f.size, atEnd, r.Says, "")
	if !r.drawn() {
		return
	}
	at := func(v float64) float64 { return f.x.at(min(max(v, f.xa.Lo), f.xa.Hi)) }
	bar := pen{class: "c-line", width: 0.5}
	whisker := bar
	if r.Broken {
		whisker.dash = dashes[1]
	}
	c.line(whisker, at(r.Band.P10), y, at(r.Band.P90), y)
	for _, end := range []float64{r.Band.P10, r.Band.P90} {
		if end >= f.xa.Lo && end <= f.xa.Hi {
			c.line(bar, at(end), y-0.7, at(end), y+0.7)
		}
	}
	if r.Band.P50 >= f.xa.Lo && r.Band.P50 <= f.xa.Hi {
		c.line(pen{class: "c-line", width: 1.2}, at(r.Band.P50), y-1.5, at(r.Band.P50), y+1.5)
	}
}

// leastShown is below what masses of flash are told alike, g (see significant).
const leastShown = 0.01

// flashBars draws what each joint may lose.
func flashBars(f *Flash) chart {
	r := &rangeChart{ID: "chart-flash", Title: "What each joint may lose", Width: wholePage}
	most := leastShown
	name := ""
	add := func(kind string, b Band, broken bool) {
		if b.P90 >= leastShown && finite(b.P90) {
			most = max(most, b.P90)
			r.Rows = append(r.Rows, rangeRow{name, kind, b, b.text() + " g", broken})
			name = ""
		}
	}
	var tight []string
	for i := range f.Lines {
		l := &f.Lines[i]
		name = l.Name
		add("stays in", l.Flash, false)
		add("gets out", l.Leak, true)
		if name != "" {
			tight = append(tight, name)
		}
	}
	if len(r.Rows) > 0 {
		name = "all, with corners"
		add("lost", f.Lost, false)
	}
	r.X = axis{Name: "mass in g: from what 1 in 10 casts stays below to what 9 in 10 do, tick: half of them", Lo: leastShown, Hi: nextTen(most), Log: true, Other: ounces}
	r.Desc = "A bar for what stays in each joint and for what gets out of it, from what one in ten casts stays below to what nine in ten do, with a tick at the middle."
	if len(tight) > 0 {
		r.Desc += " Below " + number(leastShown, 2) + " g, and not shown: " + strings.Join(tight, ", ") + "."
	}
	return r.draw()
}

// ounces and inches tell a tick in the other system.
func ounces(g float64) string { return number(g/gramsPerOunce, 4) + " oz" }

func inches(v float64) string { return number(v/25.4, 3) + " in" }
