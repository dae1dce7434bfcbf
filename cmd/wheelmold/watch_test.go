package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// heard is what a command writes while it runs.
type heard struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (h *heard) Write(p []byte) (int, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.b.Write(p)
}

func (h *heard) String() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.b.String()
}

// within is how long a test waits for what must come: a build, on the slowest machine.
const within = 2 * time.Minute

// waits until so many lines hold a text.
func (h *heard) waits(t *testing.T, n int, text string) {
	t.Helper()
	for end := time.Now().Add(within); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		if strings.Count(h.String(), text) >= n {
			return
		}
	}
	t.Fatalf("%q was not said %d times:\n%s", text, n, h)
}

// watched is a watch under way.
type watched struct {
	job, dir      string
	out, messages heard
	stop          context.CancelFunc
	code          chan int
}

func startWatch(t *testing.T, job string, more ...string) *watched {
	t.Helper()
	dir := t.TempDir()
	w := &watched{job: filepath.Join(dir, "wheel.toml"), dir: filepath.Join(dir, "wheel"), code: make(chan int, 1)}
	if err := os.WriteFile(w.job, []byte(job), 0o666); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	w.stop = cancel
	t.Cleanup(cancel)
	args := []string{"build", w.job, "-o", w.dir, "--watch", "--only", "hub", "--format", "stl", "--tolerance", "0.1mm"}
	go func() { w.code <- run(ctx, append(args, more...), streams{nil, &w.out, &w.messages}) }()
	return w
}

