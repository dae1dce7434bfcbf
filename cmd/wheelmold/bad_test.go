package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/rogpeppe/go-internal/txtar"

	"wheelmold/params"
)

// leastBad is how many bad jobs the corpus holds at least.
const leastBad = 150

// longestBad is what a bad job may take at most: thirty times what one does, so that a
// busy machine does not matter and a loop over a hostile number does.
const longestBad = 20 * time.Second

// badJob is a job that must be refused.
type badJob struct {
	name string
	text []byte
	code int
	want []string // in this order; those that do not begin with "hint: " are one fault each
}

// badJobs reads testdata/bad. An archive holds a job NAME.toml and what is wanted of it,
// NAME.want: the exit code, then what its messages say. With a base.toml, a job states
// only what is bad: the base's other lines stand before it.
func badJobs(t *testing.T) (all []badJob) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "bad", "*.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range paths {
		archive, err := txtar.ParseFile(path)
		if err != nil {
			t.Fatal(err)
		}
		files := map[string]string{}
		for _, f := range archive.Files {
			if _, twice := files[f.Name]; twice {
				t.Errorf("%s holds %s twice", path, f.Name)
			}
			files[f.Name] = string(f.Data)
		}
		base := files["base.toml"]
		delete(files, "base.toml")
		for _, f := range archive.Files {
			name, isJob := strings.CutSuffix(f.Name, ".toml")
			if !isJob || f.Name == "base.toml" {
				continue
			}
			want, wanted := files[name+".want"]
			if !wanted {
				t.Fatalf("%s: nothing is wanted of %s", path, name)
			}
			kind := strings.TrimSuffix(filepath.Base(path), ".txtar")
			all = append(all, wanting(t, kind+"/"+name, []byte(onBase(base, files[f.Name])), want))
		}
	}
	return all
}

// wanting is a bad job with what an archive says of it.
func wanting(t *testing.T, name string, text []byte, want string) badJob {
	t.Helper()
	first, rest, _ := strings.Cut(want, "\n")
	code, err := strconv.Atoi(first)
	rest = strings.TrimSuffix(rest, "\n")
	if err != nil || rest == "" {
		t.Fatalf("%s: wants no exit code, or no message", name)
	}
	return badJob{name, text, code, strings.Split(rest, "\n")}
}

// onBase puts the lines of a base before a job, but for those whose key the job states.
func onBase(base, job string) string {
	stated := map[string]bool{}
	for line := range strings.Lines(job) {
		key, _, _ := strings.Cut(line, "=")
		stated[strings.TrimSpace(key)] = true
	}
	var b strings.Builder
	for line := range strings.Lines(base) {
		if key, _, _ := strings.Cut(line, "="); !stated[strings.TrimSpace(key)] {
			b.WriteString(line)
		}
	}
	return b.String() + job
}

// place is where a fault of the job lies.
var place = regexp.MustCompile(`^wheelmold: error: [^:]*bad\.toml(:[0-9]+:[0-9]+)?: `)

// refuses checks that a command line is refused as wanted, with every fault and nothing
// on standard output.
func (b *badJob) refuses(t *testing.T, args ...string) {
	t.Helper()
	var out, messages bytes.Buffer
	begun := time.Now()
	code := run(context.Background(), args, streams{strings.NewReader(""), &out, &messages})
	if took := time.Since(begun); took > longestBad {
		t.Errorf("%s takes %v", args[0], took)
	}
	text := messages.String()
	if code != b.code {
		t.Errorf("%s: exit code %d, want %d; it says\n%s", args[0], code, b.code, text)
	}
	if out.Len() > 0 {
		t.Errorf("%s prints on standard output: %s", args[0], &out)
	}
	faults := 0
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if strings.ContainsFunc(line, func(r rune) bool { return !unicode.IsPrint(r) }) || len(line) > 1000 {
			t.Errorf("%s: not fit for a terminal: %.1000q", args[0], line)
		}
		switch {
		case place.MatchString(line):
			faults++
		case !strings.HasPrefix(line, "wheelmold: hint: ") && !strings.HasPrefix(line, "wheelmold: warning: "):
			t.Errorf("%s: no fault with its place, and no hint: %s", args[0], line)
		}
	}
	told := 0
	left := text
	for _, want := range b.want {
		_, after, found := strings.Cut(left, want)
		if !found {
			t.Fatalf("%s: does not say, or not in this order, %q:\n%s", args[0], want, text)
		}
		left = after
		if !strings.HasPrefix(want, "hint: ") {
			told++
		}
	}
	if faults != told {
		t.Errorf("%s: tells %d faults, want %d:\n%s", args[0], faults, told, text)
	}
}

