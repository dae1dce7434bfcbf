package report

import (
	"fmt"
	"io"
	"time"
)

// WriteBrief prints on one line what was made and how long it took, with what figures
// were in an earlier build, if there was one, where they have changed.
func (b *Build) WriteBrief(w io.Writer, before *Build, took time.Duration) error {
	was := func(now string, of func(*Build) string) string {
		if before == nil || of(before) == now {
			return now
		}
		return now + " (was " + of(before) + ")"
	}
	line := fmt.Sprintf("%s: %s s", b.Folder, number(took.Seconds(), 2))
	for _, f := range []struct {
		name string
		of   func(*Build) string
	}{
		{"rubber", func(b *Build) string { return cm3(b.Rubber.Boundary, 2) }},
		{"mix", func(b *Build) string { return grams(b.Pour.Mixed) }},
		{"mold", func(b *Build) string { return size(b.Outline.Size, 1, 0) + " mm" }},
		{"worst line", (*Build).worstLine},
	} {
		line += "; " + f.name + " " + was(f.of(b), f.of)
	}
	_, err := fmt.Fprintln(w, line)
	return err
}

// worstLine is the parting line that loses most, with its grade.
func (b *Build) worstLine() string {
	if b.Flash == nil || len(b.Flash.Lines) == 0 {
		return "none"
	}
	worst := b.Flash.Lines[0]
	for _, l := range b.Flash.Lines {
		if l.Mass > worst.Mass {
			worst = l
		}
	}
	return worst.Name + ", " + worst.Grade
}
