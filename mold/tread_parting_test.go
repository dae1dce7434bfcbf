package mold

import (
	"math"
	"testing"

	"wheelmold/params"
)

// Cross grooves stay off the parting planes, an eighth of a pitch at least.
func TestCrossGroovesOffParting(t *testing.T) {
	for segments := 2; segments <= 4; segments++ {
		for count := 1; count <= 60; count++ {
			tread := Tread{Cross: params.CrossGrooves{Count: count}, ribsOff: offParting(count, segments)}
			least := 360.0
			for i := range count {
				for _, s := range sides("shell-", segments) {
					least = min(least, math.Abs(math.Remainder(tread.ribAngle(i)-s.From, 360)))
				}
			}
			// Four planes may lie at four phases of an odd count: an eighth of a pitch.
			if want := 360 / float64(count) / 8; least < want-1e-9 {
				t.Errorf("%d grooves, %d shells: %.3g degrees from a parting plane, want %.3g", count, segments, least, want)
			}
		}
	}
	m, err := New(splitJob(t, 175, 74, 20, "filament", "mold.segments=3", "wheel.cross.count=3", "wheel.draft=0.5deg"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := m.Check(); err != nil {
		t.Error(err)
	}
}
