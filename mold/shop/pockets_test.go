package shop_test

import (
	"fmt"
	"strings"
	"testing"

	"wheelmold/mold/moldtest"
)

// The table of pockets says what a mill needs of each: half of a pry slot lies in either
// piece, as wide and deep as the job has it; of letters it is the room that they take.
func TestPocketSizes(t *testing.T) {
	m, _, all := sheets(t, moldtest.Wheels[2].Job(t, moldtest.SplitOf(t, "four-piece").Sets...))
	slot := m.Job.Mold.PrySlots
	slots, letters := 0, 0
	for i := range all {
		x := table(&all[i], "Pockets")
		for _, r := range x.Rows {
			size := cell(x, r, "size")
			switch what := cell(x, r, "what"); {
			case strings.HasPrefix(what, "pry slot"):
				slots++
				if want := fmt.Sprintf("%g × %g", slot.Width, slot.Height/2); size != want || cell(x, r, "depth") != fmt.Sprint(slot.Depth) {
					t.Errorf("%s: %s: %s, %s deep, want %s, %g deep", all[i].ID, what, size, cell(x, r, "depth"), want, slot.Depth)
				}
			case strings.HasPrefix(what, "mark"):
				letters++
				if !strings.HasSuffix(size, " over the letters") {
					t.Errorf("%s: %s: %s", all[i].ID, what, size)
				}
			}
		}
	}
	if slots != 12 || letters != 4 {
		t.Errorf("%d halves of slots and %d marks, want two slots on each of three parting faces in two pieces, and a mark on each piece", slots, letters)
	}
}
