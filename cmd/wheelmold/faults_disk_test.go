//go:build faults && linux

package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"wheelmold/mold/export/outdir"
)

// Who asks for these tests by their tag may mount: what is missing fails, nothing is
// skipped.

// mounted is a new file system of a size as the option of tmpfs.
func mounted(t *testing.T, size string) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Fatalf("cannot mount a small disk: %v; run as root, with CAP_SYS_ADMIN", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Errorf("%s stays mounted: %v", dir, err)
		}
	})
	return dir
}

// noRoom is what is said of a full disk.
const noRoom = `wheelmold: error: .*: no space left on device\nwheelmold: hint: make room there, or choose a place with more of it\n`

// stuff fills a disk to the last byte.
func stuff(t *testing.T, dir string) {
	t.Helper()
	f, err := os.Create(filepath.Join(dir, "rest"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for {
		if _, err := f.Write(make([]byte, 4096)); errors.Is(err, syscall.ENOSPC) {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

// A disk that is full at the first file, amid the files, or with an old set on it leaves
// no new set and keeps the old one.
func TestFaultsFullDisk(t *testing.T) {
	for _, size := range []string{"16k", "256k", "2m"} {
		dir := mounted(t, size)
		finish(t, process(building(filepath.Join(dir, "out"), newSet)...)).wants(t, exitFiles, noRoom)
		wantOnly(t, dir)
	}
	dir := mounted(t, "5m")
	out := filepath.Join(dir, "out")
	makeSet(t, out, oldSet)
	finish(t, process(building(out, newSet, "--force")...)).wants(t, exitFiles, noRoom)
	wantOnly(t, dir, "out")
	wantSet(t, out, oldSet)
	// With room it goes on as if nothing had been.
	if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT, "size=32m"); err != nil {
		t.Fatal(err)
	}
	finish(t, process(building(out, newSet, "--force")...)).wants(t, exitDone, "")
	wantOnly(t, dir, "out")
	wantSet(t, out, newSet)
}

// A job is written whole or not at all, and an old one stays.
func TestFaultsFullDiskNew(t *testing.T) {
	dir := mounted(t, "1m")
	job := filepath.Join(dir, "job.toml")
	finish(t, process("new", "-o", job)).wants(t, exitDone, "")
	before, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	stuff(t, dir)
	finish(t, process("new", "-o", filepath.Join(dir, "other.toml"))).wants(t, exitFiles, noRoom)
	finish(t, process("new", "-o", job, "--width", "30mm", "--force")).wants(t, exitFiles, noRoom)
	wantOnly(t, dir, "job.toml", "rest")
	if after, err := os.ReadFile(job); err != nil || !bytes.Equal(after, before) {
		t.Errorf("the old job is another: %v", err)
	}
}

// A log stays as it was to the byte, also where the disk takes the first part of a line.
func TestFaultsFullDiskLog(t *testing.T) {
	dir := mounted(t, "1m")
	job, casts := filepath.Join(dir, "wheel.toml"), filepath.Join(dir, "wheel.casts")
	text, err := os.ReadFile(wren)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(job, text, 0o666); err != nil {
		t.Fatal(err)
	}
	add := func(day int, note string) ended {
		return finish(t, process("log", job, "--date", fmt.Sprintf("2026-05-%02d", day), "--left", "3 g", "--note", note))
	}
	added := "wheelmold: added the cast of .*\n"
	add(1, "first").wants(t, exitDone, added)
	before, err := os.ReadFile(casts)
	if err != nil {
		t.Fatal(err)
	}
	stuff(t, dir)
	// The file's last page has some room, but none for as much as two more pages.
	add(2, strings.Repeat("long ", 1000)).wants(t, exitFiles, noRoom)
	if after, err := os.ReadFile(casts); err != nil || !bytes.Equal(after, before) {
		t.Errorf("%d bytes are in the log, were %d: %v", len(after), len(before), err)
	}
	os.Remove(filepath.Join(dir, "rest"))
	add(2, "second").wants(t, exitDone, added)
	if after, _ := os.ReadFile(casts); !bytes.HasPrefix(after, before) || bytes.Count(after, []byte("kind=cast")) != 2 {
		t.Errorf("the log is:\n%s", after)
	}
}

// A result that did not reach its place is no success; the set that it told of is there.
func TestFaultsFullOutput(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	out := filepath.Join(t.TempDir(), "out")
	for _, args := range [][]string{
		{"new"}, {"check", wren}, {"check", wren, "--json"}, {"pour", wren}, {"log", wren}, {"classes"}, {"version"}, {"--help"}, {"build", "--help"}, building(out, newSet),
	} {
		c := process(args...)
		c.Stdout = full
		finish(t, c).wants(t, exitFiles, noRoom)
	}
	wantSet(t, out, newSet)
	c := process("check", filepath.Join("..", "..", "examples", "nosuch.toml"))
	c.Stderr = full
	if e := finish(t, c); e.code != exitFiles || e.out != "" {
		t.Errorf("messages nowhere: exit code %d", e.code)
	}
}

// A disk that is for reading only is named before any work is done.
func TestFaultsReadOnlyDisk(t *testing.T) {
	dir := mounted(t, "32m")
	out, job := filepath.Join(dir, "out"), filepath.Join(dir, "wheel.toml")
	makeSet(t, out, oldSet)
	finish(t, process("new", "-o", job)).wants(t, exitDone, "")
	if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Fatal(err)
	}
	refused := `wheelmold: error: .*: read-only file system\nwheelmold: hint: choose a place that can be written\n`
	for _, args := range [][]string{
		building(out, newSet, "--force"), building(filepath.Join(dir, "other"), newSet), {"new", "-o", job, "--force"},
		{"new", "-o", filepath.Join(dir, "other.toml")}, {"log", job, "--date", "2026-05-01", "--left", "3 g"},
		{"prints", "--class", "75g", "-o", filepath.Join(dir, "prints")},
	} {
		finish(t, process(args...)).wants(t, exitFiles, refused)
	}
	wantOnly(t, dir, "out", "wheel.toml")
	wantSet(t, out, oldSet)
}

// A folder of somebody else's is refused to a user without rights in it.
func TestFaultsForbiddenFolder(t *testing.T) {
	if os.Getuid() != 0 {
		t.Fatal("cannot become another user; run as root")
	}
	dir := mounted(t, "64m")
	os.Chmod(dir, 0o755)
	makeSet(t, filepath.Join(dir, "out"), oldSet)
	// Neither the folder of the tests nor that of the program is open to others.
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program, err := os.ReadFile(self)
	if err != nil {
		t.Fatal(err)
	}
	os.WriteFile(filepath.Join(dir, "wheelmold"), program, 0o755)
	text, err := os.ReadFile(wren)
	if err != nil {
		t.Fatal(err)
	}
	os.WriteFile(filepath.Join(dir, "wren.toml"), text, 0o644)
	for up := filepath.Dir(dir); strings.HasPrefix(up, os.TempDir()) && up != os.TempDir(); up = filepath.Dir(up) {
		os.Chmod(up, 0o755)
	}
	for _, more := range [][]string{{"-o", "out", "--force"}, {"-o", "other"}} {
		c := process(append([]string{"build", "wren.toml"}, more...)...)
		c.Path, c.Dir, c.Err = filepath.Join(dir, "wheelmold"), dir, nil
		c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		finish(t, c).wants(t, exitFiles, `wheelmold: error: .*: permission denied\nwheelmold: hint: choose a place where you may write\n`)
	}
	os.Chmod(filepath.Join(dir, "wren.toml"), 0o600)
	c := process("check", "wren.toml")
	c.Path, c.Dir, c.Err = filepath.Join(dir, "wheelmold"), dir, nil
	c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	finish(t, c).wants(t, exitFiles, `wheelmold: error: open wren.toml: permission denied\nwheelmold: hint: ask its owner to let you read it, or for a copy\n`)
	wantOnly(t, dir, "out", "wheelmold", "wren.toml")
	wantSet(t, filepath.Join(dir, "out"), oldSet)
}

// killing is a place that holds one of two sets, while builds of the other are killed.
type killing struct {
	dir, out    string
	there       string // the set's tolerance
	killed, new int    // processes; sets that were there nevertheless
	left        int    // folders that were left
}

func (k *killing) other() string {
	if k.there == oldSet {
		return newSet
	}
	return oldSet
}

// round kills a build when it is time to, and looks at what is left.
func (k *killing) round(t *testing.T, due func(begun time.Time)) {
	t.Helper()
	c := process(building(k.out, k.other(), "--force")...)
	begun := time.Now()
	wait := begin(t, c)
	due(begun)
	c.Process.Kill()
	if wait().code == -1 {
		k.killed++
	}
	if now := setIn(t, k.out); now != k.there {
		k.there = now
		k.new++
	}
	// Each build clears away what the one before left, so that nothing piles up.
	left := hidden(t, k.dir)
	k.left += len(left)
	if len(left) > 1 {
		t.Errorf("left behind: %q", left)
	}
}

// await looks often, but leaves the cores to the build.
func await(begun time.Time, met func() bool) {
	for !met() && time.Since(begun) < within {
		time.Sleep(50 * time.Microsecond)
	}
}

// Killed at any moment, a build leaves one whole set at the place, the old or the new one,
// and at most one hidden folder, which the next build removes.
func TestFaultsKilled(t *testing.T) {
	dir := t.TempDir()
	k := &killing{dir: dir, out: filepath.Join(dir, "out"), there: oldSet}
	makeSet(t, k.out, oldSet)
	begun := time.Now()
	finish(t, process(building(k.out, oldSet, "--force")...)).wants(t, exitDone, "")
	took := time.Since(begun)

	const spread = 40
	for i := range spread {
		k.round(t, func(begun time.Time) { time.Sleep(time.Until(begun.Add(took * time.Duration(2*i+1) / (2 * spread)))) })
	}
	if k.killed < spread/2 || k.left < spread/4 { // the machine may become faster or slower meanwhile
		t.Errorf("%d of %d builds were killed, %d with a folder in the making", k.killed, spread, k.left)
	}
	t.Logf("a build takes %v; of %d: %d killed, %d new sets, %d folders left", took, spread, k.killed, k.new, k.left)

	// Around the moment in which the sets change places: when the last file of the new one
	// is there, and when the old one is being cleared away, and a little later.
	*k = killing{dir: dir, out: k.out, there: k.there}
	const late = 8
	for i := range late {
		k.round(t, func(begun time.Time) {
			await(begun, func() bool {
				found, _ := filepath.Glob(filepath.Join(dir, ".*", outdir.Manifest))
				return len(found) > 0
			})
			time.Sleep(time.Duration(i) * time.Millisecond / 2)
		})
		before, err := os.Stat(k.out)
		if err != nil {
			t.Fatal(err)
		}
		k.round(t, func(begun time.Time) {
			await(begun, func() bool {
				now, err := os.Stat(k.out)
				return err == nil && !os.SameFile(before, now)
			})
			time.Sleep(time.Duration(i) * time.Millisecond / 8)
		})
	}
	t.Logf("late, of %d: %d killed, %d new sets, %d folders left", 2*late, k.killed, k.new, k.left)
	if k.killed < late/2 || k.new < late {
		t.Errorf("of the late kills %d met a build, and %d sets had changed places: too little is shown", k.killed, k.new)
	}
	last := k.other()
	finish(t, process(building(k.out, last, "--force")...)).wants(t, exitDone, "")
	wantOnly(t, dir, "out")
	wantSet(t, k.out, last)
}

// Of two builds into one folder one wins, or both do in turn; the place is never empty, and
// the set there is one of theirs, whole.
func TestFaultsTwoBuilds(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	one, two := begin(t, process(building(out, oldSet)...)), begin(t, process(building(out, newSet)...))
	first, second := one(), two()
	taken := "wheelmold: error: .*/out exists already\nwheelmold: hint: choose another place, or replace it with --force\n"
	if first.code == exitDone {
		second.wants(t, exitFiles, taken)
		wantSet(t, out, oldSet)
	} else {
		first.wants(t, exitFiles, taken)
		second.wants(t, exitDone, "")
		wantSet(t, out, newSet)
	}
	wantOnly(t, dir, "out")

	for range 4 {
		stop, watched := make(chan bool), make(chan error)
		go func() {
			var gone error
			for {
				select {
				case <-stop:
					watched <- gone
					return
				default:
					if _, err := os.Lstat(out); err != nil {
						gone = err
					}
				}
				time.Sleep(100 * time.Microsecond)
			}
		}()
		one, two := begin(t, process(building(out, oldSet, "--force")...)), begin(t, process(building(out, newSet, "--force")...))
		done := 0
		for _, e := range []ended{one(), two()} {
			if e.code == exitDone {
				done++
				continue
			}
			// It looked at the old set while the other one cleared it away.
			e.wants(t, exitFiles, "wheelmold: error: .*(\nwheelmold: hint: .*)?\n")
		}
		close(stop)
		if err := <-watched; err != nil {
			t.Errorf("the place was empty: %v", err)
		}
		if done == 0 {
			t.Error("neither build is done")
		}
		setIn(t, out)
		wantOnly(t, dir, "out")
	}
}
