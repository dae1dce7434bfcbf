package study

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/pour"
	"wheelmold/params"
)

// wren is the smallest example, as a file.
func wren(t testing.TB) *File {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "examples", "wren.toml"))
	if err != nil {
		t.Fatal(err)
	}
	return &File{Name: "wren.toml", Bytes: b}
}

func settings(t testing.TB, texts ...string) (sets []params.Setting) {
	t.Helper()
	for _, x := range texts {
		s, err := params.ParseSetting(x)
		if err != nil {
			t.Fatal(err)
		}
		sets = append(sets, s)
	}
	return sets
}

func series(t testing.TB, texts ...string) (all []params.Series) {
	t.Helper()
	for _, x := range texts {
		s, err := params.ParseSeries(x)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, s)
	}
	return all
}

func sweep(t testing.TB, texts ...string) []Case {
	t.Helper()
	cases, err := Sweep(series(t, texts...))
	if err != nil {
		t.Fatal(err)
	}
	return cases
}

func of(f Text) Runner {
	return func(c *Case, o Options) (*Result, error) { return c.Of(f, o) }
}

// A job that cannot be is refused at the stage where that shows, with its place; a
// job made in code has none.
func TestRefusals(t *testing.T) {
	for name, c := range map[string]struct {
		sets  []string
		stage Stage
		path  string
	}{
		"value":    {[]string{"wheel.diameter=5mm"}, Reading, "wheel.diameter"},
		"word":     {[]string{"mold.split=clamm"}, Reading, "mold.split"},
		"geometry": {[]string{"mold.size=60mm"}, Layout, "mold.size"},
		"pour":     {[]string{"pour.pot_life=5min", "pour.start=290s", "pour.stir=60s", "pour.settle=60s"}, Pouring, "mold.sprue.gate"},
	} {
		t.Run(name, func(t *testing.T) {
			o := RowOptions
			j, err := o.Read(wren(t), settings(t, c.sets...))
			if err == nil {
				_, err = Run(j, o)
			}
			var r *Refused
			if !errors.As(err, &r) || r.Stage != c.stage {
				t.Fatalf("refused as %v at stage %v", err, r)
			}
			if i := slices.IndexFunc(r.Faults, func(f params.Fault) bool { return f.Path == c.path && f.File != "" }); i < 0 {
				t.Errorf("no fault of %s with its place in\n%v", c.path, err)
			}
		})
	}
	bad := moldtest.Example(t, "wren", "mold.size=60mm")
	var r *Refused
	if _, err := Run(bad, RowOptions); !errors.As(err, &r) || r.Faults[0].File != "" {
		t.Errorf("a job made in code is refused as %v", err)
	}
}

// Warnings come before the error of a later stage, each stage's on their own.
func TestWarningsBeforeErrors(t *testing.T) {
	var got []string
	o := RowOptions
	o.Warn = func(f params.Faults) { got = append(got, f[0].Path) }
	j, err := o.Read(wren(t), settings(t, "mold.vents.count=0", "pour.pot_life=5min", "pour.start=290s", "pour.stir=60s", "pour.settle=60s"))
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(got, "mold.vents.count") {
		t.Errorf("before layout, warned of %v", got)
	}
	if _, err := Run(j, o); err == nil {
		t.Error("what gels in the sprue is poured")
	}
}

