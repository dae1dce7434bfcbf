package report

import (
	"strings"
	"testing"

	"wheelmold/mold/study"
)

// A split that changes the wheel, or marks its running surface, is told below the table;
// others are not.
func TestSplitsThatChangeTheWheel(t *testing.T) {
	row := func(name string, own bool, hub float64, onTread bool) study.Row {
		return study.Row{Case: study.Case{Name: name, Own: own}, Figures: &study.Figures{Hub: hub, OnTread: onTread}}
	}
	got := changes([]study.Row{row("longer", false, 23.9, false), row("own", true, 19.9, false), {Case: study.Case{Name: "failed"}}, row("cup", false, 19.9, true)})
	if want := " longer: hub 23.9 mm long, this job's 19.9 mm. cup: " + flashOnTread + "."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := changes([]study.Row{row("a", false, 23.9, false), row("b", false, 19.9, false)}); got != "" {
		t.Errorf("without the job's own row: %q", got)
	}
}

// A mold that parts around the middle of the tread says so, and no other.
func TestFlashLineOnACrown(t *testing.T) {
	for onTread, want := range map[bool]int{true: 1, false: 0} {
		r := &Release{Grade: "free", Words: "free", onTread: onTread}
		text := inText(t, r.text)
		if n := strings.Count(text, "middle of the crown"); n != want {
			t.Errorf("%v: told %d times in\n%s", onTread, n, text)
		}
	}
}
