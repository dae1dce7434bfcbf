// Command wheelmold makes the mold for casting a polyurethane wheel tread around
// a hub core from a job file: exact pieces as STL and 3MF, volumes and masses.
//
// This package reads flags, calls one function per subcommand, prints and exits.
// Results go to standard output, messages and progress to standard error.
package main

import (
	"context"
	"errors"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
)

// gcPercent: a run is short and its heap small, so that collecting less often
// saves a tenth of its time for some megabytes. Where they become many, from
// gcMemory bytes on, it is collected more often after all.
const (
	gcPercent = 800
	gcMemory  = 200 << 20
)

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(gcPercent)
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(gcMemory)
	}
	// A reader that goes away, as in 2>&1 | head, must not end a build halfway: writing
	// fails instead, and the folder in the making is cleared away.
	signal.Ignore(syscall.SIGPIPE)
	ctx, stop := signal.NotifyContext(context.Background(), endings()...)
	context.AfterFunc(ctx, stop) // a second signal ends the process at once
	os.Exit(run(ctx, os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr}))
}

// endings are the signals that end a run in good order. The terminal's going is one of
// them, unless the run was started to outlive it.
func endings() []os.Signal {
	signals := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) {
		signals = append(signals, syscall.SIGHUP)
	}
	return signals
}

// streams are what a command reads and writes besides files.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// results is where results go. It remembers the first failure: the command line's own
// help does not tell of it.
type results struct {
	w   io.Writer
	err error
}

func (r *results) Write(p []byte) (int, error) {
	n, err := r.w.Write(p)
	if r.err == nil {
		r.err = err
	}
	return n, err
}

// run carries out one command line and returns the exit code.
func run(ctx context.Context, args []string, s streams) int {
	out := &results{w: s.out}
	root := newRoot(streams{s.in, out, s.err})
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	if err == nil {
		err = out.err
	}
	var stopped *stoppedError
	switch {
	case errors.Is(err, errEnded):
		err = nil
	case errors.As(err, &stopped): // says more than the context
	case err != nil && ctx.Err() != nil: // without an error all was done before the interrupt
		err = ctx.Err()
	}
	return conclude(s.err, err)
}
