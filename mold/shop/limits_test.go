package shop_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/mold/moldtest"
	"wheelmold/mold/shop/paper"
)

func notesOf(s *paper.Sheet) string { return strings.Join(s.Notes, "\n") }

// sheetOf is a sheet by its ID.
func sheetOf(t *testing.T, all []paper.Sheet, id string) *paper.Sheet {
	t.Helper()
	i := slices.IndexFunc(all, func(s paper.Sheet) bool { return s.ID == id })
	if i < 0 {
		t.Fatalf("no sheet %s", id)
	}
	return &all[i]
}

// The cavity is as exact as the process; its radius and the diameter beside it agree to
// the last digit that is written.
func TestCavityLimits(t *testing.T) {
	for _, tolerance := range []string{"0.02", "0.05"} {
		m, _, all := sheets(t, moldtest.Wheels[2].Job(t, "process.tolerance="+tolerance+"mm"))
		d := find(t, all, "drawing-shell-a", "cavity, from the wheel axis ")
		var diameter float64
		if _, err := fmt.Sscanf(d.After, "(Ø%g ±"+tolerance+")", &diameter); err != nil {
			t.Fatalf("%q: %v", d.After, err)
		}
		if d.Tolerance != "±"+tolerance || !strings.HasPrefix(d.Text(), fmt.Sprintf("%g ±", diameter/2)) || math.Abs(diameter-2*m.Tread.R) > 2e-4 {
			t.Errorf("%s %s %s, of a cavity Ø%.4f", d.Text(), d.Tolerance, d.After, 2*m.Tread.R)
		}
		if n := notesOf(sheetOf(t, all, "drawing-shell-b")); !strings.Contains(n, "may step by "+tolerance+" mm at most") {
			t.Errorf("no word of the step between shells:\n%s", n)
		}
	}
	for i, name := range moldtest.Splits {
		if name.Name != "cup and lid" {
			continue
		}
		_, _, all := sheets(t, moldtest.Wheels[2].Job(t, append(slices.Clone(moldtest.Splits[i].Sets), "process.tolerance=0.03mm")...))
		n := 0
		every(all, func(_ *paper.Sheet, _ *paper.View, d *paper.Dim) {
			if strings.HasPrefix(d.Name, "cavity ") {
				if n++; d.Tolerance != "±0.03" {
					t.Errorf("cup's %s: %s", d.Name, d.Tolerance)
				}
			}
		})
		if n != 1 {
			t.Errorf("%d diameters of a cup's cavity", n)
		}
	}
}

// A ball's pocket is never tighter or shallower than drawn: a ball of 5 mm with 0.06 mm of
// clearance, of which half is left to the pocket, and 0.3 mm to spare, of which half is.
// A drill's point of 118° touches a ball that lies 0.15 mm low where it would touch one
// of 5.3 mm in the middle: the cone that begins at 2.53 mm is 2.65 mm away at
// (2.65 - 2.53·cos 59°)/sin 59° = 1.5714 mm.
func TestBallPocketLimits(t *testing.T) {
	_, _, all := sheets(t, moldtest.Wheels[2].Job(t, "mold.balls.diameter=5mm", "mold.balls.clearance=0.06mm", "mold.balls.spare=0.3mm", "mold.mating.stock=0.2mm"))
	for _, w := range []struct{ id, starts, ends, drill string }{
		{"drawing-base", "Ø5.06 (+0.03 / 0) to ", " to 2.65 (+0.15 / 0)", "at least 1.58."},
		{"drawing-shell-a", "Ø5.06 (+0.03 / 0) to ", " to 2.85 (+0.15 / 0)", "at least 1.78."},
	} {
		s := sheetOf(t, all, w.id)
		x := table(s, "Holes")
		n := 0
		for _, r := range x.Rows {
			if r[2] != "ball pocket" {
				continue
			}
			n++
			if got := cell(x, r, "diameter and depth"); !strings.HasPrefix(got, w.starts) || !strings.HasSuffix(got, w.ends) || cell(x, r, "position") != "Ø0.06" {
				t.Errorf("%s: %q, position %q", w.id, got, cell(x, r, "position"))
			}
		}
		if n == 0 || !strings.Contains(notesOf(s), w.drill) {
			t.Errorf("%s: %d rows of ball pockets, drill point %s in\n%s", w.id, n, w.drill, notesOf(s))
		}
	}
}

