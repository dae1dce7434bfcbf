package machining_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/machining"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// piece is one of a plan by its name.
func piece(t *testing.T, p *machining.Plan, name string) *machining.Piece {
	t.Helper()
	for i := range p.Pieces {
		if p.Pieces[i].Name == name {
			return &p.Pieces[i]
		}
	}
	t.Fatalf("no piece %q", name)
	return nil
}

// changes are all that is proposed for a piece.
func changes(x *machining.Piece) (out []machining.Change) {
	for _, h := range x.Hidden {
		out = append(out, h.Change)
	}
	for _, h := range x.Tight {
		out = append(out, h.Change)
	}
	for _, h := range x.Deep {
		out = append(out, h.Change)
	}
	for _, h := range x.Thin {
		out = append(out, h.Change)
	}
	for _, h := range x.Corners {
		out = append(out, h.Change)
	}
	return out
}

// has tells whether a job has what a key sizes.
func has(j *params.Job, key string) bool {
	w, h := &j.Wheel, &j.Hub
	switch {
	case strings.HasPrefix(key, "wheel.groove"):
		return len(w.Grooves) > 0
	case strings.HasPrefix(key, "wheel.cross"):
		return w.Cross.Count > 0
	case key == "wheel.edge_size":
		return w.EdgeSize > 0
	case strings.HasPrefix(key, "hub.groove"):
		return len(h.Grooves) > 0
	case strings.HasPrefix(key, "hub.bearing_back"):
		return h.BearingBack.Diameter > 0
	case strings.HasPrefix(key, "hub.bearing_front"):
		return h.BearingFront.Diameter > 0
	case strings.HasPrefix(key, "hub.seat"):
		return h.Seat.Diameter > 0
	case strings.HasPrefix(key, "mold.jacks"):
		return j.Mold.Jacks.Size != "none"
	case strings.HasPrefix(key, "mold.side_clamp.grip"):
		return j.Mold.SideClamp.Grip > 0
	}
	return true
}

// A plain milled wheel of whatever size raises no warning of the shop's; what is listed is
// the blade of its round edge and, on shells, the deep seats of the bolts across.
func TestPlainWheelRaisesNoWarning(t *testing.T) {
	for _, w := range []moldtest.Wheel{{Diameter: 60, Width: 20, Bore: 6}, {Diameter: 110, Width: 40, Bore: 12}, {Diameter: 200, Width: 60, Bore: 20}} {
		w.Process = "milled"
		p := judge(t, w.Job(t))
		if len(p.Warnings) > 0 {
			t.Errorf("%s: %v", w, p.Warnings)
		}
		for _, x := range p.Pieces {
			asks := slices.ContainsFunc(x.Corners, func(c machining.Corner) bool { return c.Sort == machining.Upright || c.Sort == machining.Sloped })
			odd := slices.ContainsFunc(x.Thin, func(c machining.Thin) bool { return c.Length == 0 || x.Kind != mold.Shell }) ||
				slices.ContainsFunc(x.Deep, func(c machining.Deep) bool { return c.Sort != machining.Counterbore || x.Kind != mold.Shell })
			if asks || odd || len(x.Hidden)+len(x.Tight) > 0 {
				t.Errorf("%s: %s: %+v", w, x.Name, x)
			}
		}
	}
}

// What is proposed can be done: no value of something that the job has none of, and no
// erosion where a lathe does.
func TestRemediesAreTheJobs(t *testing.T) {
	jobs := []*params.Job{moldtest.Example(t, "albatross"), moldtest.Example(t, "kestrel"), moldtest.Example(t, "wren", "process.name=milled"),
		moldtest.Wheel{Diameter: 34, Width: 10, Bore: 3, Process: "milled"}.Job(t, "mold.split=open top"),
		moldtest.Wheel{Diameter: 110, Width: 40, Bore: 12, Process: "lapped filament"}.Job(t, "hub.material=nylon")}
	for _, s := range moldtest.Splits {
		jobs = append(jobs, large.Job(t, append([]string{"machining.shells_from=inside", "machining.plates_from=inside", "process.min_wall=4mm"}, s.Sets...)...))
	}
	for _, j := range jobs {
		p := judge(t, j)
		for i := range p.Pieces {
			for _, c := range changes(&p.Pieces[i]) {
				for _, k := range append([]string{c.Key}, c.With...) {
					if !has(j, k) {
						t.Errorf("%s: %s: the job has no %s: %+v", j.Name, p.Pieces[i].Name, k, c)
					}
				}
				if strings.Contains(c.Hint, "erosion") {
					t.Errorf("%s: %s: %s", j.Name, p.Pieces[i].Name, c.Hint)
				}
			}
		}
	}
}

