//go:build targets && linux && amd64

package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// These tests build the program in all ways that people get it, and hold what it writes
// to the last byte. Who asks for them by their tag has what they need: what is missing
// fails, nothing is skipped.

// releasing is how releases are built, as DEVELOPERS.md says it.
const releasing = "CGO_ENABLED=0 GOAMD64=v1 go build -trimpath -ldflags=-s -tags=noasm -gcflags=all=-d=fmahash=n ./cmd/wheelmold"

// released builds the program for a system as it is released.
func released(t *testing.T, system, processor string) string {
	t.Helper()
	text, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(text, []byte(releasing)) {
		t.Fatalf("DEVELOPERS.md does not say how releases are built: %s", releasing)
	}
	env, command, _ := strings.Cut(releasing, " go build ")
	return built(t, append(strings.Fields(env), "GOOS="+system, "GOARCH="+processor), strings.Fields(command)...)
}

// built builds the program from the module's folder.
func built(t *testing.T, env []string, args ...string) string {
	t.Helper()
	to := filepath.Join(t.TempDir(), "wheelmold")
	c := exec.Command("go", append([]string{"build", "-o", to}, args...)...)
	c.Dir, c.Env = filepath.Join("..", ".."), append(os.Environ(), env...)
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v: %v\n%s", c.Args, err, out)
	}
	return to
}

// unreleased is the program as the README builds it.
func unreleased(t *testing.T) []string { return []string{built(t, nil, "./cmd/wheelmold")} }

// made is all that a run wrote: files by their path, and both streams of each command.
type made map[string][]byte

// running is a program in its surroundings.
type running struct {
	program []string
	env     []string // beside the test's own; what ends in = is not set at all
	dir     string   // with the jobs
	from    string   // working folder, dir unless given: jobs are then named by full paths
}

// environ is the environment of a run.
func (r *running) environ() []string {
	var env []string
	for _, e := range append(os.Environ(), r.env...) {
		if name, value, _ := strings.Cut(e, "="); value != "" {
			env = append(env, name+"="+value)
		} else {
			for i, old := range env {
				if strings.HasPrefix(old, name+"=") {
					env[i] = "UNUSED=1"
				}
			}
		}
	}
	return env
}

// do runs one command and keeps what it says. Messages name the job as it was given: its
// folder is taken out of them, as the one thing that may differ.
func (r *running) do(t *testing.T, out made, name string, args ...string) {
	t.Helper()
	for i, a := range args {
		if r.from != "" && (strings.HasSuffix(a, ".toml") || strings.HasSuffix(a, "-out")) {
			args[i] = filepath.Join(r.dir, a)
		}
	}
	args = append(r.program[1:len(r.program):len(r.program)], args...)
	c := exec.Command(r.program[0], args...)
	c.Env, c.Dir = r.environ(), r.dir
	if r.from != "" {
		c.Dir = r.from
	}
	end := finish(t, c)
	if end.code != exitDone {
		t.Fatalf("%v ends with %d:\n%s", c.Args, end.code, end.messages)
	}
	out[name+" standard output"] = []byte(strings.ReplaceAll(end.out, r.dir+"/", ""))
	out[name+" messages"] = []byte(strings.ReplaceAll(end.messages, r.dir+"/", ""))
}

// all runs what writes files, and what writes figures to the last digit.
func (r *running) all(t *testing.T, jobs ...string) made {
	t.Helper()
	out := made{}
	for _, job := range jobs {
		file := job + ".toml"
		text, err := os.ReadFile(filepath.Join("..", "..", "examples", file))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(r.dir, file), text, 0o666); err != nil {
			t.Fatal(err)
		}
		r.do(t, out, job+" check --json", "check", file, "--json")
		r.do(t, out, job+" build", "build", file, "--tolerance", "0.05mm", "--format", "stl,3mf,step,dxf,pdf", "-o", "build-"+job+"-out")
		r.do(t, out, job+" shop", "shop", file, "-o", "shop-"+job+"-out")
	}
	job := jobs[0] + ".toml" // pictures take minutes under emulation: one job's stand for all
	r.do(t, out, "pictures", "build", job, "--tolerance", "0.2mm", "--format", "3mf", "--pictures", "-o", "pictures-out")
	r.do(t, out, "check", "check", job)
	r.do(t, out, "pour", "pour", job, "--wheels", "3", "--at", "14:30")
	for _, day := range []string{"2026-03-01", "2026-03-02", "2026-03-03"} {
		r.do(t, out, "log "+day, "log", job, "--date", day, "--diameter", "41 mm", "--flash", "0.4 g", "--mixed", "60 g", "--left", "9 g", "--result", "good")
	}
	r.do(t, out, "learn", "log", job, "--learn", "--json")
	r.files(t, out)
	return out
}