// A hub that stands out at both ends lies in recesses wider by process.clearance: they may
// be wider still by half of it, and the hub's ends thinner by the other half.
func TestRecessLimits(t *testing.T) {
	_, _, all := sheets(t, moldtest.Wheels[2].Job(t, "hub.length=66mm", "hub.offset=-3mm", "process.clearance=0.08mm"))
	for _, id := range []string{"drawing-base", "drawing-lid"} {
		if d := find(t, all, id, "recess for the hub"); d.Tolerance != "(+0.04 / 0)" {
			t.Errorf("%s: recess %s", id, d.Tolerance)
		}
	}
	ends := 0
	every(all, func(s *paper.Sheet, _ *paper.View, d *paper.Dim) {
		if d.Tolerance == "(0 / -0.04)" && (d.Name == "flanges" || d.Name == "body") {
			ends++
		}
	})
	if ends != 1 {
		t.Errorf("%d limits on the hub's ends", ends)
	}
	for _, s := range moldtest.Splits {
		if s.Name != "clam" {
			continue
		}
		_, _, clam := sheets(t, moldtest.Wheels[2].Job(t, append(slices.Clone(s.Sets), "hub.length=66mm", "hub.offset=-3mm", "process.clearance=0.08mm")...))
		n := 0
		for _, r := range table(&clam[0], "Pockets").Rows {
			if strings.HasSuffix(r[1], "(+0.04 / 0)") && strings.HasSuffix(r[2], "±0.02") {
				n++
			}
		}
		if n != 2 {
			t.Errorf("%d recesses of a half have limits: %v", n, table(&clam[0], "Pockets").Rows)
		}
	}
}

// Ribs are as exact as the process, and their roots as round as the smallest ball end that
// gets down beside them: that of 2 mm reaches 8 mm, that of 3 mm 12 mm.
func TestRibs(t *testing.T) {
	for depth, want := range map[string]string{"3mm": "up to 1 (the job's smallest ball end that reaches, Ø2)", "9mm": "up to 1.5 (the job's smallest ball end that reaches, Ø3)"} {
		_, _, all := sheets(t, moldtest.Wheels[2].Job(t, "wheel.cross.count=8", "wheel.cross.width=8mm", "wheel.cross.depth="+depth, "process.tolerance=0.04mm"))
		x := table(sheetOf(t, all, "drawing-shell-a"), "Ribs of the cavity, which mold grooves into the tread")
		if !strings.Contains(x.Note, want) || !strings.Contains(x.Note, "Widths, heights and middles ±0.04.") {
			t.Errorf("ribs %s high: %s", depth, x.Note)
		}
	}
}

// A register's diameter holds where its draft begins.
func TestRegisterAtTheRoot(t *testing.T) {
	_, _, all := sheets(t, moldtest.Wheels[2].Job(t))
	if d := find(t, all, "drawing-lid", "register at its foot"); !strings.HasSuffix(d.Text(), "at the root") {
		t.Error(d.Text())
	}
}

