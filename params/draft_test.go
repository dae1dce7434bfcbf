package params

import (
	"math"
	"strings"
	"testing"
)

// A drafted tread is not crowned as well, its cross grooves reach its narrow face, and
// its angle has a limit.
func TestDraftIsJudged(t *testing.T) {
	for _, c := range []struct {
		change func(*Job)
		path   string
		why    []string
	}{
		{func(j *Job) { j.Wheel.Draft, j.Wheel.Crown = 1, 1 }, "wheel.draft", []string{"wheel.crown", "either drafted or crowned"}},
		{func(j *Job) { j.Wheel.Draft = 6 }, "wheel.draft", []string{"too large"}},
		{func(j *Job) { j.Wheel.Draft, j.Wheel.Cross = 5, CrossGrooves{12, 5, 1.5, 10} }, "wheel.cross.depth", []string{"1.7498 mm off the radius", "run out"}},
		{func(j *Job) {
			j.Wheel.Draft, j.Hub.BodyDiameter, j.Hub.FlangeDiameter = 3, 91.5, 91.5
			j.Hub.LockHoles.Count = 0
		}, "hub.body_diameter", []string{"of rubber at the tread's faces"}},
	} {
		j, err := Default(100, 40, 12, "milled")
		if err != nil {
			t.Fatal(err)
		}
		j.Wheel.Edge, j.Wheel.EdgeSize = "chamfer", 2
		c.change(j)
		found := false
		for _, f := range j.Validate() {
			all := true
			for _, w := range c.why {
				all = all && strings.Contains(f.Error(), w)
			}
			found = found || all && f.Path == c.path
		}
		if !found {
			t.Errorf("%s is not refused because of %q: %v", c.path, c.why, j.Validate())
		}
	}
}

// The cone grows toward the face that is up: seen from the back face, it shrinks if
// the back is up. Its edges take more off the face that they lean over.
func TestDraftGoesWithTheFaceThatIsUp(t *testing.T) {
	j, err := Default(100, 40, 12, "milled")
	if err != nil {
		t.Fatal(err)
	}
	j.Wheel.Draft, j.Wheel.Edge, j.Wheel.EdgeSize = 2, "square", 0
	lean := 20 * math.Tan(2*math.Pi/180)
	for up, sign := range map[string]float64{"front": 1, "back": -1} {
		j.Mold.FaceUp = up
		for z, want := range map[float64]float64{0: 50 - sign*lean, 20: 50, 40: 50 + sign*lean} {
			if got := j.treadRadius(z); math.Abs(got-want) > 1e-9 {
				t.Errorf("%s up: radius %.4f mm at %v from the back face, want %.4f", up, got, z, want)
			}
		}
		if _, outer := j.TopFace(); math.Abs(outer-2*(50+lean)) > 1e-9 {
			t.Errorf("%s up: top face %.4f mm across, want %.4f", up, outer, 2*(50+lean))
		}
	}
	j.Wheel.Edge, j.Wheel.EdgeSize = "chamfer", 3
	lower, upper := j.Wheel.faces()
	k := 17 * math.Tan(2*math.Pi/180) // where the chamfers begin
	if math.Abs(lower-2*(50-k-3)) > 1e-9 || math.Abs(upper-2*(50+k-3)) > 1e-9 {
		t.Errorf("chamfered faces %.4f and %.4f mm", lower, upper)
	}
	if j.Wheel.shoulder() != 3 {
		t.Errorf("the chamfer reaches %v mm from the face", j.Wheel.shoulder())
	}
}
