package report

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/drawing"
	"wheelmold/mold/flash"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/pour"
	"wheelmold/mold/report/reporttest"
	"wheelmold/params"
)

// splitsTold are ways to split a mold, what the sheet says of them in the order of the
// work, what it must not say, and what the check says.
var splitsTold = []struct {
	sets     []string
	says, no []string
	check    []string
}{
	{[]string{"mold.segments=3"},
		[]string{"3 balls (5 mm); hub on it", "3 shells around", "base and lid alone locate them. Band around them", "Lid, 3 balls (5 mm) below. Band: ", "3 M4 in a star", "Bolts and band off. Lid (cut stubs flush; they stretch or tear), then base, then each shell along its middle: bars"},
		[]string{"no balls", "Clamp them", "of each shell"}, []string{"octagon, filament, 3 shells\n", "1 band around the shells", "band pulled with 300 N by a spring scale"}},
	{[]string{"mold.segments=4"}, []string{"4 shells around", "then each shell along its middle"}, []string{"no balls"}, []string{", 4 shells\n"}},
	{[]string{"mold.split=open top"},
		[]string{"Release on mold. None", "Seal: joints", "release on the strap", "Base, 4 balls", "Shells, 2 balls", "Strap, 2 balls (5 mm) below, down on the hub. 2 long M4 through its corners, 2 short on the shells, in turns", "into the open ring", "Fill to the brim.", "Bolts out. Lift the strap by its arms; if it sticks, a bar under an arm, resting on a shell, not on the rubber. Base, then shells: bars in opposite slots", "trim 1.3 mm (0.05 in) off the top face, the hub's end as guide: sharp long knife, or a lathe"},
		[]string{"Lid", "lid", "sprue", "vent,", "vents", "Cut "},
		[]string{", open top\n", "2 M4 bolts through the strap's corners of 39 mm or more with nuts, 2 M4 bolts through the shells alone of 31 mm or more with nuts", "1.3 mm off the top face, all around; no gate or vent\n"}},
	{[]string{"mold.split=open top", "mold.segments=4"}, []string{"base and strap alone locate them. Band around them", "Band: ", "Bolts and band off. Lift the strap by its arms"}, []string{"Bolts and strap"}, []string{", open top, 4 shells\n"}},
	{[]string{"mold.split=clam"},
		[]string{"Seal: halves wiped", "release on the halves", "Half A lying, parting face up; first the gasket on the hub's back end, then the hub into its seats, front face to the sprue", "Half B on it, 2 balls (5 mm) between, by hand. 4 M4 across: ", "Long hex key: heads ", "Stand it up", "Bolts out. Half B off half A: bars in opposite slots (along the parting line)", "The sprue opens with it. Lift the wheel out by the hub"},
		[]string{"Lid", "lid", "Base", "base", "hells", "clamps"}, []string{", clam\n", "4 M4 bolts across the halves of"}},
	{[]string{"mold.split=clam", "mold.sprue.angle=90deg"}, []string{"Half B off half A"}, []string{"opens with it"}, nil},
	{[]string{"mold.split=cup and lid"},
		[]string{"Seal: lid/cup wiped", "release on the lid", "Cup; hub in it, back face down.", "Lid, 4 balls (5 mm) below. 4 M4 in a star", "Bolts out. Lid off (cut stubs flush; they stretch or tear): bars", "Draw the wheel straight up with a puller", "in the hub's bore"},
		[]string{"Base", "base", "hells", "clamps", "alves"}, []string{", cup and lid\n"}},
	{[]string{"mold.split=cup and lid", "mold.bolts.size=none"}, []string{"Clamp it to the cup.", "Clamps off."}, nil, nil},
	{[]string{"mold.split=cup and lid", "pour.tilt=3deg", "pour.tilt_toward=0deg"}, []string{"side at 0° (the sprue is at 90°, counterclockwise from above) up"}, nil, nil},
	{[]string{"mold.segments=4", "pour.tilt=3deg", "pour.tilt_toward=0deg"}, []string{"side at 0° (shell A's middle is 45°) up"}, nil, nil},
}

