package main

import (
	"os/exec"
	"syscall"
)

// addresses bounds what any test takes, in bytes: a fault may make a loop that grows
// without end. The heaviest tests take less than a quarter of it.
const addresses = 12 << 30

// boundMemory bounds the address space of this process and of all that it starts.
func boundMemory() error {
	return syscall.Setrlimit(syscall.RLIMIT_AS, &syscall.Rlimit{Cur: addresses, Max: addresses})
}

// confine lets a command and what it starts be ended together.
func confine(c *exec.Cmd) {
	c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	c.Cancel = func() error { return syscall.Kill(-c.Process.Pid, syscall.SIGKILL) }
}

// sweep ends what a command has left running.
func sweep(c *exec.Cmd) {
	if c.Process != nil {
		_ = syscall.Kill(-c.Process.Pid, syscall.SIGKILL) // as a rule there is nothing
	}
}
