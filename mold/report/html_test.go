package report

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"wheelmold/mold/drawing"
	"wheelmold/mold/flash"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/pour"
	"wheelmold/mold/printing"
	"wheelmold/mold/report/reporttest"
	"wheelmold/params"
)

// pages are the examples' pages, without meshes and drawings, made once.
var pages = map[string]*Page{}

// examplePage is the page of an example, for the caller to change.
func examplePage(t *testing.T, name string) *Page {
	t.Helper()
	if pages[name] == nil {
		pages[name] = madePage(t, name)
	}
	p, b, f, s := *pages[name], *pages[name].Build, *pages[name].Build.Flash, *pages[name].Sheet
	f.Lines, s.Title = slices.Clone(f.Lines), slices.Clone(s.Title)
	b.Flash, p.Build, p.Sheet = &f, &b, &s
	return &p
}

func madePage(t *testing.T, name string) *Page {
	t.Helper()
	m, c := moldtest.Checked(t, moldtest.Example(t, name))
	e, err := flash.Analyze(m, c.Faces, flash.Options{Draws: 50, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	plan, err := pour.New(m, c.Volumes, e.Lost.P90, pour.Options{Wheels: 1, Molds: 1})
	if err != nil {
		t.Fatal(err)
	}
	b := &Build{Check: *OfCheck(m, c, e, plan), Tolerance: .01}
	prints, err := printing.Analyze(m, c.RawFaces, printing.DefaultOptions)
	if err != nil {
		t.Fatal(err)
	}
	b.SetPrinting(m, prints)
	return &Page{Build: b, Sheet: OfPour(result(t, m, plan, e), time.Time{}), Scene: &Scene{Step: 0.001}}
}

func written(t *testing.T, p *Page) string {
	t.Helper()
	var b strings.Builder
	if err := p.WriteHTML(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Every figure of the summary stands in the JSON under its key, tells how it was
// found, and has a note of its own.
func TestFiguresAreThoseOfTheJSON(t *testing.T) {
	for _, name := range []string{"wren", "kestrel", "albatross"} {
		p := examplePage(t, name)
		text, err := json.Marshal(p.Build)
		if err != nil {
			t.Fatal(err)
		}
		var tree any
		if err := json.Unmarshal(text, &tree); err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, o := range p.Build.outcomes() {
			for _, f := range o.Figures {
				n++
				if f.N != n {
					t.Errorf("%s, %s: note %d, want %d", name, f.Name, f.N, n)
				}
				if got, err := reporttest.LookUp(tree, f.Key); err != nil || got != f.Raw {
					t.Errorf("%s, %s: %v (%v) in the JSON, %v on the page", name, f.Key, got, err, f.Raw)
				}
				if err := reporttest.Agrees(f.Value, f.Key, f.Raw); err != nil {
					t.Errorf("%s, %s: %v is shown as %q: %v", name, f.Key, f.Raw, f.Value, err)
				}
				if len(f.Note) < 20 || f.Value == "" {
					t.Errorf("%s, %s: value %q, note %q", name, f.Name, f.Value, f.Note)
				}
			}
		}
		if n < 18 {
			t.Errorf("%s: %d figures", name, n)
		}
		page := written(t, p)
		for i := 1; i <= n; i++ {
			for _, want := range []string{fmt.Sprintf(`id="note-%d"`, i), fmt.Sprintf(`href="#note-%d" aria-describedby="note-%d"`, i, i)} {
				if strings.Count(page, want) != 1 {
					t.Errorf("%s: %s stands %d times", name, want, strings.Count(page, want))
				}
			}
		}
	}
}

// States follow the verdicts of pour, joints and air.
func TestOutcomesTellWhatToDo(t *testing.T) {
	of := func(p *Page, name string) outcome {
		for _, o := range p.Build.outcomes() {
			if o.Name == name {
				return o
			}
		}
		t.Fatalf("no outcome %s", name)
		return outcome{}
	}
	p := examplePage(t, "kestrel")
	if s := of(p, "Time").State; s != fine {
		t.Errorf("time: %s", s)
	}
	if s := of(p, "Air").State; s != mind {
		t.Errorf("a level top face: %s", s)
	}
	p.Build.Pour.Verdict = string(pour.Hurried)
	if s := of(p, "Time").State; s != mind {
		t.Errorf("hurried: %s", s)
	}
	for _, v := range []pour.Verdict{pour.Restricted, pour.Late} {
		p.Build.Pour.Verdict = string(v)
		if s := of(p, "Time").State; s != act {
			t.Errorf("%s: %s", v, s)
		}
	}
	for grade, want := range map[flash.Grade]state{flash.Tight: fine, flash.Feather: fine, flash.Fringe: mind, flash.Curtain: act, flash.Flood: act} {
		p.Build.Flash.Grade = grade.String()
		if s := of(p, "Joints").State; s != want {
			t.Errorf("%s: %s, want %s", grade, s, want)
		}
	}
	p.Build.Pour.Air.Traps = []Trap{{Volume: 100}}
	if o := of(p, "Air"); o.State != act || !strings.HasPrefix(o.Says, "1 trap") {
		t.Errorf("a trap: %s, %s", o.State, o.Says)
	}
	p.Build.Flash.Grade = flash.Tight.String()
	p.Build.Flash.Stack.Slack = -0.1
	if o := of(p, "Joints"); o.State != act || !strings.Contains(o.Says, "holds the mold open") {
		t.Errorf("a hub that stands proud: %s, %s", o.State, o.Says)
	}
	p.Build.Pour.Verdict = string(pour.Easy)
	p.Build.Pour.Batches, p.Build.Pour.Clock.NextFrom, p.Build.Pour.Clock.NextUntil, p.Build.Pour.Clock.InTime = 2, 600, 300, false
	if o := of(p, "Time"); o.State != act || !strings.Contains(o.Says, "next batch comes too late") {
		t.Errorf("hands that are not free: %s, %s", o.State, o.Says)
	}
	p.Build.Flash.Lines[2].Drips = .99
	for _, f := range of(p, "Joints").Figures {
		if strings.HasPrefix(f.Name, "drips") && !strings.HasSuffix(f.Name, p.Build.Flash.Lines[2].Name) {
			t.Errorf("%s, but %s drips most", f.Name, p.Build.Flash.Lines[2].Name)
		}
	}
	p.Build.Flash.Lines[3].Mass = 1000
	if o := of(p, "Joints"); !strings.Contains(o.Says, p.Build.Flash.Lines[3].Name) {
		t.Errorf("the worst joint is %s: %s", p.Build.Flash.Lines[3].Name, o.Says)
	}
}

// A mold without vents was not searched for trapped air: nothing is said of how much
// stays, or how far a vent is.
func TestNoVentsNoAirFigures(t *testing.T) {
	m, c := moldtest.Checked(t, moldtest.Example(t, "wren", "mold.vents.count=0"))
	plan, err := pour.New(m, c.Volumes, 0, pour.Options{Wheels: 1, Molds: 1})
	if err != nil {
		t.Fatal(err)
	}
	a := airOf(&plan.Air)
	o := a.outcome()
	if o.State != act || !strings.HasPrefix(o.Says, "no vent") {
		t.Errorf("%s, %s", o.State, o.Says)
	}
	for _, f := range o.Figures {
		if f.Key == "pour.air.trapped_mm3" || strings.Contains(f.Note, "from a vent") {
			t.Errorf("%s: %s", f.Name, f.Note)
		}
	}
}

// A warm mold stops leveling before the pot life ends in the bucket: both the verdict
// and the clock tell of it.
func TestLateInAWarmMold(t *testing.T) {
	m, c := moldtest.Checked(t, moldtest.Example(t, "kestrel", "pour.mold_temperature=50C"))
	plan, err := pour.New(m, c.Volumes, 0, pour.Options{Wheels: 1, Molds: 1})
	if err != nil {
		t.Fatal(err)
	}
	r := pourOf(m, plan)
	if r.Verdict != string(pour.Late) || r.Clock.Due != r.Clock.TopUp || r.Clock.PourEnd <= r.Clock.Due {
		t.Errorf("verdict %q, poured at %g s, flows until %g s, tops up until %g s", r.Verdict, r.Clock.PourEnd, r.Clock.Due, r.Clock.TopUp)
	}
	if c := fillChart(&r); !strings.Contains(string(c.SVG), "mold stops leveling") {
		t.Error("the chart does not show when the mold stops leveling")
	}
}

// The policy names exactly the script and the style that the page brings.
func TestPolicyFitsThePage(t *testing.T) {
	page := written(t, examplePage(t, "wren"))
	policy := regexp.MustCompile(`Content-Security-Policy" content="([^"]*)"`).FindStringSubmatch(page)[1]
	for _, tag := range []string{"script", "style"} {
		found := regexp.MustCompile(`(?s)<`+tag+`>(.*?)</`+tag+`>`).FindAllStringSubmatch(page, -1)
		if len(found) != 1 || len(found[0][1]) < 500 {
			t.Fatalf("%d elements %s", len(found), tag)
		}
		sum := sha256.Sum256([]byte(found[0][1]))
		want := tag + "-src &#39;sha256-" + strings.ReplaceAll(base64.StdEncoding.EncodeToString(sum[:]), "+", "&#43;") + "&#39;;"
		if !strings.Contains(policy, want) {
			t.Errorf("%s is not in %s", want, policy)
		}
	}
	if !strings.HasPrefix(policy, "default-src &#39;none&#39;;") || strings.Contains(policy, "unsafe") {
		t.Errorf("policy %s", policy)
	}
}

// Whatever a job is called stays text, wherever the page shows it.
func TestHostileNamesStayText(t *testing.T) {
	for _, name := range []string{
		`<script>document.title="owned"</script>`, `"><img src=x onerror=alert(1)>`, `</script><svg onload=alert(1)>`, `a'b"c&d<e>`, "<!-- ]]> -->",
		"גלגל العجلة", strings.Repeat("x", 10_000), strings.Repeat(`<b a="'>`, 1250), "{{.Build}}", "${alert(1)}",
	} {
		p := examplePage(t, "wren")
		plain := strings.Count(written(t, p), "<")
		p.Build.Job, p.Build.File, p.Sheet.Title[0] = name, "/tmp/"+name+".toml", name+p.Sheet.Title[0]
		p.Build.Warnings = []string{name}
		page := written(t, p)
		// One warning brings eight tags of its own, less two of the line that there is none.
		if n := strings.Count(page, "<") - plain; n != 6 {
			t.Errorf("%.40q adds %d tags", name, n-6)
		}
	}
}

// The table of joints has its units in its heads, and a row per joint and for all.
func TestJointsTableHasUnitsInItsHead(t *testing.T) {
	p := examplePage(t, "kestrel")
	v, err := p.flash()
	if err != nil {
		t.Fatal(err)
	}
	if got := v.Table.Head[4]; got != "gap µm (10, 50, 90 %)" {
		t.Errorf("head %q", got)
	}
	if n := len(v.Table.Rows); n != len(p.Build.Flash.Lines)+1 {
		t.Errorf("%d rows for %d joints", n, len(p.Build.Flash.Lines))
	}
	for i, l := range v.Lines {
		if n := len(l.Gaps.Rows); n != len(p.Build.Flash.Lines[i].Gap.Parts)+1 {
			t.Errorf("%s: %d rows for %d contributions", l.Name, n, len(p.Build.Flash.Lines[i].Gap.Parts))
		}
		for _, row := range l.Exits.Rows {
			if row[0] == flash.ExitNeighbor {
				t.Errorf("%s: rubber runs out at a %s", l.Name, row[0])
			}
		}
	}
}

// A map can only stand under its own joint.
func TestMapsFitTheJoints(t *testing.T) {
	p := examplePage(t, "wren")
	p.Maps = make([]drawing.Drawing, len(p.Build.Flash.Lines)-1)
	if err := p.WriteHTML(io.Discard); err == nil || !strings.Contains(err.Error(), "flash maps") {
		t.Errorf("a map too few: %v", err)
	}
}

// Names of files are bytes; the page is text.
func TestPageIsText(t *testing.T) {
	p := examplePage(t, "wren")
	p.Build.File, p.Build.Warnings = "bad\xff.toml", []string{"bad\xff.toml:1:1: x"}
	if !utf8.ValidString(written(t, p)) {
		t.Error("the page is no UTF-8")
	}
}

// Where a job lies is nobody's business who gets the page, and all else of a text stays.
func TestPageTellsNoFolder(t *testing.T) {
	p := examplePage(t, "wren")
	build := *p.Build
	p.Build = &build
	for _, c := range []struct{ file, folder string }{
		{"wheel.toml", ""},
		{"/wheel.toml", "/wheel"},
		{"m/wheel.toml", "m/wheel"},
		{"/at/home/wheel.toml", "/at/home"},
		{"../at home (old)/wheel.toml", "at home"},
		{"a\u200eb\x07/at/home/wheel.toml", "/at/home"},
		{"a\xffb/at/home/wheel.toml", "/at/home"},
	} {
		log := strings.TrimSuffix(c.file, ".toml") + ".casts"
		build.File = c.file
		build.Warnings = []string{
			params.Fault{File: c.file, Line: 1, Column: 2, Path: "x", Cause: "flows at 3 m/s of lid/shells, see " + c.file + ":4:5: y"}.Error(),
			log + ": line 6: no sum; the other lines count",
			params.Fault{Path: "z", Cause: "at most 3 m/s of lid/shells"}.Error(),
		}
		build.Calibrated = "calibrated by casts (" + log + ": 3 casts): gap x 1.2"
		page := written(t, p)
		for _, want := range []string{
			"<li>wheel.toml:1:2: x: flows at 3 m/s of lid/shells, see wheel.toml:4:5: y</li>",
			"<li>wheel.casts: line 6: no sum; the other lines count</li>",
			"<li>z: at most 3 m/s of lid/shells</li>",
			"calibrated by casts (wheel.casts: 3 casts): gap x 1.2",
			"job file wheel.toml",
		} {
			if !strings.Contains(page, want) {
				t.Errorf("%q: the page does not hold %q", c.file, want)
			}
		}
		if c.folder != "" && strings.Contains(page, c.folder) {
			t.Errorf("%q: the page tells where the job lies", c.file)
		}
	}
	// A name with what cannot be printed keeps it, as each message has it.
	build.File, build.Calibrated = "at/home/a\u200e.toml", ""
	build.Warnings = []string{params.Fault{File: build.File, Line: 1, Column: 2, Cause: "x"}.Error(), "at/home/a\u200e.casts: y"}
	if page := written(t, p); strings.Contains(page, "at/home") || !strings.Contains(page, `<li>a\u200e.toml:1:2: x</li>`) || !strings.Contains(page, "<li>a\u200e.casts: y</li>") {
		t.Error("a name that cannot be printed is not there without its folder")
	}
}

// Times before a moment keep their sign.
func TestSpanOfNegativeTimes(t *testing.T) {
	for s, want := range map[float64]string{-30: "-0:30 min", -90: "-1:30 min", -0.2: "0:00 min", 59.6: "1:00 min"} {
		if got := span(s); got != want {
			t.Errorf("%g s: %q, want %q", s, got, want)
		}
	}
}

// The same build gives the same bytes.
func TestPageIsTheSameEverywhere(t *testing.T) {
	first := written(t, madePage(t, "kestrel"))
	if written(t, madePage(t, "kestrel")) != first {
		t.Error("pages differ")
	}
}

// Columns among notes become a table of their own under their head, called by its first
// cell; notes that follow one another stay one.
func TestColumnsAreParted(t *testing.T) {
	all := parted(func(p teller) {
		p.note("modulus", "3 MPa", "a text")
		p.row()
		p.note("width", "4 mm", "a text")
		p.row()
		p.row("tread", "load", "deflection, mm")
		p.row("at rest", "10 N", "0.1")
		p.row("in a hit", "100 N", "0.4")
		p.row()
		p.note("method", "", "a text")
	})
	if len(all) != 3 || len(all[0].Rows) != 2 || !all[0].Wide || all[0].Head != nil || len(all[2].Rows) != 1 {
		t.Fatalf("%+v", all)
	}
	if c := &all[1]; c.Wide || c.Name != "tread" || strings.Join(c.Head, "; ") != "tread; load; deflection, mm" || len(c.Rows) != 2 || c.Rows[0][0] != "at rest" {
		t.Errorf("%+v", c)
	}
}
