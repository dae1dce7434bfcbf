package report

import (
	"fmt"
	"slices"
	"strings"

	"wheelmold/mold/flash"
	"wheelmold/mold/report/tabular"
)

// text prints the verdict first, then what to do, then the figures behind it.
func (f *Flash) text(p teller) {
	p.row("flash, " + f.Note + ".")
	p.row()
	p.row("verdict", f.Grade+": "+f.Meaning)
	p.row("lost", fmt.Sprintf("%s g of the mix between the pieces (1 in 10 casts less, half less, 9 in 10 less); half is %s of the mix", f.Lost.text(), percent(f.Share)))
	for i := range f.Lines {
		f.Lines[i].advice(p)
	}
	f.corners(p)
	f.measure(p)
	p.row()
	f.table(p)
	p.row()
	f.gaps(p)
	p.row()
	f.inputs(p)
}

// inputs prints what the estimate takes of liquid, hub and edges.
func (f *Flash) inputs(p teller) {
	p.row("liquid", f.Liquid.text())
	p.row("head", number(f.Fill, 1)+" mm of liquid over the lowest seam (pour.fill)")
	p.row("stack", f.Stack.text())
	p.row("", f.Stack.spread())
	if n := len(f.Corners); n > 0 {
		c := &f.Corners[0]
		p.row("corners", fmt.Sprintf("%d where three pieces meet: channels along edges broken by %s mm; the first is filled over %s of %s mm, stays in %s g, gets out %s g",
			n, number(c.Edge, 2), number(c.Expected.Depth, 0), number(c.Length, 0), c.Flash.text(), c.Leak.text()))
	}
}

// table prints a line per parting line.
func (f *Flash) table(p teller) {
	p.row("joint", "seal", "seam mm", "land mm", "gap µm", "stays in g", "gets out g", "drips", "grade")
	p.row("", "", "", "least, usual", "10, 50, 90 %", "10, 50, 90 %", "10, 50, 90 %", "", "")
	for i := range f.Lines {
		l := &f.Lines[i]
		p.row(l.Name, l.Seal, number(l.Seam, 0), number(l.Land.Least, 1)+", "+number(l.Land.Typical, 1),
			fmt.Sprintf("%s, %s, %s", micron(l.Gap.Band.P10), micron(l.Gap.Band.P50), micron(l.Gap.Band.P90)),
			l.Flash.text(), l.Leak.text(), l.drips(), l.Grade)
	}
	p.row("all", "", "", "", "", f.Flash.text(), f.Leak.text(), "", f.Grade)
	p.row()
	for _, line := range tabular.Fold(f.legend(), 125) {
		p.row(line)
	}
}

// legend explains the table of parting lines.
func (f *Flash) legend() string {
	return fmt.Sprintf("10, 50, 90 %%: so many of %d draws of what is not known lie below. seam: edge that the liquid wets. land: way along the faces to the nearest way out. What stays in is in the joint and in ball pockets; what gets out leaves the mold or enters the hub.", f.Draws)
}

// gaps prints what makes the gap of each line, a row per kind.
func (f *Flash) gaps(p teller) {
	head := []string{"gap µm: expected, all at worst"}
	for i := range f.Lines {
		head = append(head, f.Lines[i].Name)
	}
	p.row(head...)
	for _, k := range flash.Kinds {
		cells, any := []string{string(k)}, false
		for i := range f.Lines {
			cell := ""
			for _, c := range f.Lines[i].Gap.Parts {
				if c.Kind == string(k) {
					cell, any = micron(c.Expected)+", "+micron(c.Worst), true
				}
			}
			cells = append(cells, cell)
		}
		if any {
			p.row(cells...)
		}
	}
	cells := []string{"all"}
	for i := range f.Lines {
		cells = append(cells, micron(f.Lines[i].Gap.Expected)+", "+micron(f.Lines[i].Gap.Worst))
	}
	p.row(cells...)
}

func micron(mm float64) string { return number(mm*1000, 0) }

// corners says what to do about corners that lose more than a drop or two.
func (f *Flash) corners(p teller) {
	for i := range f.Corners {
		if c := &f.Corners[i]; c.Mass > 0.1 {
			p.row("corners", "do: leave the edges sharp where three pieces meet, or fill them; the first of them loses "+significant(c.Mass)+" g (process.edge, "+number(c.Edge, 2)+" mm)")
			return
		}
	}
}

// drips is the verdict in a word.
func (l *FlashLine) drips() string { return flash.RiskOf(l.Drips).String() }

// measure names the figures that say most, while they are assumed.
func (f *Flash) measure(p teller) {
	label := "measure"
	row := func(text string) {
		p.row(label, text)
		label = ""
	}
	if f.Feeler == 0 {
		row("gap of the closed joints with feeler gauges: hub in, dry, bolts tight (mold.mating.feeler" + f.feelers() + ")")
	}
	row("hub length and " + f.place + " on the day of the cast (hub.length, hub.length_tolerance, process.tolerance)")
	row("viscosity, pot life and gel time are on the data sheet (pour.viscosity, pour.pot_life, pour.gel_time)")
}

