package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"wheelmold/mold/report/tabular"
)

// Sheet is the page that lies beside the mold while it is poured, with the
// figures that it rests on.
type Sheet struct {
	Version  int      `json:"version"`
	Program  string   `json:"program"`
	File     string   `json:"job_file"`
	Job      string   `json:"job"`
	Warnings []string `json:"warnings"`
	// Calibrated tells what casts have taught; empty without.
	Calibrated string    `json:"calibrated,omitempty"`
	Wheel      Wheel     `json:"wheel"`
	Pour       Pour      `json:"pour"`
	Title      []string  `json:"title"`
	Sections   []Section `json:"sections"`

	brief []string // the title for a sheet that would not fit its page
}

// Section is one part of the work at the bench.
type Section struct {
	Name  string `json:"name"`
	Steps []Step `json:"steps"`
}

// Step is one thing to do, with a box to check; or one to know; or a table.
type Step struct {
	Check bool       `json:"check"`
	Text  string     `json:"text,omitempty"`
	Table [][]string `json:"table,omitempty"`
	brief string     // for a sheet that would not fit its page; "": as it is
}

// do and know make steps.
func do(format string, a ...any) Step {
	return Step{Check: true, Text: fmt.Sprintf(format, a...)}
}

// or gives a step a shorter text, for a sheet that would not fit its page.
func (s Step) or(format string, a ...any) Step {
	s.brief = fmt.Sprintf(format, a...)
	return s
}

func know(format string, a ...any) Step { return Step{Text: fmt.Sprintf(format, a...)} }

// sheetWidth and sheetLines are what a page holds in a fixed type of 11 points
// between margins of 10 mm, on A4 and Letter alike: 195 mm / 2.33 mm and
// 259 mm / 4.4 mm. Smaller type is not read at arm's length.
const sheetWidth, sheetLines = 83, 58

// WriteText prints the sheet: one page, to be worked from the top down.
func (s *Sheet) WriteText(w io.Writer) error {
	text := s.noted().fitted().text("")
	if strings.Count(text, "\n")+len(s.Sections) <= sheetLines {
		text = s.noted().text("\n") // room for the eye
	}
	return writeLines(w, text)
}

// noted is the sheet with what casts have taught under its title, which a sheet that would
// not fit its page goes without.
func (s *Sheet) noted() *Sheet {
	if s.Calibrated == "" {
		return s
	}
	out := *s
	out.Title = append(slices.Clone(s.Title), s.Calibrated)
	return &out
}

// lines is how many a step takes.
func (s *Step) lines() int {
	var b strings.Builder
	s.write(&b)
	return strings.Count(b.String(), "\n")
}

// fitted is the sheet with as many of its steps in brief, from the top, as its page asks
// for.
func (s *Sheet) fitted() *Sheet {
	out := *s
	over := strings.Count(s.text(""), "\n") - sheetLines
	if over > 0 && s.brief != nil {
		out.Title = s.brief
		over = strings.Count(out.text(""), "\n") - sheetLines
	}
	out.Sections = slices.Clone(s.Sections)
	for i := range out.Sections {
		steps := slices.Clone(out.Sections[i].Steps)
		for k := range steps {
			step := &steps[k]
			brief := Step{Check: step.Check, Text: step.brief, Table: step.Table}
			if saved := step.lines() - brief.lines(); over > 0 && step.brief != "" && saved > 0 {
				*step = brief
				over -= saved
			}
		}
		out.Sections[i].Steps = steps
	}
	return &out
}

// text is the sheet with so much between its sections.
func (s *Sheet) text(between string) string {
	var b strings.Builder
	for _, title := range s.Title {
		for _, line := range tabular.Fold(title, sheetWidth) {
			b.WriteString(line + "\n")
		}
	}
	for _, section := range s.Sections {
		fmt.Fprintf(&b, "%s%s %s\n", between, section.Name, strings.Repeat("-", max(0, sheetWidth-1-utf8.RuneCountInString(section.Name))))
		for _, step := range section.Steps {
			step.write(&b)
		}
	}
	return b.String()
}

// write prints a step with what goes on under its first word.
func (s *Step) write(b *strings.Builder) {
	mark := "    "
	if s.Check {
		mark = "[ ] "
	}
	if s.Text != "" {
		for _, line := range tabular.Fold(s.Text, sheetWidth-len(mark)) {
			b.WriteString(mark + line + "\n")
			mark = "    "
		}
	}
	writeTable(b, s.Table)
}

// writeTable prints rows of cells in columns as wide as their widest cell.
func writeTable(b *strings.Builder, rows [][]string) {
	var widths []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		line := "    "
		for i, cell := range row {
			line += cell + strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell)+2)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}
