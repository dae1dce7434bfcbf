//go:build unix

package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
)

// These tests name files as no system but Unix lets them be named.

// colored is part of a name that a terminal would obey: colors, its title, a bell, an
// empty screen, colors begun by one character, another direction, and the line's begin,
// at which a text that is folded may be broken; shown is what stands for all before that.
const (
	colored = "\x1b[31mRED\x1b]0;T\a\x1b[2J\u009b31m\u202e\r"
	shown   = `\x1b[31mRED\x1b]0;T\a\x1b[2J\u009b31m\u202e`
)

// obeyed is the first character of a text that does something to a terminal, beside the
// ends of lines.
func obeyed(text string) string {
	for _, r := range text {
		if r != '\n' && r != '\t' && !unicode.IsPrint(r) {
			return string(r)
		}
	}
	return ""
}

// pathless are the commands that are given no file.
var pathless = map[string]bool{"version": true}

// No command lets the name of a file reach the terminal as it is: it shows escapes,
// in results as in messages.
func TestNamesDoNotReachTheTerminal(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d"+colored)
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	at := func(name string) string { return filepath.Join(dir, name+colored) }
	job := at("job") + ".toml"
	const nowhere, out, messages = 0, 1, 2
	ran := map[string]bool{}
	for _, x := range []struct {
		args  string // words; JOB is the job, DIR a folder to make
		code  int
		names int // where the file is named
	}{
		{"new --class 1lb -o JOB", exitDone, nowhere},
		{"new --class 1lb -o JOB", exitFiles, messages},
		{"classes --classes DIR", exitFiles, messages},
		{"log JOB", exitDone, out},
		{"log JOB --left 3g --result good", exitDone, out | messages},
		{"log JOB --learn --accept=residue", exitDone, out | messages},
		{"log JOB --learn --accept=residue", exitDone, out | messages},
		{"check JOB", exitDone, out | messages},
		{"check JOB --set wheel.width=1km", exitJob, messages},
		{"pour JOB", exitDone, out | messages},
		{"build JOB -o DIR --only hub --format stl --tolerance 0.2mm", exitDone, out | messages},
		{"build JOB -o DIR", exitFiles, messages},
		{"shop JOB -o DIR-shop --set hub.material=acetal", exitDone, out | messages},
		{"prints --class 75g -o DIR-prints --format stl --tolerance 0.2mm", exitDone, out},
		{"prints --class 75g -o DIR-prints", exitFiles, messages},
		{"compare JOB", exitDone, out | messages},
		{"sweep JOB --set pour.hardness=70,80", exitDone, out | messages},
		{"sweep JOB --set pour.hardness=70,80 --build -o DIR", exitFiles, messages},
		{"check DIR-none", exitFiles, messages},
	} {
		args := strings.Fields(x.args)
		ran[args[0]] = true
		for i := range args {
			args[i] = strings.NewReplacer("JOB", job, "DIR", at("folder")).Replace(args[i])
		}
		var o, m bytes.Buffer
		if code := run(context.Background(), args, streams{nil, &o, &m}); code != x.code {
			t.Fatalf("%s ends with %d, want %d: %q", x.args, code, x.code, m.String())
		}
		for is, text := range map[int]string{out: o.String(), messages: m.String()} {
			if bad := obeyed(text); bad != "" {
				t.Errorf("%s sends %q to a terminal:\n%q", x.args, bad, text)
			}
			if named := strings.Contains(text, shown); named != (x.names&is != 0) {
				t.Errorf("%s names a file: %v, in\n%s", x.args, named, text)
			}
		}
	}
	for _, c := range newRoot(streams{}).Commands() {
		if !ran[c.Name()] && !pathless[c.Name()] {
			t.Errorf("%s was not tried", c.Name())
		}
	}
}

// A watch names its folder and its job in every line.
func TestNamesDoNotReachTheTerminalOfAWatch(t *testing.T) {
	wheel, err := os.ReadFile(wren)
	if err != nil {
		t.Fatal(err)
	}
	w := startWatch(t, string(wheel), "-o", filepath.Join(t.TempDir(), colored))
	w.out.waits(t, 1, shown)
	w.save(t, "no job", false)
	w.messages.waits(t, 1, " stays as it was")
	w.stop()
	<-w.code
	for _, text := range []string{w.out.String(), w.messages.String()} {
		if bad := obeyed(text); bad != "" {
			t.Errorf("sends %q to a terminal:\n%q", bad, text)
		}
	}
}
