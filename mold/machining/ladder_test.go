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

// ladder are plain milled wheels, from the smallest to the largest.
var ladder = []moldtest.Wheel{
	{Diameter: 20, Width: 8, Bore: 3, Process: "milled"}, {Diameter: 30, Width: 12, Bore: 8, Process: "milled"},
	{Diameter: 60, Width: 24, Bore: 8, Process: "milled"}, {Diameter: 90, Width: 30, Bore: 8, Process: "milled"},
	{Diameter: 250, Width: 80, Bore: 20, Process: "milled"}, {Diameter: 500, Width: 150, Bore: 40, Process: "milled"},
}

// listed are the findings with which a machinist would agree, by what they are of.
var listed = []string{
	"radius of tread surface",              // smaller than the ball ends, of a tiny wheel
	"blade of parting face, tread surface", // what a round edge leaves on every parting line at its face
	"sloped corner of hub land",            // a clam's, into which no bar gets
	"counterbore of bolt hole",             // of the side clamp
	"hole of jack hole",                    // through the largest shells
	"wall of tread surface",                // of a cup
	"wall of tread end face",               // of a clam, deep as it is wide
	"wall of ceiling",                      // the same
	"wall of hub land",                     // the same
}

// findings tells what is listed of a piece, by sort and roles.
func findings(x *machining.Piece) (out []string) {
	add := func(what string, roles []string) { out = append(out, what+" of "+strings.Join(roles, ", ")) }
	for _, h := range x.Hidden {
		add("hidden face", h.Roles)
	}
	for _, h := range x.Tight {
		add("radius", h.Roles)
	}
	for _, h := range x.Deep {
		add(string(h.Sort), h.Roles)
	}
	for _, h := range x.Thin {
		if h.Length > 0 {
			add("blade", h.Roles)
		} else {
			add("thin wall", h.Roles)
		}
	}
	for _, h := range x.Corners {
		switch h.Sort {
		case machining.Upright:
			add("upright corner", h.Roles)
		case machining.Sloped:
			add("sloped corner", h.Roles)
		}
	}
	return out
}

// Plain wheels of any size, in any split that has room, raise no warning of the shop's, and
// nothing is listed but what is known.
func TestPlainWheelsOfAllSizes(t *testing.T) {
	found, judged := map[string]bool{}, 0
	for _, w := range ladder {
		for _, s := range moldtest.Splits {
			m, err := mold.New(w.Job(t, s.Sets...))
			if err != nil {
				continue // too small for that many shells
			}
			c, err := m.Check()
			if err != nil {
				t.Fatal(err)
			}
			p, err := machining.Judge(m, c.RawFaces, machining.Options{})
			if err != nil {
				t.Fatal(err)
			}
			judged++
			for _, f := range p.Warnings {
				t.Errorf("%s, %s: %v", w, s.Name, &f)
			}
			for i := range p.Pieces {
				for _, f := range findings(&p.Pieces[i]) {
					if found[f] = true; !slices.Contains(listed, f) {
						t.Errorf("%s, %s: %s: %s", w, s.Name, p.Pieces[i].Name, f)
					}
				}
			}
		}
	}
	if least := len(ladder) * (len(moldtest.Splits) - 1); judged < least {
		t.Errorf("%d molds laid out, want %d at least", judged, least)
	}
	for _, f := range listed {
		if !found[f] {
			t.Errorf("nothing has a %s any more: drop it from the list", f)
		}
	}
}

