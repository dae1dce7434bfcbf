//go:build browser

package main

import (
	"context"
	"fmt"
	"testing"
)

// checkNoWebGL: where a browser cannot draw in 3D, the page says so and shows its
// picture.
func checkNoWebGL(t *testing.T, browser context.Context, r *built) {
	p := open(t, browser, r.page, desk)
	if eval[bool](p, `["webgl2", "webgl"].some(kind => document.createElement("canvas").getContext(kind))`) {
		t.Fatal("this browser has WebGL: nothing is tested")
	}
	p.await("the picture in place of the view", `document.documentElement.dataset.scene === "still"`)
	p.hasStill()
	p.await("a reason", `document.querySelector("#scene-note").innerText.trim().length > 10`)
	if eval[bool](p, `!!document.querySelector("#stage canvas")?.checkVisibility({visibilityProperty: true})`) {
		t.Error("an empty canvas lies over the picture")
	}
	p.rests("#scene .controls")
	t.Logf("says: %s", eval[string](p, `document.querySelector("#scene-note").innerText`))
}

// hasStill fails unless the still picture is there to be seen.
func (p *tab) hasStill() {
	p.Helper()
	if !eval[bool](p, `(() => { const e = document.querySelector("#still"), r = e.getBoundingClientRect(); return e.complete && e.naturalWidth >= 600 && r.width > 100 && r.height > 100 && e.checkVisibility({visibilityProperty: true, opacityProperty: true}) })()`) {
		p.Error("no still picture to be seen")
	}
}

// rests fails for controls that look as if they did something, and if the page tells
// how to turn what cannot be turned.
func (p *tab) rests(within ...string) {
	p.Helper()
	for _, part := range within {
		for _, name := range eval[[]string](p, fmt.Sprintf(`[...document.querySelectorAll(%q + " :is(input, select, button)")].filter(e => !e.matches(":disabled") && e.checkVisibility()).map(e => e.outerHTML)`, part)) {
			p.Errorf("looks as if it did something: %s", clip(name))
		}
	}
	if eval[bool](p, `!!document.querySelector("#scene-how")?.checkVisibility()`) {
		p.Error("tells how to turn a picture that stands still")
	}
}

// works fails for controls that do nothing although the view is drawn. Those of a
// cut rest until there is one.
func (p *tab) works() {
	p.Helper()
	const idle = `[...document.querySelectorAll(":is(#scene, .tools) :disabled")].map(e => e.id || e.outerHTML).join()`
	if names := eval[string](p, idle); names != "cut-at,cut-flip" {
		p.Errorf("without a cut these rest: %s", clip(names))
	}
	p.set("#cut-by", "x")
	p.frames()
	if names := eval[string](p, idle); names != "" {
		p.Errorf("with a cut these rest: %s", clip(names))
	}
	p.set("#cut-by", "none")
	if !eval[bool](p, `document.querySelector("#scene-how").checkVisibility()`) {
		p.Error("does not tell how to turn the view")
	}
}

// original is whether the picture is the one that came with the page.
const original = `document.querySelector("#still").src === window.original`

// checkLoss takes away what the browser draws with, as a computer does that sleeps,
// and gives it back. Meanwhile the page's own picture shows, printed or not.
func checkLoss(t *testing.T, browser context.Context, r *built) {
	p := open(t, browser, r.page, sight{width: 520, height: 600})
	p.drawn()
	eval[bool](p, `(() => { window.original = document.querySelector("#still").src; window.gl = document.querySelector("#stage canvas").getContext("webgl2").getExtension("WEBGL_lose_context"); return true })()`)
	p.works()
	v := &view{tab: p}
	v.now = v.settled(v.shoot())
	whole := v.now
	p.printsView()

	for range 2 { // once before anything was printed as a loss, and once after
		v.changes("lost", 5, func() { eval[bool](p, `(window.gl.loseContext(), true)`) })
		p.standsStill("after the loss")
		for _, event := range []string{"beforeprint", "afterprint"} {
			eval[bool](p, fmt.Sprintf(`dispatchEvent(new Event(%q))`, event))
			p.standsStill("after the loss, " + event)
		}
		v.returns("found again", whole, func() { eval[bool](p, `(window.gl.restoreContext(), true)`) })
		p.drawn()
		p.works()
	}
}

// printsView fails unless what is seen is printed, as a picture, and the page is then
// as before.
func (p *tab) printsView() {
	p.Helper()
	eval[bool](p, `dispatchEvent(new Event("beforeprint"))`)
	p.await("the print's picture", `(e => e.complete && e.naturalWidth > 400 && e.checkVisibility())(document.querySelector("#still"))`)
	if eval[bool](p, original) {
		p.Error("prints another picture than it shows")
	}
	eval[bool](p, `dispatchEvent(new Event("afterprint"))`)
	p.drawn()
	if !eval[bool](p, original) {
		p.Error("after printing, the page has lost its picture")
	}
}

// standsStill fails unless the picture that came with the page stands for the view.
func (p *tab) standsStill(when string) {
	p.Helper()
	p.await("the picture "+when, `document.documentElement.dataset.scene === "still" && !document.querySelector("#stage canvas").checkVisibility()`)
	p.hasStill()
	if !eval[bool](p, original) {
		p.Errorf("%s: not the picture that came with the page", when)
	}
	if !eval[bool](p, `document.querySelector("#scene-note").innerText.trim().length > 10`) {
		p.Errorf("%s: no reason", when)
	}
	p.rests("#scene .controls")
}
