//go:build browser

package main

import (
	"context"
	"regexp"
	"testing"
)

// checkAlone: the page needs no other file, says nothing on the console, and is
// small enough to mail.
func checkAlone(t *testing.T, browser context.Context, r *built) {
	text := read(t, r.page, "build writes it")
	t.Logf("%s: %.2f MB", r.name, float64(len(text))/1e6)
	if len(text) > 6e6 {
		t.Errorf("%d bytes", len(text))
	}
	for _, m := range outside.FindAllString(text, -1) {
		t.Errorf("refers to another file: %s", clip(m))
	}
	p := open(t, browser, r.page, desk) // and is quiet
	p.drawn()
	for _, m := range eval[[]string](p, `[...document.querySelectorAll("[src], [href]")].map(e => e.getAttribute("src") ?? e.getAttribute("href")).filter(a => !/^(#|data:)/.test(a))`) {
		t.Errorf("refers to another file: %s", clip(m))
	}
	p.anchored()
}

// outside are references that a browser would follow.
var outside = regexp.MustCompile(`(?i)(?:\b(?:src|srcset|href|action|poster)\s*=\s*["']?|url\(\s*["']?|@import\s+["']?)(?:https?:)?//[^"'\s>]*`)

// checkNoScript: without scripts all but the 3D view is there.
func checkNoScript(t *testing.T, browser context.Context, r *built) {
	s := desk
	s.noScript = true
	p := open(t, browser, r.page, s)
	if eval[bool](p, `"scene" in document.documentElement.dataset`) {
		t.Fatal("scripts ran: nothing is tested")
	}
	p.hasStill()
	p.rests("#scene", ".tools")
	p.anchored()
	for _, id := range []string{"what-happens", "mold-3d", "drawings", "parting-lines", "pour", "bench-sheet", "pieces", "notes"} {
		if n := eval[int](p, `(e => e?.checkVisibility() ? e.innerText.length : 0)(document.querySelector("main > section#`+id+`"))`); n < 60 {
			t.Errorf("section %s shows %d characters", id, n)
		}
	}
	if n := eval[int](p, `document.querySelectorAll("#drawings figure svg").length`); n < 3 {
		t.Errorf("%d drawings", n)
	}
	if n := eval[int](p, `document.querySelectorAll("#parting-lines figure svg").length`); n < 3 {
		t.Errorf("%d flash maps", n)
	}
}

// anchored fails for links that lead nowhere, and for ids that are there twice.
func (p *tab) anchored() {
	p.Helper()
	for _, a := range eval[[]string](p, `[...document.querySelectorAll("a[href^='#']")].map(e => e.getAttribute("href")).filter(a => !(e => e?.checkVisibility() && e.innerText.trim())(document.getElementById(a.slice(1))))`) {
		p.Errorf("a link to %s leads nowhere", a)
	}
	for _, id := range eval[[]string](p, `[...document.querySelectorAll("[id]")].map(e => e.id).filter((id, i, all) => all.indexOf(id) !== i)`) {
		p.Errorf("the id %s is there twice", id)
	}
	if n := eval[int](p, `document.querySelectorAll("a.figure[href^='#note-']").length`); n < 15 {
		p.Errorf("%d figures lead to notes, want at least 15", n)
	}
}