// Every analysis of a study is what its package says of the same mold, and one that
// was made is studied as one that was checked.
func TestStudyIsItsParts(t *testing.T) {
	j := moldtest.Example(t, "wren")
	o := Options{Pour: pour.Options{Wheels: 3, Molds: 1}, Flash: flash.Options{Draws: 50, Seed: 7}}
	r, err := Run(j, o)
	if err != nil {
		t.Fatal(err)
	}
	m, exact := moldtest.Checked(t, j)
	e, err := flash.Analyze(m, exact.Faces, o.Flash)
	if err != nil {
		t.Fatal(err)
	}
	p, err := pour.New(m, exact.Volumes, e.Lost.P90, o.Pour)
	if err != nil {
		t.Fatal(err)
	}
	if r.Flash.Lost != e.Lost || r.Pour.Mix.Need != p.Mix.Need || r.Pour.Weights != p.Weights || r.Pour.Options.Wheels != 3 {
		t.Errorf("lost %v, mixed %v; alone %v, %v", r.Flash.Lost, r.Pour.Mix.Need, e.Lost, p.Mix.Need)
	}
	made, err := m.Make(mold.MakeOptions{Tolerance: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	of, err := Lay(j, o)
	if err != nil {
		t.Fatal(err)
	}
	if err := of.Complete(Exact(made), o); err != nil {
		t.Fatal(err)
	}
	if a, b := of.Figures(), r.Figures(); !reflect.DeepEqual(a, b) {
		t.Errorf("made: %+v\nchecked: %+v", a, b)
	}
}

// What is weighed is A and B, no less than is mixed and no more than by the scale's
// steps; rubber, channels and flash are poured; the block is its outline.
func TestFigures(t *testing.T) {
	j := moldtest.Example(t, "wren", "pour.blend.with=80", "pour.blend.wanted=70", "pour.kit.mass=100g", "pour.kit.price=20")
	r, err := Run(j, RowOptions)
	if err != nil {
		t.Fatal(err)
	}
	f := r.Figures()
	if ab := f.A + f.B; ab < f.Mixed || ab > f.Mixed+8*j.Pour.Scale.Resolution*float64(f.Batches) {
		t.Errorf("A %v and B %v weigh more or less than the mix of %v g", f.A, f.B, f.Mixed)
	}
	if f.Poured >= f.Mixed || f.Poured <= f.Rubber/1000*j.Pour.Density {
		t.Errorf("of %v g mixed %v are poured, rubber %v mm³", f.Mixed, f.Poured, f.Rubber)
	}
	if f.Pieces != 4 || f.Segments != 2 || f.Split != params.SplitFour {
		t.Errorf("%d pieces, %d around, %s", f.Pieces, f.Segments, f.Split)
	}
	if f.Kits != 2 || !f.Priced || math.Abs(f.ByKits-40) > 1e-9 { // one of each hardness
		t.Errorf("%d kits, %v by kits", f.Kits, f.ByKits)
	}
	seam := 0.0
	for _, l := range r.Flash.Lines {
		seam += l.Seam
		if l.Mass > f.Worst.Mass || l.Drips > f.Drips || l.Opening > f.Opening {
			t.Errorf("%s is worse than %s", l.Name, f.Worst.Name)
		}
	}
	if f.Seam != seam || f.Lines != len(r.Flash.Lines) {
		t.Errorf("seam %v of %d lines", f.Seam, f.Lines)
	}
	if !f.Printed || f.PrintMass <= 0 || f.Loads < 1 || f.Release != r.Release.Grade.String() {
		t.Errorf("prints %v g in %d loads, %s", f.PrintMass, f.Loads, f.Release)
	}
}

// No table tells which other splits would fit the bed, so that no row looks for them;
// asked for, they are found.
func TestRowsLookForNoSplits(t *testing.T) {
	j := moldtest.Example(t, "wren", "printing.bed_x=100mm", "printing.bed_y=70mm")
	for _, tries := range []bool{RowOptions.Printing.Tries, true} {
		o := RowOptions
		o.Printing.Tries = tries
		r, err := Run(j, o)
		if err != nil || len(r.Printing.Misfits) == 0 {
			t.Fatal(r, err)
		}
		if f := r.Printing.Misfits[0]; f.Tried != tries || (len(f.Fits) > 0) != tries {
			t.Errorf("asked for %v: %+v", tries, f)
		}
	}
	if RowOptions.Printing.Tries {
		t.Error("rows look for splits")
	}
}

// Rows are what single runs give, on one core and on many, and one that cannot be
// made leaves the others alone.
func TestRowsAreSingleRuns(t *testing.T) {
	cases := sweep(t, "wheel.diameter=38mm,5mm,42mm,46mm", "process.name=resin")
	told := 0
	rows := Rows(cases, of(wren(t)), func(r *Row) {
		if told++; r.Name == "" || (r.Err == nil) != (r.Figures != nil) {
			t.Errorf("told of %+v, which is not over", r)
		}
	})
	if told != len(cases) {
		t.Errorf("told of %d cases, not %d", told, len(cases))
	}
	before := runtime.GOMAXPROCS(1)
	alone := Rows(cases, of(wren(t)), nil)
	runtime.GOMAXPROCS(before)
	if !reflect.DeepEqual(rows, alone) {
		t.Errorf("on one core:\n%+v\non all:\n%+v", alone, rows)
	}
	for i, r := range rows {
		if bad := i == 1; (r.Err != nil) != bad || (r.Figures == nil) != bad {
			t.Errorf("%s: %v, %+v", r.Name, r.Err, r.Figures)
		}
		if r.Err != nil {
			continue
		}
		j := moldtest.Example(t, "wren", r.Sets[0].String(), r.Sets[1].String())
		single, err := Run(j, RowOptions)
		if err != nil {
			t.Fatal(err)
		}
		if f := single.Figures(); !reflect.DeepEqual(f, r.Figures) {
			t.Errorf("%s: alone %+v, as a row %+v", r.Name, f, r.Figures)
		}
	}
	if a, b := rows[0].Figures.Rubber, rows[2].Figures.Rubber; a >= b {
		t.Errorf("a wheel of 38 mm has %v mm³ of rubber, one of 42 mm %v", a, b)
	}
}

func TestSweepOrder(t *testing.T) {
	cases := sweep(t, "wheel.diameter=60..80/10mm", "name=same, always", "mold.split=open top,clam")
	var names []string
	for _, c := range cases {
		names = append(names, c.Name)
		if len(c.Sets) != 3 || c.Sets[1].Value != "same, always" || len(c.Values) != 2 || c.Own {
			t.Errorf("%s sets %v, of it its own %v", c.Name, c.Sets, c.Values)
		}
	}
	want := "wheel.diameter=60mm,mold.split=open-top wheel.diameter=60mm,mold.split=clam " +
		"wheel.diameter=70mm,mold.split=open-top wheel.diameter=70mm,mold.split=clam " +
		"wheel.diameter=80mm,mold.split=open-top wheel.diameter=80mm,mold.split=clam"
	if got := strings.Join(names, " "); got != want {
		t.Errorf("rows are\n%s, want\n%s", got, want)
	}
}

// Every case is a folder of its own, on any system: a name's length is bounded, also
// with the temporary name beside it, case tells none from another, and no dot ends one.
func TestSweepNamesAreFolders(t *testing.T) {
	digits := strings.Repeat("1", 55)
	for name, c := range map[string]struct {
		texts []string
		want  string // the last name
	}{
		"short": {[]string{"wheel.diameter=60mm,62mm", "mold.segments=2,3"}, "wheel.diameter=62mm,mold.segments=3"},
		"many keys": {
			[]string{"pour.kit.mass=1kg,2kg", "mold.balls.clearance=0.1mm,0.2mm", "mold.balls.diameter=5mm,6mm", "hub.lock_holes.diameter=3mm,4mm", "hub.lock_holes.depth=1mm,2mm"},
			"pour.kit.mass=2kg,mold.balls.clearance=0.2mm,mold.balls.diameter=6mm,hub.lock_holes.diameter=4mm,row-32",
		},
		"many digits": {
			[]string{"wheel.width=20." + digits + "1mm,20." + digits + "2mm", "hub.bore=6." + digits + "1mm,6." + digits + "2mm"},
			"wheel.width=20." + digits + "2mm,row-4",
		},
		"dots": {[]string{"pour.parts_a=2.,3."}, "pour.parts_a=3"},
	} {
		cases, seen := sweep(t, c.texts...), map[string]bool{}
		for _, x := range cases {
			if len(x.Name) > 110 || strings.HasSuffix(x.Name, ".") || seen[strings.ToLower(x.Name)] {
				t.Errorf("%s: %q is no name, or not the first", name, x.Name)
			}
			seen[strings.ToLower(x.Name)] = true
		}
		if got := cases[len(cases)-1].Name; got != c.want {
			t.Errorf("%s: got %q, want %q", name, got, c.want)
		}
	}
	l := nameList{}
	for _, c := range []struct{ value, want string }{{"A b", "key=A-b"}, {"A-B", "key=A-B,row-2"}, {"c", "key=c"}} {
		if got := l.next([]params.Setting{{Key: "key", Value: c.value}}); got != c.want {
			t.Errorf("%q is called %q, want %q", c.value, got, c.want)
		}
	}
}

func TestSweepRefuses(t *testing.T) {
	for want, texts := range map[string][]string{
		"more than 1000 rows":         {"wheel.cross.count=1..40/1", "mold.segments=2,3,4", "wheel.diameter=60..69/1mm"},
		"nothing to sweep":            {"wheel.diameter=60mm"},
		"wheel.diameter is set twice": {"wheel.diameter=60mm,70mm", "wheel.diameter=80mm"},
	} {
		if cases, err := Sweep(series(t, texts...)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %d rows, %v; want %q", texts, len(cases), err, want)
		}
	}
	if _, err := Sweep(nil); err == nil {
		t.Error("a sweep over nothing")
	}
	if cases := sweep(t, "wheel.cross.count=1..500/1", "mold.segments=2,3"); len(cases) != MostRows {
		t.Errorf("%d rows", len(cases))
	}
}

// The job's own split is among them once, also one that is not compared by itself.
func TestSplits(t *testing.T) {
	for own, n := range map[string]int{"mold.split=four-piece": 6, "mold.split=clam": 6, "mold.split=cup and lid": 6, "mold.segments=3": 6, "mold.segments=4 mold.split=open top": 7} {
		var sets []string
		if a, b, two := strings.Cut(own, " mold.split"); two {
			sets = []string{a, "mold.split" + b}
		} else {
			sets = []string{own}
		}
		marked, names := 0, map[string]bool{}
		cases := Splits(wren(t), settings(t, sets...))
		for _, c := range cases {
			names[c.Name] = true
			if c.Own {
				marked++
				for _, s := range sets {
					if x := settings(t, s)[0]; !slices.Contains(c.Values, x) {
						t.Errorf("%s is called the job's own split: %v", own, c.Values)
					}
				}
			}
			if !slices.Equal(c.Sets, append(settings(t, sets...), c.Values...)) {
				t.Errorf("%s: %s sets %v", own, c.Name, c.Sets)
			}
		}
		if len(cases) != n || marked != 1 || len(names) != n {
			t.Errorf("%s: %d splits %v, %d marked", own, len(cases), names, marked)
		}
	}
	if cases := Splits(&File{Name: "bad.toml"}, nil); len(cases) != 6 || slices.ContainsFunc(cases, func(c Case) bool { return c.Own }) {
		t.Errorf("a job that cannot be read has the splits %v", cases)
	}
}

// A stated value that forbids a split is named as it stands, with what to change;
// where it is left to its default, it follows the split.
func TestStatedValueForbidsASplit(t *testing.T) {
	clam := func(sets ...string) Row {
		f := wren(t)
		cases := slices.DeleteFunc(Splits(f, settings(t, sets...)), func(c Case) bool { return c.Name != params.SplitClam })
		return Rows(cases, of(f), nil)[0]
	}
	if r := clam(); r.Err != nil || r.Figures.Pieces != 2 {
		t.Errorf("by default: %v", r.Err)
	}
	r := clam("hub.length=5/8 in")
	var refused *Refused
	if !errors.As(r.Err, &refused) {
		t.Fatalf("a hub that does not stand out: %v", r.Err)
	}
	f := refused.Faults[0]
	if f.Path != "hub.length" || !strings.Contains(f.Value, "5/8 in") || f.Allowed == "" || !slices.Contains(f.With, "mold.split") {
		t.Errorf("refused as %v", f)
	}
}

// A file of thousands of faults is refused for the first fifty, in every row of a table,
// and says how many more there are; fifty are told one by one.
func TestMostFaults(t *testing.T) {
	for n, want := range map[int]string{7000: "unknown.toml: and 6950 more: mend those above first", MostFaults: "unknown.toml:50:1: key_50 = 1: unknown key", 3: "unknown.toml:3:1: key_3 = 1: unknown key"} {
		var text strings.Builder
		for i := range n {
			fmt.Fprintf(&text, "key_%d = 1\n", i+1)
		}
		// With what must be stated, so that nothing else is at fault.
		f := &File{Name: "unknown.toml", Bytes: []byte(text.String() + "wheel.diameter = \"90 mm\"\nwheel.width = \"30 mm\"\nhub.bore = \"8 mm\"\n")}
		for _, r := range Rows(sweep(t, "mold.vents.count=2,3"), of(f), nil) {
			var refused *Refused
			if !errors.As(r.Err, &refused) {
				t.Fatalf("%d faults: %v", n, r.Err)
			}
			told := refused.Faults
			if len(told) != min(n, MostFaults+1) || cap(told) > 3*MostFaults || told[len(told)-1].Error() != want || told[0].Path != "key_1" {
				t.Errorf("%d faults are told by %d, the last %q", n, len(told), told[len(told)-1].Error())
			}
		}
	}
}

// Rows at once, against one after the other as each uses two cores for itself.
func BenchmarkRows(b *testing.B) {
	f, cases := wren(b), sweep(b, "wheel.diameter=36..50/2mm")
	b.Run("at once", func(b *testing.B) {
		for b.Loop() {
			Rows(cases, of(f), nil)
		}
	})
	b.Run("in sequence", func(b *testing.B) {
		for b.Loop() {
			for i := range cases {
				Rows(cases[i:i+1], of(f), nil)
			}
		}
	})
}
