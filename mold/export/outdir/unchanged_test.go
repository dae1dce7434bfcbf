package outdir

import (
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A file is an earlier run's only if it holds what that run wrote: an edit that keeps its
// length is somebody's work, and so is one that keeps its beginning; a later date alone,
// as a copy has, is no edit.
func TestReplaceTellsEditsFromCopies(t *testing.T) {
	const written = "old a.txt"
	for _, c := range []struct {
		name  string
		spoil func(path string) error
		kept  bool
	}{
		{"one letter", func(p string) error { return os.WriteFile(p, []byte("old A.txt"), 0o666) }, true},
		{"a line more", func(p string) error { return os.WriteFile(p, []byte(written+"\n"), 0o666) }, true},
		{"emptied", func(p string) error { return os.Truncate(p, 0) }, true},
		{"cut off", func(p string) error { return os.Truncate(p, int64(len(written)-1)) }, true},
		{"taken away", os.Remove, false},
		{"copied back", func(p string) error { return os.WriteFile(p, []byte(written), 0o600) }, false},
		{"dated", func(p string) error { return os.Chtimes(p, time.Time{}, time.Unix(1, 0)) }, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "out")
			if err := build(path, "old ", false, disk); err != nil {
				t.Fatal(err)
			}
			if err := c.spoil(filepath.Join(path, "a.txt")); err != nil {
				t.Fatal(err)
			}
			before := tree(t, dir)
			err := build(path, "new ", true, disk)
			if !c.kept {
				if err != nil {
					t.Fatal(err)
				}
				expect(t, dir, wholeTree("new ")...)
				return
			}
			var foreign *ForeignError
			if !errors.As(err, &foreign) || !strings.Contains(err.Error(), "a.txt in it was changed") {
				t.Errorf("got %v", err)
			}
			expect(t, dir, before...)
		})
	}
}

// Length and hash of the list both have to be the file's: a list that was edited by hand
// proves nothing.
func TestReplaceNeedsLengthAndHash(t *testing.T) {
	for name, edit := range map[string]func(*Entry){
		"length":       func(e *Entry) { e.Bytes++ },
		"short length": func(e *Entry) { e.Bytes-- },
		"hash":         func(e *Entry) { e.SHA256 = strings.Repeat("0", 64) },
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "out")
			f, err := Create(context.Background(), path, false)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Discard()
			if err := fill(f, "old "); err != nil {
				t.Fatal(err)
			}
			entries := f.Entries()
			if err := f.Commit(); err != nil {
				t.Fatal(err)
			}
			for i := range entries {
				if entries[i].Name == "a.txt" {
					edit(&entries[i])
				}
			}
			list, err := json.Marshal(map[string]any{"files": entries})
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(path, Manifest), list, 0o666); err != nil {
				t.Fatal(err)
			}
			var foreign *ForeignError
			if err := build(path, "new ", true, disk); !errors.As(err, &foreign) {
				t.Errorf("a wrong %s, and replaced: %v", name, err)
			}
		})
	}
}
