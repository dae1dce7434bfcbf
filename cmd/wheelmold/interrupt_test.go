package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// An interrupt while files come into the hidden folder leaves nothing, either. It is the
// first test of its kind: what others leave behind works on for a while.
func TestInterruptWhileItWrites(t *testing.T) {
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	go func() {
		defer cancel()
		for end := time.Now().Add(within); time.Now().Before(end); time.Sleep(time.Millisecond) {
			if found, _ := filepath.Glob(filepath.Join(dir, ".*", "*")); len(found) > 0 {
				return
			}
		}
	}()
	var out, messages bytes.Buffer
	code := run(ctx, []string{"build", filepath.Join("..", "..", "examples", "wren.toml"), "-o", filepath.Join(dir, "out")}, streams{nil, &out, &messages})
	if code != exitInterrupted || out.Len() > 0 || !strings.HasSuffix(messages.String(), "wheelmold: error: interrupted; nothing was left behind\n") {
		t.Errorf("exit code %d, output %q, messages %q", code, &out, &messages)
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// An interrupt at any time leaves nothing and has its own exit code.
func TestInterrupt(t *testing.T) {
	job := filepath.Join("..", "..", "examples", "kestrel.toml")
	for name, when := range map[string]func(dir string){
		"before": func(string) {},
		// The hidden folder is made before the pieces are.
		"while it works": func(dir string) {
			for range 1000 {
				if found, _ := os.ReadDir(dir); len(found) > 0 {
					return
				}
				time.Sleep(time.Millisecond)
			}
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			ctx, cancel := context.WithCancel(context.Background())
			if name == "before" {
				cancel()
			}
			go func() { when(dir); cancel() }()
			var out, messages bytes.Buffer
			code := run(ctx, []string{"build", job, "-o", filepath.Join(dir, "out"), "--tolerance", "0.002mm"}, streams{nil, &out, &messages})
			if code != exitInterrupted || out.Len() > 0 {
				t.Errorf("exit code %d, output %q", code, &out)
			}
			if got := messages.String(); got != "wheelmold: error: interrupted; nothing was left behind\n" {
				t.Errorf("messages %q", got)
			}
			if left, _ := os.ReadDir(dir); len(left) > 0 {
				t.Errorf("left behind: %v", left)
			}
		})
	}
}

// An interrupt while sets are made leaves whole ones only, and no folder for none.
func TestInterruptPrints(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	ctx, cancel := context.WithCancel(context.Background())
	go func() {
		defer cancel()
		for range 1000 {
			if found, _ := os.ReadDir(out); len(found) > 0 {
				return
			}
			time.Sleep(time.Millisecond)
		}
	}()
	var said, messages bytes.Buffer
	code := run(ctx, []string{"prints", "--class", "60lb,120lb", "-o", out, "--tolerance", "0.002mm"}, streams{nil, &said, &messages})
	if code != exitInterrupted || said.Len() > 0 {
		t.Errorf("exit code %d, output %q, messages %q", code, &said, &messages)
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// Sets that were whole before the interrupt stay, and are listed and named.
func TestInterruptPrintsKeepsWholeSets(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	ctx, cancel := context.WithCancel(context.Background())
	go func() {
		defer cancel()
		for end := time.Now().Add(within); time.Now().Before(end); time.Sleep(time.Millisecond) {
			if _, err := os.Stat(filepath.Join(out, "75g")); err == nil {
				return
			}
		}
	}()
	var said, messages bytes.Buffer
	code := run(ctx, []string{"prints", "--class", "75g,250lb,340lb", "-o", out, "--format", "stl"}, streams{nil, &said, &messages})
	left, err := os.ReadDir(out)
	if err != nil || len(left) != 1 || left[0].Name() != "75g" {
		t.Fatalf("left: %v, %v", left, err)
	}
	if want := "wheelmold: error: interrupted; 1 of 3 made, which stay: " + filepath.Join(out, "75g") + "\n"; code != exitInterrupted || !strings.HasSuffix(messages.String(), want) {
		t.Errorf("exit code %d, messages %q", code, &messages)
	}
	if !regexp.MustCompile(`(?m)^75g +\S+75g +\d+ +26 x 8 `).MatchString(said.String()) || strings.Count(said.String(), "not made") != 2 {
		t.Errorf("listed:\n%s", &said)
	}
}
