package params

import (
	"math"
	"testing"
)

// ISO 2768-1:1989, table 1, from memory of the standard.
func TestGeneralTolerance(t *testing.T) {
	for _, c := range []struct {
		length float64
		class  string
		want   float64
	}{
		{2, "fine", 0.05}, {3, "coarse", 0.2}, {3.1, "coarse", 0.3}, {6, "medium", 0.1}, {6.1, "medium", 0.2},
		{30, "fine", 0.1}, {30.1, "fine", 0.15}, {120, "medium", 0.3}, {120.1, "medium", 0.5}, {400, "coarse", 1.2},
		{1000, "medium", 0.8}, {1200, "fine", 0.5}, {1000.1, "medium", 1.2}, {2000, "coarse", 3},
	} {
		if got := GeneralTolerance(c.length, c.class); got != c.want {
			t.Errorf("%v mm, %s: ±%v, want ±%v", c.length, c.class, got, c.want)
		}
	}
}

// A pocket is as round as the largest cutter that reaches its floor and leaves it flat.
func TestSlotCorner(t *testing.T) {
	j, err := Default(90, 40, 12, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ depth, width, want float64 }{
		{5, 12, 3.3},    // of 6 mm: one of 10 mm would need 13.75 mm
		{5, 13.76, 5.5}, // 10 mm
		{5, 4.12, 0},    // of 3 mm: one would need 4.125 mm, and ball ends leave no flat floor
		{5, 4.13, 1.65},
		{20, 8.3, 3.3}, // of 4 mm none reaches so deep, of 6 mm one does
		{60, 100, 0},
	} {
		if got := j.SlotCorner(c.depth, c.width); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v deep, %v wide: %v, want %v", c.depth, c.width, got, c.want)
		}
	}
	j.Process.Kind = Filament
	if got := j.SlotCorner(5, 12); got != 0 {
		t.Errorf("printed: %v", got)
	}
}

// A cutter of which only the diameter is stated is one that can be stated.
func TestCutterDefaults(t *testing.T) {
	for _, c := range []struct {
		diameter    string
		reach, nose float64
	}{{"16 mm", 50, 0}, {"5 mm", 20, 0}, {"100 mm", 300, 0}, {"0.2 mm", 0.8, 0}} {
		j, _, err := Parse("f.toml", []byte(sound90+"[[machining.cutter]]\ndiameter = \""+c.diameter+"\"\n"))
		if err != nil {
			t.Errorf("%s: %v", c.diameter, err)
			continue
		}
		if got := j.Machining.Cutters; len(got) != 1 || math.Abs(got[0].Reach-c.reach) > 1e-9 || got[0].CornerRadius != c.nose {
			t.Errorf("%s: %+v", c.diameter, got)
		}
	}
	j, _, err := Parse("f.toml", []byte(sound90+"[machining]\ncutter = []\n"))
	if err != nil || len(j.Machining.Cutters) != 0 {
		t.Errorf("none: %+v, %v", j, err)
	}
}
