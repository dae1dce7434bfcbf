package report

import (
	"fmt"
	"io"
	"strings"

	"wheelmold/mold/castlog"
)

// Lesson is what casts say of the predictions.
type Lesson struct {
	Version  int       `json:"version"`
	Program  string    `json:"program"`
	File     string    `json:"log_file"`
	Findings []Finding `json:"findings"`
}

// Finding is one ratio of measured to predicted.
type Finding struct {
	Key    string   `json:"key"`
	Ratio  float64  `json:"ratio"`
	Low    float64  `json:"low"`
	High   float64  `json:"high"`
	Casts  int      `json:"casts"`
	Method string   `json:"method"`
	Notes  []string `json:"notes"`
}

// OfLesson reports a lesson.
func OfLesson(path string, l *castlog.Lesson) *Lesson {
	out := &Lesson{Version: Version, File: path}
	for _, f := range l.Findings() {
		out.Findings = append(out.Findings, Finding{f.Key, f.Ratio, f.Low, f.High, f.N, f.Method, append([]string{}, f.Notes...)})
	}
	return out
}

// WriteText prints a line per ratio, with its interval and method.
func (l *Lesson) WriteText(w io.Writer) error {
	p := newPage(w)
	p.row("measured / predicted, from " + l.File)
	for i := range l.Findings {
		f := &l.Findings[i]
		says := "no cast says"
		if f.Casts > 0 {
			says = fmt.Sprintf("x %.3g (%.3g to %.3g; casts: %d)", f.Ratio, f.Low, f.High, f.Casts)
		}
		p.note(f.Key, says, strings.Join(append([]string{f.Method}, f.Notes...), "; "))
	}
	return p.close()
}
