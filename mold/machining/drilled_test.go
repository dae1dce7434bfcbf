package machining_test

import (
	"strings"
	"testing"
)

// Holes of a turned hub are reached along their own ways: bolts from either end, lock holes
// all around. None of their walls counts as hidden, whichever of them are there.
func TestHolesOfATurnedHubAreInReach(t *testing.T) {
	bolts := []string{"hub.bolts.count=6", "hub.bolts.circle=80mm", "hub.bolts.hole=6.6mm"}
	locks := []string{"hub.lock_holes.count=3", "hub.lock_holes.diameter=5mm", "hub.lock_holes.depth=8mm"}
	for name, sets := range map[string][]string{"bolts": bolts, "lock holes": locks, "both": append(bolts[:3:3], locks...)} {
		seen := false
		for _, x := range judge(t, large.Job(t, append([]string{"hub.body_diameter=140mm"}, sets...)...)).Pieces {
			if x.Name != "hub" {
				continue
			}
			seen = true
			if len(x.Hidden) > 0 {
				t.Errorf("%s: hidden: %+v", name, x.Hidden)
			}
			last := x.SetUps[len(x.SetUps)-1].Name
			if both := strings.Contains(last, "3 radial holes"); both != (name != "bolts") {
				t.Errorf("%s: clamped last for %q", name, last)
			}
		}
		if !seen {
			t.Errorf("%s: no hub", name)
		}
	}
}
