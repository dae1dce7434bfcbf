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

// A call-out's arrow ends on a line of its view, so that one sees what it speaks of: a
// register's on its flank, however much that leans.
func TestCalloutsPointAtLines(t *testing.T) {
	seen := map[string]bool{}
	for _, sets := range [][]string{
		{"hub.bearing_back.diameter=47mm", "hub.bearing_back.depth=14mm", "mold.register_back.draft=8deg", "mold.register_front.draft=5deg", "mold.outline=octagon"},
		{"mold.face_up=back", "mold.coats.count=2", "mold.coats.thickness=0.1mm", "mold.mating.stock=0.3mm", "mold.ceiling.shape=coned", "mold.ceiling.angle=4deg", "wheel.edge=chamfer"},
		append([]string{"mold.outline=round", "mold.coats.count=2", "mold.coats.thickness=0.1mm"}, moldtest.SplitOf(t, "cup and lid, drafted").Sets...),
	} {
		_, _, all := sheets(t, moldtest.Wheels[2].Job(t, sets...))
		for i := range all {
			for _, v := range all[i].Views {
				for _, c := range v.Callouts {
					if d := onLines(&v, c.Tip); c.OnFace || d > .002 {
						t.Errorf("%v: %s, %s: the arrow of %q ends at %.3f, %.3f mm off all lines", sets, all[i].ID, v.Caption, c.Text, c.Tip, d)
					}
					what, _, _ := strings.Cut(strings.Fields(c.Text + " ?")[0], ",")
					seen[what] = true
				}
			}
		}
	}
	for _, what := range []string{"register", "ceiling", "regular", "mating", "cavity", "sharp:", "bore", "all", "upper"} {
		if !seen[what] {
			t.Errorf("nothing points at what is called %q: %v", what, seen)
		}
	}
}

// A mold to be sealed is dimensioned as it is cut, and every point that is measured lies on
// its lines: a coned ceiling rises higher above the land by the coats, and its ridge lies
// farther out, where a flat face and a cone that are both moved by them meet; of a cup and
// its lid the land's depth is told, and beside it a ring, deeper by the coats.
func TestSealedMoldsAreDimensionedAsCut(t *testing.T) {
	const coats, angle = .2, 4
	cup, coned := moldtest.SplitOf(t, "cup and lid, drafted").Sets, []string{"mold.ceiling.shape=coned", fmt.Sprintf("mold.ceiling.angle=%ddeg", angle)}
	for _, sets := range [][]string{coned, cup, slices.Concat(cup, coned)} {
		m, _, all := sheets(t, moldtest.Wheels[2].Job(t, slices.Concat(sets, []string{"mold.coats.count=2", "mold.coats.thickness=0.1mm"})...))
		checkDimensions(t, all)
		tread := m.Tread
		if tread.Ceiling > 0 {
			rise, ridge := find(t, all, "drawing-lid", "rise of the ceiling"), find(t, all, "drawing-lid", "ridge of the ceiling")
			out := coats * math.Tan(angle/2.*math.Pi/180)
			if math.Abs(rise.Value-tread.Ceiling-coats) > 1e-3 || math.Abs(ridge.Value/2-tread.RidgeR-out) > 1e-3 {
				t.Errorf("%v: the ceiling rises by %.4f to Ø%.4f, bare by %.4f to Ø%.4f", sets, rise.Value, ridge.Value, tread.Ceiling, 2*tread.RidgeR)
			}
		}
		if len(m.Layout.Sides) == 0 {
			checkRing(t, sheetOf(t, all, "drawing-cup"), find(t, all, "drawing-cup", "depth of the cavity to the rim").Value+coats)
			checkRing(t, sheetOf(t, all, "drawing-lid"), find(t, all, "drawing-lid", "depth of the cavity to the parting face").Value+tread.Ceiling+coats)
		}
	}
}

// checkRing: a sheet tells one ring for the sealer, and how deep it lies.
func checkRing(t *testing.T, s *paper.Sheet, depth float64) {
	t.Helper()
	rows := slices.DeleteFunc(slices.Clone(table(s, "Pockets").Rows), func(r []string) bool { return r[0] != "ring for the sealer" })
	if len(rows) != 1 {
		t.Errorf("%s: %d rings for the sealer", s.ID, len(rows))
		return
	}
	var told float64
	if _, err := fmt.Sscan(rows[0][2], &told); err != nil || math.Abs(told-depth) > 1e-3 {
		t.Errorf("%s: a ring that is %s deep, want %.4f", s.ID, rows[0][2], depth)
	}
}
