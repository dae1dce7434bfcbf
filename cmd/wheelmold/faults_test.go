//go:build unix

package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"wheelmold/mold/export"
	"wheelmold/mold/export/outdir"
)

// These tests run the program as a process of its own, and let the system fail it.

// wren is a job that is built in a second.
var wren = filepath.Join("..", "..", "examples", "wren.toml")

// Tolerances tell sets apart.
const (
	oldSet = "0.2mm"
	newSet = "0.1mm"
)

// building are the arguments of a build of wren.
func building(dir, tolerance string, more ...string) []string {
	return append([]string{"build", wren, "-o", dir, "--tolerance", tolerance}, more...)
}

// process is the program with its arguments. TestMain puts it into the PATH.
func process(args ...string) *exec.Cmd { return exec.Command("wheelmold", args...) }

// ended is how a process ended. The code is -1 if a signal killed it.
type ended struct {
	code          int
	out, messages string
}

// finish runs a process. Streams that it has already stay.
func finish(t *testing.T, c *exec.Cmd) ended {
	t.Helper()
	return begin(t, c)()
}

// begin starts a process and returns what waits for its end.
func begin(t *testing.T, c *exec.Cmd) func() ended {
	t.Helper()
	var out, messages bytes.Buffer
	if c.Stdout == nil {
		c.Stdout = &out
	}
	if c.Stderr == nil {
		c.Stderr = &messages
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	return func() ended {
		t.Helper()
		err := c.Wait()
		if exit := (*exec.ExitError)(nil); err != nil && !errors.As(err, &exit) {
			t.Fatal(err)
		}
		e := ended{c.ProcessState.ExitCode(), out.String(), messages.String()}
		if strings.Contains(e.messages, "goroutine ") {
			t.Errorf("%v panics:\n%s", c.Args, e.messages)
		}
		return e
	}
}

// wants checks an exit code and what is said as errors and hints, by a pattern over all of
// those lines.
func (e ended) wants(t *testing.T, code int, pattern string) {
	t.Helper()
	var said []string
	warned := false
	for line := range strings.Lines(e.messages) {
		hint := strings.HasPrefix(line, "wheelmold: hint: ")
		if !hint {
			warned = strings.HasPrefix(line, "wheelmold: warning: ") || strings.HasPrefix(line, "wheelmold: note: ")
		}
		if !warned {
			said = append(said, line)
		}
	}
	text := strings.Join(said, "")
	if e.code != code || !regexp.MustCompile("^(?:"+pattern+")$").MatchString(text) {
		t.Errorf("exit code %d, want %d; said %q, want %q", e.code, code, text, pattern)
	}
}

// makeSet builds a set that is to be there.
func makeSet(t *testing.T, dir, tolerance string) {
	t.Helper()
	finish(t, process(building(dir, tolerance)...)).wants(t, exitDone, "")
	wantSet(t, dir, tolerance)
}

// setIn judges a folder by its manifest: it returns the tolerance if all files that are
// listed are there to the bit, and nothing else is.
func setIn(t *testing.T, dir string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, outdir.Manifest))
	if err != nil {
		t.Fatal(err)
	}
	var m export.Manifest
	if err := json.Unmarshal(text, &m); err != nil {
		t.Fatal(err)
	}
	found, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(found) != len(m.Files)+1 || len(m.Files) < 10 {
		t.Errorf("%s lists %d files and holds %d", dir, len(m.Files), len(found)-1)
	}
	for _, f := range m.Files {
		b, err := os.ReadFile(filepath.Join(dir, f.Name))
		if err != nil {
			t.Fatal(err)
		}
		if sum := sha256.Sum256(b); hex.EncodeToString(sum[:]) != f.SHA256 || int64(len(b)) != f.Bytes {
			t.Errorf("%s in %s is not what the manifest says", f.Name, dir)
		}
	}
	switch m.Tolerance {
	case 0.2:
		return oldSet
	case 0.1:
		return newSet
	}
	t.Fatalf("%s was made with a tolerance of %v mm", dir, m.Tolerance)
	return ""
}

func wantSet(t *testing.T, dir, tolerance string) {
	t.Helper()
	if got := setIn(t, dir); got != tolerance {
		t.Errorf("%s holds the set of %s, want that of %s", dir, got, tolerance)
	}
}

// wantOnly checks what a folder holds, hidden names too.
func wantOnly(t *testing.T, dir string, want ...string) {
	t.Helper()
	found, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, d := range found {
		got = append(got, d.Name())
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("%s holds %q, want %q", dir, got, want)
	}
}

// hidden are the folders in the making, or left over, in a folder.
func hidden(t *testing.T, dir string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(dir, ".*"))
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// unread is a pipe that nobody reads.
func unread(t *testing.T) *os.File {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	r.Close()
	t.Cleanup(func() { w.Close() })
	return w
}