// Whatever the split, the sheet tells how the mold goes together, is poured and opened,
// on one page.
func TestSheetOfEverySplit(t *testing.T) {
	for _, x := range splitsTold {
		m, c := moldtest.Checked(t, moldtest.Wheels[1].Job(t, x.sets...))
		e, err := flash.Analyze(m, c.Faces, flash.Options{Draws: 50, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range []pour.Options{{Wheels: 1, Molds: 1}, {Wheels: 12, Molds: 2}} {
			p, err := pour.New(m, c.Volumes, 1, o)
			if err != nil {
				t.Fatalf("%v: %v", x.sets, err)
			}
			s := OfPour(result(t, m, p, e), half)
			text := textOf(t, s)
			if n := strings.Count(text, "\n"); n > sheetLines {
				t.Errorf("%v: %d lines\n%s", x.sets, n, text)
			}
			for line := range strings.Lines(text) {
				if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > sheetWidth {
					t.Errorf("%v: %d wide: %s", x.sets, n, line)
				}
			}
			joined, at := strings.Join(strings.Fields(text), " "), 0
			for _, want := range x.says {
				i := strings.Index(joined[at:], want)
				if i < 0 {
					t.Errorf("%v: %q is missing, or not in its order, in\n%s", x.sets, want, text)
					continue
				}
				at += i
			}
			for _, no := range x.no {
				if strings.Contains(joined, no) {
					t.Errorf("%v: says %q in\n%s", x.sets, no, text)
				}
			}
		}
	}
}

// Page, text and JSON of every split agree: each figure of the summary stands in the
// JSON, each piece on the page and in the text, and each drawing on the page.
func TestPageOfEverySplit(t *testing.T) {
	for _, x := range splitsTold {
		if x.check == nil {
			continue
		}
		m, c := moldtest.Checked(t, moldtest.Wheels[1].Job(t, x.sets...))
		page, text := splitPage(t, m, c)
		var b strings.Builder
		if err := page.Build.Check.WriteText(&b); err != nil {
			t.Fatal(err)
		}
		for _, want := range x.check {
			if !strings.Contains(b.String(), want) {
				t.Errorf("%v: %q is missing in\n%s", x.sets, want, b.String())
			}
		}
		if strings.Contains(b.String(), " 0 gates") || strings.Contains(text, " 0 gates") {
			t.Errorf("%v: tells of no gates", x.sets)
		}
		for _, p := range m.Pieces {
			if title := mold.Title(p.Name); !strings.Contains(b.String(), p.Name) || !strings.Contains(text, title) {
				t.Errorf("%v: %s is not told", x.sets, p.Name)
			}
		}
		for _, set := range [][]drawing.Drawing{page.Sections, page.Partings, page.Maps} {
			for i := range set {
				if !strings.Contains(text, set[i].Title) {
					t.Errorf("%v: no %s on the page", x.sets, set[i].Title)
				}
			}
		}
		if cut := map[bool]string{true: "axis and strap", false: "axis and sprue"}[len(m.Layout.Gates) == 0]; !strings.Contains(text, ">"+cut+"<") {
			t.Errorf("%v: the cut is not called %s", x.sets, cut)
		}
		inJSON(t, x.sets, page.Build)
		namesItsPieces(t, x.sets, m, page.Build, b.String())
	}
}

// namesItsPieces: text and JSON name no piece that the split lacks; keys keep their names.
func namesItsPieces(t *testing.T, sets []string, m *mold.Mold, b *Build, text string) {
	t.Helper()
	raw, err := json.Marshal(b)
	if err != nil {
		t.Fatal(err)
	}
	keys := regexp.MustCompile(`[a-z_]+\.[a-z_.]+|feeler_[a-z]+`)
	told := keys.ReplaceAllString(text+string(raw), "")
	told = strings.ReplaceAll(told, params.SplitCup, "")
	l := m.Layout
	for piece, there := range map[string]bool{"shell": l.Around() == "shells", "halves": l.Around() == "halves", "cup": l.Below == "cup", "lid": l.Above == "lid", "base": l.Below == "base"} {
		if at := regexp.MustCompile(`\b` + piece).FindStringIndex(told); at != nil && !there {
			t.Errorf("%v: names a %s: …%s…", sets, piece, told[max(0, at[0]-60):min(len(told), at[0]+60)])
		}
	}
}

// splitPage makes a mold's page, and its HTML.
func splitPage(t *testing.T, m *mold.Mold, c *mold.Checked) (*Page, string) {
	t.Helper()
	e, err := flash.Analyze(m, c.Faces, flash.Options{Draws: 50, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	plan, err := pour.New(m, c.Volumes, e.Lost.P90, pour.Options{Wheels: 1, Molds: 1})
	if err != nil {
		t.Fatal(err)
	}
	p := &Page{Build: &Build{Check: *OfCheck(m, c, e, plan), Tolerance: .01}, Sheet: OfPour(result(t, m, plan, e), time.Time{}), Scene: &Scene{Step: 0.001}}
	for _, draw := range []func() error{
		func() (err error) { p.Sections, err = drawing.Sections(m, plan); return },
		func() (err error) { p.Partings, err = drawing.Partings(m, c.Faces); return },
		func() (err error) { p.Maps, err = drawing.Maps(m, c.Faces, e); return },
		func() (err error) { p.Traps, err = drawing.Trapped(m, plan); return },
	} {
		if err := draw(); err != nil {
			t.Fatal(err)
		}
	}
	return p, written(t, p)
}

// inJSON holds the summary to the JSON.
func inJSON(t *testing.T, sets []string, b *Build) {
	t.Helper()
	data, err := json.Marshal(b)
	if err != nil {
		t.Fatal(err)
	}
	var tree map[string]any
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	for _, o := range b.outcomes() {
		for _, f := range o.Figures {
			if got, err := reporttest.LookUp(tree, f.Key); err != nil || got != f.Raw {
				t.Errorf("%v: %s: %v (%v) in the JSON, %v on the page", sets, f.Key, got, err, f.Raw)
			}
			if err := reporttest.Agrees(f.Value, f.Key, f.Raw); err != nil {
				t.Errorf("%v: %s: %v", sets, f.Key, err)
			}
		}
	}
	if i := slices.IndexFunc(sets, func(s string) bool { return strings.HasPrefix(s, "mold.split=") }); i >= 0 && tree["split"] != strings.TrimPrefix(sets[i], "mold.split=") {
		t.Errorf("%v: the JSON has the split %v", sets, tree["split"])
	}
	n := 0
	for _, l := range b.Hardware.Lengths {
		n += l.Count
	}
	if n != b.Hardware.Bolts {
		t.Errorf("%v: %d bolts of a length, %d in all", sets, n, b.Hardware.Bolts)
	}
}

// The scene of every split has all of its pieces, drawn apart along their pulls, and
// every ball with the piece that keeps it.
func TestSceneOfEverySplit(t *testing.T) {
	for _, sets := range [][]string{{"mold.segments=3"}, {"mold.split=open top"}, {"mold.split=clam"}, {"mold.split=cup and lid"}} {
		m, c := moldtest.Checked(t, moldtest.Wheels[0].Job(t, append(sets, "mold.bolts.size=none")...))
		made, err := m.Make(mold.MakeOptions{Tolerance: .1})
		if err != nil {
			t.Fatal(err)
		}
		p, err := pour.New(m, c.Volumes, 1, pour.Options{Wheels: 1, Molds: 1})
		if err != nil {
			t.Fatal(err)
		}
		s, err := OfScene(made, p, .1)
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Parts) != len(m.Pieces)+1 || len(s.Balls) != len(m.Layout.Balls) {
			t.Errorf("%v: %d parts, %d balls", sets, len(s.Parts), len(s.Balls))
		}
		want := m.Layout.TowardSprue()
		if sets[0] == "mold.split=open top" { // along the strap
			want = mesh.Vec{1, 1, 0}.Unit()
		}
		if s.Sprue.Dist(want) > 1e-9 {
			t.Errorf("%v: cut toward %v, want %v", sets, s.Sprue, want)
		}
		seen := map[string]string{}
		for _, x := range s.Parts {
			piece, _ := m.Piece(x.Name)
			if d := x.Apart.Dot(piece.Pull); piece.Pull.Norm() > 0 && d < m.Layout.B/2 {
				t.Errorf("%v: %s moves %.1f mm along its pull", sets, x.Name, d)
			}
			look := fmt.Sprint(x.Color, x.Hatch)
			if other, ok := seen[look]; ok {
				t.Errorf("%v: %s and %s look alike", sets, x.Name, other)
			}
			seen[look] = x.Name
		}
	}
}
