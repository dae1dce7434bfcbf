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
)

// hostile are names that a careless page would run, cut, or turn around. A name is
// at most 60 characters long and printable.
var hostile = map[string]string{
	"script":   `<script>document.title="owned"</script>`,
	"image":    `"><img src=x onerror=alert(1)>`,
	"ends":     `</script></style></title><svg onload=document.title="owned">`,
	"quotes":   `a "b" 'c' & d &amp; &lt; &#60; <b>bold</b> <!-- --> ]]>`,
	"template": "{{.}} ${document.title=`owned`} `x` \\u003cb\\u003e %s %!d",
	"hebrew":   `גלגל קטן 12 mm (א) "ב" 3/4`,
	"arabic":   `عجلة صغيرة 50 x 20 مم`,
	"emoji":    "🛞🔥 wheel 🧪 №5 ½ Ω≈",
	"endless":  strings.Repeat("W", 60),
}

// checkNames: a name is text, whatever it holds.
func checkNames(t *testing.T, browser context.Context) {
	for what, name := range hostile {
		t.Run(what, func(t *testing.T) {
			checkName(t, browser, build(t, jobNamed(t, name), "--tolerance", "0.1mm").page, name)
		})
	}
	t.Run("ten thousand letters", func(t *testing.T) { checkLongName(t) })
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

// checkName: the name stands where names stand, to the letter, has run nothing and
// spoiled nothing.
func checkName(t *testing.T, browser context.Context, path, name string) {
	p := open(t, browser, path, desk)
	p.await("the viewer", `document.documentElement.dataset.scene !== undefined`)
	if got := eval[string](p, `document.querySelector("h1").textContent`); got != name {
		t.Errorf("the heading says %q, want %q", got, name)
	}
	want := strings.Join(strings.Fields(name), " ") + " - mold report"
	if got := eval[string](p, `document.title`); got != want {
		t.Errorf("the title is %q, want %q", got, want)
	}
	if n := eval[int](p, `document.querySelectorAll("img").length`); n != 1 {
		t.Errorf("%d pictures, want the still one alone", n)
	}
	if n := eval[int](p, `document.querySelectorAll("script").length`); n != 2 {
		t.Errorf("%d scripts, want data and viewer", n)
	}
	if n := eval[int](p, `document.querySelectorAll("[onload], [onerror], b b, main ~ b").length`); n > 0 {
		t.Errorf("%d elements are of the name's making", n)
	}
	if !strings.Contains(squeeze(eval[string](p, `document.querySelector("#bench-sheet").textContent`)), squeeze(name)) {
		t.Error("the bench sheet does not say the name")
	}
	p.printsSheet(t)
	p.fitsAcross()
}

// checkLongName: the command refuses a name of ten thousand letters.
func checkLongName(t *testing.T) {
	name := strings.Repeat(`<b onclick=x>`, 10000/13)
	var out, messages bytes.Buffer
	args := []string{"build", jobNamed(t, name), "-o", filepath.Join(t.TempDir(), "out")}
	code := run(context.Background(), args, streams{strings.NewReader(""), &out, &messages})
	if text := messages.String(); code != exitJob || !strings.Contains(text, "name") || !strings.Contains(text, "longer than 60") || len(text) > 500+len(name) {
		t.Errorf("exit code %d: %s", code, clip(text))
	}
}
