package params

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Fault is one thing wrong with a job, or worth a second look.
type Fault struct {
	File         string // "--set" for an override, "" for a job made in code
	Line, Column int    // from 1; 0 if the value was not stated in a file
	Path         string // of the value: "wheel.width", "hub.groove[2].depth" counted from 1
	Value        string // as written, or with its unit
	Allowed      string
	Cause        string
	Hint         string
	With         []string // paths of other values that take part in the clash
}

// Error is the fault on one line, whatever the job holds:
// file:line:column: path = value: allowed range: cause; hint.
func (f Fault) Error() string {
	var parts []string
	f.Path, f.Value = brief(f.Path), brief(f.Value)
	switch {
	case f.Line > 0:
		parts = append(parts, fmt.Sprintf("%s:%d:%d", f.File, f.Line, f.Column))
	case f.File != "":
		parts = append(parts, f.File)
	}
	switch {
	case f.Value != "" && f.Path != "":
		parts = append(parts, f.Path+" = "+f.Value)
	case f.Path != "":
		parts = append(parts, f.Path)
	}
	if f.Allowed != "" {
		parts = append(parts, "allowed "+f.Allowed)
	}
	if c := strings.Join(nonEmpty(f.Cause, f.Hint), "; "); c != "" {
		parts = append(parts, c)
	}
	return Printable(strings.Join(parts, ": "))
}

// Printable is a text with escapes in place of what cannot be printed, such as what
// moves a terminal's cursor, begins a new line or turns the direction of reading.
func Printable(s string) string {
	if utf8.ValidString(s) && !strings.ContainsFunc(s, unprintable) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if unprintable(r) {
			escaped := strconv.QuoteRune(r)
			b.WriteString(escaped[1 : len(escaped)-1])
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

func unprintable(r rune) bool { return !unicode.IsPrint(r) }

// longest is how many characters of what somebody wrote a fault repeats: enough to
// find it by, and few enough that the cause behind it is still seen.
const longest = 120

// brief cuts what is too long to be shown.
func brief(s string) string {
	if len(s) <= longest {
		return s
	}
	r := []rune(s)
	if len(r) <= longest {
		return s
	}
	return fmt.Sprintf("%s… (%d characters)", string(r[:longest/2]), len(r))
}

func nonEmpty(s ...string) []string {
	return slices.DeleteFunc(s, func(s string) bool { return s == "" })
}

// Faults are all faults of a job, in the order of the file.
type Faults []Fault

// Error prints one fault per line.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// asError is nil for no faults: a nil Faults in an error would not be.
func (fs Faults) asError() error {
	if len(fs) == 0 {
		return nil
	}
	return fs
}

// names reports whether a fault is about the value at path.
func (fs Faults) names(path string) bool {
	return slices.ContainsFunc(fs, func(f Fault) bool { return f.Path == path })
}

// sorted orders by place in the file; faults without a place come last.
func (fs Faults) sorted() Faults {
	slices.SortStableFunc(fs, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(place(a), place(b)), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return fs
}

func place(f Fault) int {
	if f.Line > 0 {
		return 0
	}
	return 1
}