// A reader that goes away ends the program quietly, but never halfway through a build.
func TestClosedPipe(t *testing.T) {
	slow(t)
	for _, args := range [][]string{{"check", wren}, {"check", wren, "--json"}, {"pour", wren}, {"new"}} {
		c := process(args...)
		c.Stdout = unread(t)
		finish(t, c).wants(t, exitUnread, "")
	}
	dir := t.TempDir()
	c := process(building(filepath.Join(dir, "out"), newSet)...)
	c.Stdout = unread(t)
	finish(t, c).wants(t, exitUnread, "")
	wantSet(t, filepath.Join(dir, "out"), newSet)

	c = process(building(filepath.Join(dir, "told"), newSet)...)
	c.Stderr = unread(t)
	if e := finish(t, c); e.code != exitDone || !strings.Contains(e.out, "told/report.html") {
		t.Errorf("without a reader of messages: exit code %d", e.code)
	}
	wantSet(t, filepath.Join(dir, "told"), newSet)

	c = process(building(filepath.Join(dir, "watched"), newSet, "--watch")...)
	c.Stdout = unread(t)
	finish(t, c).wants(t, exitUnread, "wheelmold: watching .*\n")
	wantOnly(t, dir, "out", "told", "watched")
}

// The first line is all that is wanted: it comes, and there is no message.
func TestFirstLineOnly(t *testing.T) {
	slow(t)
	c := exec.Command("sh", "-c", `wheelmold check "$1" 2>messages | head -n 1`, "sh", absolute(t, wren))
	c.Dir = t.TempDir()
	if e := finish(t, c); e.code != 0 || e.out != "wren drive\n" {
		t.Errorf("exit code %d, output %q", e.code, e.out)
	}
	if b, err := os.ReadFile(filepath.Join(c.Dir, "messages")); err != nil || strings.Contains(string(b), "error") || strings.Contains(string(b), "goroutine") {
		t.Errorf("%v, messages %s", err, b)
	}
}

func absolute(t *testing.T, path string) string {
	t.Helper()
	abs, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	return abs
}

// Without a terminal, and even without any stream, a build is as always.
func TestNoTerminal(t *testing.T) {
	slow(t)
	dir := t.TempDir()
	c := process(building(filepath.Join(dir, "alone"), newSet)...)
	c.SysProcAttr = &syscall.SysProcAttr{Setsid: true}
	e := finish(t, c)
	e.wants(t, exitDone, "")
	if strings.ContainsAny(e.out+e.messages, "\x1b\r") {
		t.Errorf("a terminal's codes without a terminal: %q", e.messages)
	}
	wantSet(t, filepath.Join(dir, "alone"), newSet)

	args := append([]string{"-c", `exec wheelmold "$@" <&- >&- 2>&-`, "sh"}, building(filepath.Join(dir, "closed"), newSet)...)
	if e := finish(t, exec.Command("sh", args...)); e.code != exitDone {
		t.Errorf("without streams: exit code %d", e.code)
	}
	// A message in a file of the set, which may get the number of a closed stream, would show.
	wantSet(t, filepath.Join(dir, "closed"), newSet)
	wantOnly(t, dir, "alone", "closed")
}

// Whatever is at the place is refused by name, and is what it was.
func TestTakenPlace(t *testing.T) {
	slow(t)
	dir := t.TempDir()
	set, foreign := filepath.Join(dir, "set"), filepath.Join(dir, "foreign")
	makeSet(t, set, oldSet)
	os.Mkdir(foreign, 0o777)
	os.WriteFile(filepath.Join(foreign, "notes.txt"), []byte("mine"), 0o666)
	os.WriteFile(filepath.Join(dir, "file"), []byte("mine"), 0o666)
	os.Symlink("set", filepath.Join(dir, "link"))
	os.Symlink("nowhere", filepath.Join(dir, "dangling"))
	for name, reason := range map[string]string{
		"foreign":  "it has no manifest.json of an earlier run",
		"file":     "it is not a folder",
		"link":     "it is not a folder",
		"link/":    "it is not a folder",
		"dangling": "it is not a folder",
	} {
		place := dir + "/" + name
		finish(t, process(building(place, newSet)...)).wants(t, exitFiles,
			"wheelmold: error: "+place+" exists already\nwheelmold: hint: choose another place, or replace it with --force\n")
		finish(t, process(building(place, newSet, "--force")...)).wants(t, exitFiles,
			"wheelmold: error: "+place+" is not replaced: "+reason+"\nwheelmold: hint: choose another place, or move that away first\n")
	}
	wantOnly(t, dir, "dangling", "file", "foreign", "link", "set")
	wantSet(t, set, oldSet)
	wantSet(t, filepath.Join(dir, "link"), oldSet)
	for _, path := range []string{"file", "foreign/notes.txt"} {
		if b, err := os.ReadFile(filepath.Join(dir, path)); string(b) != "mine" {
			t.Errorf("%s holds %q, %v", path, b, err)
		}
	}
	if to, err := os.Readlink(filepath.Join(dir, "dangling")); to != "nowhere" {
		t.Errorf("the link leads to %q, %v", to, err)
	}
}

// A signal in a build leaves the old set and nothing else, and says so.
func TestSignals(t *testing.T) {
	slow(t)
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	makeSet(t, out, oldSet)
	for _, s := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP} {
		c := process(building(out, newSet, "--force", "--pictures")...) // which takes seconds
		wait := begin(t, c)
		for end := time.Now().Add(within); len(hidden(t, dir)) == 0 && time.Now().Before(end); {
			time.Sleep(time.Millisecond)
		}
		c.Process.Signal(s)
		e := wait()
		e.wants(t, exitInterrupted, "wheelmold: error: interrupted; nothing was left behind\n")
		if e.out != "" {
			t.Errorf("%v: a result %q", s, e.out)
		}
		wantOnly(t, dir, "out")
		wantSet(t, out, oldSet)
	}
}
