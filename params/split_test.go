package params

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

func ofSplit(t *testing.T, sets ...string) error {
	t.Helper()
	var over []Setting
	for _, s := range sets {
		x, err := ParseSetting(s)
		if err != nil {
			t.Fatal(err)
		}
		over = append(over, x)
	}
	_, _, err := Parse("wheel.toml", []byte("[wheel]\ndiameter = \"60 mm\"\nwidth = \"20 mm\"\n[hub]\nbore = \"6 mm\"\n[process]\nname = \"filament\"\n"), over...)
	return err
}

func TestSplitsThatGo(t *testing.T) {
	for _, w := range Ways() {
		var sets []string
		for _, s := range w.Settings() {
			sets = append(sets, s.Key+"="+s.Value)
		}
		if err := ofSplit(t, sets...); err != nil {
			t.Errorf("%s: %v", w, err)
		}
	}
}

func TestSplitsThatDoNot(t *testing.T) {
	for _, c := range []struct{ sets, path string }{
		{"mold.split=clam mold.segments=3", "mold.segments"},
		{"mold.split=cup-and-lid", "mold.split"},
		{"mold.split=clam hub.length=20mm hub.offset=0mm", "hub.length"},
		{"mold.split=clam hub.length=23mm hub.offset=-0.5mm", "hub.length"}, // out in front alone
		{"mold.split=clam hub.length=23mm hub.offset=-2.5mm", "hub.length"}, // out at the back alone
		{"mold.split=clam mold.top_allowance=1.5mm", "hub.length"},          // the rubber comes up to the hub's end
		{"mold.split=clam mold.register_back.opening=bore", "mold.register_back.opening"},
		{"mold.split=clam mold.bolts.size=M4", "mold.bolts.size"},
		{"mold.split=clam mold.sprue.angle=10deg", "mold.sprue.angle"}, // through the plane, off its middle
		{"mold.segments=3 mold.side_clamp.kind=counterbore", "mold.side_clamp.kind"},
		{"mold.segments=4 mold.outline=round", "mold.outline"},
	} {
		err := ofSplit(t, strings.Fields(c.sets)...)
		if err == nil || !strings.Contains(err.Error(), c.path+" = ") {
			t.Errorf("%s: %v", c.sets, err)
		}
	}
	if err := ofSplit(t, "mold.split=open top", "mold.ceiling.shape=coned"); err == nil || !strings.Contains(err.Error(), "mold.ceiling.shape") {
		t.Errorf("open top: %v", err)
	}
	if err := ofSplit(t, "mold.split=cup and lid", "mold.side_clamp.kind=lugs"); err == nil || !strings.Contains(err.Error(), "mold.side_clamp.kind") {
		t.Errorf("cup: %v", err)
	}
}

// A sprue beside a clam's parting plane leaves the mold's wall to it.
func TestSprueBesideParting(t *testing.T) {
	j, _, err := Parse("wheel.toml", []byte("[wheel]\ndiameter = \"60 mm\"\nwidth = \"20 mm\"\n[hub]\nbore = \"6 mm\"\n[mold]\nsplit = \"clam\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	for wall, ok := range map[float64]bool{.9: false, 1.1: true} {
		away := j.Mold.Sprue.Mouth/2 + wall*j.Mold.Wall
		angle := math.Asin(away/(j.Mold.Sprue.Circle/2)) * 180 / math.Pi
		x, err := ParseSetting(fmt.Sprintf("mold.sprue.angle=%.4fdeg", angle))
		if err != nil {
			t.Fatal(err)
		}
		_, _, err = Parse("wheel.toml", []byte("[wheel]\ndiameter = \"60 mm\"\nwidth = \"20 mm\"\n[hub]\nbore = \"6 mm\"\n[mold]\nsplit = \"clam\"\n"), x)
		if got := err == nil || !strings.Contains(err.Error(), "mold.sprue.angle = "); got != ok {
			t.Errorf("%g walls from the parting plane: %v", wall, err)
		}
	}
}
