//go:build browser

package main

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp/kb"
)

// checkScene works the 3D view, and looks whether its pixels follow: the main ways, or
// all controls.
func checkScene(t *testing.T, browser context.Context, r *built, all bool) {
	p := open(t, browser, r.page, sight{width: 520, height: 600})
	p.drawn()
	t.Logf("first picture after %.0f ms", eval[float64](p, `performance.getEntriesByName("first-picture")[0].startTime`))
	if eval[bool](p, `document.querySelector("#still").checkVisibility({visibilityProperty: true})`) {
		t.Error("the still picture shows beside the drawn view")
	}

	v := &view{tab: p}
	v.now = v.settled(v.shoot())
	if n := v.now.inked(); n < 5 {
		t.Errorf("only %.1f %% of the view differ from its background", n)
	}
	assembled := v.now
	v.changes("drawn apart", 5, func() { p.set("#apart", "100") })
	apart := v.now
	checkLid(v)
	if all {
		checkPieces(v, apart)
	}
	v.returns("closed", assembled, func() { p.set("#apart", "0") })
	v.changes("cut", 1, func() { p.set("#cut-by", "x") })
	if all {
		checkCut(v, assembled)
	}
	v.returns("whole", assembled, func() { p.set("#cut-by", "none") })
	v.do("focus", focus("#stage canvas"))
	v.changes("turned left", 1, func() { v.press(kb.ArrowLeft) })
	v.returns("turned back", assembled, func() { v.press(kb.ArrowRight) })
	if all {
		checkTurns(v, assembled)
	}
}

// checkLid hides the lid and shows it again by keys alone.
func checkLid(v *view) {
	v.tabTo(`input[data-part="lid"]`)
	shown := v.now
	v.changes("the lid hidden by Space", 1, func() { v.press(" ") })
	v.returns("the lid shown by Space", shown, func() { v.press(" ") })
}

// checkPieces hides each piece and shows it again.
func checkPieces(v *view, shown shot) {
	for _, name := range eval[[]string](v.tab, `[...document.querySelectorAll("input[data-part]")].map(e => e.dataset.part)`) {
		click := func() { v.click(fmt.Sprintf(`input[data-part=%q]`, name)) }
		if name == "marks" || name == "balls" { // small, and perhaps behind a piece
			click()
			click()
			continue
		}
		v.changes(name+" hidden", 0.3, click)
		v.returns(name+" shown", shown, click)
	}
}

// checkCut cuts in every way, elsewhere, and from the other side. A cut may be the
// same as the one before: between them the mold is whole.
func checkCut(v *view, whole shot) {
	for _, by := range eval[[]string](v.tab, `[...document.querySelector("#cut-by").options].map(o => o.value).filter(v => v !== "none")`) {
		v.returns("whole", whole, func() { v.set("#cut-by", "none") })
		v.changes("cut by "+by, 1, func() { v.set("#cut-by", by) })
		middle := v.now
		v.changes("cut by "+by+", other side", 1, func() { v.click("#cut-flip") })
		v.returns("cut by "+by+", first side", middle, func() { v.click("#cut-flip") })
		v.changes("cut by "+by+" elsewhere", 0.3, func() { v.set("#cut-at", "30") })
	}
}

// checkTurns turns, nears and begins again by keys on the view, and by buttons.
func checkTurns(v *view, home shot) {
	for name, key := range map[string]string{"right": kb.ArrowRight, "up": kb.ArrowUp, "down": kb.ArrowDown, "nearer": "+", "farther": "-"} {
		v.changes(name, 1, func() { v.press(key) })
		v.returns("Home after "+name, home, func() { v.press(kb.Home) })
	}
	for _, look := range eval[[]string](v.tab, `[...document.querySelectorAll("button[data-look]")].map(e => e.dataset.look).filter(v => v !== "corner")`) {
		v.changes("from the "+look, 1, func() { v.click(fmt.Sprintf(`button[data-look=%q]`, look)) })
	}
	v.returns("from the corner", home, func() { v.click(`button[data-look="corner"]`) })
}

