package report

import (
	"fmt"
	"io"
	"strings"
	"time"

	"wheelmold/params"
)

// Rebuild is what a build is told against: one before, of the same job as it was then.
type Rebuild struct {
	At      time.Time // when it was done
	Took    time.Duration
	Before  *Build   // nil: there was none
	Changed []string // keys of the job that are not what they were
}

// WriteBrief prints on one line when and what was made, how long it took, and what was
// changed for it, with what figures were before where they are others now.
func (b *Build) WriteBrief(w io.Writer, r Rebuild) error {
	was := func(now string, of func(*Build) string) string {
		if r.Before == nil || of(r.Before) == now {
			return now
		}
		return now + " (was " + of(r.Before) + ")"
	}
	line := fmt.Sprintf("%s %s: %s s%s", r.At.Format(time.TimeOnly), b.Folder, number(r.Took.Seconds(), 2), r.changes())
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
	_, err := fmt.Fprintln(w, params.Printable(line))
	return err
}

// mostChanges is how many changed keys a line names.
const mostChanges = 3

// changes tells what was changed in the job, if there was one before.
func (r *Rebuild) changes() string {
	more := len(r.Changed) - mostChanges
	switch {
	case r.Before == nil:
		return ""
	case len(r.Changed) == 0:
		return "; no value changed"
	case more > 0:
		return fmt.Sprintf("; changed: %s and %d more", strings.Join(r.Changed[:mostChanges], ", "), more)
	}
	return "; changed: " + strings.Join(r.Changed, ", ")
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
