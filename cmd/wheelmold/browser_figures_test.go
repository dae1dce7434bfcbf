//go:build browser

package main

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
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
	want, err := lookUp(r.json, n.Key)
	if err != nil {
		t.Errorf("%s: %v", n.Key, err)
		return
	}
	if got, err := strconv.ParseFloat(n.Value, 64); err != nil || got != want {
		t.Errorf("%s = %q, the JSON has %v", n.Key, n.Value, want)
	}
	if err := agrees(n.Shown, n.Key, want); err != nil {
		t.Errorf("%s = %v is shown as %q: %v", n.Key, want, n.Shown, err)
	}
}

// lookUp follows a path of keys and indexes.
func lookUp(v any, path string) (float64, error) {
	for key := range strings.SplitSeq(path, ".") {
		switch at := v.(type) {
		case map[string]any:
			v = at[key]
		case []any:
			i, err := strconv.Atoi(key)
			if err != nil || i < 0 || i >= len(at) {
				return 0, fmt.Errorf("no element %q", key)
			}
			v = at[i]
		}
	}
	number, ok := v.(float64)
	if !ok {
		return 0, fmt.Errorf("the JSON has %v there", v)
	}
	return number, nil
}

// units are those in which a figure may be shown, in the unit of its key.
var units = []struct {
	suffix string
	in     map[string]float64
}{
	{"_mm3", map[string]float64{"mm³": 1, "cm³": 1000}},
	{"_mm2", map[string]float64{"mm²": 1, "cm²": 100}},
	{"_mm", map[string]float64{"mm": 1, "in": 25.4}},
	{"_mm.0", map[string]float64{"": 1}}, // the name says mm
	{"_g", map[string]float64{"g": 1, "kg": 1000, "oz": 28.349523125, "lb": 453.59237}},
	{"lost_g.p50", map[string]float64{"": 1}}, // the unit stands with the first figure
	{"_s", map[string]float64{"h": 3600, "days": 86400}},
	{"", map[string]float64{"": 1, "%": 0.01}},
}

var (
	clockTime = regexp.MustCompile(`^(?:(\d+):)?(\d+):(\d\d) (?:h|min)$`)
	usually   = regexp.MustCompile(`^[\d.<]+ to [\d.<]+ g, usually (.*)$`) // a range, and its median
	crossed   = regexp.MustCompile(`^([\d.]+) x [\d.]+ x [\d.]+$`)
	quantity  = regexp.MustCompile(`(<|within |under )?(-?[\d.]+(?:e[-+]?\d+)?) ?([\p{L}%³²]*)`)
	chances   = map[string][2]float64{"unlikely": {0, 0.1}, "may": {0.1, 0.5}, "likely": {0.5, 1}}
)

// agrees compares what is shown with the value, to half a step of the last digit
// that is shown; the inches and pounds in brackets too.
func agrees(shown, key string, want float64) error {
	if band, ok := chances[shown]; ok {
		if want < band[0] || want > band[1] {
			return fmt.Errorf("the word is for %g to %g", band[0], band[1])
		}
		return nil
	}
	if m := clockTime.FindStringSubmatch(shown); m != nil {
		h, _ := strconv.Atoi(m[1])
		min, _ := strconv.Atoi(m[2])
		s, _ := strconv.Atoi(m[3])
		return near(float64(h*3600+min*60+s), want, 0.5)
	}
	if m := usually.FindStringSubmatch(shown); m != nil {
		shown = m[1]
	}
	if m := crossed.FindStringSubmatch(shown); m != nil {
		shown = m[1]
	}
	parts := quantity.FindAllStringSubmatch(shown, -1)
	if len(parts) == 0 {
		return fmt.Errorf("no number")
	}
	for _, m := range parts {
		if err := agreesIn(m[1], m[2], m[3], key, want); err != nil {
			return err
		}
	}
	return nil
}

func agreesIn(bound, digits, unit, key string, want float64) error {
	factor := 0.0
	for _, u := range units {
		if strings.HasSuffix(key, u.suffix) {
			factor = u.in[unit]
			break
		}
	}
	if factor == 0 {
		return fmt.Errorf("%q is no unit of such a key", unit)
	}
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return err
	}
	step := stepOf(digits)
	if bound != "" {
		// "within" an order of magnitude is no exact figure, but must not be less.
		if math.Abs(want) > (v+step/2)*factor {
			return fmt.Errorf("is more than %g", v*factor)
		}
		return nil
	}
	return near(v*factor, want, step/2*factor)
}

// stepOf is what one more in the last digit makes.
func stepOf(digits string) float64 {
	mantissa, exponent, _ := strings.Cut(digits, "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	e, _ := strconv.Atoi(exponent)
	return math.Pow(10, float64(e-len(decimals)))
}

// near allows for rounding of the decimal itself.
func near(got, want, slack float64) error {
	if math.Abs(got-want) > slack+1e-9*math.Abs(want) {
		return fmt.Errorf("is %g off, rounding allows %g", got-want, slack)
	}
	return nil
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
