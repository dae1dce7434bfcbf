package machining_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/mold/machining"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

func judge(t testing.TB, j *params.Job) *machining.Plan {
	t.Helper()
	m, c := moldtest.Checked(t, j)
	p, err := machining.Judge(m, c.RawFaces, machining.Options{})
	if err != nil {
		t.Fatalf("%s: %v", j.Name, err)
	}
	return p
}

var large = moldtest.Wheels[2]

// made is a mold with its boundaries, to be judged for several shops.
type made struct {
	*mold.Mold
	*mold.Checked
}

func makeIt(t testing.TB, sets ...string) made {
	m, c := moldtest.Checked(t, large.Job(t, sets...))
	return made{m, c}
}

// by judges it for a shop.
func (x made) by(t testing.TB, shop func(*params.Machining)) *machining.Plan {
	t.Helper()
	shop(&x.Job.Machining)
	p, err := machining.Judge(x.Mold, x.RawFaces, machining.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Four pieces of a plain wheel, however they are outlined and clamped, are cut in one or
// two clampings each; no face is hidden, and where the tool stands along an inner edge
// from one side another leaves it sharp.
func TestPlainWheelIsInReach(t *testing.T) {
	for _, sets := range [][]string{
		nil, {"mold.outline=octagon", "wheel.edge=chamfer"}, {"mold.outline=round", "mold.jacks.size=M6"}, {"mold.side_clamp.kind=lugs", "wheel.edge=square"},
		{"mold.side_clamp.kind=strap", "hub.offset=3mm"}, {"mold.segments=3"}, {"mold.segments=4"},
	} {
		p := judge(t, large.Job(t, sets...))
		if len(p.Pieces) < 5 {
			t.Errorf("%v: %d pieces", sets, len(p.Pieces))
		}
		for _, x := range p.Pieces {
			if len(x.Hidden) > 0 {
				t.Errorf("%v: %s: hidden: %+v", sets, x.Name, x.Hidden)
			}
			if n := len(x.SetUps); n < 1 || n > 2 {
				t.Errorf("%v: %s: %d clampings: %v", sets, x.Name, n, x.SetUps)
			}
			for _, c := range x.Corners {
				if c.Sort == machining.Upright {
					t.Errorf("%v: %s: %+v", sets, x.Name, c)
				}
			}
		}
	}
}

// Base and lid of a small square block are turned over once, shells cut from four sides:
// that is one clamping where the mill turns them. So are those of a large block, whose
// outer sides no cutter gets down along: they are there since the blank was squared. A
// strap's groove is cut from every side that it runs along.
func TestFewestClampings(t *testing.T) {
	want := map[string][2]int{"base": {2, 1}, "lid": {2, 1}, "shell-a": {4, 1}, "shell-b": {4, 1}}
	for _, x := range judge(t, large.Job(t)).Pieces {
		if w, ok := want[x.Name]; ok && (x.Plain != w[0] || x.Indexed != w[1]) {
			t.Errorf("%s: %d and %d clampings, want %v: %v", x.Name, x.Plain, x.Indexed, w, x.SetUps)
		}
	}
	for _, x := range judge(t, moldtest.Example(t, "albatross")).Pieces {
		if w, ok := want[x.Name]; ok && (x.Plain != w[0] || x.Indexed != w[1]) {
			t.Errorf("albatross: %s: %d and %d clampings, want %v: %v", x.Name, x.Plain, x.Indexed, w, x.SetUps)
		}
	}
	want = map[string][2]int{"base": {2, 1}, "lid": {2, 1}, "shell-a": {8, 2}, "shell-b": {8, 2}}
	for _, x := range judge(t, moldtest.Example(t, "albatross", "mold.outline=octagon", "mold.side_clamp.kind=strap")).Pieces {
		if w, ok := want[x.Name]; ok && (x.Plain != w[0] || x.Indexed != w[1]) {
			t.Errorf("albatross with a strap: %s: %d and %d clampings, want %v: %v", x.Name, x.Plain, x.Indexed, w, x.SetUps)
		}
	}
}

// The lid of a drafted cup has 0.25 mm of the cone that opens away from it: 9 µm at 2
// degrees, less than a mill holds, so that nothing of it counts as hidden. For a shop that
// holds 1 µm it does.
func TestTinyUndercut(t *testing.T) {
	m := makeIt(t, moldtest.SplitOf(t, "cup and lid, drafted").Sets...)
	for _, c := range []struct {
		tolerance float64
		want      bool
	}{{.02, false}, {.001, true}} {
		m.Job.Process.Tolerance = c.tolerance
		for _, x := range m.by(t, func(*params.Machining) {}).Pieces {
			if x.Name == "lid" && (len(x.Hidden) > 0) != c.want {
				t.Errorf("%g mm of tolerance: %+v", c.tolerance, x.Hidden)
			}
		}
	}
}

// A plain mill needs a clamping for each direction, an indexing one no more than that, and
// the job's own mill has the one or the other.
func TestClampings(t *testing.T) {
	for _, s := range moldtest.Splits {
		m := makeIt(t, s.Sets...)
		for _, mill := range []string{params.MillPlain, params.MillIndexing} {
			for _, x := range m.by(t, func(q *params.Machining) { q.Mill = mill }).Pieces {
				want := map[string]int{params.MillPlain: x.Plain, params.MillIndexing: x.Indexed}[mill]
				if len(x.SetUps) != want || x.Indexed > x.Plain {
					t.Errorf("%s on a mill that is %s: %s: %d clampings, plain %d, indexing %d", s.Name, mill, x.Name, len(x.SetUps), x.Plain, x.Indexed)
				}
				checkClampings(t, s.Name, mill, &x)
			}
		}
	}
}

func checkClampings(t *testing.T, split, mill string, x *machining.Piece) {
	t.Helper()
	for _, u := range x.SetUps {
		if x.By == machining.Milled && mill == params.MillPlain && len(u.From) != 1 {
			t.Errorf("%s: %s: one clamping on a plain mill cuts from %v", split, x.Name, u.From)
		}
		for _, d := range u.From {
			if math.Abs(d.Dir.Norm()-1) > 1e-9 || x.By == machining.Milled && math.Abs(d.Dir.Dot(u.Axis)) > 1e-5 {
				t.Errorf("%s: %s: %v does not lie across %v", split, x.Name, d, u.Axis)
			}
		}
	}
}

// The fewer faces a job has its pieces cut from, the more is hidden; what is hidden for
// that reason names the value that brings it into reach.
func TestFewerDirectionsHideMore(t *testing.T) {
	for _, name := range []string{"three shells", "open top", "clam", "cup and lid"} {
		m := makeIt(t, moldtest.SplitOf(t, name).Sets...)
		last := 0.0
		for _, from := range []string{params.FromAll, params.FromInsideAndEnds, params.FromInside} {
			area := 0.0
			for _, x := range m.by(t, func(q *params.Machining) { q.ShellsFrom = from }).Pieces {
				for _, h := range x.Hidden {
					if x.Kind == mold.Shell {
						area += h.Area
						checkRemedy(t, name+" from "+from, &x, &h, "machining.shells_from")
					}
				}
			}
			if area < last {
				t.Errorf("%s: %s hides %.1f mm², more directions hide %.1f", name, from, area, last)
			}
			last = area
		}
		if last == 0 && name != "cup and lid" {
			t.Errorf("%s: nothing is hidden from the inside", name)
		}
		for _, x := range m.by(t, func(q *params.Machining) { q.PlatesFrom = params.FromInside }).Pieces {
			for _, h := range x.Hidden {
				if x.Kind == mold.Plate {
					checkRemedy(t, name, &x, &h, "machining.plates_from")
				}
			}
		}
	}
}

// One entry of the list tells all faces of a role that one change brings into reach, so
// that a shell cut from the inside alone fills a few lines.
func TestHiddenFacesAreGathered(t *testing.T) {
	for _, x := range judge(t, large.Job(t, "machining.shells_from=inside")).Pieces {
		var told []string
		faces := 0
		for _, h := range x.Hidden {
			key := strings.Join(h.Roles, ",") + " " + h.Change.Allowed
			if slices.Contains(told, key) {
				t.Errorf("%s: told twice: %s", x.Name, key)
			}
			told, faces = append(told, key), faces+h.Count
		}
		if x.Kind == mold.Shell && (len(told) > 6 || faces < 30) {
			t.Errorf("%s: %d faces in %d entries: %v", x.Name, faces, len(told), told)
		}
	}
}

// checkRemedy: more faces to cut from are asked for up to where the tool comes from.
func checkRemedy(t *testing.T, split string, x *machining.Piece, h *machining.Hidden, key string) {
	t.Helper()
	allowed := strconv.Quote(params.FromBoth)
	if x.Kind == mold.Shell {
		allowed = strconv.Quote(params.FromInsideAndEnds)
		for _, d := range h.Reaches {
			if d.Dir[2] == 0 {
				allowed = strconv.Quote(params.FromAll)
			}
		}
	}
	if len(h.Reaches) == 0 || h.Change.Key != key || h.Change.Allowed != allowed {
		t.Errorf("%s: %s: %s: reached from %v, change %+v", split, x.Name, h.Roles, h.Reaches, h.Change)
	}
}

// A base that is cut from the inside alone keeps its outer face, which its squared blank
// has; the recesses for the nuts are hidden, a wall and a floor each. What is hidden is in
// no set-up, which is said.
func TestBaseFromInside(t *testing.T) {
	j := large.Job(t, "machining.plates_from=inside", "mold.bolts.nut=round", "mold.engraving.depth=0mm", "mold.jacks.size=none")
	p := judge(t, j)
	m, c := moldtest.Checked(t, j)
	all, err := holes.Of(m, "base", c.RawFaces["base"])
	if err != nil {
		t.Fatal(err)
	}
	want := 0.0
	for _, h := range all {
		if s := h.Steps; h.Role == mold.RoleBolt {
			r, hole := s[0].D0/2, s[1].D0/2
			want += math.Pi*(r*r-hole*hole) + 2*math.Pi*r*s[0].To
		}
	}
	got := 0.0
	for _, h := range p.Pieces[0].Hidden {
		if got += h.Area; slices.Contains(h.Roles, mold.RoleOuter) {
			t.Errorf("hidden: %+v", h)
		}
	}
	if math.Abs(got/want-1) > 1e-6 {
		t.Errorf("%.3f mm² of the base hidden, want %.3f", got, want)
	}
	for _, c := range []struct {
		plan *machining.Plan
		want bool
	}{{p, true}, {judge(t, large.Job(t)), false}} {
		if got := slices.ContainsFunc(c.plan.Assumed, func(s string) bool { return strings.HasPrefix(s, "Hidden faces are in none of the set-ups") }); got != c.want {
			t.Errorf("that hidden faces cost nothing is said: %v", got)
		}
	}
}

// Grooves around the tread are ribs in the cavity: a cup's lower flanks and the wall below
// them, which are told together, are hidden and no direction reaches them; shells' are not.
func TestGroovesInACup(t *testing.T) {
	w := large.Job(t, "mold.split=cup and lid")
	w.Wheel.Grooves = []params.Groove{{Shape: "rectangular", Position: 20, Width: 6, Depth: 5}}
	w.Wheel.Edge, w.Wheel.EdgeSize = "square", 0
	found := false
	for _, x := range judge(t, w).Pieces {
		for _, h := range x.Hidden {
			if x.Name == "cup" && slices.Contains(h.Roles, mold.RoleTread) && slices.Contains(h.Shapes, "plane") {
				found = true
				m, err := mold.New(w)
				if err != nil {
					t.Fatal(err)
				}
				r := m.Tread.R
				if want := math.Pi*(r*r-(r-5)*(r-5)) + 2*math.Pi*r*(20-6/2); h.Count != 2 || math.Abs(h.Area/want-1) > 1e-6 || len(h.Reaches) != 0 || h.Change.Key != "mold.split" {
					t.Errorf("%+v, want %.3f mm² that nothing reaches", h, want)
				}
			}
		}
	}
	if !found {
		t.Error("no flank of the rib is hidden")
	}
}

// What is said of each example and split holds together: areas within faces, errors
// stated, texts whole, and the same at every run.
func TestFindingsHoldTogether(t *testing.T) {
	jobs := []*params.Job{moldtest.Example(t, "albatross"), moldtest.Example(t, "kestrel"), moldtest.Example(t, "wren")}
	for _, s := range moldtest.Splits[1:] {
		jobs = append(jobs, large.Job(t, append([]string{"wheel.cross.count=7", "wheel.cross.width=5mm", "wheel.cross.depth=4mm", "mold.jacks.size=M6"}, s.Sets...)...))
	}
	for _, j := range jobs {
		m, err := mold.New(j)
		if err != nil {
			continue // grooves that a split forbids
		}
		c, err := m.Check()
		if err != nil {
			t.Fatal(err)
		}
		var texts []string
		for range 2 {
			p, err := machining.Judge(m, c.RawFaces, machining.Options{})
			if err != nil {
				t.Fatal(err)
			}
			text, err := json.Marshal(p)
			if err != nil {
				t.Fatal(err)
			}
			texts = append(texts, string(text))
			check(t, j, p)
		}
		if texts[0] != texts[1] {
			t.Errorf("%s: two runs differ", j.Name)
		}
	}
}

func check(t *testing.T, j *params.Job, p *machining.Plan) {
	t.Helper()
	for _, x := range p.Pieces {
		for _, h := range x.Hidden {
			if h.Area > h.Of*(1+1e-9) || h.Error < 0 || h.Error > h.Of || h.Area+h.Error <= 0 || !inBox(h.At) {
				t.Errorf("%s: %s: %+v", j.Name, x.Name, h)
			}
		}
		for _, c := range x.Corners {
			if c.Length <= 0 || c.Count <= 0 || len(c.Roles) == 0 {
				t.Errorf("%s: %s: %+v", j.Name, x.Name, c)
			}
		}
		for _, c := range x.Thin {
			if (c.Thickness == 0) == (c.Length == 0) {
				t.Errorf("%s: %s: %+v", j.Name, x.Name, c)
			}
		}
	}
	for _, w := range p.Warnings {
		if s := w.Error(); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") || strings.Contains(s, "  ") || w.Cause == "" || w.Hint+w.Allowed == "" {
			t.Errorf("%s: %s", j.Name, s)
		}
		for _, path := range append(slices.Clone(w.With), w.Path) {
			if path != "" && !known(path) {
				t.Errorf("%s: no value %s in a job: %s", j.Name, path, w)
			}
		}
	}
}

func inBox(p mesh.Vec) bool { return p.Norm() < 1000 && p.Norm() > 0 }

// known tells whether a path is one of the table's, its index aside.
func known(path string) bool {
	if i := strings.IndexByte(path, '['); i >= 0 {
		path = path[:i] + path[strings.IndexByte(path, ']')+1:]
	}
	return slices.ContainsFunc(params.Keys(), func(k params.Key) bool { return k.Path == path })
}

// Printed pieces are not judged, a turned hub in a printed mold is; only the pieces that
// are asked for are.
func TestWhatIsJudged(t *testing.T) {
	names := func(p *machining.Plan) (out []string) {
		for _, x := range p.Pieces {
			out = append(out, fmt.Sprintf("%s %s", x.Name, x.By))
		}
		return out
	}
	if got := names(judge(t, moldtest.Wheels[1].Job(t, "hub.material=nylon"))); !slices.Equal(got, []string{"hub turned"}) {
		t.Errorf("printed mold: %v", got)
	}
	p := judge(t, moldtest.Wheels[1].Job(t, "hub.material=printed"))
	if len(p.Pieces) > 0 || len(p.Assumed) > 0 || len(p.Warnings) > 0 {
		t.Errorf("all printed: %+v", p)
	}
	m, c := moldtest.Checked(t, large.Job(t))
	p, err := machining.Judge(m, c.RawFaces, machining.Options{Only: []string{"lid"}})
	if err != nil || !slices.Equal(names(p), []string{"lid milled"}) {
		t.Errorf("only the lid: %v, %v", names(p), err)
	}
	if _, err := machining.Judge(m, nil, machining.Options{}); err == nil {
		t.Error("judged without boundaries")
	}
}

// A narrow groove in the hub asks for another tool, named by its number in the job.
func TestNarrowHubGroove(t *testing.T) {
	j := large.Job(t)
	j.Hub.Grooves = []params.Groove{{Shape: "rectangular", Position: 20, Width: 6, Depth: 3}, {Shape: "rectangular", Position: 40, Width: 1, Depth: 1}}
	p := judge(t, j)
	if !slices.ContainsFunc(p.Warnings, func(f params.Fault) bool {
		return f.Path == "hub.groove[2].width" && f.Allowed == "at least 1.1 mm"
	}) {
		t.Errorf("%v", p.Warnings)
	}
}

// A round edge of the tread below the smallest ball end, by more than such a radius may be
// off, names the edge's size.
func TestSmallEdge(t *testing.T) {
	for _, c := range []struct {
		edge string
		want bool
	}{{"0.75mm", true}, {"0.85mm", false}} {
		p := judge(t, large.Job(t, "wheel.edge_size="+c.edge))
		got := slices.ContainsFunc(p.Warnings, func(f params.Fault) bool { return f.Path == "wheel.edge_size" && f.Allowed == "at least 1 mm" })
		if got != c.want {
			t.Errorf("edge of %s: warned %v", c.edge, got)
		}
	}
}