// What is proposed instead of deep seats, a longer grip or a strap, can be laid out and ends the
// finding.
func TestOtherClamps(t *testing.T) {
	for _, w := range ladder[3:] {
		for _, split := range []string{"four-piece", "clam"} {
			sets := []string{"mold.split=" + split}
			for _, x := range judge(t, w.Job(t, sets...)).Pieces {
				for _, d := range x.Deep {
					if d.Sort == machining.Counterbore && d.Change.Key == "mold.side_clamp.grip" {
						sets = append(sets, "mold.side_clamp.grip="+strings.ReplaceAll(strings.TrimPrefix(d.Change.Allowed, "at least "), " ", ""))
					}
				}
			}
			if len(sets) == 1 {
				sets = append(sets, "mold.side_clamp.kind=strap")
			}
			p := judge(t, w.Job(t, sets...))
			for i := range p.Pieces {
				if f := findings(&p.Pieces[i]); slices.Contains(f, "counterbore of bolt hole") {
					t.Errorf("%s, %v: %s: %v", w, sets, p.Pieces[i].Name, f)
				}
			}
			if len(p.Warnings) > 0 {
				t.Errorf("%s, %v: %v", w, sets, p.Warnings)
			}
		}
	}
}

// A cutter on an extension is what a shop has beside the assumed set; of a shop that states
// its own the wall is asked.
func TestStatedCutters(t *testing.T) {
	w := moldtest.Wheel{Diameter: 250, Width: 80, Bore: 20, Process: "milled"}
	for _, own := range []bool{false, true} {
		j := w.Job(t, "mold.split=clam")
		if own {
			j.Machining.Cutters = slices.Clone(j.Machining.Cutters)
			j.Machining.Cutters[0].Reach++
		}
		p := judge(t, j)
		x := piece(t, p, "half-a")
		i := slices.IndexFunc(x.Deep, func(d machining.Deep) bool { return d.Sort == machining.Wall })
		if i < 0 || x.Deep[i].Change.Hint != "one of 15 mm or more on an extension, in light cuts" {
			t.Errorf("own cutters %v: %+v, want a sixth of 88.3 mm, rounded up", own, x.Deep)
		}
		if warned := slices.ContainsFunc(p.Warnings, func(f params.Fault) bool { return strings.Contains(f.Cause, "gets down beside") }); warned != own {
			t.Errorf("own cutters %v: warned %v", own, warned)
		}
	}
}

// A deep cup is turned: a bar gets in beside the pin in its middle.
func TestDeepCup(t *testing.T) {
	x := piece(t, judge(t, ladder[5].Job(t, "mold.split=cup and lid")), "cup")
	i := slices.IndexFunc(x.Deep, func(d machining.Deep) bool { return d.Sort == machining.Wall })
	if i < 0 || !strings.HasPrefix(x.Deep[i].Change.Hint, "bore or turn it, or ") {
		t.Errorf("%+v", x.Deep)
	}
}

// A shop that names no cutters is warned of none.
func TestNoCutters(t *testing.T) {
	for _, s := range moldtest.Splits {
		j := ladder[3].Job(t, s.Sets...)
		j.Machining.Cutters = nil
		p := judge(t, j)
		if len(p.Warnings) > 0 {
			t.Errorf("%s: %v", s.Name, p.Warnings)
		}
		for i := range p.Pieces {
			for _, c := range changes(&p.Pieces[i]) {
				if c.Key == "machining.cutter" {
					t.Errorf("%s: %s: %+v", s.Name, p.Pieces[i].Name, c)
				}
			}
		}
	}
}

// On a plain mill the holes of a turned hub take a clamping for each end, and a dividing
// head for those across the axis.
func TestHubOnAPlainMill(t *testing.T) {
	x := piece(t, judge(t, moldtest.Example(t, "kestrel", "machining.mill=plain")), "hub")
	y := piece(t, judge(t, moldtest.Example(t, "kestrel")), "hub")
	n := len(x.SetUps)
	if n != len(y.SetUps)+1 || x.Plain != n || y.Plain != n || x.Indexed != n-1 || y.Indexed != n-1 {
		t.Fatalf("%d clampings on a plain mill, %d on an indexing one: %+v", n, len(y.SetUps), x)
	}
	for i, want := range []string{"6 holes beside the axis from the upper end", "8 radial holes, indexed by 45 deg, on a dividing head"} {
		if got := x.SetUps[n-2+i].Name; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if fmt.Sprint(len(x.SetUps[n-2].From), len(x.SetUps[n-1].From)) != "1 8" {
		t.Errorf("%+v", x.SetUps)
	}
}