// set moves a slider or chooses an option, as a hand does.
func (p *tab) set(selector, value string) {
	p.Helper()
	eval[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.value = %q; e.dispatchEvent(new Event("input", {bubbles: true})); e.dispatchEvent(new Event("change", {bubbles: true})); return true })()`, selector, value))
}

func (p *tab) click(selector string) {
	p.Helper()
	eval[bool](p, fmt.Sprintf(`(() => { document.querySelector(%q).click(); return true })()`, selector))
}

// view is the 3D view, as it was last seen at rest.
type view struct {
	*tab
	now shot
}

// shot is a picture of the stage.
type shot struct{ *image.RGBA }

// shoot takes a picture of the stage.
func (v *view) shoot() shot {
	v.Helper()
	// All of the stage is in the window, so that nothing is laid out anew for this.
	box := eval[page.Viewport](v.tab, `(() => { const e = document.querySelector("#stage"); e.scrollIntoView({block: "center"}); const r = e.getBoundingClientRect(); return {x: r.x + scrollX + 2, y: r.y + scrollY + 2, width: r.width - 4, height: r.height - 4, scale: 1} })()`)
	fast := true
	data := call(v.tab, page.CaptureScreenshot, page.CaptureScreenshotParams{Clip: &box, OptimizeForSpeed: &fast}).Data
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		v.Fatal(err)
	}
	s := shot{image.NewRGBA(img.Bounds())}
	draw.Draw(s.RGBA, s.Bounds(), img, img.Bounds().Min, draw.Src)
	return s
}

// settled waits until the view rests; last is what was seen last.
func (v *view) settled(last shot) shot {
	v.Helper()
	for end := time.Now().Add(waitLimit); time.Now().Before(end); {
		next := v.shoot()
		if next.differs(last) == 0 {
			return next
		}
		last = next
	}
	v.Fatal("the view never rests")
	return last
}

// changes does something after which at least so many percent of the view differ.
func (v *view) changes(what string, percent float64, act func()) {
	v.Helper()
	was := v.now
	act()
	v.now = v.settled(v.until(func(s shot) bool { return s.differs(was) >= percent }))
	if d := v.now.differs(was); d < percent {
		v.Errorf("%s: %.2f %% of the view change, want %.1f", what, d, percent)
	}
}

// returns does something after which the view is as it was. A few pixels may
// differ along edges.
func (v *view) returns(what string, to shot, act func()) {
	v.Helper()
	const few = 0.05
	act()
	v.now = v.settled(v.until(func(s shot) bool { return s.differs(to) <= few }))
	if d := v.now.differs(to); d > few {
		v.Errorf("%s: %.2f %% of the view are not as before", what, d)
	}
}

// until looks at the view until it is as wanted, or for long enough.
func (v *view) until(wanted func(shot) bool) shot {
	v.Helper()
	s := v.shoot()
	for end := time.Now().Add(waitLimit / 3); !wanted(s) && time.Now().Before(end); s = v.shoot() {
	}
	return s
}

// plain is a difference in a channel that an eye sees.
const plain = 24

// differs is the share in percent of pixels that clearly differ.
func (s shot) differs(from shot) float64 {
	if s.Bounds() != from.Bounds() {
		return 100
	}
	n := 0
	for i := 0; i < len(s.Pix); i += 4 {
		if apart(s.Pix[i:i+4], from.Pix[i:i+4]) {
			n++
		}
	}
	return 400 * float64(n) / float64(len(s.Pix))
}

// inked is the share in percent of pixels that clearly differ from the first, a
// corner, where only background is.
func (s shot) inked() float64 {
	n := 0
	for i := 0; i < len(s.Pix); i += 4 {
		if apart(s.Pix[i:i+4], s.Pix[:4]) {
			n++
		}
	}
	return 400 * float64(n) / float64(len(s.Pix))
}

func apart(a, b []byte) bool {
	for i := range 3 {
		if max(a[i], b[i])-min(a[i], b[i]) > plain {
			return true
		}
	}
	return false
}