// The edge of a chamfer is obtuse and asks nothing. Roots of ribs are sharp: where a bar
// gets in from an end, shells are bored together; into a clam it does not.
func TestRootsOfRibs(t *testing.T) {
	for _, x := range judge(t, large.Job(t, "wheel.edge=chamfer")).Pieces {
		for _, c := range x.Corners {
			if c.Sort == machining.Sloped {
				t.Errorf("chamfer: %s: %+v", x.Name, c)
			}
		}
		if x.Kind == mold.Shell && !slices.ContainsFunc(x.Corners, func(c machining.Corner) bool { return c.Sort == machining.Obtuse && c.Around && c.Change.Hint == "" }) {
			t.Errorf("chamfer: %s: no obtuse edge among %+v", x.Name, x.Corners)
		}
	}
	const together = "bore or turn it with the shells clamped together, or cut it with a T-slot cutter; "
	for _, c := range []struct {
		split, role, want string
	}{{"four-piece", mold.RoleTread, together}, {"clam", mold.RoleLand, "cut it with a T-slot cutter; "}} {
		j := large.Job(t, "mold.split="+c.split)
		j.Wheel.Grooves = []params.Groove{{Shape: "rectangular", Position: 20, Width: 6, Depth: 5}}
		found := 0
		for _, x := range judge(t, j).Pieces {
			for _, k := range x.Corners {
				if x.Kind == mold.Shell && k.Sort == machining.Sloped && slices.Equal(k.Roles, []string{c.role}) {
					if found++; !k.Around || !strings.HasPrefix(k.Change.Hint, c.want) {
						t.Errorf("%s: %s: %+v, want %q", c.split, x.Name, k, c.want)
					}
				}
			}
		}
		if found != 2 {
			t.Errorf("%s: %d entries of sharp edges of the %s, want one in each shell", c.split, found, c.role)
		}
	}
}

// Beside a wall too high for every cutter the side is named that it is cut from.
func TestHighWallsFromAnotherSide(t *testing.T) {
	found := false
	for _, x := range judge(t, large.Job(t, "machining.shells_from=inside")).Pieces {
		for _, d := range x.Deep {
			if d.Sort == machining.Wall && slices.Equal(d.Roles, []string{mold.RoleParting}) {
				found = true
				if c := d.Change; c.Key != "machining.shells_from" || c.Allowed != `"inside and ends"` || !strings.HasPrefix(c.Hint, "or a cutter that reaches ") {
					t.Errorf("%s: %+v", x.Name, d)
				}
			}
		}
	}
	if !found {
		t.Error("no end of a shell is a wall too high from its inside")
	}
}

// The strap of an open top and a pry slot keep what a cutter leaves on their outside.
func TestOutsideMayStayRound(t *testing.T) {
	x := piece(t, judge(t, large.Job(t, "mold.split=open top")), "strap")
	found := false
	for _, c := range x.Corners {
		found = found || c.Sort == machining.Outline && c.Count == 4
		if c.Sort == machining.Upright || c.Sort == machining.Outline && c.Change.Hint != "" {
			t.Errorf("%+v", c)
		}
	}
	if !found {
		t.Errorf("no edges where the arms leave the middle: %+v", x.Corners)
	}
}

// Behind round edges a shop with one flat cutter cannot mill the cavity: it is bored, or
// asks for a ball end of any size.
func TestCavityWithoutBallEnds(t *testing.T) {
	j := large.Job(t, "wheel.edge=round")
	j.Machining.Cutters = []params.Cutter{{Diameter: 10, Reach: 70}}
	x := piece(t, judge(t, j), "shell-a")
	i := slices.IndexFunc(x.Tight, func(c machining.Concave) bool { return c.Radius > 90 })
	if want := "bore or turn it with the shells clamped together, or a ball end"; i < 0 || x.Tight[i].Change.Hint != want {
		t.Errorf("%+v, want %q", x.Tight, want)
	}
	if i := slices.IndexFunc(x.Tight, func(c machining.Concave) bool { return c.Radius < 4 }); i < 0 || x.Tight[i].Count != 2 || !strings.HasSuffix(x.Tight[i].Change.Hint, "a ball end of at most 6 mm") {
		t.Errorf("%+v, want both round edges in one", x.Tight)
	}
}