// feelers are the keys of single joints that may be measured.
func (f *Flash) feelers() string {
	var keys []string
	for i := range f.Lines {
		at, ok := strings.CutPrefix(f.Lines[i].SealKey, "mold.seals.")
		if key := "feeler_" + at; ok && at != "hub" && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	if len(keys) < 2 {
		return "" // one says the same
	}
	return ", or " + strings.Join(keys, ", ")
}

// counsel is one word of advice: beware, why, do or or, with the settings that say so.
type counsel struct {
	Word, Text string
	Sets       []string // key=value
}

// counsels say of one line why, where, and what to change.
func (l *FlashLine) counsels() (out []counsel) {
	if l.Opening > 0.1 {
		out = append(out, counsel{"beware", "rubber may get into the hub's opening, in " + percent(l.Opening) + " of the draws; fit a softer or thicker seal there, or a register with less clearance", nil})
	}
	if l.Grade == flash.Tight.String() {
		return out
	}
	out = append(out, counsel{"why", l.Reason + "; " + l.Land.text(), nil}, counsel{"do", l.todo(), nil})
	if l.Change != nil {
		out[len(out)-1].Sets = l.Change.Sets
	}
	if l.Best != nil {
		out = append(out, counsel{"or", l.Best.text(), l.Best.Sets})
	}
	return out
}

// advice prints the counsels under the line's name.
func (l *FlashLine) advice(p teller) {
	label := l.Name
	row := func(text string) {
		for _, part := range wrap(text, 100) {
			p.row(label, part)
			label = ""
		}
	}
	for _, c := range l.counsels() {
		row(c.Word + ": " + c.Text)
		for _, s := range c.Sets {
			row("    --set " + s)
		}
	}
}

// wrap breaks a text at spaces into parts of at most so many letters; later parts
// are indented.
func wrap(text string, width int) []string {
	var out []string
	for len(text) > width {
		cut := strings.LastIndexByte(text[:width], ' ')
		if cut < 8 {
			break
		}
		out = append(out, text[:cut])
		text = "    " + text[cut+1:]
	}
	return append(out, text)
}

func (l *FlashLine) todo() string {
	rubsOff := l.Grade == flash.Feather.String()
	switch {
	case l.Change == nil && rubsOff:
		return "leave it, it rubs off; nothing that was tried makes it a grade better (" + strings.Join(l.words(), "; ") + ")"
	case l.Change == nil:
		return "nothing that was tried makes it a grade better: " + strings.Join(l.words(), "; ")
	case rubsOff:
		return "leave it, it rubs off; or " + l.Change.text()
	}
	return l.Change.text()
}

// text says what a change is and what it leaves.
func (c *Change) text() string {
	if c.Grade == flash.Tight.String() {
		mass, _ := flash.Tight.Limits()
		return fmt.Sprintf("%s: tight, under %s g", c.What, number(mass, 2))
	}
	return fmt.Sprintf("%s: %s, %s g", c.What, c.Grade, significant(c.Mass))
}

// words are what was tried, in words.
func (l *FlashLine) words() []string {
	var w []string
	for _, t := range l.Tried {
		w = append(w, t.What)
	}
	return w
}

func (l *FlashLand) text() string {
	at := func(i int) string { return number(l.At[i], 0) }
	return fmt.Sprintf("nearest way out: %s, %s mm from the seam at x %s, y %s, z %s mm", exitWords(l.Exit), number(l.Least, 1), at(0), at(1), at(2))
}

func (l *FlashLiquid) text() string {
	return fmt.Sprintf("%s Pa·s when mixed, %s times that after %s min, gels at %s min; %s mN/m; mold at %s °C",
		number(l.Viscosity, 2), number(l.Growth, 1), number(l.PotLife/60, 1), number(l.Gel/60, 1), number(l.Tension*1000, 1), number(l.Mold, 1))
}

func (s *FlashStack) text() string {
	v := func(mm float64) string { return number(mm, 2) + " mm" }
	t := fmt.Sprintf("hub %s shorter than its place, after heat and moisture", v(s.Slack))
	if s.Slack < 0 {
		t = fmt.Sprintf("hub %s longer than its place, after heat and moisture; the bolts press up to %s of that away", v(-s.Slack), v(s.Pressed))
	}
	if s.Room > 0 {
		t += fmt.Sprintf(": give it room (--set mold.stack.gap=%smm)", number(s.Room, 2))
	}
	return t
}

// spread tells how far the hub may be off its place.
func (s *FlashStack) spread() string {
	v := func(mm float64) string { return number(mm, 2) + " mm" }
	return fmt.Sprintf("%s to %s shorter with all tolerances against it, %s to %s by root sum of squares; negative: longer", v(s.Worst[0]), v(s.Worst[1]), v(s.RSS[0]), v(s.RSS[1]))
}

func (b *Band) text() string {
	return fmt.Sprintf("%s, %s, %s", significant(b.P10), significant(b.P50), significant(b.P90))
}

// significant writes a mass in g to two digits, and nothing finer than 10 mg: a
// gap twice as wide has several times the mass.
func significant(g float64) string {
	switch {
	case g < 0.0005:
		return "0"
	case g < 0.01:
		return "<0.01"
	case g < 1:
		return number(g, 2)
	case g < 10:
		return number(g, 1)
	}
	return number(g, 0)
}

func percent(v float64) string {
	switch {
	case v > 0 && v < 0.0001:
		return "under 0.01 %"
	case v < 0.01:
		return number(100*v, 2) + " %"
	}
	return number(100*v, 0) + " %"
}

// exitWords names a way out to a reader: what is pulled around the shells is a band, as a
// strap holds the hub down.
func exitWords(kind string) string {
	if kind == flash.ExitStrap {
		return "band's groove"
	}
	return kind
}
