package outdir

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
)

// fill writes a folder of two files and its manifest. It returns the first error.
func fill(f *Folder, text string) error {
	for _, name := range []string{"b.txt", "a.txt"} {
		if err := f.Write(name, func(w io.Writer) error { _, err := io.WriteString(w, text+name); return err }); err != nil {
			return err
		}
	}
	entries := f.Entries()
	return f.Write(Manifest, func(w io.Writer) error {
		return json.NewEncoder(w).Encode(map[string]any{"files": entries})
	})
}

// build makes a whole folder, as the command does.
func build(path, text string, replace bool, sys system) error {
	f, err := create(context.Background(), path, replace, sys)
	if err != nil {
		return err
	}
	defer f.Discard()
	if err := fill(f, text); err != nil {
		return err
	}
	return f.Commit()
}

// tree lists everything below dir with its content, hidden files too.
func tree(t *testing.T, dir string) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		rel, _ := filepath.Rel(dir, path)
		if d.Type().IsRegular() && d.Name() != Manifest {
			b, _ := os.ReadFile(path)
			rel += "=" + string(b)
		}
		out = append(out, rel)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func expect(t *testing.T, dir string, want ...string) {
	t.Helper()
	if got := tree(t, dir); !slices.Equal(got, want) {
		t.Errorf("found %q, want %q", got, want)
	}
}

func wholeTree(text string) []string {
	return []string{"out", "out/a.txt=" + text + "a.txt", "out/b.txt=" + text + "b.txt", "out/manifest.json"}
}

func TestFolderAppearsOnCommitOnly(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "out")
	f, err := Create(context.Background(), path, false)
	if err != nil {
		t.Fatal(err)
	}
	if err := fill(f, "new "); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the folder is there before Commit: %v", err)
	}
	if err := f.Commit(); err != nil {
		t.Fatal(err)
	}
	f.Discard()
	expect(t, dir, wholeTree("new ")...)
}

// The hash of "abc" is the first example of FIPS 180-2, appendix B.1.
func TestEntries(t *testing.T) {
	f, err := Create(context.Background(), filepath.Join(t.TempDir(), "out"), false)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Discard()
	var wg sync.WaitGroup
	for _, name := range []string{"2", "1", "3"} {
		wg.Go(func() {
			if err := f.Write(name, func(w io.Writer) error { _, err := io.WriteString(w, "abc"); return err }); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	if got, want := f.Entries(), []Entry{{"1", 3, abc}, {"2", 3, abc}, {"3", 3, abc}}; !slices.Equal(got, want) {
		t.Errorf("entries %v, want %v", got, want)
	}
}

func TestPlainNamesOnly(t *testing.T) {
	f, err := Create(context.Background(), filepath.Join(t.TempDir(), "out"), false)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Discard()
	for _, name := range []string{"../x", "a/b", "", ".", ".hidden", ".."} {
		if err := f.Write(name, func(io.Writer) error { return nil }); err == nil {
			t.Errorf("a file was written as %q", name)
		}
	}
}

var errDisk = errors.New("no space left on device")

// failing is the disk with its nth call failing.
func failing(n int) system {
	count := 0
	fail := func() error {
		if count++; count == n {
			return errDisk
		}
		return nil
	}
	return system{
		create: func(r *os.Root, name string) (file, error) {
			if err := fail(); err != nil {
				return nil, err
			}
			f, err := disk.create(r, name)
			return failingFile{f, fail}, err
		},
		syncDir: func(path string) error { return errors.Join(fail(), disk.syncDir(path)) },
		rename: func(from, to string) error {
			if err := fail(); err != nil {
				return err
			}
			return disk.rename(from, to)
		},
		exchange: func(a, b string) error { return errors.ErrUnsupported },
	}
}

type failingFile struct {
	file
	fail func() error
}

func (f failingFile) Write(p []byte) (int, error) {
	if err := f.fail(); err != nil {
		return len(p) / 2, err
	}
	return f.file.Write(p)
}

func (f failingFile) Sync() error  { return errors.Join(f.fail(), f.file.Sync()) }
func (f failingFile) Close() error { return errors.Join(f.fail(), f.file.Close()) }

// Every call to the disk fails once, in its turn, until a run passes. Whatever
// fails before the renaming, the place is as it was and nothing lies beside it.
func TestFailureAtEveryStep(t *testing.T) {
	for _, replace := range []bool{false, true} {
		dir := t.TempDir()
		path := filepath.Join(dir, "out")
		var before []string
		if replace {
			if err := build(path, "old ", false, disk); err != nil {
				t.Fatal(err)
			}
			before = wholeTree("old ")
		}
		steps := 0
		for n := 1; ; n++ {
			err := build(path, "new ", replace, failing(n))
			if err == nil {
				break
			}
			if !errors.Is(err, errDisk) {
				t.Fatalf("step %d: %v", n, err)
			}
			if got := tree(t, dir); slices.Equal(got, wholeTree("new ")) {
				break // the last sync, after the renaming
			}
			steps++
			expect(t, dir, before...)
		}
		// Three files with create, write, sync and close, a folder's sync, a renaming.
		if want := 3*4 + 2; steps < want {
			t.Errorf("replace %v: only %d steps failed, want at least %d", replace, steps, want)
		}
		expect(t, dir, wholeTree("new ")...)
	}
}

func TestCancel(t *testing.T) {
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	f, err := Create(ctx, filepath.Join(dir, "out"), false)
	if err != nil {
		t.Fatal(err)
	}
	err = f.Write("a", func(w io.Writer) error {
		cancel()
		_, err := w.Write(make([]byte, 2*buffered))
		return err
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("writing after the cancel: %v", err)
	}
	if err := f.Commit(); !errors.Is(err, context.Canceled) {
		t.Errorf("commit after the cancel: %v", err)
	}
	f.Discard()
	expect(t, dir)
}

func TestReplaceKeepsWhatIsNotOurs(t *testing.T) {
	for name, spoil := range map[string]func(path string) error{
		"own file":     func(p string) error { return os.WriteFile(filepath.Join(p, "notes.txt"), []byte("mine"), 0o666) },
		"edited file":  func(p string) error { return os.WriteFile(filepath.Join(p, "a.txt"), []byte("edited"), 0o666) },
		"folder in it": func(p string) error { return os.Mkdir(filepath.Join(p, "sub"), 0o777) },
		"link in it": func(p string) error {
			os.Remove(filepath.Join(p, "a.txt"))
			return os.Symlink("b.txt", filepath.Join(p, "a.txt"))
		},
		"no manifest": func(p string) error { return os.Remove(filepath.Join(p, Manifest)) },
		"other manifest": func(p string) error {
			return os.WriteFile(filepath.Join(p, Manifest), []byte(`{"name":"app"}`), 0o666)
		},
		"linked folder": func(p string) error {
			if err := os.Rename(p, p+"2"); err != nil {
				return err
			}
			return os.Symlink("out2", p)
		},
		"a file": func(p string) error { os.RemoveAll(p); return os.WriteFile(p, []byte("mine"), 0o666) },
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "out")
			if err := build(path, "old ", false, disk); err != nil {
				t.Fatal(err)
			}
			// Once before the run, once while it goes on.
			late, err := Create(context.Background(), path, true)
			if err != nil {
				t.Fatal(err)
			}
			if err := spoil(path); err != nil {
				t.Fatal(err)
			}
			before := tree(t, dir)
			before = slices.DeleteFunc(before, func(s string) bool { return strings.HasPrefix(s, ".out.wheelmold") })
			var foreign *ForeignError
			if err := build(path, "new ", true, disk); !errors.As(err, &foreign) {
				t.Errorf("spoiled before: %v", err)
			}
			if err := fill(late, "new "); err != nil {
				t.Fatal(err)
			}
			if err := late.Commit(); err == nil {
				t.Errorf("spoiled meanwhile, and replaced")
			}
			late.Discard()
			expect(t, dir, before...)
		})
	}
}

func TestReplace(t *testing.T) {
	for name, sys := range map[string]system{"exchange": disk, "two renames": failing(-1)} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "out")
			if err := os.Mkdir(path, 0o777); err != nil { // an empty folder is nobody's work
				t.Fatal(err)
			}
			for i := range 3 {
				if err := build(path, fmt.Sprint(i), true, sys); err != nil {
					t.Fatal(err)
				}
				expect(t, dir, wholeTree(fmt.Sprint(i))...)
			}
			var exists *ExistsError
			if err := build(path, "new ", false, sys); !errors.As(err, &exists) {
				t.Errorf("without asking: %v", err)
			}
			expect(t, dir, wholeTree("2")...)
		})
	}
}

