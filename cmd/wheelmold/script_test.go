package main

import (
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the golden parts of the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"wheelmold": main})
}

// scriptParams are the settings that all scripts share. $EXAMPLES is the folder of
// the example jobs.
func scriptParams(t *testing.T, dir string) testscript.Params {
	examples, err := filepath.Abs("../../examples")
	if err != nil {
		t.Fatal(err)
	}
	return testscript.Params{
		Dir:           dir,
		UpdateScripts: *update,
		Setup: func(e *testscript.Env) error {
			e.Setenv("EXAMPLES", examples)
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits":  exits,
			"absent": absent,
			"same":   same,
			"holds":  holds,
		},
	}
}

func TestScripts(t *testing.T) {
	testscript.Run(t, scriptParams(t, "testdata/script"))
}

// exits CODE COMMAND ARGS...: the command ends with this exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// names lists a folder, hidden files too.
func names(ts *testscript.TestScript, dir string) []string {
	entries, err := os.ReadDir(ts.MkAbs(dir))
	ts.Check(err)
	var out []string
	for _, e := range entries {
		if e.Name() != ".tmp" { // testscript's own
			out = append(out, e.Name())
		}
	}
	return out
}

// absent DIR GLOB: nothing in the folder matches, hidden files included.
func absent(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: absent DIR GLOB")
	}
	for _, name := range names(ts, args[0]) {
		if ok, err := filepath.Match(args[1], name); err != nil || ok {
			ts.Fatalf("%s holds %s", args[0], name)
		}
	}
}

// holds DIR NAMES...: the folder holds these files, hidden ones included, and
// nothing else.
func holds(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: holds DIR NAMES...")
	}
	got := names(ts, args[0])
	want := args[1:]
	if len(got) != len(want) {
		ts.Fatalf("%s holds %v, want %v", args[0], got, want)
	}
	for i := range got {
		if got[i] != want[i] {
			ts.Fatalf("%s holds %v, want %v", args[0], got, want)
		}
	}
}

// same DIR DIR: both folders hold the same names with the same bytes.
func same(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: same DIR DIR")
	}
	holds(ts, false, append([]string{args[1]}, names(ts, args[0])...))
	for _, name := range names(ts, args[0]) {
		if ts.ReadFile(filepath.Join(args[0], name)) != ts.ReadFile(filepath.Join(args[1], name)) {
			ts.Fatalf("%s differs between %s and %s", name, args[0], args[1])
		}
	}
}
