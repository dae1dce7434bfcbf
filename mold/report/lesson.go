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
	Sure   bool     `json:"interval_leaves_1_out"`
	Beyond bool     `json:"beyond_its_range"` // another cause: never accepted
}

// OfLesson reports a lesson.
func OfLesson(path string, l *castlog.Lesson) *Lesson {
	out := &Lesson{Version: Version, File: path}
	for _, f := range l.Findings() {
		out.Findings = append(out.Findings, Finding{f.Key, f.Ratio, f.Low, f.High, f.N, f.Method, append([]string{}, f.Notes...), f.Sure(), f.Beyond})
	}
	return out
}

// WriteText prints a line per ratio in plain words, and the methods below.
func (l *Lesson) WriteText(w io.Writer) error {
	p := newPage(w)
	p.row("what the casts in " + l.File + " say of the predictions")
	p.row()
	for i := range l.Findings {
		f := &l.Findings[i]
		p.note(f.Key, f.ratio(), f.says())
	}
	p.row()
	for i := range l.Findings {
		f := &l.Findings[i]
		if f.Casts > 0 {
			p.note(f.Key, "", f.Method)
		}
	}
	return p.close()
}

func (f *Finding) ratio() string {
	if f.Casts == 0 {
		return "-"
	}
	return fmt.Sprintf("x %.3g", f.Ratio)
}

// says tells a ratio in the builder's words.
func (f *Finding) says() string {
	what := map[string]string{"gap": "your gaps are", "residue": "what clings in your buckets is", "shrinkage": "your rubber's shrinkage is"}[strings.TrimPrefix(f.Key, "calibration.")]
	var s string
	switch {
	case f.Casts == 0:
		s = "no cast says anything: " + f.Method
	case f.Beyond:
		s = "not to be accepted: " + what + " too far off, of " + count(f.Casts, "cast", "casts")
	default:
		s = fmt.Sprintf("%s %.3g times what was predicted; likely %.3g to %.3g times, by %s", what, f.Ratio, f.Low, f.High, count(f.Casts, "cast", "casts"))
		if !f.Sure {
			s += "; the prediction may be right as it is"
		}
	}
	return strings.Join(append([]string{s}, f.Notes...), "; ")
}
