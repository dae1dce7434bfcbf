package outdir

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// leave makes a temporary folder as a run does, up to where it is to be killed.
func leave(t *testing.T, path string, filled bool) *Folder {
	t.Helper()
	f, err := Create(context.Background(), path, false)
	if err != nil {
		t.Fatal(err)
	}
	if filled {
		if err := fill(f, "left "); err != nil {
			t.Fatal(err)
		}
	}
	t.Cleanup(func() { f.Discard() })
	return f
}

// canLock tells whether leftovers can be told from folders in the making. Where they
// cannot, none may be removed.
func canLock(t *testing.T) bool {
	f, err := hold(t.TempDir())
	if err == nil {
		f.Close()
	}
	return err == nil
}

// A run removes what killed ones left beside its place, and nothing else: not what a
// living one is at, not what holds anything of the builder's, not what was set aside.
func TestLeftovers(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "out")
	var killed []*Folder
	var dead, stay []string
	for _, filled := range []bool{false, true} {
		killed = append(killed, leave(t, path, filled))
		stay = append(stay, leave(t, path, filled).temp)
	}
	half := leave(t, path, true)
	os.WriteFile(filepath.Join(half.tempPath(), Manifest), []byte(`{"files`), 0o666)
	killed = append(killed, half)
	for _, f := range killed {
		dead = append(dead, f.temp)
	}
	foreign, other := leave(t, path, true), leave(t, path+"2", false)
	os.WriteFile(filepath.Join(foreign.tempPath(), "notes.txt"), []byte("mine"), 0o666)
	// All at once, since the next one would clear them away.
	for _, f := range append(killed, foreign, other) {
		f.release()
	}
	stay = append(stay, foreign.temp, other.temp, ".out.wheelmold-1-0-old", ".out.wheelmold-1-x")
	for _, name := range stay[4:] {
		os.Mkdir(filepath.Join(dir, name), 0o777)
	}
	if !canLock(t) {
		stay, dead = append(stay, dead...), nil
	}

	if err := build(path, "new ", false, disk); err != nil {
		t.Fatal(err)
	}
	found, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, d := range found {
		got = append(got, d.Name())
	}
	want := append(stay, "out")
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("found %q\nwant  %q", got, want)
	}
	for _, name := range dead {
		if slices.Contains(got, name) {
			t.Errorf("%s was left by a killed run, and stays", name)
		}
	}
	if b, err := os.ReadFile(filepath.Join(foreign.tempPath(), "notes.txt")); string(b) != "mine" {
		t.Errorf("the builder's file: %q, %v", b, err)
	}
}

// A file that came into the old set as it was replaced stays, and is not taken for a
// leftover by the next run.
func TestLateFileOutlivesTheNextRun(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "out")
	if err := build(path, "old ", false, disk); err != nil {
		t.Fatal(err)
	}
	late := disk
	late.exchange = func(a, b string) error {
		return errors.Join(os.WriteFile(filepath.Join(b, "notes.txt"), []byte("mine"), 0o666), disk.exchange(a, b))
	}
	late.rename = func(from, to string) error { // where nothing can be exchanged
		os.WriteFile(filepath.Join(path, "notes.txt"), []byte("mine"), 0o666)
		return disk.rename(from, to)
	}
	if err := build(path, "new ", true, late); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := build(path, "newer ", true, disk); err != nil {
			t.Fatal(err)
		}
	}
	if got := tree(t, dir); !slices.ContainsFunc(got, func(s string) bool { return strings.HasSuffix(s, "notes.txt=mine") }) {
		t.Errorf("the builder's file is lost: %q", got)
	}
}

// Two runs that are over at the same time: the later one finds the place taken.
func TestPlaceTakenAtTheLastMoment(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out")
	late := disk
	late.rename = func(from, to string) error {
		if err := build(path, "theirs ", false, disk); err != nil {
			t.Error(err)
		}
		return disk.rename(from, to)
	}
	var exists *ExistsError
	if err := build(path, "ours ", false, late); !errors.As(err, &exists) || exists.Path != path {
		t.Errorf("got %v", err)
	}
	expect(t, filepath.Dir(path), wholeTree("theirs ")...)
}