// Seats of bolts across that the end mill does not get down to are listed with what would
// do: a longer grip while there are screws for it, which is then quiet, else another clamp.
func TestSeatsOfBolts(t *testing.T) {
	small := moldtest.Wheel{Diameter: 60, Width: 20, Bore: 6, Process: "milled"}
	seats := func(p *machining.Plan) (out []machining.Deep) {
		for _, x := range p.Pieces {
			for _, d := range x.Deep {
				if d.Sort == machining.Counterbore {
					out = append(out, d)
				}
			}
		}
		return out
	}
	got := seats(judge(t, small.Job(t)))
	if len(got) != 2 || got[0].Count != 2 || got[0].Reach != 35 || got[0].Depth < 48 || got[0].Change.Key != "mold.side_clamp.grip" {
		t.Fatalf("%+v, want two seats about 49 mm deep in each shell, reached 35 mm", got)
	}
	would := strings.ReplaceAll(strings.TrimPrefix(got[0].Change.Allowed, "at least "), " ", "")
	if again := seats(judge(t, small.Job(t, "mold.side_clamp.grip="+would))); len(again) > 0 {
		t.Errorf("grip of %s: %+v", would, again)
	}
	if got := seats(judge(t, large.Job(t))); len(got) != 2 || got[0].Change.Key != "mold.side_clamp.kind" || got[0].Change.Allowed != `"strap"` {
		t.Errorf("%+v, want another clamp", got)
	}
	if got := seats(judge(t, large.Job(t, "mold.side_clamp.kind=lugs"))); len(got) > 0 {
		t.Errorf("lugs: %+v", got)
	}
}

// The clearance of a jack screw is opened from outside, not made a larger screw's.
func TestJackClearance(t *testing.T) {
	x := piece(t, judge(t, moldtest.Example(t, "albatross")), "shell-a")
	i := slices.IndexFunc(x.Deep, func(d machining.Deep) bool { return slices.Equal(d.Roles, []string{mold.RoleJack}) })
	if i < 0 {
		t.Fatal("no jack hole is deep")
	}
	d := &x.Deep[i]
	if d.Sort != machining.Hole || d.Change.Key != "" || !strings.HasPrefix(d.Change.Hint, "open it to 11 mm from the outside, 84 mm deep,") {
		t.Errorf("%+v, want it opened by 2 mm until 90 mm of %.1f are left", d, d.Depth)
	}
	if n := len(x.Deep); n != 2 {
		t.Errorf("%d deep places, want the seats and the jack's clearance: %+v", n, x.Deep)
	}
}

// Three shells in an octagon are set up for each of its sides: a square takes as many
// clampings fewer as is said. On an indexing mill, and of two shells, it makes no odds.
func TestSimplerOutline(t *testing.T) {
	total := func(p *machining.Plan) (n int) {
		for _, x := range p.Pieces {
			n += len(x.SetUps)
		}
		return n
	}
	for _, shells := range []string{"3", "4"} {
		sets := []string{"machining.mill=plain", "mold.segments=" + shells}
		p := judge(t, large.Job(t, sets...))
		q := judge(t, large.Job(t, append(sets, "mold.outline=square")...))
		want := fmt.Sprintf("all pieces then take %d set-ups instead of %d", total(q), total(p))
		if c := p.Simpler; c == nil || c.Key != "mold.outline" || c.Allowed != `"square"` || c.Hint != want || total(q) >= total(p) {
			t.Errorf("%s shells: %+v, want %q", shells, p.Simpler, want)
		}
		if q.Simpler != nil {
			t.Errorf("%s shells in a square: %+v", shells, q.Simpler)
		}
	}
	for _, sets := range [][]string{{"machining.mill=plain"}, {"mold.segments=3"}} {
		if p := judge(t, large.Job(t, sets...)); p.Simpler != nil {
			t.Errorf("%v: %+v", sets, p.Simpler)
		}
	}
}

// Clampings are told in a few words, however many directions they take.
func TestNamesOfClampings(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"kestrel", "6 holes beside the axis from the upper end and 8 radial holes, indexed by 45 deg"},
		{"albatross", "6 holes beside the axis from the upper end"},
	} {
		u := piece(t, judge(t, moldtest.Example(t, c.name)), "hub").SetUps
		if got := u[len(u)-1]; got.Name != c.want || c.name == "kestrel" && len(got.From) != 9 {
			t.Errorf("%s: %q from %d directions, want %q", c.name, got.Name, len(got.From), c.want)
		}
	}
	got := piece(t, judge(t, moldtest.Wheel{Diameter: 110, Width: 40, Bore: 12, Process: "milled"}.Job(t, "mold.segments=3")), "shell-b").SetUps
	want := []string{"from the lower end, the upper end", "from the parting face at 60 deg, the outside at 135 deg, -x, -135 deg and -y"}
	if len(got) != 2 || got[0].Name != want[0] || got[1].Name != want[1] {
		t.Errorf("%+v, want %q", got, want)
	}
}
