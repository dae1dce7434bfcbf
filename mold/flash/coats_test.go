package flash

import (
	"math"
	"testing"

	"wheelmold/mesh/solid"
	"wheelmold/mold/moldtest"
)

// Below coats the mating faces begin where what is cut passes the parting planes: a
// rounding grown by the coats t, from e to e + t about the same center, passes its old
// face √(2et + t²) from there. The hub's lands keep their rims, but for a pedestal's,
// whose side is coated. The land that the job asks for is still there.
func TestSeamsBelowCoats(t *testing.T) {
	coats := []string{"mold.coats.count=4", "mold.coats.thickness=0.05mm", "wheel.crown=0mm", "wheel.edge=round", "wheel.edge_size=2mm"}
	c := solid.Round(.2)
	for _, x := range []struct {
		set  []string
		thin float64 // by which the lower land is smaller
	}{{nil, 0}, {[]string{"hub.offset=2mm", "hub.length=20mm"}, c}} {
		s := surveyOf(t, moldtest.Example(t, "wren", append(coats, x.set...)...))
		tr, r := s.mold.Tread, s.mold.Core.EndR()
		rise := math.Sqrt(2*tr.EdgeSize*c + c*c)
		near(t, "base/shells", s.site(t, "base/shells").seam, 2*math.Pi*(tr.LowerOuter+rise), 1e-3)
		near(t, "lid/shells", s.site(t, "lid/shells").seam, 2*math.Pi*(tr.UpperOuter+rise), 1e-3)
		near(t, "base/hub", s.site(t, "base/hub").seam, 2*math.Pi*(r-x.thin), 1e-3)
		if n := len(s.geometry.sites); n != 6 {
			t.Errorf("%d parting lines", n)
		}
		for _, line := range []string{"base/shells", "lid/shells"} {
			if got, want := s.site(t, line).least, s.mold.Job.Mold.Land; got < .98*want { // by a grid
				t.Errorf("%s: land of %.3f mm, asked for are %.3f", line, got, want)
			}
		}
	}
}
