package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"syscall"
	"time"
)

// limit of any process.
const limit = 3 * time.Minute

// ran is how a process went.
type ran struct {
	seconds float64 // from start to end
	peak    float64 // resident memory at its most, MB of 10⁶ bytes
	atMost  bool    // it may have been less than peak
	said    string
}

// runProcess starts a process and waits for its end.
func (b *bench) runProcess(args []string) (ran, error) {
	ctx, cancel := context.WithTimeout(b.ctx, limit)
	defer cancel()
	c := exec.CommandContext(ctx, args[0], args[1:]...)
	var out, errs bytes.Buffer
	c.Stdout, c.Stderr = &out, &errs
	start := time.Now()
	err := c.Run()
	r := ran{seconds: time.Since(start).Seconds(), said: out.String()}
	if err != nil {
		return r, fmt.Errorf("%s: %w: %s", strings.Join(args, " "), err, errs.Bytes())
	}
	r.peak = peakOf(c.ProcessState)
	// The kernel counts what the parent held when it forked; so this one stays small, and
	// leaves large meshes to processes of their own.
	r.atMost = r.peak <= peakOfSelf()
	return r, nil
}

// peakOf is the most resident memory of a process that has ended, MB; Linux counts in
// units of 1024 bytes.
func peakOf(p *os.ProcessState) float64 {
	return float64(p.SysUsage().(*syscall.Rusage).Maxrss) * 1024 / 1e6
}

// peakOfSelf is that of this one so far.
func peakOfSelf() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return float64(u.Maxrss) * 1024 / 1e6
}

// median of a list that is not empty.
func median(x []float64) float64 {
	s := slices.Sorted(slices.Values(x))
	n := len(s)
	return (s[(n-1)/2] + s[n/2]) / 2
}
