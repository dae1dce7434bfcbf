package outdir

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
)

func writes(text string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
}

// What is no plain file is never replaced by one, be it there before or come meanwhile.
func TestFileReplacesPlainFilesOnly(t *testing.T) {
	for name, put := range map[string]func(path string) error{
		"link":     func(p string) error { return os.Symlink("other", p) },
		"dangling": func(p string) error { return os.Symlink("nowhere", p) },
		"folder":   func(p string) error { return os.Mkdir(p, 0o777) },
	} {
		t.Run(name, func(t *testing.T) { staysAtPlace(t, put) })
	}
}

// staysAtPlace holds that what put puts at a place stays there.
func staysAtPlace(t *testing.T, put func(path string) error) {
	dir := t.TempDir()
	early, late := filepath.Join(dir, "early"), filepath.Join(dir, "late")
	if err := errors.Join(os.WriteFile(filepath.Join(dir, "other"), []byte("mine"), 0o666), put(early)); err != nil {
		t.Fatal(err)
	}
	before, err := os.Lstat(early)
	if err != nil {
		t.Fatal(err)
	}
	var foreign *ForeignError
	if err := WriteFile(early, true, writes("new")); !errors.As(err, &foreign) || foreign.Path != early {
		t.Errorf("got %v", err)
	}
	if err := WriteFile(late, true, func(io.Writer) error { return put(late) }); !errors.As(err, &foreign) || foreign.Path != late {
		t.Errorf("come meanwhile: got %v", err)
	}
	if after, err := os.Lstat(early); err != nil || !os.SameFile(before, after) {
		t.Errorf("what was there is gone: %v, %v", after, err)
	}
	if after, err := os.Lstat(late); err != nil || after.Mode() != before.Mode() {
		t.Errorf("what came meanwhile is gone: %v, %v", after, err)
	}
	if b, _ := os.ReadFile(filepath.Join(dir, "other")); string(b) != "mine" {
		t.Errorf("the file beside holds %q", b)
	}
	if found, _ := os.ReadDir(dir); len(found) != 3 {
		t.Errorf("found %v", found)
	}
}

// A file that a killed run left is removed by the next one for its place; one that is
// being written is not, nor what else has such a name.
func TestLeftoverFiles(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "job.toml")
	const dead, aside, other, living = ".job.toml.wheelmold-1-0", ".job.toml.wheelmold-1-0-old", ".other.toml.wheelmold-1-0", ".job.toml.wheelmold-2-0"
	for _, name := range []string{dead, aside, other} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	f, held, err := begin(filepath.Join(dir, living))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if held != nil {
		defer held.Close()
	}
	// Two at once: the second begins while the first is written.
	err = WriteFile(path, true, func(w io.Writer) error {
		return errors.Join(WriteFile(path, true, writes("second")), writes("first")(w))
	})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{aside + "=", living + "=", other + "=", "job.toml=first"}
	if !canLock(t) {
		want = append([]string{dead + "="}, want...)
	}
	expect(t, dir, want...)
}
