package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"time"

	"wheelmold/mold"
)

func TestProgress(t *testing.T) {
	var out bytes.Buffer
	p := &progress{w: &out, timer: time.NewTimer(time.Hour)}
	p.stage(mold.Stage{Name: "base", Done: 1, Total: 10})
	if out.Len() > 0 {
		t.Errorf("shown at once: %q", out.String())
	}
	p.begin() // what the timer does
	if s := out.String(); !strings.Contains(s, "base") || !strings.Contains(s, "10%") {
		t.Errorf("stage and percent are missing in %q", s)
	}
	out.Reset()
	p.stage(mold.Stage{Name: "shell-a", Done: 5, Total: 10})
	if s := out.String(); !strings.Contains(s, "shell-a") || !strings.Contains(s, "50%") {
		t.Errorf("stage and percent are missing in %q", s)
	}
	p.clear()
	out.Reset()
	p.begin()
	p.stage(mold.Stage{Name: "lid", Done: 6, Total: 10}) // work that was left behind goes on
	if out.Len() > 0 {
		t.Errorf("shown after it was cleared: %q", out.String())
	}
}

// Of several builds at once the bar shows all: one of four that is over and half of the
// stages of another are five sixteenths. Messages stand on lines of their own.
func TestProgressOverSeveral(t *testing.T) {
	var out bytes.Buffer
	p := &progress{w: &out, timer: time.NewTimer(time.Hour)}
	p.begin()
	all := p.several(4)
	all.end("1lb")
	all.share("3lb")(mold.Stage{Name: "lid", Done: 5, Total: 10})
	if s := out.String(); !strings.Contains(s, "3lb: lid") || !strings.Contains(s, "31%") {
		t.Errorf("set, stage or percent is missing in %q", s)
	}
	p.aside(func() { out.WriteString("said\n") })
	before, after, said := strings.Cut(out.String(), "said\n")
	if !said || !strings.HasSuffix(before, "\r") || !strings.Contains(after, "3lb: lid") {
		t.Errorf("the message stands within the bar: %q", out.String())
	}
	last := 0
	all = p.several(4)
	step := func(name string, done int) {
		if p.last.Done <= last || p.last.Done > p.last.Total {
			t.Errorf("%s, stage %d: %d after %d, of %d", name, done, p.last.Done, last, p.last.Total)
		}
		last = p.last.Done
	}
	for _, pair := range [][2]string{{"a", "b"}, {"c", "d"}} {
		for done := 1; done <= 10; done++ {
			for _, name := range pair {
				all.share(name)(mold.Stage{Name: "y", Done: done, Total: 10})
				step(name, done)
			}
		}
		for _, name := range pair {
			all.end(name)
			step(name, 11)
		}
	}
	if last != p.last.Total {
		t.Errorf("all are over at %d of %d", last, p.last.Total)
	}
	p.clear()
}

// What is no terminal gets no progress.
func TestNoProgressWhenPiped(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	defer w.Close()
	p := newProgress(w)
	if p != nil {
		t.Errorf("a pipe was taken for a terminal")
	}
	p.stage(mold.Stage{Name: "base", Done: 1, Total: 2})
	p.clear()
}