// Screws have the next listed length, and the sheet says how far they stand out below the
// base: what is longer than from the head's seat to the underside.
func TestScrews(t *testing.T) {
	lengths := []float64{20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90} // ISO 4762
	seen := map[float64]bool{}
	for lid := 12; lid < 45; lid += 4 {
		m, _, all := sheets(t, moldtest.Wheels[1].Job(t, "process.name=milled", "mold.bolts.size=M4", "mold.jacks.size=M4", fmt.Sprintf("mold.lid_thickness=%dmm", lid)))
		l := m.Layout
		b := l.Bolts[0]
		flush := b.Top - b.HeadD - l.Bottom
		least := flush - b.NutD + 3.2 // the height of a nut M4, ISO 4032
		i := slices.IndexFunc(lengths, func(x float64) bool { return x >= least })
		seen[lengths[i]] = true
		n := notesOf(sheetOf(t, all, "drawing-base"))
		want := []string{fmt.Sprintf("%d screws ISO 4762 M4 × %g (", len(l.Bolts), lengths[i]), "nuts ISO 4032 M4", "jack screws ISO 4762 M4 ×"}
		if out := lengths[i] - flush; out > 0.01 {
			want = append(want, "stand out "+number(out)+" below the base")
		}
		for _, want := range want {
			if !strings.Contains(n, want) {
				t.Errorf("no word of %q (at least %g):\n%s", want, least, n)
			}
		}
	}
	for _, x := range []float64{45, 55, 65} {
		if !seen[x] {
			t.Errorf("no job here takes screws of %g mm: %v", x, seen)
		}
	}
	// Across the shells 12.5 mm of each are clamped, and a nut M5 is 4.7 mm high.
	_, _, all := sheets(t, moldtest.Example(t, "kestrel"))
	if n := notesOf(&all[1]); !strings.Contains(n, "4 screws ISO 4762 M5 × 30 (at least 29.7 long) with nuts ISO 4032 M5 across the shells") {
		t.Errorf("no word of the screws across:\n%s", n)
	}
}

// No table has a column without an entry.
func TestNoEmptyColumns(t *testing.T) {
	_, _, all := sheets(t, moldtest.Example(t, "kestrel"))
	for i := range all {
		for _, x := range all[i].Tables {
			for c, head := range x.Head {
				if !slices.ContainsFunc(x.Rows, func(r []string) bool { return r[c] != "" }) {
					t.Errorf("%s, %s: nothing below %q", all[i].ID, x.Title, head)
				}
			}
		}
	}
	if x := table(sheetOf(t, all, "drawing-base"), "Holes"); slices.Contains(x.Head, "thread") || !slices.Contains(x.Head, "position") {
		t.Errorf("heads %v", x.Head)
	}
}

// Beside the hub's land each plate of a mold to be sealed lies lower by the coats, out to
// the tread's edge, which they set back: a ring with its diameters and its depth.
func TestRingForTheSealer(t *testing.T) {
	m, _, all := sheets(t, moldtest.Wheels[2].Job(t, "mold.coats.count=2", "mold.coats.thickness=0.1mm", "wheel.edge=square"))
	want := fmt.Sprintf("Ø%s to Ø%s", number(2*m.Tread.InnerR), number(2*(m.Tread.R+.2)))
	for _, id := range []string{"drawing-base", "drawing-lid"} {
		x := table(sheetOf(t, all, id), "Pockets")
		i := slices.IndexFunc(x.Rows, func(r []string) bool { return r[0] == "ring for the sealer" })
		if i < 0 || x.Rows[i][1] != want || x.Rows[i][2] != "0.2 ±0.02" {
			t.Errorf("%s: %v, want %s", id, x.Rows, want)
		}
	}
	// A round edge of 3 mm begins 3 mm further in; 0.2 mm of coats make it 3.2 mm, whose
	// middle lies 3 mm above the face: at the face it is sqrt(3.2² - 3²) = 1.1136 mm out.
	m, _, all = sheets(t, moldtest.Wheels[2].Job(t, "mold.coats.count=2", "mold.coats.thickness=0.1mm", "wheel.edge=round", "wheel.edge_size=3mm"))
	want = fmt.Sprintf("Ø%s to Ø%s, from there up to Ø%s at the face, R3.2", number(2*m.Tread.InnerR), number(2*(m.Tread.R-3)), number(2*(m.Tread.R-3+1.1136)))
	if cells(sheetOf(t, all, "drawing-base"), "Pockets", want) != 1 {
		t.Errorf("%v, want %s", table(sheetOf(t, all, "drawing-base"), "Pockets").Rows, want)
	}
	_, _, bare := sheets(t, moldtest.Wheels[2].Job(t))
	if n := cells(&bare[0], "Pockets", "ring for the sealer"); n != 0 {
		t.Errorf("%d rings without coats", n)
	}
}

// number is a length as sheets write it.
func number(x float64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", x), "0"), ".")
}
