package shop_test

import (
	"slices"
	"strings"
	"testing"

	"wheelmold/mold/drawing"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/shop/paper"
)

// checkDatums: on each sheet every datum stands once, and every one is referred to by a
// tolerance frame on another feature, and no frame refers to one that is not there.
func checkDatums(t *testing.T, all []paper.Sheet) {
	t.Helper()
	for i := range all {
		shown, used := map[string]int{}, map[string]int{}
		for _, v := range all[i].Views {
			for _, c := range v.Callouts {
				if c.Datum != "" {
					shown[c.Datum]++
				}
				if c.Control == nil {
					continue
				}
				for _, d := range c.Control.Datums {
					used[d]++
					if d == c.Datum {
						t.Errorf("%s: %q refers to itself", all[i].ID, c.Text)
					}
				}
			}
		}
		for d, n := range shown {
			if n != 1 || used[d] == 0 {
				t.Errorf("%s: datum %s stands %d times and is referred to %d times", all[i].ID, d, n, used[d])
			}
		}
		for d := range used {
			if shown[d] == 0 {
				t.Errorf("%s: frames refer to %s, which no face is", all[i].ID, d)
			}
		}
		if len(shown) == 0 {
			t.Errorf("%s has no datum", all[i].ID)
		}
	}
}

// controls are the frames of a sheet of a kind: value and datums, "0.02 A".
func controls(s *paper.Sheet, of paper.Symbol) (out []string) {
	for _, v := range s.Views {
		for _, c := range v.Callouts {
			if c.Control != nil && c.Control.Symbol == of {
				out = append(out, strings.Join(append([]string{c.Control.Value}, c.Control.Datums...), " "))
			}
		}
	}
	slices.Sort(out)
	return out
}

// Frames take their values from the job: ends parallel within process.tolerance, the
// cavity within as much to either side, parting faces square within the shells' flatness
// over their height of 60 mm, mating faces as flat as mold.mating says.
func TestFrames(t *testing.T) {
	_, _, all := sheets(t, moldtest.Wheels[2].Job(t, "process.tolerance=0.03mm", "mold.mating.shells_flatness=0.04mm", "mold.mating.plates_flatness=0.05mm", "hub.flatness=0.06mm", "mold.balls.clearance=0.08mm", "hub.bearing_back.diameter=47mm", "hub.bearing_back.depth=14mm"))
	for _, w := range []struct {
		id   string
		of   paper.Symbol
		want []string
	}{
		{"drawing-shell-a", paper.Flatness, []string{"0.04/100"}},
		{"drawing-shell-a", paper.Parallelism, []string{"0.03 A"}},
		{"drawing-shell-a", paper.Perpendicularity, []string{"0.04 A"}},
		{"drawing-shell-a", paper.Profile, []string{"0.06 A B"}},
		{"drawing-base", paper.Flatness, []string{"0.05/100"}},
		{"drawing-base", paper.Position, []string{"Ø0.08 A B"}},
		{"drawing-hub", paper.Runout, []string{"0.05 A", "0.05 A", "0.05 A", "0.1 A"}},
	} {
		if got := controls(sheetOf(t, all, w.id), w.of); !slices.Equal(got, w.want) {
			t.Errorf("%s, %s: %v, want %v", w.id, w.of, got, w.want)
		}
	}
}

// Engraved letters are thin lines, all of them, and no axes run over them.
func TestEngraving(t *testing.T) {
	_, _, all := sheets(t, moldtest.Example(t, "kestrel"))
	seen := 0
	for i := range all {
		for _, v := range all[i].Views {
			letters := drawing.NoBox()
			for _, l := range v.Lines {
				if l.Look != paper.Engraved {
					continue
				}
				for _, p := range l.Paths {
					letters = letters.Include(p.Start)
					for _, s := range p.Segments {
						letters = letters.Include(s.To)
					}
				}
			}
			if letters.Lo[0] > letters.Hi[0] {
				continue
			}
			seen++
			for _, o := range v.Origins {
				if letters.Include(o.At) == letters {
					t.Errorf("%s, %s: the origin lies among letters", all[i].ID, v.Caption)
				}
			}
			for _, l := range v.Lines {
				for _, p := range l.Paths {
					if in := letters.Include(p.Start, p.Segments[0].To) == letters; in && l.Look == drawing.Visible {
						t.Errorf("%s, %s: a heavy line at %.2f among letters", all[i].ID, v.Caption, p.Start)
					}
				}
			}
		}
	}
	if seen != 4 {
		t.Errorf("letters in %d views", seen)
	}
}
