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

// The air that is drawn is the pocket alone: what of the cavity above the level of the
// liquid hangs together with the pocket's top, cell by cell, as upright lines find it.
// The steeper the mold leans, the more pockets there are, also below other rubber.
func TestTrappedAirIsThePocketAboveItsLevel(t *testing.T) {
	for _, tilt := range []string{"6deg", "10deg"} {
		m, plan := planned(t, "kestrel", "pour.tilt="+tilt, "pour.tilt_toward=0deg")
		drawings, err := Trapped(m, plan)
		if err != nil {
			t.Fatal(err)
		}
		if len(plan.Air.Traps) == 0 || len(drawings) != min(trapsDrawn, len(plan.Air.Traps)) {
			t.Fatalf("%d drawings of %d traps", len(drawings), len(plan.Air.Traps))
		}
		for i, d := range drawings {
			got := 0.0
			for _, a := range d.Areas {
				if a.Look == Air {
					got += a.Region.Area()
				}
			}
			want, slack := pocketArea(t, m, plan, &plan.Air.Traps[i], d.View.U)
			if want < .1 || math.Abs(got-want) > slack {
				t.Errorf("%s, %s: %.3f mm² of air, want %.3f ± %.3f", tilt, d.ID, got, want, slack)
			}
		}
	}
}

// pocketArea floods the cavity above a trap's level in the upright plane along u, from
// the cells about its top, and returns the area and by how much cells on its border
// may be off.
func pocketArea(t *testing.T, m *mold.Mold, plan *pour.Plan, trap *pour.Trap, u mesh.Vec) (area, slack float64) {
	t.Helper()
	cavity, err := plumb.New(m.Rubber)
	if err != nil {
		t.Fatal(err)
	}
	const h = 0.02
	line, up := cavity.Line(), plan.Air.Tilt.Up()
	type cell struct{ i, k int }
	air := map[cell]bool{}
	for i := range int(m.Tread.R/h) + 2 {
		p := u.Scale((float64(i) + .5) * h)
		level := (trap.Saddle - up.Dot(p)) / up[2]
		for _, run := range line.Runs(p[0], p[1]) {
			for k := int(math.Ceil(max(run.Lo, level)/h - .5)); (float64(k)+.5)*h < run.Hi; k++ {
				air[cell{i, k}] = true
			}
		}
	}
	top := cell{int(trap.Top.Dot(u) / h), int(trap.Top[2] / h)}
	reach := int(plan.Air.Cell/h) + 1
	var queue []cell
	seen := map[cell]bool{}
	for i := -reach; i <= reach; i++ {
		for k := -reach; k <= reach; k++ {
			if c := (cell{top.i + i, top.k + k}); air[c] {
				seen[c] = true
				queue = append(queue, c)
			}
		}
	}
	border := 0
	for n := 0; n < len(queue); n++ {
		c := queue[n]
		for _, d := range []cell{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			next := cell{c.i + d.i, c.k + d.k}
			switch {
			case !air[next]:
				border++
			case !seen[next]:
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
	return float64(len(queue)) * h * h, float64(border) * h * h / 2
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
