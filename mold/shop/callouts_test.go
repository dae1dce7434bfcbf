package shop_test

import (
	"strings"
	"testing"

	"wheelmold/mold/moldtest"
)

// A call-out's arrow ends on a line of its view, so that one sees what it speaks of: a
// register's on its flank, however much that leans.
func TestCalloutsPointAtLines(t *testing.T) {
	seen := map[string]bool{}
	for _, sets := range [][]string{
		{"hub.bearing_back.diameter=47mm", "hub.bearing_back.depth=14mm", "mold.register_back.draft=8deg", "mold.register_front.draft=5deg", "mold.outline=octagon"},
		{"mold.face_up=back", "mold.mating.stock=0.3mm", "mold.ceiling.shape=coned", "wheel.edge=chamfer"},
		append([]string{"mold.outline=round"}, moldtest.SplitOf(t, "cup and lid, drafted").Sets...),
	} {
		_, _, all := sheets(t, moldtest.Wheels[2].Job(t, sets...))
		for i := range all {
			for _, v := range all[i].Views {
				for _, c := range v.Callouts {
					if d := onLines(&v, c.Tip); c.OnFace || d > .02 {
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
