package tabular

import (
	"io"
	"strings"
	"unicode/utf8"
)

// pageWidth is how many letters a line of a table has at most, unless what tells rows
// apart takes more already; gutter is between columns, and a column that is folded gets
// at least leastFolded.
const pageWidth, gutter, leastFolded = 100, 2, 30

// strip is a column as text: its head and a cell per row.
type strip struct {
	cells []string
	width int
	wrap  bool
}

func (s *strip) add(cell string) {
	s.cells, s.width = append(s.cells, cell), max(s.width, utf8.RuneCountInString(cell))
}

// lead is what tells rows apart, with their marks.
func (t *Table) lead() []strip {
	out := make([]strip, len(t.Lead))
	for i, c := range t.Lead {
		out[i].add(c.Head)
		for k := range t.Rows {
			text := t.Rows[k].Lead[i].Text
			if i == len(t.Lead)-1 {
				text += t.Rows[k].Mark
			}
			out[i].add(text)
		}
	}
	return out
}

// column is the i-th column as text.
func (t *Table) column(i int) strip {
	c := &t.Columns[i]
	s := strip{wrap: c.Wrap}
	s.add(c.Head)
	for k := range t.Rows {
		s.add(t.Rows[k].cell(i, c).Text)
	}
	return s
}

// parts are the columns of a block that are told in text, as many together as go onto a
// page beside what leads them; those that are folded come last.
func (t *Table) parts(block int) (out [][]strip) {
	var columns, folded []strip
	for i := range t.Columns {
		c := &t.Columns[i]
		switch {
		case c.Block != block || c.Head == "":
		case c.Wrap:
			folded = append(folded, t.column(i))
		default:
			columns = append(columns, t.column(i))
		}
	}
	led := 0
	for _, s := range t.lead() {
		led += s.width + gutter
	}
	at := pageWidth // no part is begun
	for _, s := range append(columns, folded...) {
		width := s.width
		if s.wrap {
			width = min(width, leastFolded)
		}
		if len(out) == 0 || at+width > pageWidth {
			out, at = append(out, nil), led
		}
		last := &out[len(out)-1]
		if s.wrap { // the rest of the page
			s.width = max(leastFolded, pageWidth-at)
		}
		*last = append(*last, s)
		at += s.width + gutter
	}
	return out
}

// part writes columns beside what leads them.
func (t *Table) part(w io.Writer, columns []strip) {
	all := append(t.lead(), columns...)
	for row := range len(t.Rows) + 1 {
		var lines [][]string // of each column
		high := 1
		for _, s := range all {
			cell := []string{s.cells[row]}
			if s.wrap {
				cell = Fold(s.cells[row], s.width)
			}
			lines, high = append(lines, cell), max(high, len(cell))
		}
		for k := range high {
			line := ""
			for i, s := range all {
				cell := ""
				if k < len(lines[i]) {
					cell = lines[i][k]
				}
				line += cell + strings.Repeat(" ", max(0, s.width-utf8.RuneCountInString(cell))+gutter)
			}
			io.WriteString(w, strings.TrimRight(line, " ")+"\n")
		}
	}
}

// Fold breaks a text between words into lines of a width, unless a word is wider.
func Fold(text string, width int) (lines []string) {
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line+" "+word) > width:
			lines, line = append(lines, line), word
		default:
			line += " " + word
		}
	}
	return append(lines, line)
}