// save writes the job as editors do: in place, or beside it and renamed.
func (w *watched) save(t *testing.T, job string, rename bool) {
	t.Helper()
	name := w.job
	if rename {
		name += "~"
	}
	err := os.WriteFile(name, []byte(job), 0o666)
	if err == nil && rename {
		err = os.Rename(name, w.job)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// ends interrupts the watch, which leaves the folder with the hub and nothing beside.
func (w *watched) ends(t *testing.T) {
	t.Helper()
	w.stop()
	select {
	case code := <-w.code:
		if code != exitDone {
			t.Errorf("exit code %d:\n%s", code, &w.messages)
		}
	case <-time.After(within):
		t.Fatal("it does not end")
	}
	left, err := os.ReadDir(filepath.Dir(w.dir))
	if err != nil || len(left) != 2 {
		t.Errorf("left: %v, %v", left, err)
	}
}

// made reports whether the folder's job holds a line.
func (w *watched) made(t *testing.T, line string) bool {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(w.dir, "job.toml"))
	if err != nil {
		t.Fatal(err)
	}
	return strings.Contains(string(b), "\n"+line)
}

const watchedJob = `[wheel]
diameter = "60 mm"
width = "20 mm"
[hub]
bore = "6 mm"
`

// Each save, however the editor does it, makes the folder anew; a broken job is told
// with all its faults and leaves the folder as it was until it is mended.
func TestWatch(t *testing.T) {
	with := func(old, new string) string { return strings.Replace(watchedJob, old, new, 1) }
	w := startWatch(t, watchedJob)
	w.out.waits(t, 1, "\n")
	if got := w.out.String(); !strings.Contains(got, "rubber") || strings.Contains(got, "(was") {
		t.Errorf("first line %q", got)
	}

	w.save(t, with(`"60 mm"`, `"62 mm"`), true)
	w.out.waits(t, 2, "\n")
	if !w.made(t, `diameter = "62 mm"`) || strings.Count(w.out.String(), "(was") == 0 {
		t.Errorf("renamed: not made, or not told what changed: %q", &w.out)
	}

	before, err := os.ReadFile(filepath.Join(w.dir, "manifest.json"))
	if err != nil {
		t.Fatal(err)
	}
	w.save(t, strings.NewReplacer(`"60 mm"`, "60", `"6 mm"`, `"6 kg"`).Replace(watchedJob), true)
	w.messages.waits(t, 1, "waiting for")
	for _, says := range []string{"wheel.diameter = 60: has no unit", "hub.bore", "wheel stays as it was"} {
		if !strings.Contains(w.messages.String(), says) {
			t.Errorf("%q is not told:\n%s", says, &w.messages)
		}
	}
	after, err := os.ReadFile(filepath.Join(w.dir, "manifest.json"))
	if err != nil || !bytes.Equal(before, after) {
		t.Errorf("a broken job changed the folder (%v)", err)
	}

	w.save(t, with(`"60 mm"`, `"64 mm"`), false)
	w.out.waits(t, 3, "\n")
	if !w.made(t, `diameter = "64 mm"`) {
		t.Error("mended and saved in place: not made")
	}
	w.ends(t)
}

// What was taken away is made again with the next save, changed or not, and nobody says
// that it is there meanwhile. Each line has what was changed for it.
func TestWatchWithoutItsFolder(t *testing.T) {
	w := startWatch(t, watchedJob)
	w.out.waits(t, 1, "\n")
	if err := os.RemoveAll(w.dir); err != nil {
		t.Fatal(err)
	}
	w.save(t, "[wheel", true)
	w.messages.waits(t, 1, "wheel was taken away; waiting for")
	w.save(t, watchedJob, true)
	w.out.waits(t, 1, "no value changed")
	if err := os.RemoveAll(w.dir); err != nil {
		t.Fatal(err)
	}
	w.save(t, watchedJob, true)
	w.out.waits(t, 2, "no value changed")
	w.save(t, watchedJob+"[mold.coats]\ncount = 1\n", true)
	w.out.waits(t, 1, "; changed: mold.coats.count; ")
	if strings.Contains(w.messages.String(), "stays as it was") {
		t.Errorf("said of no folder:\n%s", &w.messages)
	}
	w.ends(t)
}

// A job behind links is followed wherever they lead by now: its own, and a folder's.
func TestSavesFollowsLinks(t *testing.T) {
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	in := func(name string) string { return filepath.Join(dir, filepath.FromSlash(name)) }
	write := func(name string) error { return os.WriteFile(in(name), []byte(time.Now().String()), 0o666) }
	relink := func(to, name string) error {
		return errors.Join(os.Symlink(filepath.FromSlash(to), in(name+"~")), os.Rename(in(name+"~"), in(name)))
	}
	for _, name := range []string{"a", "b", "c"} {
		if err := errors.Join(os.Mkdir(in(name), 0o777), write(name+"/job")); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(relink("a", "now"), os.Symlink(in("now/job"), in("link"))); err != nil {
		t.Skip("no links here: ", err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	saved, err := saves(ctx, in("link"))
	if err != nil {
		t.Fatal(err)
	}
	for _, step := range []struct {
		what string
		do   func() error
		sees bool
	}{
		{"target", func() error { return write("a/job") }, true},
		{"another file", func() error { return write("b/job") }, false},
		{"folder switched", func() error { return relink("b", "now") }, true},
		{"new target", func() error { return write("b/job") }, true},
		{"old target", func() error { return write("a/job") }, false},
		{"link switched", func() error { return relink("c/job", "link") }, true},
		{"its target", func() error { return write("c/job") }, true},
	} {
		if err := step.do(); err != nil {
			t.Fatal(err)
		}
		wait := 5 * settled
		if step.sees {
			wait = within
		}
		select {
		case <-saved:
			if !step.sees {
				t.Errorf("%s: taken for a save", step.what)
			}
		case <-time.After(wait):
			if step.sees {
				t.Fatalf("%s: not seen", step.what)
			}
		}
		for quiet := false; !quiet; { // a save may show twice
			select {
			case <-saved:
			case <-time.After(2 * settled):
				quiet = true
			}
		}
	}
}

// A job that is broken from the start, or away for a while, is waited for.
func TestWatchWaitsForTheJob(t *testing.T) {
	w := startWatch(t, "[wheel")
	w.messages.waits(t, 1, "nothing is made yet; waiting for")
	if err := os.Remove(w.job); err != nil {
		t.Fatal(err)
	}
	w.messages.waits(t, 1, "no such file")
	w.save(t, watchedJob, true)
	w.out.waits(t, 1, "\n")
	w.ends(t)
}

// What the builder put into the folder is never lost, even while he watches.
func TestWatchKeepsWhatIsNotOurs(t *testing.T) {
	w := startWatch(t, watchedJob)
	w.out.waits(t, 1, "\n")
	note := filepath.Join(w.dir, "notes.txt")
	if err := os.WriteFile(note, []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	w.save(t, strings.Replace(watchedJob, "60", "62", 1), true)
	w.messages.waits(t, 1, "notes.txt in it was not written by an earlier run")
	if _, err := os.Stat(note); err != nil || !w.made(t, `diameter = "60 mm"`) {
		t.Errorf("the folder was replaced: %v", err)
	}
	if err := os.Remove(note); err != nil {
		t.Fatal(err)
	}
	w.save(t, strings.Replace(watchedJob, "60", "62", 1), true)
	w.out.waits(t, 2, "\n")
	w.ends(t)
}

// An interrupt while it builds leaves nothing, and is as good an end as any.
func TestWatchInterruptedWhileItBuilds(t *testing.T) {
	w := startWatch(t, watchedJob, "--tolerance", "0.002mm", "--only", "base,lid", "--force")
	for range 10000 { // until the hidden folder is there, after the one that tried the place
		if found, _ := filepath.Glob(filepath.Join(filepath.Dir(w.dir), ".wheel.*")); len(found) > 0 && strings.Contains(w.messages.String(), "watching") {
			break
		}
		time.Sleep(time.Millisecond)
	}
	w.stop()
	select {
	case code := <-w.code:
		if code != exitDone || strings.Contains(w.messages.String(), "error") || w.out.String() != "" {
			t.Errorf("exit code %d:\n%s%s", code, &w.messages, &w.out)
		}
	case <-time.After(within):
		t.Fatal("it does not end")
	}
	if left, _ := os.ReadDir(filepath.Dir(w.dir)); len(left) != 1 {
		t.Errorf("left: %v", left)
	}
}

// A folder that was there before is an error at once: an interrupt is not needed.
func TestWatchLeavesOtherFolders(t *testing.T) {
	dir := t.TempDir()
	job, out := filepath.Join(dir, "wheel.toml"), filepath.Join(dir, "out")
	if err := errors.Join(os.WriteFile(job, []byte("[wheel"), 0o666), os.Mkdir(out, 0o777)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		code int
		says string
		args []string
	}{
		{exitFiles, "exists already", []string{job, "-o", out}},
		{exitFiles, "no such file", []string{job + "x", "-o", filepath.Join(dir, "new")}},
		{exitUsage, "standard input", []string{"-", "-o", filepath.Join(dir, "new")}},
		{exitUsage, "--json", []string{job, "-o", filepath.Join(dir, "new"), "--json"}},
	} {
		var said, messages bytes.Buffer
		code := run(t.Context(), append([]string{"build", "--watch"}, c.args...), streams{nil, &said, &messages})
		if code != c.code || !strings.Contains(messages.String(), c.says) || said.Len() > 0 {
			t.Errorf("%v: exit code %d, %q", c.args, code, &messages)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "new")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("something was made: %v", err)
	}
}
