package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"wheelmold/mold"
	"wheelmold/params"
)

// maxJob bounds the size of a job file, bytes: a hundred times the largest sensible.
const maxJob = 1 << 20

// source is a job as it was asked for.
type source struct {
	name  string // of the file, as given
	bytes []byte
	sets  *settings
}

// readJob reads a job file; "-" is standard input.
func readJob(c *cobra.Command, name string, sets *settings) (*source, error) {
	in := c.InOrStdin()
	if name == "-" {
		name = "standard input"
	} else {
		f, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		in = f
	}
	b, err := io.ReadAll(io.LimitReader(in, maxJob+1))
	if err == nil && len(b) > maxJob {
		err = &jobError{params.Faults{{File: name, Cause: fmt.Sprintf("is larger than %d bytes: no job file", maxJob)}}, exitJob}
	}
	return &source{name, b, sets}, err
}

// model reads the job and lays its mold out. Warnings are printed as they come,
// so that they are seen before any result.
func (s *source) model(c *cobra.Command) (*mold.Mold, []string, error) {
	job, warnings, err := params.Parse(s.name, s.bytes, s.sets.list...)
	texts := s.warn(c, warnings)
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
	return m, append(texts, s.warn(c, params.Locate(m.Warnings, s.name, s.bytes, s.sets.list...))...), nil
}

// warn prints warnings and returns them as text.
func (s *source) warn(c *cobra.Command, warnings params.Faults) []string {
	texts := []string{} // never nil, so that JSON holds an array
	for _, f := range warnings {
		say(c.ErrOrStderr(), "warning", ofFault(f))
		texts = append(texts, f.Error())
	}
	return texts
}
