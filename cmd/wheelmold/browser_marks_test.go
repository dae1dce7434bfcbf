//go:build browser

package main

import (
	"context"
	"image"
	"math"
	"testing"
)

// checkMarks looks from the front at the lid, and at marks of air under it: they stay
// where they are on the lid when it is lifted.
func checkMarks(t *testing.T, browser context.Context) {
	p := open(t, browser, build(t, "../../examples/kestrel.toml", "--set", "pour.tilt=5deg", "--tolerance", "0.1mm").page, sight{width: 520, height: 600})
	p.drawn()
	if !eval[bool](p, `!!document.querySelector("input[data-part=marks]")`) {
		t.Fatal("no air is trapped: nothing is tested")
	}
	p.click(`button[data-look="front"]`)
	eval[bool](p, `(document.querySelectorAll("input[data-part]:checked").forEach(e => e.click()), true)`)
	v := &view{tab: p}
	was := v.markOnLid()
	p.set("#apart", "100")
	is := v.markOnLid()
	const near = 0.01 // pixels are whole
	if dx, dy := is[0]-was[0], is[1]-was[1]; math.Hypot(dx, dy) > near {
		t.Errorf("marks shift by %.3f and %.3f of the lid's width when it is lifted", dx, dy)
	}
}

// markOnLid is how far the middle of all marks lies from the lid's upper left corner,
// in widths of the lid.
func (v *view) markOnLid() [2]float64 {
	v.Helper()
	marks, lid := v.box("marks"), v.box("lid")
	at := marks.Min.Add(marks.Max).Sub(lid.Min.Mul(2))
	width := 2 * float64(lid.Dx())
	return [2]float64{float64(at.X) / width, float64(at.Y) / width}
}

// box shows one part alone, and tells where.
func (v *view) box(part string) (b image.Rectangle) {
	v.Helper()
	box := `input[data-part="` + part + `"]`
	v.click(box)
	v.frames()
	v.now = v.settled(v.shoot())
	v.click(box)
	for y := range v.now.Rect.Dy() {
		for x := range v.now.Rect.Dx() {
			if apart(v.now.Pix[v.now.PixOffset(x, y):][:4], v.now.Pix[:4]) {
				b = b.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	if b.Dy() < 10 {
		v.Fatalf("%s cannot be seen", part)
	}
	return b
}
