package flash

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// A change does what it promises: a job that says so, laid out and read from
// scratch, has the mass and the grade that were foretold.
func TestChangesKeepTheirPromise(t *testing.T) {
	o := Options{Draws: 60, Seed: 9, Tries: true}
	jobs := [][]string{
		{"process.name=filament"},
		// Nothing at the bench helps a mold whose faces are lapped, clean and sealed.
		{"process.name=filament", "mold.mating.feeler_base=0.9mm", "mold.bolts.torque=0N*m", "mold.side_clamp.kind=none", "mold.seals.base=cord", "mold.mating.dirt=0mm"},
	}
	if testing.Short() {
		jobs = jobs[1:]
	}
	for _, sets := range jobs {
		s := surveyOf(t, moldtest.Example(t, "kestrel", sets...))
		e, err := Analyze(s.mold, s.faces, o)
		if err != nil {
			t.Fatal(err)
		}
		kept := 0
		for i, l := range e.Lines {
			for _, x := range l.Tried {
				if len(x.Sets) == 0 || i > 0 && kept > 8 {
					continue
				}
				again := surveyOf(t, moldtest.Example(t, "kestrel", append(sets[:len(sets):len(sets)], x.Sets...)...))
				f, err := Analyze(again.mold, again.faces, Options{Draws: o.Draws, Seed: o.Seed})
				if err != nil {
					t.Fatal(err)
				}
				m := f.Lines[i].Flash.P50 + f.Lines[i].Leak.P50
				if math.Abs(m-x.Mass) > 0.1*x.Mass+1e-4 {
					t.Errorf("%s: %s (%s) was to leave %g g, leaves %g g", l.Name, x.What, x.Sets, x.Mass, m)
				}
				kept++
			}
		}
		if kept == 0 {
			t.Error("nothing was tried")
		}
	}
}

// Changes come in the order of the bench, and the one proposed is the first that
// lowers the grade.
func TestTheFirstChangeThatHelpsIsProposed(t *testing.T) {
	s := surveyOf(t, moldtest.Example(t, "albatross", "process.name=filament"))
	e, err := Analyze(s.mold, s.faces, Options{Draws: 60, Seed: 9, Tries: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range e.Lines {
		var first *Change
		for i := range l.Tried {
			if x := &l.Tried[i]; x.Grade < l.Grade && x.Mass <= 0.7*l.Mass && first == nil {
				first = x
			}
		}
		switch {
		case (first == nil) != (l.Change == nil):
			t.Errorf("%s: proposes %+v of %+v", l.Name, l.Change, l.Tried)
		case l.Best != nil && l.Best.Grade >= l.Change.Grade:
			t.Errorf("%s: %+v is no better than %+v", l.Name, l.Best, l.Change)
		case first != nil && !reflect.DeepEqual(first, l.Change):
			t.Errorf("%s: proposes %+v before %+v", l.Name, *l.Change, *first)
		}
	}
	if c := e.Lines[0].Tried; len(c) < 4 || c[0].Sets[0] != "mold.mating.dirt=0mm" || !strings.HasPrefix(c[1].What, "lap all mating faces of the shells (ends") {
		t.Errorf("tried in the order %+v", c)
	}
}

// Grades by mass and share, at their limits.
func TestGrades(t *testing.T) {
	for _, c := range []struct {
		mass, poured float64
		want         Grade
	}{
		{0, 1000, Tight}, {0.0199, 1000, Tight}, {0.02, 1000, Feather}, {0.3, 1000, Fringe}, {3, 1000, Curtain}, {100, 100000, Flood},
		{0.01, 5, Feather}, {0.01, 0.5, Fringe}, {0.01, 0.2, Curtain}, {0.01, 0.09, Flood},
	} {
		if got := gradeOf(c.mass, c.poured); got != c.want {
			t.Errorf("%g g of %g g: %s, want %s", c.mass, c.poured, got, c.want)
		}
	}
	for g := Tight; g <= Flood; g++ {
		if g.String() == "" || g.Meaning() == "" {
			t.Errorf("grade %d has no words", int(g))
		}
	}
}

// What a job says of itself fits what params would accept.
func TestSettingsAreReadable(t *testing.T) {
	for key, kind := range map[string]params.Kind{"mold.bolts.torque": params.Torque, "process.flatness": params.Length} {
		if _, err := params.ParseSetting(set(key, kind, 1.25)); err != nil {
			t.Error(err)
		}
	}
}
