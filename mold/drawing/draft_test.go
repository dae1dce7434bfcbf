package drawing

import (
	"math"
	"testing"

	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// A leaning tread is measured in the middle of its width, where its diameter holds; a
// hidden line keeps its surface where a groove takes it away.
func TestDraftIsMeasuredInTheMiddle(t *testing.T) {
	for _, groove := range []bool{false, true} {
		j := moldtest.Example(t, "kestrel", "wheel.draft=2deg", "wheel.crown=0mm")
		if j.Wheel.Grooves = nil; groove {
			j.Wheel.Grooves = []params.Groove{{Shape: "rectangular", Position: j.Wheel.Width / 2, Width: 4, Depth: 2}}
		}
		m, ds := sectionsOf(t, j)
		checkDims(t, m, &ds[0])
		found := false
		for _, d := range ds[0].Dims {
			if d.Name == "cavity" {
				found = math.Abs(d.Value-2*m.Tread.R) < 1e-9 && math.Abs(d.From[1]-m.Tread.Width/2) < 1e-9
			}
		}
		if !found {
			t.Errorf("groove %t: the cavity is not measured in its middle", groove)
		}
	}
}
