//go:build browser

package main

import (
	"context"
	"fmt"
	"net/url"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// Waits are long, since a machine may be busy, but bounded.
const (
	tabLimit  = 60 * time.Second // one check of one page
	waitLimit = 15 * time.Second // one thing to happen in it
)

// tab is a page in the browser.
type tab struct {
	*testing.T
	ctx context.Context

	mu    sync.Mutex
	said  []string // warnings, errors, and what the page's policy refused
	asked []string // addresses that it loaded, data aside
}

// sight is how a page is looked at. Pixels are those of CSS.
type sight struct {
	width, height int64
	dark          bool
	noScript      bool
}

// desk is a window on a desk.
var desk = sight{width: 1280, height: 900}

// open opens a file. When the test ends, the page must have loaded nothing else and
// said nothing.
func open(t *testing.T, browser context.Context, path string, s sight) *tab {
	t.Helper()
	p := &tab{T: t}
	ctx, cancel := chromedp.NewContext(browser, chromedp.WithListener(p.hear))
	t.Cleanup(cancel)
	p.ctx, cancel = context.WithTimeout(ctx, tabLimit)
	t.Cleanup(cancel)

	call(p, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: reportRefusals})
	call(p, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	p.look(s)
	if s.noScript {
		call(p, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	}
	full, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	address := (&url.URL{Scheme: "file", Path: filepath.ToSlash(full)}).String()
	p.do("open "+path, chromedp.Navigate(address))
	t.Cleanup(func() { p.quiet(address) })
	return p
}

// reportRefusals makes what the page's policy blocks an error on the console.
const reportRefusals = `addEventListener("securitypolicyviolation", e => console.error("policy refuses " + e.violatedDirective + " " + e.blockedURI + " " + e.sample), true)`

// look sets size and colors, on a screen.
func (p *tab) look(s sight) {
	p.Helper()
	call(p, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: s.width, Height: s.height, DeviceScaleFactor: 1})
	scheme := "light"
	if s.dark {
		scheme = "dark"
	}
	call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
}

// hear runs on the goroutine that reads from the browser.
func (p *tab) hear(event any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		switch e.Type {
		case runtime.ConsoleAPICalledTypeError, runtime.ConsoleAPICalledTypeWarning, runtime.ConsoleAPICalledTypeAssert:
			p.said = append(p.said, "console: "+arguments(e.Args))
		}
	case *runtime.EventExceptionThrown:
		p.said = append(p.said, "exception: "+thrown(e.ExceptionDetails))
	case *log.EventEntryAdded:
		// A browser without a graphics processor reads each frame back to show it,
		// and tells that this is slow.
		slow := e.Entry.Source == log.EntrySourceRendering && strings.Contains(e.Entry.Text, "GL Driver Message (OpenGL, Performance")
		if (e.Entry.Level == log.EntryLevelError || e.Entry.Level == log.EntryLevelWarning) && !slow {
			p.said = append(p.said, fmt.Sprintf("log, %s: %s", e.Entry.Source, e.Entry.Text))
		}
	case *network.EventRequestWillBeSent:
		if !strings.HasPrefix(e.Request.URL, "data:") {
			p.asked = append(p.asked, e.Request.URL)
		}
	}
}

func arguments(args []*runtime.RemoteObject) string {
	var words []string
	for _, a := range args {
		words = append(words, string(a.Value)+a.Description)
	}
	return strings.Join(words, " ")
}

func thrown(d *runtime.ExceptionDetails) string {
	if d.Exception != nil && d.Exception.Description != "" {
		return d.Exception.Description
	}
	return d.Text
}

// quiet fails if the page said anything or loaded anything but itself.
func (p *tab) quiet(address string) {
	// Events arrive in order: after this reply none of the page's is on its way.
	eval[int](p, `0`)
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, s := range p.said {
		p.Errorf("the page complains: %s", s)
	}
	loaded := 0
	for _, a := range p.asked {
		if at, _, _ := strings.Cut(a, "#"); at != address {
			p.Errorf("the page loads %s", a)
		} else {
			loaded++
		}
	}
	if loaded == 0 {
		p.Error("heard no request at all: not even the page's own")
	}
}

// call sends one command to the browser.
func call[P, R any](p *tab, c cdp.Command[P, R], params P) R {
	p.Helper()
	r, err := chromedp.Call(p.ctx, c, params)
	if err != nil {
		p.Fatalf("%s: %v", c.Method, err)
	}
	return r
}

// eval evaluates an expression in the page.
func eval[T any](p *tab, js string, options ...chromedp.EvaluateOption) T {
	p.Helper()
	v, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](js, options...))
	if err != nil {
		p.Fatalf("%s: %v", clip(js), err)
	}
	return v
}

// clip shortens a text for a message.
func clip(s string) string {
	if r := []rune(s); len(r) > 300 {
		return string(r[:300]) + " ..."
	}
	return s
}

func (p *tab) do(what string, a chromedp.Action[chromedp.Void]) {
	p.Helper()
	if err := chromedp.Do(p.ctx, a); err != nil {
		p.Fatalf("%s: %v", what, err)
	}
}

// await waits for an expression to become true.
func (p *tab) await(what, js string) {
	p.Helper()
	for end := time.Now().Add(waitLimit); !eval[bool](p, js); time.Sleep(30 * time.Millisecond) {
		if time.Now().After(end) {
			p.Fatalf("waited in vain for %s: %s; the page said %q", what, js, p.said)
		}
	}
}

// drawn waits for the 3D view.
func (p *tab) drawn() {
	p.Helper()
	p.await("the 3D view", `document.documentElement.dataset.scene === "drawn"`)
}

// press presses a key on whatever has the focus.
func (p *tab) press(key string) {
	p.Helper()
	p.do("press "+key, chromedp.KeyEvent(key))
}

// mostStops is more than any page has places for the focus.
const mostStops = 400

// tabTo presses Tab until what the selector names has the focus.
func (p *tab) tabTo(selector string) {
	p.Helper()
	for range mostStops {
		p.press(kb.Tab)
		if eval[bool](p, fmt.Sprintf(`document.activeElement.matches(%q)`, selector)) {
			return
		}
	}
	p.Fatalf("Tab does not lead to %s", selector)
}

// frames waits until what was done is drawn, and what follows from it too: a page may
// scroll to what has the focus.
func (p *tab) frames() {
	p.Helper()
	eval[bool](p, `new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => requestAnimationFrame(() => done(true)))))`, chromedp.EvalAwaitPromise)
}
