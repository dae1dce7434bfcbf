package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"wheelmold/mold/castlog"
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

	learned []params.Setting // from the log of casts
	note    string           // that says so; empty: nothing was learned
}

// readJob reads a job file; "-" is standard input.
func readJob(c *cobra.Command, name string, sets *settings) (*source, error) {
	open := func() (io.ReadCloser, error) { return os.Open(name) }
	if name == "-" {
		name = stdin
		open = func() (io.ReadCloser, error) { return io.NopCloser(c.InOrStdin()), nil }
	}
	b, err := readAll(c.Context(), open)
	if err != nil {
		err = closedJob(name, err)
	} else {
		err = notJob(name, b)
	}
	job := &source{name: name, bytes: b, sets: sets, warnings: []string{}}
	if err != nil || name == stdin || sets == nil {
		return job, err
	}
	return job, job.learn(c.ErrOrStderr())
}

// stdin is what a job from there is called.
const stdin = "standard input"

// learn takes the ratios that were accepted in the log beside the job, where neither the
// job nor a setting states them, and says so.
func (s *source) learn(w io.Writer) error {
	path := castlog.PathFor(s.name)
	log, damaged, err := readCasts(w, path)
	if err != nil {
		return fmt.Errorf("the log of casts beside the job cannot be read; move it away to go without: %w", err)
	}
	s.warnings = append(s.warnings, damaged...)
	ratios, from := log.Calibration()
	var told []string
	for _, r := range []struct {
		name  string
		value float64
	}{{"gap", ratios.Gap}, {"residue", ratios.Residue}, {"shrinkage", ratios.Shrinkage}} {
		key := "calibration." + r.name
		if r.value == 1 || s.states(key) {
			continue
		}
		s.learned = append(s.learned, params.Setting{Key: key, Value: strconv.FormatFloat(r.value, 'g', -1, 64)})
		told = append(told, fmt.Sprintf("%s x %.3g", r.name, r.value))
		if r.name == "shrinkage" && !s.states("mold.sizing") {
			// It was learned from what came out in the middle, and is right for that alone.
			s.learned = append(s.learned, params.Setting{Key: "mold.sizing", Value: "expected"})
		}
	}
	if len(told) > 0 {
		s.note = fmt.Sprintf("calibrated by casts (%s: %s): %s", path, from, strings.Join(told, ", "))
		if slices.ContainsFunc(s.learned, func(x params.Setting) bool { return x.Key == "calibration.shrinkage" }) {
			s.note += "; shrinkage changes the cavity of a mold that is yet to be made: for one that is cut, --set calibration.shrinkage=1 keeps its own"
		}
		say(w, "note", message{text: s.note})
	}
	return nil
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

// states reports whether the job's text or a setting gives a key its value.
func (s *source) states(key string) bool {
	return slices.ContainsFunc(s.sets.list, func(x params.Setting) bool { return x.Key == key }) || params.States(s.bytes, key)
}

// settings are those that make the job what it is where no log lies beside it, too.
func (s *source) settings() []string {
	var out []string
	for _, x := range s.learned {
		out = append(out, x.Key+"="+x.Value)
	}
	return append(out, s.sets.text...)
}

// file is the job's text for a study.
func (s *source) file() *study.File {
	return &study.File{Name: s.name, Bytes: s.bytes, Learned: s.learned}
}

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
	r, err := studying(c.Context(), o, func(o study.Options) (*study.Result, error) { return study.Run(j, o) })
	return job, r, err
}
