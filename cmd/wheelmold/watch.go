package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"wheelmold/mold/export/outdir"
	"wheelmold/mold/report"
	"wheelmold/params"
)

// errEnded is that a watch was ended as it is meant to be, by an interrupt.
var errEnded = errors.New("ended")

// watching builds a job anew whenever it is saved.
type watching struct {
	*buildFlags
	c    *cobra.Command
	name string // of the job file

	tried []byte        // the job as it was when it was built last, or found faulty
	last  *report.Build // what was put into the folder; nil: nothing of this run yet
	job   *params.Job   // that was made of
}

// watch builds the job now, and again with every save until the context is canceled.
// A job that cannot be made is told, and what is in the folder stays.
func (b *buildFlags) watch(c *cobra.Command, name string) error {
	ctx := c.Context()
	switch {
	case name == "-":
		return usagef("name a file, which can be watched", "--watch cannot tell when standard input is saved")
	case b.json:
		return usagef("leave one of them away", "--json prints one object, and --watch a line per build")
	}
	saved, err := saves(ctx, name)
	if err != nil {
		return err
	}
	if err := mayWrite(ctx, b.out, b.force); err != nil {
		return err
	}
	w := &watching{buildFlags: b, c: c, name: name}
	remark(c.ErrOrStderr(), "watching %s; Ctrl-C ends", name)
	for {
		err := w.build(ctx)
		if errors.Is(err, syscall.EPIPE) {
			return err // nobody is told any more
		}
		if err != nil && ctx.Err() == nil {
			w.tell(err)
		}
		if _, more := <-saved; !more {
			return errEnded
		}
	}
}

// mayWrite reports what would keep a folder from being written, before a job that is
// still at fault hides it.
func mayWrite(ctx context.Context, dir string, replace bool) error {
	f, err := outdir.Create(ctx, dir, replace)
	if err != nil {
		return err
	}
	return f.Discard()
}

// there reports whether what was made lies there still.
func (w *watching) there() bool {
	_, err := os.Lstat(w.out)
	return w.last != nil && err == nil
}

// build builds the job if it is not what it was the last time, or what was made of it
// then was taken away.
func (w *watching) build(ctx context.Context) error {
	begun := time.Now()
	job, err := readJob(w.c, w.name, &w.sets)
	if err != nil {
		w.tried = nil
		return err
	}
	if w.tried != nil && bytes.Equal(w.tried, job.bytes) && (w.last == nil || w.there()) {
		return nil
	}
	w.tried = job.bytes
	bar := newProgress(w.c.ErrOrStderr())
	o := w.making(bar)
	o.replace = w.force || w.last != nil
	r, made, err := buildFolder(ctx, w.c.ErrOrStderr(), job, o)
	bar.clear()
	if err != nil {
		return err
	}
	now := report.Rebuild{At: time.Now(), Took: time.Since(begun), Before: w.last}
	if w.last != nil {
		now.Changed = made.Changed(w.job)
	}
	w.last, w.job = r, made
	return r.WriteBrief(w.c.OutOrStdout(), now)
}

// tell tells why there is no new folder, and what is in the old one.
func (w *watching) tell(err error) {
	code, messages := explain(err)
	if code != exitJob && code != exitGeometry {
		w.tried = nil // the same job may do, the next time
	}
	for _, m := range messages {
		say(w.c.ErrOrStderr(), "error", m)
	}
	stays := "nothing is made yet"
	switch {
	case w.there():
		stays = w.out + " stays as it was"
	case w.last != nil:
		stays = w.out + " was taken away"
	}
	remark(w.c.ErrOrStderr(), "%s; waiting for %s to be saved", stays, w.name)
}
