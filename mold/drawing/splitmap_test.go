package drawing_test

import (
	"math"
	"strings"
	"testing"

	"wheelmold/mold/drawing"
	"wheelmold/mold/moldtest"
)

// Whatever the split, each line that the liquid reaches has a map, whose seam and face
// are those of the estimate; partings of three or four shells say how they are seen. No
// text lies on another.
func TestMapsOfEverySplit(t *testing.T) {
	for _, sets := range [][]string{
		{"mold.segments=3"}, {"mold.segments=4"}, {"mold.split=open top"}, {"mold.split=clam"},
		{"mold.split=cup and lid"}, {"mold.split=cup and lid", "wheel.crown=1mm"},
	} {
		t.Run(strings.Join(sets, " "), func(t *testing.T) {
			m, c := moldtest.Checked(t, moldtest.Wheels[1].Job(t, sets...))
			x := &estimated{m, c.Faces, estimateOf(t, m, c.Faces)}
			maps := x.maps(t)
			for k := range maps {
				d, l := &maps[k], &x.flash.Lines[k]
				cells := 0.0
				for _, is := range l.Map.Face {
					if is {
						cells += l.Map.Cell * l.Map.Cell
					}
				}
				if got := areas(d, drawing.Face).Area(); math.Abs(got/cells-1) > .03 {
					t.Errorf("%s: face of %.1f mm², cells of %.1f", d.ID, got, cells)
				}
				if got := lengthOf(lines(d, drawing.Seam)); math.Abs(got/l.Seam-1) > .01 {
					t.Errorf("%s: seam of %.2f mm, the estimate has %.2f", d.ID, got, l.Seam)
				}
				if n := len(m.Layout.Sides); n > 2 && len(l.Pieces) == 2 && strings.Count(l.Name, "shell ") == 2 && !strings.Contains(d.Note, ", seen from shell ") {
					t.Errorf("%s does not say how it is seen: %s", d.ID, d.Note)
				}
				if strings.HasPrefix(d.Note, "Seen:") {
					t.Errorf("%s does not say from where it is seen: %s", d.ID, d.Note)
				}
			}
			for _, d := range x.partings(t) {
				laidOut(t, strings.Join(sets, " "), &d)
			}
		})
	}
}
