package svg

import (
	"image/color"
	"strconv"
	"testing"

	"wheelmold/mesh/raster"
	"wheelmold/mold/drawing"
)

// Pieces, fillings and marks are told apart in black and white.
func TestToldApartWithoutColor(t *testing.T) {
	seen := map[hatch]string{}
	for name, h := range hatches {
		if other, ok := seen[h]; ok {
			t.Errorf("%s and %s are hatched alike", name, other)
		}
		seen[h] = name
	}
	touching := [][2]string{
		{"base", "hub"}, {"lid", "hub"}, {"strap", "hub"}, {"cup", "hub"}, {"half-a", "hub"}, {"half-b", "hub"}, {"hub", "rubber"},
		{"half-a", "half-b"}, {"cup", "lid"}, {"cup", "rubber"}, {"half-a", "rubber"}, {"half-b", "rubber"},
		{"shell-b", "shell-c"}, {"shell-c", "shell-d"}, {"shell-d", "shell-a"}, {"shell-c", "shell-a"},
	}
	for _, shell := range []string{"shell-a", "shell-b", "shell-c", "shell-d"} {
		touching = append(touching, [2]string{"base", shell}, [2]string{"lid", shell}, [2]string{"strap", shell}, [2]string{shell, "rubber"})
	}
	for _, p := range touching {
		a, b := hatches[p[0]], hatches[p[1]]
		if a.angle == b.angle && a.crossed == b.crossed {
			t.Errorf("%s and %s touch and are hatched in one direction", p[0], p[1])
		}
	}
	fillings := map[hatch]drawing.Look{}
	for look, h := range byLook {
		if other, ok := fillings[h]; ok {
			t.Errorf("%s and %s are filled alike", look, other)
		}
		fillings[h] = look
	}
	forms := map[string]drawing.MarkKind{}
	for kind, s := range shapes {
		if other, ok := forms[s]; ok {
			t.Errorf("%s and %s look alike", kind, other)
		}
		forms[s] = kind
	}
}

// Things have the colors that they have in the mold's pictures (mesh/raster), and what
// gets wet that of the liquid.
func TestColorsAreThoseOfThePictures(t *testing.T) {
	p := &raster.Palette
	for _, c := range []struct {
		area drawing.Area
		want color.RGBA
	}{
		{drawing.Area{Look: drawing.Cut, Of: "base"}, p.Base}, {drawing.Area{Look: drawing.Cut, Of: "shell-b"}, p.ShellB},
		{drawing.Area{Look: drawing.Cut, Of: "rubber"}, p.Rubber}, {drawing.Area{Look: drawing.Wet50, Of: "rubber"}, p.Rubber},
		{drawing.Area{Look: drawing.Liquid, Of: "sprue"}, p.Rubber}, {drawing.Area{Look: drawing.Whole, Of: "ball"}, p.Ball},
		{drawing.Area{Look: drawing.Whole, Of: "nut"}, p.Ball}, {drawing.Area{Look: drawing.Cut, Of: "seal"}, p.Ball},
	} {
		got, opacity := tintOf(&c.area)
		if r, err := strconv.ParseUint(got[1:], 16, 32); err != nil || uint32(r) != uint32(c.want.R)<<16|uint32(c.want.G)<<8|uint32(c.want.B) {
			t.Errorf("%s is %s, in pictures %v", c.area.Of, got, c.want)
		}
		if v, err := strconv.ParseFloat(opacity, 64); err != nil || v <= 0 || v >= 1 {
			t.Errorf("%s hides what is below it: %s", c.area.Of, opacity)
		}
	}
}

// What is not known by name gets a hatch of its own, the same for one name.
func TestOthersAreHatched(t *testing.T) {
	h := hatching{ids: map[string]string{}}
	var ids []string
	for _, of := range []string{"insert", "plug", "insert", "pin", "key", "bush", "wedge"} {
		ids = append(ids, h.of("d", &drawing.Area{Look: drawing.Cut, Of: of}))
	}
	if ids[0] != ids[2] || ids[0] == ids[1] {
		t.Errorf("patterns %v", ids)
	}
	seen := map[hatch]bool{}
	for _, p := range h.list {
		if seen[p] {
			t.Errorf("two are hatched alike: %+v", p)
		}
		seen[p] = true
	}
}
