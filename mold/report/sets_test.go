package report

import (
	"strings"
	"testing"
	"time"
)

// built is a build of which only what sets and lines tell is known.
func built(mixed float64, grade string, p *Printing) *Build {
	b := &Build{Folder: "sets/x"}
	b.Pieces, b.Wheel = make([]Piece, 5), Wheel{Diameter: 63.5, Width: 20}
	b.Pour.Mixed, b.Printing = mixed, p
	b.Flash = &Flash{Grade: grade, Lines: []FlashLine{{Name: "base/shells", Mass: 1, Grade: grade}, {Name: "lid/shells", Mass: 0.5, Grade: "tight"}}}
	return b
}

// The list tells each set, also what could not be made, and the sum of what is printed.
func TestSetsText(t *testing.T) {
	s := NewSets("wheelmold")
	s.Add("3lb", "sets/3lb", built(53.7, "fringe", &Printing{Loads: make([]PrintLoad, 2), Mass: 210, Time: 5 * 3600}))
	s.Add("6lb", "sets/6lb", nil)
	s.Add("12lb", "sets/12lb", built(150, "feather", &Printing{Loads: make([]PrintLoad, 3), Mass: 340.5, Time: 9 * 3600}))
	s.Add("60lb", "sets/60lb", built(650, "feather", nil))
	var text strings.Builder
	if err := s.WriteText(&text); err != nil {
		t.Fatal(err)
	}
	var got []string
	for line := range strings.Lines(text.String()) {
		got = append(got, strings.Join(strings.Fields(line), " "))
	}
	want := []string{
		"class folder pieces wheel mm mix flash loads plastic printing",
		"3lb sets/3lb 5 63.5 x 20 53.70 g fringe 2 210.0 g 5 h",
		"6lb not made",
		"12lb sets/12lb 5 63.5 x 20 150.0 g feather 3 340.5 g 9 h",
		"60lb sets/60lb 5 63.5 x 20 650.0 g feather none",
		"in all 5 550.5 g 14 h",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// The line of a rebuild names what changed with what it was, and nothing that did not.
func TestBriefTellsWhatChanged(t *testing.T) {
	before, now := built(53.7, "fringe", nil), built(60, "fringe", nil)
	now.Rubber.Boundary = 12340
	at := time.Date(2001, 2, 3, 14, 5, 6, 0, time.UTC)
	same, figures := "; mold 0 x 0 x 0 mm; worst line base/shells, fringe\n", "; rubber 12.34 cm³ (was 0.00 cm³); mix 60.00 g (was 53.70 g)"
	for _, c := range []struct {
		before  *Build
		changed []string
		want    string
	}{
		{nil, nil, "14:05:06 sets/x: 0.84 s; rubber 12.34 cm³; mix 60.00 g" + same},
		{before, nil, "14:05:06 sets/x: 0.84 s; no value changed" + figures + same},
		{before, []string{"a", "b", "c"}, "14:05:06 sets/x: 0.84 s; changed: a, b, c" + figures + same},
		{before, []string{"a", "b", "c", "d", "e"}, "14:05:06 sets/x: 0.84 s; changed: a, b, c and 2 more" + figures + same},
	} {
		var line strings.Builder
		if err := now.WriteBrief(&line, Rebuild{at, 840 * time.Millisecond, c.before, c.changed}); err != nil || line.String() != c.want {
			t.Errorf("got %q, want %q (%v)", line.String(), c.want, err)
		}
	}
}
