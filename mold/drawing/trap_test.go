package drawing

import (
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/plumb"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/pour"
)

func planned(t *testing.T, name string, sets ...string) (*mold.Mold, *pour.Plan) {
	t.Helper()
	m, c := moldtest.Checked(t, moldtest.Example(t, name, sets...))
	plan, err := pour.New(m, c.Volumes, 1, pour.Options{Wheels: 1, Molds: 1})
	if err != nil {
		t.Fatal(err)
	}
	return m, plan
}

// The air that is drawn is what upright lines find of the cavity above the level of
// the liquid, on the side of the pocket's top: another reading of the same solid.
func TestTrappedAirIsTheCavityAboveItsLevel(t *testing.T) {
	m, plan := planned(t, "kestrel", "pour.tilt=6deg", "pour.tilt_toward=0deg")
	drawings, err := Trapped(m, plan)
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Air.Traps) == 0 || len(drawings) != min(trapsDrawn, len(plan.Air.Traps)) {
		t.Fatalf("%d drawings of %d traps", len(drawings), len(plan.Air.Traps))
	}
	cavity, err := plumb.New(m.Rubber)
	if err != nil {
		t.Fatal(err)
	}
	line, up := cavity.Line(), plan.Air.Tilt.Up()
	for i, d := range drawings {
		trap := &plan.Air.Traps[i]
		const steps = 20000
		want, du := 0.0, m.Tread.R/steps
		for k := range steps {
			u := (float64(k) + .5) * du
			p := d.View.U.Scale(u)
			level := (trap.Saddle - up.Dot(p)) / up[2]
			for _, run := range line.Runs(p[0], p[1]) {
				want += max(0, run.Hi-max(run.Lo, level)) * du
			}
		}
		got := 0.0
		for _, a := range d.Areas {
			if a.Look == Air {
				got += a.Region.Area()
			}
		}
		if want < 1 || math.Abs(got-want) > 2e-3*want {
			t.Errorf("%s: %.4f mm² of air, want %.4f", d.ID, got, want)
		}
	}
}

// A trap is marked where it is, and so is every vent that would free it, with its place.
func TestTrapsAreMarkedWithWhatFreesThem(t *testing.T) {
	m, plan := planned(t, "kestrel", "pour.tilt=6deg", "pour.tilt_toward=0deg")
	drawings, err := Trapped(m, plan)
	if err != nil {
		t.Fatal(err)
	}
	for i, d := range drawings {
		trap := &plan.Air.Traps[i]
		if n := 1 + len(trap.Drill.Vents); len(d.Marks) != n || n < 2 {
			t.Fatalf("%d marks, want %d", len(d.Marks), n)
		}
		at := func(p mesh.Vec) Point { return Point{p.Dot(d.View.U), p[2]} }
		if p := at(trap.Top); d.Marks[0].Kind != Trap || math.Hypot(p[0]-d.Marks[0].At[0], p[1]-d.Marks[0].At[1]) > 1e-9 {
			t.Errorf("%v, want a trap at %v", d.Marks[0], p)
		}
		if lo, hi := d.Window[0], d.Window[1]; !(lo[0] < d.Marks[0].At[0] && d.Marks[0].At[0] < hi[0] && lo[1] < d.Marks[0].At[1] && d.Marks[0].At[1] < hi[1]) {
			t.Errorf("the trap at %v is not in the window %v", d.Marks[0].At, d.Window)
		}
		for k, v := range trap.Drill.Vents {
			if p := at(v.At); d.Marks[k+1].Kind != Drill || math.Hypot(p[0]-d.Marks[k+1].At[0], p[1]-d.Marks[k+1].At[1]) > 1e-9 {
				t.Errorf("%v, want a vent at %v", d.Marks[k+1], p)
			}
		}
	}
}

// The last drawing tells of the pockets that have none. A note says what is on its
// right, and not that +x is.
func TestPocketsWithoutDrawingAreTold(t *testing.T) {
	m, plan := planned(t, "kestrel", "pour.tilt=6deg", "pour.tilt_toward=30deg")
	trap := plan.Air.Traps[0]
	for n, want := range map[int]string{1: "", trapsDrawn: "", trapsDrawn + 1: "1 smaller pocket has no drawing.", trapsDrawn + 4: "4 smaller pockets have no drawing."} {
		plan.Air.Traps = slices.Repeat([]pour.Trap{trap}, n)
		drawings, err := Trapped(m, plan)
		if err != nil {
			t.Fatal(err)
		}
		if len(drawings) != min(n, trapsDrawn) {
			t.Fatalf("%d drawings of %d traps", len(drawings), n)
		}
		for i, d := range drawings {
			told := ""
			if k := strings.Index(d.Note, " smaller pocket"); k >= 0 {
				told = d.Note[k-1:]
			}
			if last := i == len(drawings)-1; last && told != want || !last && told != "" {
				t.Errorf("drawing %d of %d traps tells %q", i+1, n, told)
			}
			side := math.Atan2(trap.Top[1], trap.Top[0]) * 180 / math.Pi
			if !strings.Contains(d.Note, "pocket; to the right: the side at "+degrees(side)+" from +x.") {
				t.Errorf("on the right is %g° from +x: %s", side, d.Note)
			}
		}
	}
}

// A mold that traps nothing has no such drawing.
func TestNoTrapsNoDrawings(t *testing.T) {
	m, plan := planned(t, "wren")
	if d, err := Trapped(m, plan); err != nil || len(d) != 0 {
		t.Errorf("%d drawings, %v", len(d), err)
	}
}
