//go:build amd64 || arm64

package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"
	"unsafe"

	"golang.org/x/sys/unix"
)

// forbidden are the calls by which a process gets a socket. Whoever has none can send
// nothing.
var forbidden = []uint32{unix.SYS_SOCKET, unix.SYS_SOCKETPAIR, unix.SYS_CONNECT, unix.SYS_BIND, unix.SYS_IO_URING_SETUP}

// seal has the kernel kill this thread's process, and what it becomes by exec, as soon as
// it asks for a socket. The offsets are those of struct seccomp_data: the number of the
// call at 0, the architecture at 4.
func seal() error {
	arch := map[string]uint32{"amd64": unix.AUDIT_ARCH_X86_64, "arm64": unix.AUDIT_ARCH_AARCH64}[runtime.GOARCH]
	const (
		load   = unix.BPF_LD | unix.BPF_W | unix.BPF_ABS
		equal  = unix.BPF_JMP | unix.BPF_JEQ | unix.BPF_K
		least  = unix.BPF_JMP | unix.BPF_JGE | unix.BPF_K
		ret    = unix.BPF_RET | unix.BPF_K
		others = 0x40000000 // numbers of another calling convention begin here
	)
	kill := unix.SockFilter{Code: ret, K: unix.SECCOMP_RET_KILL_PROCESS}
	filter := []unix.SockFilter{
		{Code: load, K: 4}, {Code: equal, K: arch, Jt: 1}, kill,
		{Code: load, K: 0}, {Code: least, K: others, Jf: 1}, kill,
	}
	for _, call := range forbidden {
		filter = append(filter, unix.SockFilter{Code: equal, K: call, Jf: 1}, kill)
	}
	filter = append(filter, unix.SockFilter{Code: ret, K: unix.SECCOMP_RET_ALLOW})
	program := unix.SockFprog{Len: uint16(len(filter)), Filter: &filter[0]}
	runtime.LockOSThread()
	if err := unix.Prctl(unix.PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0); err != nil {
		return err
	}
	err := unix.Prctl(unix.PR_SET_SECCOMP, unix.SECCOMP_MODE_FILTER, uintptr(unsafe.Pointer(&program)), 0, 0)
	runtime.KeepAlive(filter)
	return err
}

// sealed is a command that runs under the seal, with a folder as home and for whatever
// else the environment names one: the test's own program puts the seal on, and becomes
// the other by exec. What it leaves behind by that goes into scratch.
func sealed(test, scratch, home string, command ...string) *exec.Cmd {
	c := exec.Command(os.Args[0], append([]string{"-test.run=^" + test + "$", "--", "sealed", home}, command...)...)
	c.Env = append(os.Environ(), "TMPDIR="+scratch)
	return c
}

// becomeSealed does what sealed asks for, and returns only if that fails.
func becomeSealed(home string, command []string) error {
	if err := seal(); err != nil {
		return err
	}
	var env []string
	for _, name := range []string{"HOME", "TMPDIR", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME"} {
		env = append(env, name+"="+home)
	}
	return syscall.Exec(command[0], command, env)
}

// No command opens a socket, and none writes anything but what it was asked for: the
// folders that the environment names for it stay empty.
func TestNoCommandOpensASocket(t *testing.T) {
	switch args := flag.Args(); {
	case len(args) > 2 && args[0] == "sealed":
		t.Fatal(becomeSealed(args[1], args[2:]))
	case len(args) == 1 && args[0] == "listen":
		l, err := net.Listen("tcp", "127.0.0.1:0")
		t.Fatal("lived: ", l, err)
	}
	slow(t)
	dir, home, scratch := t.TempDir(), t.TempDir(), t.TempDir()
	// One that opens a socket is seen.
	out, err := sealed(t.Name(), scratch, scratch, os.Args[0], "-test.run=^"+t.Name()+"$", "--", "listen").CombinedOutput()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.Sys().(syscall.WaitStatus).Signal() != syscall.SIGSYS {
		t.Fatalf("a process that listens was not killed: %v: %s", err, out)
	}

	program := filepath.Join(dir, "wheelmold")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	job := filepath.Join(dir, "job.toml")
	text, err := os.ReadFile("../../examples/wren.toml")
	if err := errors.Join(err, os.WriteFile(job, text, 0o644)); err != nil {
		t.Fatal(err)
	}
	tried := map[string]bool{}
	for _, line := range []string{
		"version", "help", "classes", "completion bash", "new --class 75g", "check job.toml --json", "pour job.toml",
		"shop job.toml -o shop", "build job.toml -o build --tolerance 0.05mm", "sweep job.toml --set wheel.diameter=41mm,42mm",
		"compare job.toml", "prints --class 75g -o prints --tolerance 0.05mm", "log job.toml --result good",
	} {
		args := strings.Fields(line)
		tried[args[0]] = true
		run := sealed(t.Name(), scratch, home, append([]string{program}, args...)...)
		run.Dir = dir
		var stdout, stderr bytes.Buffer
		run.Stdout, run.Stderr = &stdout, &stderr
		if err := run.Run(); err != nil || stdout.Len() == 0 {
			t.Errorf("%s: %v, %d bytes: %s", line, err, stdout.Len(), &stderr)
		}
	}
	watchSealed(t, sealed(t.Name(), scratch, home, program, "build", "job.toml", "-o", "watched", "--watch"), dir)
	root := newRoot(streams{nil, io.Discard, io.Discard})
	for _, c := range root.Commands() {
		if !tried[c.Name()] {
			t.Errorf("%s was not tried", c.Name())
		}
	}
	if err := onlyHolds(dir, "build", "job.casts", "job.toml", "prints", "shop", "watched", "wheelmold"); err != nil {
		t.Error(err)
	}
	if err := onlyHolds(home); err != nil {
		t.Error(err)
	}
}

// watchSealed runs a command that watches until it has made its folder, and ends it.
func watchSealed(t *testing.T, run *exec.Cmd, dir string) {
	t.Helper()
	run.Dir = dir
	var stderr bytes.Buffer
	run.Stderr = &stderr
	if err := run.Start(); err != nil {
		t.Fatal(err)
	}
	over := time.AfterFunc(time.Minute, func() { _ = run.Process.Kill() }) // told by Wait
	defer over.Stop()
	for range 600 {
		if _, err := os.Stat(filepath.Join(dir, "watched")); err == nil {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	err := errors.Join(run.Process.Signal(os.Interrupt), run.Wait())
	if err != nil {
		t.Errorf("build --watch: %v: %s", err, &stderr)
	}
}

// onlyHolds reports what a folder holds besides some names, which are in order.
func onlyHolds(dir string, want ...string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		return fmt.Errorf("left behind %v, want %v", got, want)
	}
	return nil
}
