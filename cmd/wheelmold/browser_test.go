//go:build browser

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestBrowser opens the report page of every example in a real browser. Who asks
// for these tests by their tag has the tools: what is missing fails, nothing is
// skipped.
func TestBrowser(t *testing.T) {
	axe := read(t, filepath.Join(referee, "node_modules", "axe-core", "axe.min.js"), "run npm ci in testdata/referee")
	chrome := startChromium(t)
	flat := startChromium(t, chromedp.Flag("disable-3d-apis", true), chromedp.DisableGPU)
	for _, job := range exampleJobs(t) {
		t.Run(strings.TrimSuffix(filepath.Base(job), ".toml"), func(t *testing.T) {
			r := build(t, job)
			all := r.name == "wren" // the others, which draw more slowly, are looked at in fewer ways
			t.Run("alone", func(t *testing.T) { checkAlone(t, chrome, r) })
			t.Run("scene", func(t *testing.T) { checkScene(t, chrome, r, all) })
			if all {
				t.Run("loss", func(t *testing.T) { checkLoss(t, chrome, r) })
			}
			t.Run("no WebGL", func(t *testing.T) { checkNoWebGL(t, flat, r) })
			t.Run("no script", func(t *testing.T) { checkNoScript(t, chrome, r) })
			t.Run("print", func(t *testing.T) { checkPrint(t, chrome, r) })
			t.Run("access", func(t *testing.T) { checkAccess(t, chrome, r, axe, all) })
			t.Run("keyboard", func(t *testing.T) { checkKeyboard(t, chrome, r) })
			t.Run("figures", func(t *testing.T) { checkFigures(t, chrome, r) })
		})
	}
	t.Run("marks", func(t *testing.T) { checkMarks(t, chrome) })
	t.Run("names", func(t *testing.T) { checkNames(t, chrome) })
}

// referee is the folder of the outside checkers.
const referee = "../../testdata/referee"

// built is a folder that the command build made.
type built struct {
	name string
	page string         // path of the report
	text []byte         // what build --json printed beside it
	json map[string]any // the same
}

func exampleJobs(t *testing.T) []string {
	t.Helper()
	jobs, err := filepath.Glob("../../examples/*.toml")
	if err != nil || len(jobs) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	return jobs
}

// build carries out the command build as a builder would type it.
func build(t *testing.T, job string, flags ...string) *built {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "out")
	var out, messages bytes.Buffer
	args := append([]string{"build", job, "--json", "-o", dir}, flags...)
	if code := run(context.Background(), args, streams{strings.NewReader(""), &out, &messages}); code != exitDone {
		t.Fatalf("build %s: exit code %d: %s", job, code, &messages)
	}
	r := &built{name: strings.TrimSuffix(filepath.Base(job), ".toml"), page: filepath.Join(dir, "report.html"), text: out.Bytes()}
	if err := json.Unmarshal(out.Bytes(), &r.json); err != nil {
		t.Fatal(err)
	}
	return r
}

// startChromium starts a headless browser that ends with the test. Programs run as
// root, as in a container, have no sandbox there. The software renderer of WebGL is
// asked for, or else the browser warns that it fell back to it.
func startChromium(t *testing.T, flags ...chromedp.ExecAllocatorOption) context.Context {
	t.Helper()
	name := os.Getenv("WHEELMOLD_CHROMIUM")
	if name == "" {
		name = "chromium-headless-shell"
	}
	path, err := exec.LookPath(name)
	if err != nil {
		t.Fatalf("no browser: %v (install chromium-headless-shell, or name one in WHEELMOLD_CHROMIUM)", err)
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:len(chromedp.DefaultExecAllocatorOptions):len(chromedp.DefaultExecAllocatorOptions)],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.Flag("enable-unsafe-swiftshader", true))
	ctx, cancel := chromedp.NewExecAllocator(context.Background(), append(options, flags...)...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("%s does not start: %v", path, err)
	}
	return ctx
}

// read reads a file; hint tells what to do when it is not there.
func read(t *testing.T, path, hint string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v: %s", err, hint)
	}
	return string(text)
}
