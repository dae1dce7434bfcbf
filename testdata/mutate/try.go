package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// patience: a run that takes so many times as long as the same tests without a fault,
// and some seconds for a machine that is busy, will not end.
const patience = 4

// trial plants faults and keeps the score.
type trial struct {
	settings
	packages []goPackage
	known    equivalent
	scratch  string
	root     string
	w        io.Writer

	usual                       map[string]time.Duration // of the tests without a fault
	caught, excused, uncompiled int
	survived                    []site
}

// outcome is how the tests of a package ended.
type outcome struct {
	failed   bool
	compiled bool
	by       string // the package and the test that failed
}

// plant plants n faults in a package, and tells what becomes of each.
func (t *trial) plant(ctx context.Context, l placed, n int) error {
	if err := t.build(l.in); err != nil {
		return fmt.Errorf("without a fault: %w", err)
	}
	for _, s := range l.sites {
		if n == 0 {
			return nil
		}
		if why, ok := t.known[s.says()]; ok {
			t.excused++
			t.tell(s, "equivalent: "+why)
			continue
		}
		o, err := t.try(ctx, s, l.in)
		if err != nil {
			return err
		}
		switch {
		case !o.compiled:
			t.uncompiled++
			t.tell(s, "does not compile, not counted")
			continue
		case o.failed:
			t.caught++
			t.tell(s, "caught by "+o.by)
		default:
			t.survived = append(t.survived, s)
			t.tell(s, "SURVIVED")
		}
		n--
	}
	if n > 0 {
		fmt.Fprintf(t.w, "%s: %d faults fewer: no more places\n", l.in.ImportPath, n)
	}
	return nil
}

func (t *trial) tell(s site, verdict string) {
	fmt.Fprintf(t.w, "%s:%d\t%s\t%s\n", s.name, s.line, s.change(), verdict)
}

// try runs the tests of a package with a fault in it, and then those of its importers.
func (t *trial) try(ctx context.Context, s site, in goPackage) (outcome, error) {
	overlay, err := t.overlay(s)
	if err != nil {
		return outcome{}, err
	}
	if t.build(in, "-overlay", overlay) != nil {
		return outcome{}, nil
	}
	var tests []string
	if in.tested() {
		tests = append(tests, in.ImportPath)
	}
	if t.importers {
		tests = append(tests, importers(t.packages, in.ImportPath)...)
	}
	last := outcome{compiled: true}
	for _, path := range tests {
		limit, err := t.allowed(ctx, path)
		if err != nil {
			return outcome{}, err
		}
		last, err = t.test(ctx, path, limit, "-overlay", overlay)
		if err != nil || last.failed || !last.compiled {
			return last, err
		}
	}
	return last, nil
}

func (t *trial) build(p goPackage, flags ...string) error {
	args := append([]string{"build", "-o", os.DevNull}, flags...)
	run := exec.Command("go", append(args, p.ImportPath)...)
	run.Dir = t.root
	if out, err := run.CombinedOutput(); err != nil {
		return fmt.Errorf("go build: %w: %s", err, out)
	}
	return nil
}

// overlay writes the faulty file and what tells the go command to read it.
func (t *trial) overlay(s site) (string, error) {
	text, err := s.faulty()
	if err != nil {
		return "", err
	}
	instead := filepath.Join(t.scratch, "faulty.go")
	if err := os.WriteFile(instead, text, 0o644); err != nil {
		return "", err
	}
	replace, err := json.Marshal(map[string]any{"Replace": map[string]string{s.file: instead}})
	if err != nil {
		return "", err
	}
	path := filepath.Join(t.scratch, "overlay.json")
	return path, os.WriteFile(path, replace, 0o644)
}

// allowed is how long the tests of a package may take with a fault. Without one they
// must pass, or their failure would tell nothing.
func (t *trial) allowed(ctx context.Context, path string) (time.Duration, error) {
	if _, ok := t.usual[path]; !ok {
		start := time.Now()
		o, err := t.test(ctx, path, t.limit)
		if err != nil {
			return 0, err
		}
		if o.failed || !o.compiled {
			return 0, fmt.Errorf("the tests of %s fail without a fault, or take longer than %v: %s", path, t.limit, o.by)
		}
		t.usual[path] = time.Since(start)
	}
	return patience*t.usual[path] + t.grace, nil
}

// event is a line of what go test -json writes.
type event struct{ Action, Test, Output, FailedBuild string }

// test runs the tests of a package until one fails or the time is over.
func (t *trial) test(ctx context.Context, path string, limit time.Duration, flags ...string) (outcome, error) {
	within, cancel := context.WithTimeout(ctx, limit+t.grace) // for compiling and linking
	defer cancel()
	args := append([]string{"test", "-json", "-count=1", "-failfast", "-vet=off", "-timeout", limit.String()}, flags...)
	run := exec.CommandContext(within, "go", append(args, path)...)
	run.Dir = t.root
	var out bytes.Buffer
	run.Stdout = &out
	confine(run)
	err := run.Run()
	sweep(run)
	if ctx.Err() != nil {
		return outcome{}, ctx.Err()
	}
	if within.Err() != nil {
		return outcome{failed: true, compiled: true, by: path + ", which does not end"}, nil
	}
	o, decoded := read(&out)
	o.failed = err != nil
	o.by = strings.TrimSpace(path + " " + o.by)
	return o, decoded
}

// read tells from what go test -json wrote whether the tests compiled, and names the
// first that failed; one that began and did not end took the others with it.
func read(r io.Reader) (outcome, error) {
	o := outcome{compiled: true}
	late := ""
	var running []string
	for d := json.NewDecoder(r); ; {
		var e event
		if err := d.Decode(&e); err == io.EOF {
			break
		} else if err != nil {
			return o, fmt.Errorf("go test -json: %w", err)
		}
		switch {
		case e.Action == "fail" && e.FailedBuild != "":
			o.compiled = false
		case e.Action == "output" && strings.HasPrefix(e.Output, "panic: test timed out"):
			late = ", which does not end"
		case e.Test == "":
		case e.Action == "run":
			running = append(running, e.Test)
		case e.Action == "fail" && o.by == "":
			o.by = e.Test
		case e.Action == "pass" || e.Action == "skip":
			running = slices.DeleteFunc(running, func(s string) bool { return s == e.Test })
		}
	}
	if o.by == "" && len(running) > 0 {
		o.by = running[len(running)-1]
	}
	o.by += late
	return o, nil
}

// conclude tells the score, and reports whether it is enough. What survived is told as
// equivalent.txt would list it.
func (t *trial) conclude() bool {
	for _, s := range t.survived {
		fmt.Fprintf(t.w, "\n%s\n", s.says())
	}
	planted := t.caught + len(t.survived)
	share := 100 * float64(t.caught) / float64(max(planted, 1))
	fmt.Fprintf(t.w, "\nplanted %d, caught %d (%.1f %%), survived %d; listed as equivalent %d, did not compile %d\n",
		planted, t.caught, share, len(t.survived), t.excused, t.uncompiled)
	return planted > 0 && share >= t.least
}
