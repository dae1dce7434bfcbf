package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"wheelmold/mold/study"
	"wheelmold/params"
)

// maxJob bounds the size of a job file, bytes: three times one that states
// every value with its explanation.
const maxJob = 1 << 16

// source is a job as it was asked for.
type source struct {
	name     string // of the file, as given
	bytes    []byte
	sets     *settings
	warnings []string // told so far; never nil, so that JSON holds an array
}

// readJob reads a job file; "-" is standard input.
func readJob(c *cobra.Command, name string, sets *settings) (*source, error) {
	open := func() (io.ReadCloser, error) { return os.Open(name) }
	if name == "-" {
		name = "standard input"
		open = func() (io.ReadCloser, error) { return io.NopCloser(c.InOrStdin()), nil }
	}
	b, err := readAll(c.Context(), open)
	if err == nil && len(b) > maxJob {
		err = &study.Refused{Stage: study.Reading, Faults: params.Faults{{File: name, Cause: fmt.Sprintf("is larger than %d bytes: no job file", maxJob)}}}
	}
	return &source{name, b, sets, []string{}}, err
}

// readAll reads up to a job's size and one byte more. A pipe that nobody writes
// to blocks opening and reading, but not the interrupt.
func readAll(ctx context.Context, open func() (io.ReadCloser, error)) ([]byte, error) {
	type result struct {
		b   []byte
		err error
	}
	done := make(chan result, 1)
	go func() {
		in, err := open()
		if err != nil {
			done <- result{nil, err}
			return
		}
		defer in.Close()
		b, err := io.ReadAll(io.LimitReader(in, maxJob+1))
		done <- result{bytes.TrimPrefix(b, []byte("\ufeff")), err} // editors' byte order mark
	}()
	select {
	case r := <-done:
		return r.b, r.err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// file is the job's text for a study.
func (s *source) file() *study.File { return &study.File{Name: s.name, Bytes: s.bytes} }

// warnsTo prints warnings as they come, so that they are seen before any result, and
// keeps their texts.
func (s *source) warnsTo(w io.Writer) func(params.Faults) {
	return func(warnings params.Faults) {
		for _, f := range warnings {
			say(w, "warning", ofFault(f))
			s.warnings = append(s.warnings, f.Error())
		}
	}
}

// studied reads a job and studies it.
func studied(c *cobra.Command, name string, sets *settings, o study.Options) (*source, *study.Result, error) {
	job, err := readJob(c, name, sets)
	if err != nil {
		return nil, nil, err
	}
	o.Warn = job.warnsTo(c.ErrOrStderr())
	j, err := o.Read(job.file(), sets.list)
	if err != nil {
		return nil, nil, err
	}
	r, err := interruptible(c.Context(), func() (*study.Result, error) { return study.Run(j, o) })
	return job, r, err
}
