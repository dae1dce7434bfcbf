package main

import (
	"context"
	"io"

	"wheelmold/mold"
	"wheelmold/mold/export"
	"wheelmold/mold/flash"
	"wheelmold/mold/pour"
	"wheelmold/mold/report"
)

// making is how a mold's folder is made, whichever command asks for it.
type making struct {
	dir       string
	replace   bool // a folder of an earlier run
	tolerance float64
	formats   choice
	only      choice
	pictures  bool
	progress  func(mold.Stage) // called from another goroutine; may be nil
}

// buildFolder lays a job's mold out, makes it, plans its pour and writes its folder,
// whole or not at all. Warnings are written to w as they come.
func buildFolder(ctx context.Context, w io.Writer, job *source, o making) (*report.Build, error) {
	m, warnings, err := job.model(w)
	if err != nil {
		return nil, err
	}
	options := export.Options{
		Dir: o.dir, Replace: o.replace, Wants: o.formats.has,
		Program: program, Job: m.Job, JobFile: job.name, JobBytes: job.bytes,
		Settings: job.sets.text, Tolerance: o.tolerance,
	}
	var r *report.Build
	files, err := export.Write(ctx, options, func() (parts []export.Part, beside []export.File, err error) {
		made, err := interruptible(ctx, func() (*mold.Made, error) {
			return m.Make(mold.MakeOptions{Tolerance: o.tolerance, Only: o.only.chosen, Progress: o.progress})
		})
		if err != nil {
			return nil, nil, err
		}
		var page export.File
		if r, page, err = o.report(w, job, made, warnings); err != nil {
			return nil, nil, err
		}
		for _, p := range made.Parts {
			parts = append(parts, export.Part{Name: p.Piece.Name, InPlace: p.Mesh, Posed: p.Posed})
		}
		if o.pictures {
			beside = append(beside, pictures(made)...)
		}
		return parts, append(beside, page), nil
	})
	if err != nil {
		return nil, err
	}
	for _, f := range files {
		r.Files = append(r.Files, report.File(f))
	}
	return r, nil
}

// report estimates the flash and plans the pour of what was made, and tells of it.
func (o making) report(w io.Writer, job *source, made *mold.Made, warnings []string) (r *report.Build, page export.File, err error) {
	m := made.Mold
	e, err := flash.Analyze(m, made.Faces, flash.DefaultOptions)
	if err != nil {
		return nil, page, err
	}
	plan, more, err := job.plan(w, m, made.Volumes, e, pour.Options{Wheels: 1, Molds: 1})
	if err != nil {
		return nil, page, err
	}
	r = report.OfBuild(m, made, e, plan)
	r.Program, r.File, r.Warnings = program, job.name, append(warnings, more...)
	r.Tolerance, r.Folder = o.tolerance, o.dir
	return r, o.page(r, made, e, plan, job.sets.text), nil
}

// interruptible runs work that cannot be canceled, and leaves it behind when the
// context is: the process is about to end.
func interruptible[T any](ctx context.Context, work func() (T, error)) (T, error) {
	type outcome struct {
		v   T
		err error
	}
	done := make(chan outcome, 1)
	go func() {
		v, err := work()
		done <- outcome{v, err}
	}()
	select {
	case o := <-done:
		return o.v, o.err
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
}
