//go:build browser

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"wheelmold/mold/report"
)

// hostile are names that a careless page would run, cut, or turn around. A name is
// at most 60 characters long and printable.
var hostile = map[string]string{
	"script":   `<script>document.title="owned"</script>`,
	"image":    `"><img src=x onerror=alert(1)>`,
	"ends":     `</script></style></title><svg onload=document.title="owned">`,
	"quotes":   `"b" 'c' & &amp; &#60; <b>d</b> <!-- ]]> {{.}} ` + "${0} `x` %s",
	"leftward": `גלגל קטן 12 mm (א) "ב" عجلة صغيرة 50 x 20 مم`,
	"emoji":    "🛞🔥 wheel 🧪 №5 ½ Ω≈",
	"endless":  strings.Repeat("W", 60),
}

// checkNames: a name is text, whatever it holds.
func checkNames(t *testing.T, browser context.Context) {
	for what, name := range hostile {
		t.Run(what, func(t *testing.T) {
			t.Parallel()
			checkName(t, browser, build(t, jobNamed(t, name), "--tolerance", "0.1mm").page, name)
		})
	}
	t.Run("ten thousand letters", func(t *testing.T) { checkLongName(t, browser) })
}

// jobNamed writes the job of the smallest example under another name.
func jobNamed(t *testing.T, name string) string {
	t.Helper()
	const was = `name = "wren drive"`
	text := read(t, "../../examples/wren.toml", "it is an example")
	if !strings.Contains(text, was) {
		t.Fatalf("the example has another name than %s", was)
	}
	quoted, err := json.Marshal(name) // its escapes are TOML's too
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "job.toml")
	if err := os.WriteFile(path, []byte(strings.Replace(text, was, "name = "+string(quoted), 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

func checkName(t *testing.T, browser context.Context, path, name string) {
	p := open(t, browser, path, desk)
	p.drawn()
	checkText(p, name)
	p.printsSheet(t)
	p.fitsAcross()
}

// checkText: the name stands where names stand, to the letter, has run nothing and
// made nothing.
func checkText(p *tab, name string) {
	if got := eval[string](p, `document.querySelector("h1").textContent`); got != name {
		p.Errorf("the heading says %q, want %q", got, name)
	}
	want := strings.Join(strings.Fields(name), " ") + " - mold report"
	if got := eval[string](p, `document.title`); got != want {
		p.Errorf("the title is %q, want %q", got, want)
	}
	if n := eval[int](p, `document.querySelectorAll("img").length`); n != 1 {
		p.Errorf("%d pictures, want the still one alone", n)
	}
	if n := eval[int](p, `document.querySelectorAll("script").length`); n != 2 {
		p.Errorf("%d scripts, want data and viewer", n)
	}
	if n := eval[int](p, `document.querySelectorAll("[onload], [onerror], b b, main ~ b").length`); n > 0 {
		p.Errorf("%d elements are of the name's making", n)
	}
	if !strings.Contains(squeeze(eval[string](p, `document.querySelector("#bench-sheet").textContent`)), squeeze(name)) {
		p.Error("the bench sheet does not say the name")
	}
}

// checkLongName: the command refuses a name of ten thousand letters, and what writes
// the page does not count on that.
func checkLongName(t *testing.T, browser context.Context) {
	name := strings.Repeat(`<b onclick=x>`, 10000/13)
	job := jobNamed(t, name)
	var out, messages bytes.Buffer
	code := run(context.Background(), []string{"build", job, "-o", filepath.Join(t.TempDir(), "out")}, streams{strings.NewReader(""), &out, &messages})
	if text := messages.String(); code != exitJob || !strings.Contains(text, "name") || !strings.Contains(text, "longer than 60") {
		t.Errorf("exit code %d: %s", code, clip(text))
	}

	b := &report.Build{}
	if err := json.Unmarshal(build(t, "../../examples/wren.toml", "--tolerance", "0.1mm").text, b); err != nil {
		t.Fatal(err)
	}
	b.Job = name
	p := report.Page{Build: b, Sheet: &report.Sheet{Title: []string{name}}, Scene: &report.Scene{}}
	var html strings.Builder
	if err := p.WriteHTML(&html); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "report.html")
	if err := os.WriteFile(path, []byte(html.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	checkText(open(t, browser, path, desk), name)
}
