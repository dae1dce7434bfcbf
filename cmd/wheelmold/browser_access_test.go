//go:build browser

package main

import (
	"context"
	"encoding/json"
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// phone is a small screen held upright.
var phone = sight{width: 390, height: 844}

// checkAccess lets an outside program judge the page, large and small, light and
// dark: in all four ways if asked, else in two of them.
func checkAccess(t *testing.T, browser context.Context, r *built, axe string, all bool) {
	p := open(t, browser, r.page, desk)
	p.drawn()
	p.do("load axe", chromedp.Evaluate[chromedp.Void](axe))
	for _, s := range []sight{desk, phone} {
		for _, s.dark = range []bool{false, true} {
			if !all && s.dark != (s.width == phone.width) {
				continue
			}
			p.look(s)
			for _, fault := range eval[[]string](p, judge, chromedp.EvalAwaitPromise) {
				t.Errorf("%d px wide, dark %v: %s", s.width, s.dark, fault)
			}
		}
	}
	p.fitsAcross()
	p.named()
}

// judge asks for all rules of axe up to level AA, and best practice. It must have
// found plenty to judge.
const judge = `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}).then(r =>
	r.passes.length < 20 ? ["only " + r.passes.length + " rules had anything to judge"] :
	r.violations.map(v => v.id + ": " + v.help + ": " + v.nodes.length + " times, as " + v.nodes.slice(0, 3).map(n => n.target.join(" ") + " (" + (n.any[0] ?? n.all[0] ?? n.none[0])?.message + ")").join("; ")))`

// tooWide names what reaches out of the window and does not scroll by itself.
const tooWide = `(() => {
	const over = [];
	(function look(e) {
		const before = over.length;
		if (getComputedStyle(e).overflowX === "visible" || e === document.body) [...e.children].forEach(look);
		if (over.length === before && e.getBoundingClientRect().right > innerWidth + 1) over.push(e.tagName + " " + e.id + " " + (e.getAttribute("class") ?? "") + ": " + e.textContent.trim().slice(0, 40));
	})(document.body);
	return over.slice(0, 5);
})()`

// fitsAcross fails if the page scrolls sideways on a phone.
func (p *tab) fitsAcross() {
	p.Helper()
	p.look(phone)
	if wide := eval[float64](p, `document.scrollingElement.scrollWidth`); wide > float64(phone.width) {
		over := eval[[]string](p, tooWide)
		p.Errorf("%g px wide on a screen of %d: %q", wide, phone.width, over)
	}
}

// named fails for what can have the focus and has no name that a reader could say.
func (p *tab) named() {
	p.Helper()
	n := 0
	for _, node := range call(p, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{}).Nodes {
		if node.Ignored || said(node.Role) == "RootWebArea" || !focusable(node) {
			continue
		}
		n++
		if said(node.Name) == "" {
			p.Errorf("a %s has no name", said(node.Role))
		}
	}
	if n < 40 {
		p.Errorf("only %d places for the focus are known to a reader", n)
	}
}

func focusable(node *accessibility.Node) bool {
	for _, property := range node.Properties {
		if property.Name == accessibility.PropertyNameFocusable && string(property.Value.Value) == "true" {
			return true
		}
	}
	return false
}

// said is a value as text.
func said(v *accessibility.Value) string {
	var s string
	if v == nil || json.Unmarshal(v.Value, &s) != nil {
		return ""
	}
	return s
}

// stop is a place where the focus rests.
type stop struct {
	What    string
	Outline string
	Order   int // in the document
}

// whereFocus tells where the focus is, and how that shows.
const whereFocus = `(() => {
	const e = document.activeElement, s = getComputedStyle(e);
	const shows = s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2 && !/, 0\)$|transparent/.test(s.outlineColor);
	return {What: e === document.body ? "" : e.tagName + " " + (e.id || e.dataset.part || e.dataset.look || e.dataset.print || e.innerText.slice(0, 40)),
		Outline: shows ? "" : s.outline, Order: [...document.querySelectorAll("*")].indexOf(e)};
})()`

// stops is how many places must be reached: a radio button or a scrolling box may
// come on top.
const stops = `[...document.querySelectorAll("a[href], button, input, select, summary, [tabindex='0']")].filter(e => !e.disabled && e.checkVisibility({visibilityProperty: true})).length`

// checkKeyboard walks through the page with Tab: everything that works is reached,
// in the order of the document, and shows that it is.
func checkKeyboard(t *testing.T, browser context.Context, r *built) {
	p := open(t, browser, r.page, desk)
	p.drawn()
	want := eval[int](p, stops)
	if want < 40 {
		t.Errorf("only %d places for the focus", want)
	}
	seen := map[int]bool{}
	last := stop{Order: -1}
	for range mostStops {
		p.press(kb.Tab)
		s := eval[stop](p, whereFocus)
		if s.What == "" || seen[s.Order] {
			break
		}
		seen[s.Order] = true
		if s.Order < last.Order {
			t.Errorf("the focus goes back from %s to %s", last.What, s.What)
		}
		if s.Outline != "" {
			t.Errorf("%s has the focus and does not show it: outline %s", s.What, s.Outline)
		}
		last = s
	}
	if len(seen) < want {
		t.Errorf("Tab reaches %d of %d places; the last is %s", len(seen), want, last.What)
	}
	t.Logf("%d places for the focus", len(seen))
	checkSkip(t, p)
}

// checkSkip: the first stop leads past the contents.
func checkSkip(t *testing.T, p *tab) {
	eval[bool](p, `(() => { document.activeElement.blur(); scrollTo(0, 0); getSelection().collapse(document.body, 0); return true })()`)
	p.press(kb.Tab)
	if s := eval[stop](p, whereFocus); eval[bool](p, `!document.activeElement.matches("a.skip")`) {
		t.Fatalf("the first stop is %s", s.What)
	}
	p.press(kb.Enter)
	p.await("the summary", `location.hash === "#what-happens"`)
	p.press(kb.Tab)
	if !eval[bool](p, `!!document.activeElement.closest("#what-happens")`) {
		t.Errorf("after skipping, Tab leads to %s", eval[stop](p, whereFocus).What)
	}
}

// focus puts the focus on an element.
func focus(selector string) chromedp.Action[chromedp.Void] {
	return chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.querySelector(%q).focus({focusVisible: true})`, selector))
}