// What was to be replaced need not be there any more when the new folder is ready: not
// when it is looked for, and not a moment later.
func TestReplaceOfWhatWasTakenAway(t *testing.T) {
	atOnce, without := disk, disk
	atOnce.exchange = func(a, b string) error { os.RemoveAll(b); return disk.exchange(a, b) }
	without.exchange = func(a, b string) error { os.RemoveAll(b); return errors.ErrUnsupported }
	for name, c := range map[string]struct {
		sys   system
		early bool
	}{"exchange": {disk, true}, "two renames": {failing(-1), true}, "late exchange": {atOnce, false}, "late renames": {without, false}} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "out")
			if err := build(path, "old ", false, disk); err != nil {
				t.Fatal(err)
			}
			f, err := create(context.Background(), path, true, c.sys)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Discard()
			if err := fill(f, "new "); err != nil {
				t.Fatal(err)
			}
			if c.early {
				os.RemoveAll(path)
			}
			if err := f.Commit(); err != nil {
				t.Fatal(err)
			}
			expect(t, dir, wholeTree("new ")...)
		})
	}
}

// An exchange that fails is told with its place, and as a matter of files.
func TestFailedExchangeNamesThePlace(t *testing.T) {
	sys := disk
	sys.exchange = func(a, b string) error { return errDisk }
	path := filepath.Join(t.TempDir(), "out")
	if err := build(path, "old ", false, disk); err != nil {
		t.Fatal(err)
	}
	var link *os.LinkError
	if err := build(path, "new ", true, sys); !errors.As(err, &link) || link.New != path || !errors.Is(err, errDisk) {
		t.Errorf("got %v", err)
	}
}

func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "job.toml")
	text := func(s string) func(io.Writer) error {
		return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
	}
	if err := WriteFile(path, false, text("one")); err != nil {
		t.Fatal(err)
	}
	var exists *ExistsError
	if err := WriteFile(path, false, text("two")); !errors.As(err, &exists) {
		t.Errorf("over a file: %v", err)
	}
	// It came while the file was being written.
	late := filepath.Join(dir, "late.toml")
	err := WriteFile(late, false, func(w io.Writer) error { return os.WriteFile(late, []byte("theirs"), 0o666) })
	if !errors.As(err, &exists) {
		t.Errorf("over a file that came meanwhile: %v", err)
	}
	if err := WriteFile(path, true, func(w io.Writer) error { w.Write([]byte("half")); return errDisk }); !errors.Is(err, errDisk) {
		t.Errorf("failed writing: %v", err)
	}
	expect(t, dir, "job.toml=one", "late.toml=theirs")
	if err := WriteFile(path, true, text("three")); err != nil {
		t.Fatal(err)
	}
	expect(t, dir, "job.toml=three", "late.toml=theirs")
}
