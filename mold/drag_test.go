package mold

import (
	"math"
	"testing"

	"wheelmold/params"
)

// The rib farthest off the pull drags most, by its depth times the sine of the angle
// that its flank makes with the pull: by hand for twelve ribs, the first at 15 degrees.
// On a leaning tread the ribs are deeper at the wide face.
func TestRibDrag(t *testing.T) {
	j := plainTread(t)
	j.Wheel.Cross = params.CrossGrooves{Count: 12, Width: 10, Depth: 4, Flank: 20}
	m, err := New(j)
	if err != nil {
		t.Fatal(err)
	}
	sin := func(deg float64) float64 { return math.Sin(deg * math.Pi / 180) }
	for _, c := range []struct{ pull, half, want float64 }{
		{90, 90, 4 * sin(75-20)}, {270, 90, 4 * sin(75-20)},
		{45, 45, 4 * sin(30-20)},
		{210, 60, 4 * sin(45-20)},
		{15, 10, 0}, // the rib in the middle comes straight out
	} {
		drag, lug := m.Tread.RibDrag(c.pull, c.half)
		if math.Abs(drag-c.want) > 1e-4 || math.Abs(lug-(2*math.Pi*136/12-10)) > 1e-3 {
			t.Errorf("pull at %v° within %v°: %.4f mm on lugs of %.4f, want %.4f", c.pull, c.half, drag, lug, c.want)
		}
	}
	j.Wheel.Draft = 1
	if m, err = New(j); err != nil {
		t.Fatal(err)
	}
	if drag, _ := m.Tread.RibDrag(90, 90); math.Abs(drag-(4+62.5*math.Tan(math.Pi/180))*sin(55)) > 1e-3 {
		t.Errorf("leaning: %.4f mm", drag)
	}
	m.Tread.Cross.Count = 0
	if drag, lug := m.Tread.RibDrag(90, 90); drag != 0 || lug != 0 {
		t.Error("a smooth tread drags")
	}
}
