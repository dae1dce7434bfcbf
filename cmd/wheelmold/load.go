package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/pour"
	"wheelmold/params"
)

// maxJob bounds the size of a job file, bytes: three times one that states
// every value with its explanation.
const maxJob = 1 << 16

// source is a job as it was asked for.
type source struct {
	name  string // of the file, as given
	bytes []byte
	sets  *settings
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
		err = &jobError{params.Faults{{File: name, Cause: fmt.Sprintf("is larger than %d bytes: no job file", maxJob)}}, exitJob}
	}
	return &source{name, b, sets}, err
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

// model reads the job and lays its mold out. Warnings are printed as they come,
// so that they are seen before any result.
func (s *source) model(w io.Writer) (*mold.Mold, []string, error) {
	job, warnings, err := params.Parse(s.name, s.bytes, s.sets.list...)
	texts := s.warn(w, warnings)
	var faults params.Faults
	if errors.As(err, &faults) {
		return nil, nil, &jobError{faults, exitJob}
	}
	if err != nil {
		return nil, nil, err
	}
	m, err := mold.New(job)
	if errors.As(err, &faults) {
		return nil, nil, &jobError{params.Locate(faults, s.name, s.bytes, s.sets.list...), exitGeometry}
	}
	if err != nil {
		return nil, nil, err
	}
	return m, append(texts, s.warn(w, params.Locate(m.Warnings, s.name, s.bytes, s.sets.list...))...), nil
}

// checked reads the job, lays its mold out and finds the exact boundaries.
func checked(c *cobra.Command, name string, sets *settings) (*source, *mold.Mold, *mold.Checked, []string, error) {
	job, err := readJob(c, name, sets)
	if err != nil {
		return nil, nil, nil, nil, err
	}
	m, warnings, err := job.model(c.ErrOrStderr())
	if err != nil {
		return nil, nil, nil, nil, err
	}
	exact, err := m.Check()
	return job, m, exact, warnings, err
}

// warn prints warnings and returns them as text.
func (s *source) warn(w io.Writer, warnings params.Faults) []string {
	texts := []string{} // never nil, so that JSON holds an array
	for _, f := range warnings {
		say(w, "warning", ofFault(f))
		texts = append(texts, f.Error())
	}
	return texts
}

// plan plans the pour of a mold whose pieces have the volumes, with the flash that
// 9 of 10 casts stay below. Warnings of both are printed as they come, and returned.
func (s *source) plan(w io.Writer, m *mold.Mold, volumes map[string]float64, e *flash.Estimate, o pour.Options) (*pour.Plan, []string, error) {
	p, err := pour.New(m, volumes, e.Lost.P90, o)
	var faults params.Faults
	if errors.As(err, &faults) {
		return nil, nil, &jobError{params.Locate(faults, s.name, s.bytes, s.sets.list...), exitJob}
	}
	if err != nil {
		return nil, nil, err
	}
	warnings := append(e.Warnings(), p.Warnings...)
	return p, s.warn(w, params.Locate(warnings, s.name, s.bytes, s.sets.list...)), nil
}
