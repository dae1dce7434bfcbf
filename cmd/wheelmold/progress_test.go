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
