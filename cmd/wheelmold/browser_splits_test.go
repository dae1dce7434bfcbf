//go:build browser

package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// splitJob is a small wheel that every split holds.
const splitJob = `name = "small wheel"
[wheel]
diameter = "40 mm"
width = "15 mm"
[hub]
bore = "4 mm"
[process]
name = "resin"
`

// TestBrowserSplits opens the page of a mold in each split: it is quiet, its pieces are
// those of the split and follow their controls, and its figures are those of the JSON.
func TestBrowserSplits(t *testing.T) {
	job := filepath.Join(t.TempDir(), "small.toml")
	if err := os.WriteFile(job, []byte(splitJob), 0o666); err != nil {
		t.Fatal(err)
	}
	chrome := startChromium(t)
	for _, x := range []struct {
		split, segments string
		parts           []string
		drawings        int
	}{
		{"four-piece", "3", []string{"base", "shell-a", "shell-b", "shell-c", "lid"}, 7},
		{"four-piece", "4", []string{"base", "shell-a", "shell-b", "shell-c", "shell-d", "lid"}, 8},
		{"open top", "2", []string{"base", "shell-a", "shell-b", "strap"}, 5},
		{"clam", "2", []string{"half-a", "half-b"}, 3},
		{"cup and lid", "1", []string{"cup", "lid"}, 4},
	} {
		t.Run(x.split+" "+x.segments, func(t *testing.T) {
			r := build(t, job, "--tolerance", "0.05mm", "--set", "mold.split="+x.split, "--set", "mold.segments="+x.segments)
			checkAlone(t, chrome, r)
			checkFigures(t, chrome, r)
			checkSplit(t, chrome, r, append(x.parts, "hub", "rubber", "balls"), x.drawings)
		})
	}
}

// checkSplit works the 3D view of a split, and counts the drawings.
func checkSplit(t *testing.T, browser context.Context, r *built, parts []string, drawings int) {
	p := open(t, browser, r.page, sight{width: 520, height: 600})
	p.drawn()
	got := eval[[]string](p, `[...document.querySelectorAll("input[data-part]")].map(e => e.dataset.part)`)
	if !slices.Equal(got, parts) {
		t.Errorf("pieces to show %q, want %q", got, parts)
	}
	if n := eval[int](p, `document.querySelectorAll("#drawings figure svg").length`); n != drawings {
		t.Errorf("%d drawings, want %d", n, drawings)
	}
	v := &view{tab: p}
	v.now = v.settled(v.shoot())
	assembled := v.now
	v.changes("cut", 1, func() { p.set("#cut-by", "sprue") })
	v.returns("whole", assembled, func() { p.set("#cut-by", "none") })
	v.changes("drawn apart", 5, func() { p.set("#apart", "100") })
	apart := v.now
	for _, name := range parts[:len(parts)-1] { // balls are small
		click := func() { v.click(fmt.Sprintf(`input[data-part=%q]`, name)) }
		v.changes(name+" hidden", 0.3, click)
		v.returns(name+" shown", apart, click)
	}
}
