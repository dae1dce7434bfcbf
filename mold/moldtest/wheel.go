package moldtest

import (
	"fmt"
	"slices"
	"testing"

	"wheelmold/params"
)

// Wheel is a job stated by a wheel's diameter, width and bore in mm, and by how its
// mold is made.
type Wheel struct {
	Diameter, Width, Bore float64
	Process               string
}

// Wheels are a small printed wheel, one in the middle, and a large milled one.
var Wheels = []Wheel{{49, 16, 5, "resin"}, {70, 25, 8, "filament"}, {200, 60, 20, "milled"}}

// String names the wheel in a test.
func (w Wheel) String() string { return fmt.Sprintf("%g x %g %s", w.Diameter, w.Width, w.Process) }

// Job is the wheel's job, with settings on top as on the command line.
func (w Wheel) Job(t testing.TB, sets ...string) *params.Job {
	t.Helper()
	src := fmt.Sprintf("[wheel]\ndiameter = \"%g mm\"\nwidth = \"%g mm\"\n[hub]\nbore = \"%g mm\"\n[process]\nname = %q\n", w.Diameter, w.Width, w.Bore, w.Process)
	j, _, err := params.Parse(w.String(), []byte(src), settings(t, sets)...)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// Split is one way to split a mold, by the settings that ask for it.
type Split struct {
	Name string
	Sets []string
}

// Splits are all of them, in every number of pieces around the axis.
var Splits = []Split{
	{"four-piece", []string{"mold.split=four-piece"}},
	{"three shells", []string{"mold.split=four-piece", "mold.segments=3"}},
	{"four shells", []string{"mold.split=four-piece", "mold.segments=4"}},
	{"open top", []string{"mold.split=open top"}},
	{"open top, three shells", []string{"mold.split=open top", "mold.segments=3"}},
	{"open top, four shells", []string{"mold.split=open top", "mold.segments=4"}},
	{"clam", []string{"mold.split=clam"}},
	{"cup and lid", []string{"mold.split=cup and lid"}},
	{"cup and lid, crowned", []string{"mold.split=cup and lid", "wheel.crown=1mm"}},
	{"cup and lid, drafted", []string{"mold.split=cup and lid", "wheel.draft=2deg"}},
}

// SplitOf is one of Splits by name.
func SplitOf(t testing.TB, name string) Split {
	t.Helper()
	i := slices.IndexFunc(Splits, func(s Split) bool { return s.Name == name })
	if i < 0 {
		t.Fatalf("no split %q", name)
	}
	return Splits[i]
}
