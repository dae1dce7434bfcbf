//go:build browser

package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"wheelmold/mold/report/reporttest"
)

// figure is a number as the page shows it.
type figure struct {
	Key, Value string // of the JSON
	Shown      string
	Note       string // that it leads to
	About      string // of it, less its title
}

const numbers = `[...document.querySelectorAll("data[data-key]")].map(d => {
	const a = d.closest("[aria-describedby]"), note = document.getElementById(a?.getAttribute("aria-describedby"));
	const about = note?.cloneNode(true);
	about?.querySelector("b")?.remove();
	return {Key: d.dataset.key, Value: d.getAttribute("value"), Shown: d.textContent, Note: note?.id ?? "", About: about?.textContent.trim() ?? ""};
})`

// checkFigures: every figure is that of the JSON, to the digit that is shown, and
// explains itself.
func checkFigures(t *testing.T, browser context.Context, r *built) {
	p := open(t, browser, r.page, desk)
	p.drawn()
	all := eval[[]figure](p, numbers)
	if len(all) < 15 {
		t.Errorf("%d figures, want at least 15", len(all))
	}
	for i := range all {
		n := &all[i]
		if len(n.About) < 20 {
			t.Errorf("%s: note %q says only %q", n.Key, n.Note, n.About)
		}
		n.check(t, r)
	}
	checkTips(t, p, all)
}

func (n *figure) check(t *testing.T, r *built) {
	t.Helper()
	want, err := reporttest.LookUp(r.json, n.Key)
	if err != nil {
		t.Errorf("%s: %v", n.Key, err)
		return
	}
	if got, err := strconv.ParseFloat(n.Value, 64); err != nil || got != want {
		t.Errorf("%s = %q, the JSON has %v", n.Key, n.Value, want)
	}
	if err := reporttest.Agrees(n.Shown, n.Key, want); err != nil {
		t.Errorf("%s = %v is shown as %q: %v", n.Key, want, n.Shown, err)
	}
}

// tip is the text of the tip that shows, or nothing.
const tip = `[...document.querySelectorAll("[role=tooltip]")].filter(e => e.checkVisibility({visibilityProperty: true, opacityProperty: true})).map(e => e.textContent).join()`

// checkTips: a figure that has the focus, or the pointer over it, shows its note;
// Escape puts the note away.
func checkTips(t *testing.T, p *tab, all []figure) {
	if s := eval[string](p, tip); s != "" {
		t.Errorf("a tip shows before anything was asked: %q", s)
	}
	for i := range all {
		p.do("focus", chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.querySelectorAll("a.figure")[%d].focus()`, i)))
		p.frames()
		if s := eval[string](p, tip); !strings.Contains(squeeze(s), squeeze(all[i].About)) {
			t.Errorf("%s shows the tip %q, want %q", all[i].Key, s, all[i].About)
		}
	}
	p.press(kb.Escape)
	p.await("the tip to close", tip+` === ""`)

	p.do("blur", chromedp.Evaluate[chromedp.Void](`(document.activeElement.blur(), document.querySelector("a.figure").scrollIntoView({block: "center"}))`))
	p.frames()
	at := eval[[2]float64](p, `(() => { const r = document.querySelector("a.figure").getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2] })()`)
	p.do("point", chromedp.MouseEvent("mouseMoved", at[0], at[1]))
	p.await("a tip under the pointer", tip+` !== ""`)
	if s := eval[string](p, tip); !strings.Contains(squeeze(s), squeeze(all[0].About)) {
		t.Errorf("pointing at %s shows the tip %q", all[0].Key, s)
	}
	if !eval[bool](p, `(() => { const r = document.querySelector("[role=tooltip]:not([hidden])").getBoundingClientRect(); return r.left >= 0 && r.right <= innerWidth && r.top >= 0 && r.bottom <= innerHeight })()`) {
		t.Error("the tip reaches out of the window")
	}
	p.press(kb.Escape)
	p.await("the tip to close", tip+` === ""`)
}