// files adds all that lies in the folder.
func (r *running) files(t *testing.T, out made) {
	t.Helper()
	err := filepath.WalkDir(r.dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		out[strings.TrimPrefix(path, r.dir+"/")] = text
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// wants holds what was made to what another way made, byte for byte.
func (m made) wants(t *testing.T, want made) {
	t.Helper()
	for name, text := range want {
		got, ok := m[name]
		if !ok {
			t.Errorf("%s is not made", name)
		} else if !bytes.Equal(got, text) {
			t.Errorf("%s differs:\n%s", name, differs(got, text))
		}
	}
	for name := range m {
		if _, ok := want[name]; !ok {
			t.Errorf("%s is made here only", name)
		}
	}
}

// differs shows two texts where they part.
func differs(got, want []byte) string {
	at := 0
	for at < min(len(got), len(want)) && got[at] == want[at] {
		at++
	}
	near := func(b []byte) string { return string(b[max(0, at-60):min(len(b), at+40)]) }
	return "got:  " + strings.ToValidUTF8(near(got), "?") + "\nwant: " + strings.ToValidUTF8(near(want), "?")
}

// emulates names the program that runs others for arm64.
func emulates(t *testing.T) string {
	t.Helper()
	const emulator = "qemu-aarch64-static"
	if _, err := exec.LookPath(emulator); err != nil {
		t.Fatalf("%v: install Debian's qemu-user-static", err)
	}
	return emulator
}

// Every way to build the program and both processors make the same bytes. Under the race
// detector, which takes ten times as long, one job stands for all.
func TestTargetsSameBytes(t *testing.T) {
	emulator := emulates(t)
	all := []string{"wren", "kestrel", "albatross"}
	by := unreleased(t)
	first := (&running{program: by, dir: t.TempDir()}).all(t, all...)
	if len(first) < 100 {
		t.Fatalf("only %d files and streams", len(first))
	}
	t.Logf("%d files and streams of %d jobs", len(first), len(all))
	t.Run("race", func(t *testing.T) {
		want := (&running{program: by, dir: t.TempDir()}).all(t, "wren")
		(&running{program: []string{built(t, nil, "-race", "./cmd/wheelmold")}, dir: t.TempDir()}).all(t, "wren").wants(t, want)
	})
	t.Run("amd64", func(t *testing.T) {
		(&running{program: []string{released(t, "linux", "amd64")}, dir: t.TempDir()}).all(t, all...).wants(t, first)
	})
	t.Run("arm64", func(t *testing.T) {
		(&running{program: []string{emulator, released(t, "linux", "arm64")}, dir: t.TempDir()}).all(t, all...).wants(t, first)
	})
}

// A plain build for arm64 fuses products and sums: it may differ, but by no more than
// DEVELOPERS.md says of it.
func TestTargetsFused(t *testing.T) {
	const volumes, masses = 1e-9, 1e-7
	text, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	if says := "volumes agree to 1e-9, masses of flash to 1e-7"; !strings.Contains(strings.Join(strings.Fields(string(text)), " "), says) {
		t.Errorf("DEVELOPERS.md does not say that %s", says)
	}
	check := func(program ...string) (out made, figures any) {
		out = made{}
		r := &running{program: program, dir: t.TempDir()}
		job, err := os.ReadFile(filepath.Join("..", "..", "examples", "wren.toml"))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(r.dir, "wren.toml"), job, 0o666); err != nil {
			t.Fatal(err)
		}
		r.do(t, out, "check", "check", "wren.toml", "--json")
		if err := json.Unmarshal(out["check standard output"], &figures); err != nil {
			t.Fatal(err)
		}
		return out, figures
	}
	plain, want := check(unreleased(t)...)
	fused, got := check(emulates(t), built(t, []string{"CGO_ENABLED=0", "GOOS=linux", "GOARCH=arm64"}, "./cmd/wheelmold"))
	if bytes.Equal(plain["check standard output"], fused["check standard output"]) {
		t.Error("both builds print the same: nothing was fused, so that nothing is held")
	}
	worst := map[string]float64{}
	found := map[string]int{}
	apart(t, got, want, nil, func(unit string, off float64) {
		worst[unit], found[unit] = max(worst[unit], off), found[unit]+1
	})
	if found["mm3"] < 20 || found["g"] < 50 {
		t.Errorf("only %d volumes and %d masses", found["mm3"], found["g"])
	}
	if worst["mm3"] > volumes || worst["g"] > masses {
		t.Errorf("volumes differ by %.1e and masses by %.1e, want %g and %g at most", worst["mm3"], worst["g"], volumes, masses)
	}
	t.Logf("%d volumes differ by %.1e at most, %d masses by %.1e", found["mm3"], worst["mm3"], found["g"], worst["g"])
}

// apart walks two documents of the same keys and tells by how much, as part of the larger,
// their volumes ("mm3") and masses ("g") differ. The unit of a figure ends its key, or one
// above it, as of p50 in flash_g.
func apart(t *testing.T, got, want any, path []string, tell func(unit string, off float64)) {
	t.Helper()
	switch want := want.(type) {
	case map[string]any:
		got, ok := got.(map[string]any)
		if !ok || !slices.Equal(slices.Sorted(maps.Keys(got)), slices.Sorted(maps.Keys(want))) {
			t.Fatalf("%s has other keys", strings.Join(path, "."))
		}
		for k := range want {
			apart(t, got[k], want[k], append(path[:len(path):len(path)], k), tell)
		}
	case []any:
		got, ok := got.([]any)
		if !ok || len(got) != len(want) {
			t.Fatalf("%s has another length", strings.Join(path, "."))
		}
		for i := range want {
			apart(t, got[i], want[i], append(path[:len(path):len(path)], fmt.Sprint(i)), tell)
		}
	case float64:
		got, ok := got.(float64)
		if !ok {
			t.Fatalf("%s is no number", strings.Join(path, "."))
		}
		for _, k := range slices.Backward(path) {
			if unit := k[strings.LastIndex(k, "_")+1:]; unit == "mm3" || unit == "g" {
				tell(unit, math.Abs(got-want)/max(math.Abs(got), math.Abs(want), math.SmallestNonzeroFloat64))
				break
			}
		}
	}
}

// Where, when and with how many cores the program runs does not show in what it makes.
func TestTargetsSurroundings(t *testing.T) {
	zone := func(name string) string {
		if _, err := os.Stat("/usr/share/zoneinfo/" + name); err != nil {
			t.Fatalf("%v: install Debian's tzdata", err)
		}
		return "TZ=" + name
	}
	by := unreleased(t)
	want := (&running{program: by, env: []string{"TZ=UTC", "LC_ALL=C"}, dir: t.TempDir()}).all(t, "wren")
	spaced := func(t *testing.T) string {
		dir := filepath.Join(t.TempDir(), "molds of mine, größer")
		if err := os.Mkdir(dir, 0o777); err != nil {
			t.Fatal(err)
		}
		return dir
	}
	for _, x := range []struct {
		name string
		env  []string
		dir  func(*testing.T) string
		from string
	}{
		{name: "east", env: []string{zone("Pacific/Kiritimati"), "LANG=tr_TR.UTF-8", "LC_ALL=tr_TR.UTF-8"}},
		{name: "quarter", env: []string{zone("Asia/Kathmandu"), "LANG=de_DE.UTF-8", "LC_ALL=de_DE.UTF-8", "LANGUAGE=de"}},
		{name: "homeless", env: []string{"HOME=", "USER=", "LANG=", "LC_ALL="}},
		{name: "elsewhere", from: "/"},
		{name: "spaced from elsewhere", dir: spaced, from: "/tmp"},
		{name: "one core", env: []string{"GOMAXPROCS=1", "GOGC=10"}},
		{name: "seven cores", env: []string{"GOMAXPROCS=7", "GOGC=off"}},
	} {
		t.Run(x.name, func(t *testing.T) {
			r := &running{program: by, env: x.env, from: x.from}
			if x.dir != nil {
				r.dir = x.dir(t)
			} else {
				r.dir = t.TempDir()
			}
			r.all(t, "wren").wants(t, want)
		})
	}
}

// The program is built for every system, and all code and tests are sound on three that
// differ in system and processor; here they run on one alone.
func TestTargetsCompile(t *testing.T) {
	for _, system := range []string{"linux", "darwin", "windows"} {
		for _, processor := range []string{"amd64", "arm64"} {
			released(t, system, processor)
		}
	}
	for _, x := range [][2]string{{"windows", "amd64"}, {"darwin", "arm64"}, {"linux", "arm64"}} {
		c := exec.Command("go", "vet", "./...")
		c.Dir, c.Env = filepath.Join("..", ".."), append(os.Environ(), "CGO_ENABLED=0", "GOOS="+x[0], "GOARCH="+x[1])
		if out, err := c.CombinedOutput(); err != nil {
			t.Errorf("on %s for %s: %v\n%s", x[0], x[1], err, out)
		}
	}
}
