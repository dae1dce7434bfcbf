package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mold"
	"wheelmold/mold/export/outdir"
	"wheelmold/mold/study"
	"wheelmold/params"
)

func TestExitCodes(t *testing.T) {
	for _, c := range []struct {
		err  error
		code int
	}{
		{nil, 0},
		{errors.New("surprise"), 1},
		{&brep.InternalError{What: "surprise"}, 1},
		{usagef("", "what?"), 2},
		{&study.Refused{Stage: study.Reading, Faults: params.Faults{{Path: "wheel.width"}}}, 3},
		{&study.Refused{Stage: study.Layout, Faults: params.Faults{{Path: "mold.size"}}}, 4},
		{&study.Refused{Stage: study.Pouring, Faults: params.Faults{{Path: "pour.pot_life"}}}, 3},
		{&brep.Refusal{Names: []string{"a", "b"}}, 4},
		{&mold.LeakError{Faces: []string{"bore"}}, 4},
		{&fs.PathError{Op: "open", Path: "x", Err: fs.ErrNotExist}, 5},
		{&os.LinkError{Op: "rename", Old: "x", New: "y", Err: fs.ErrPermission}, 5},
		{&outdir.ExistsError{Path: "x"}, 5},
		{&outdir.ForeignError{Path: "x"}, 5},
		{context.Canceled, 130},
		{&fs.PathError{Op: "write", Path: "x", Err: syscall.EPIPE}, 141},
	} {
		// Packages add where an error came from; that must not hide what it is.
		err := c.err
		if err != nil {
			err = fmt.Errorf("base: %w", errors.Join(nil, err))
		}
		var out strings.Builder
		if got := conclude(&out, err); got != c.code {
			t.Errorf("%v: exit code %d, want %d", c.err, got, c.code)
		}
		for line := range strings.Lines(out.String()) {
			if !strings.HasPrefix(line, "wheelmold: error: ") && !strings.HasPrefix(line, "wheelmold: hint: ") {
				t.Errorf("%v prints %q", c.err, line)
			}
		}
	}
}

// A result that did not reach its reader is no success.
func TestFullOutput(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("this system has no /dev/full")
	}
	defer full.Close()
	for _, args := range [][]string{{"new"}, {"check", "../../examples/wren.toml"}, {"check", "--json", "../../examples/wren.toml"}, {"version"}, {}, {"--help"}, {"help", "new"}, {"build", "--help"}, {"completion", "bash"}} {
		var messages bytes.Buffer
		if code := run(context.Background(), args, streams{nil, full, &messages}); code != exitFiles {
			t.Errorf("%v: exit code %d, %s", args, code, &messages)
		}
	}
}

// Errors of files that are made name what was asked for, not what it is called meanwhile.
func TestNoHiddenNames(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct {
		err  error
		want string
	}{
		{&fs.PathError{Op: "mkdir", Path: filepath.Join(dir, "none", ".x.wheelmold-31067-0"), Err: syscall.ENOENT}, "the folder " + filepath.Join(dir, "none") + " does not exist"},
		{&fs.PathError{Op: "mkdir", Path: filepath.Join(dir, ".x.wheelmold-31067-0"), Err: syscall.EACCES}, "mkdir " + filepath.Join(dir, "x") + ": permission denied"},
		{&fs.PathError{Op: "write", Path: ".x.wheelmold-7-12/job.toml", Err: syscall.ENOSPC}, "write x/job.toml: no space left on device"},
		{&os.LinkError{Op: "rename", Old: ".x.wheelmold-7-0", New: "x", Err: syscall.EACCES}, "rename x x: permission denied"},
		{&fs.PathError{Op: "open", Path: ".x.toml", Err: syscall.EACCES}, "open .x.toml: permission denied"},
	} {
		if _, told := explain(c.err); len(told) != 1 || told[0].text != c.want {
			t.Errorf("%v is told as %v, want %q", c.err, told, c.want)
		}
	}
}
