package report

import (
	"encoding/json"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/release"
	"wheelmold/mold/report/reporttest"
)

// forced reports what holds and parts the pieces of a milled wheel.
func forced(t *testing.T, diameter float64, sets ...string) (*Opening, *release.Opening) {
	t.Helper()
	m, err := mold.New(moldtest.Wheel{Diameter: diameter, Width: 60, Bore: 20, Process: "milled"}.Job(t, sets...))
	if err != nil {
		t.Fatal(err)
	}
	v, err := release.Of(m)
	if err != nil {
		t.Fatal(err)
	}
	o := release.Forces(m, v)
	return OpeningOf(o), o
}

// The text tells the order, that suction is a bound, and each piece in its turn.
func TestForcesAreTold(t *testing.T) {
	r, o := forced(t, 280)
	said := strings.Join(strings.Fields(inText(t, r.text)), " ")
	last := 0
	for i := range o.Pieces {
		want := mold.Title(o.Pieces[i].Name) + " up to " + release.Newtons(o.Pieces[i].Holds())
		at := strings.Index(said, want)
		if at < last {
			t.Errorf("%q at %d, after %d", want, at, last)
		}
		last = max(last, at)
	}
	if !strings.Contains(said, "bound") || !strings.Contains(said, "assumed") || last == 0 {
		t.Error(said)
	}
}

// Every figure is the number in the JSON that its key names, with a method to it, and is
// of the piece that holds hardest.
func TestOpeningFiguresAreInTheJSON(t *testing.T) {
	for _, sets := range [][]string{nil, {"mold.jacks.size=none"}, {"mold.split=cup and lid"}, {"mold.split=clam"}} {
		r, o := forced(t, 280, sets...)
		all := r.figures()
		if len(all) < 2 {
			t.Fatalf("%v: %d figures", sets, len(all))
		}
		raw, err := json.Marshal(map[string]any{"opening": r})
		if err != nil {
			t.Fatal(err)
		}
		var tree any
		if err := json.Unmarshal(raw, &tree); err != nil {
			t.Fatal(err)
		}
		for _, f := range all {
			at, err := reporttest.LookUp(tree, f.Key)
			if err != nil || at != f.Raw || f.Raw <= 0 || len(f.Note) < 40 {
				t.Errorf("%v: %s: %v in the JSON, %v told: %s", sets, f.Key, at, f.Raw, f.Note)
			}
		}
		for i := range o.Pieces {
			if p := &o.Pieces[i]; len(p.Bars) > 0 && p.Holds() > all[0].Raw {
				t.Errorf("%v: %s holds with %v N, told is %v", sets, p.Name, p.Holds(), all[0].Raw)
			}
		}
	}
}

// The card on opening asks for a look where nothing parts a line, and where a hand on a
// bar would crush an edge without feeling it; not where screws part the pieces.
func TestOpeningAsksForALook(t *testing.T) {
	for _, c := range []struct {
		sets []string
		want state
		says string
	}{
		{nil, fine, ""}, {[]string{"mold.jacks.size=none"}, fine, ""}, {[]string{"process.bearing=2 MPa"}, fine, ""},
		{[]string{"mold.jacks.size=none", "process.bearing=2 MPa"}, mind, "; a long bar crushes the slots' edges: use a short lever"},
		{[]string{"mold.jacks.size=none", "mold.pry_slots.width=0 mm"}, mind, "; 4 parting lines are hard to part: see the warnings"},
	} {
		r, made := forced(t, 280, c.sets...)
		o := outcome{State: fine}
		r.judge(&o)
		if o.State != c.want || o.Says != c.says || r.Warnings != len(made.Warnings()) || len(o.Figures) == 0 {
			t.Errorf("%v: %s, %q, %d warnings", c.sets, o.State, o.Says, r.Warnings)
		}
		o.State = act
		if r.judge(&o); o.State != act {
			t.Errorf("%v: act becomes %s", c.sets, o.State)
		}
	}
}

// The reason of an order is told once, without the names that the rows tell.
func TestOrderIsToldOnce(t *testing.T) {
	r, o := forced(t, 280)
	said := strings.Join(strings.Fields(inText(t, r.text)), " ")
	if !strings.Contains(said, "order first what is drawn along the axis") || strings.Contains(said, o.Order) || r.Order != o.Order+": "+o.Why {
		t.Errorf("%s\n%s", r.Order, said)
	}
	if r, _ = forced(t, 280, "mold.split=clam"); strings.Contains(inText(t, r.text), "order ") {
		t.Error(inText(t, r.text))
	}
}

// The bench is told the torque of a screw, or the hand's force, and where to begin.
func TestOrdersForTheBench(t *testing.T) {
	r, o := forced(t, 280)
	if said := strings.Join(r.orders(), " "); !strings.Contains(said, "up to "+torque(o.Pieces[r.hardest()].Jacks.Torque[1])+", never above "+number(o.Pieces[r.hardest()].Jacks.Stop, 1)+" N·m, a quarter") || !strings.Contains(said, "let air in at one edge") {
		t.Error(said)
	}
	r, _ = forced(t, 280, "mold.jacks.size=none")
	if said := strings.Join(r.orders(), " "); !strings.Contains(said, "Press bars with 50 N") || strings.Contains(said, "jack") {
		t.Error(said)
	}
	// Where the screw's share is all that it stands, only where to stop is told.
	r, _ = forced(t, 280, "process.bearing=15 MPa")
	if k := r.Pieces[r.hardest()].Jacks; !strings.Contains(r.orders()[0], "screws: never above "+torque(k.Stop)+", a quarter") || k.turn != k.Stop {
		t.Error(r.orders())
	}
	r, _ = forced(t, 280, "process.bearing=2 MPa", "mold.jacks.size=none")
	if said := r.orders()[0]; said != "Press "+pull(15)+" on 100 mm of bar." {
		t.Error(said)
	}
	r, _ = forced(t, 280, "mold.jacks.size=none", "mold.pry_slots.width=0 mm", "mold.split=cup and lid")
	if said := r.orders(); len(said) != 1 || strings.Contains(said[0], "Press") {
		t.Error(said)
	}
}