// early reports whether the job is refused before anything is laid out or made.
func (b *badJob) early() bool {
	_, _, err := params.Parse("bad.toml", b.text)
	return err != nil || b.code == exitGeometry
}

// Every bad job is refused with what its archive wants: by check, and by build, which
// leaves no folder behind and one that is there as it was.
func TestBadJobs(t *testing.T) {
	slow(t)
	bad := badJobs(t)
	if len(bad) < leastBad {
		t.Fatalf("only %d bad jobs", len(bad))
	}
	there := earlier(t)
	before := contents(t, there)
	for _, b := range append(bad, madeBad(t)...) {
		t.Run(b.name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "bad.toml")
			if err := os.WriteFile(path, b.text, 0o666); err != nil {
				t.Fatal(err)
			}
			b.refuses(t, "check", path)
			if !b.early() {
				return // a pour that cannot be shows in a mold that is made
			}
			b.refuses(t, "build", path, "-o", filepath.Join(dir, "out"))
			b.refuses(t, "build", path, "-o", there, "--force")
			if left, err := os.ReadDir(dir); err != nil || len(left) != 1 {
				t.Errorf("left behind beside the job: %v %v", left, err)
			}
		})
	}
	if after := contents(t, there); after != before {
		t.Errorf("a folder that was there is changed:\n%s\nwas\n%s", after, before)
	}
}

// earlier is the folder of an earlier run, which --force may replace.
func earlier(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "there")
	quick(t, filepath.Join("..", "..", "examples", "wren.toml"), dir)
	return dir
}

// quick makes as little of a job as there is to make.
func quick(t *testing.T, job, dir string) {
	t.Helper()
	var out, messages bytes.Buffer
	args := []string{"build", job, "-o", dir, "--only", "hub", "--format", "stl", "--tolerance", "0.2mm"}
	if code := run(context.Background(), args, streams{strings.NewReader(""), &out, &messages}); code != exitDone {
		t.Fatalf("exit code %d: %s", code, &messages)
	}
}

// contents lists what is in the folder that holds a folder: times of change, sizes,
// names, and the manifest with its sums.
func contents(t *testing.T, dir string) string {
	t.Helper()
	var b strings.Builder
	err := filepath.Walk(filepath.Dir(dir), func(path string, info os.FileInfo, err error) error {
		if err == nil {
			b.WriteString(path + " " + info.ModTime().String() + " " + strconv.FormatInt(info.Size(), 10) + "\n")
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	manifest, err := os.ReadFile(filepath.Join(dir, "manifest.json"))
	if err != nil {
		t.Fatal(err)
	}
	return b.String() + string(manifest)
}

// A name is no path: what reads like one makes the folder that was asked for, and
// nothing beside it.
func TestNameIsNoPath(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "job.toml")
	text := `name = '../../..\up/CON: |*?'` + "\nwheel.diameter = \"90 mm\"\nwheel.width = \"30 mm\"\nhub.bore = \"8 mm\"\n"
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	quick(t, path, filepath.Join(dir, "out"))
	beside, err := os.ReadDir(dir)
	if err != nil || len(beside) != 2 {
		t.Errorf("beside the job: %v %v", beside, err)
	}
	made, err := os.ReadDir(filepath.Join(dir, "out"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range made {
		if f.IsDir() || !regexp.MustCompile(`^[a-z0-9.-]+$`).MatchString(f.Name()) {
			t.Errorf("made %q", f.Name())
		}
	}
}
