package main

import (
	"context"
	"io"
	"math"
	"strings"
	"sync"

	"wheelmold/mold"
	"wheelmold/mold/export"
	"wheelmold/mold/flash"
	"wheelmold/mold/handover"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/machining"
	"wheelmold/mold/pour"
	"wheelmold/mold/printing"
	"wheelmold/mold/report"
	"wheelmold/mold/study"
	"wheelmold/params"
)

// making is how a mold's folder is made, whichever command asks for it.
type making struct {
	dir       string
	replace   bool // a folder of an earlier run
	tolerance float64
	formats   choice
	only      someOf
	pictures  bool
	progress  func(mold.Stage) // called from another goroutine; may be nil
}

// buildFolder lays a job's mold out, makes it, studies it, and writes its folder,
// whole or not at all. It returns the resolved job, too. Warnings are written to w as
// they come.
func buildFolder(ctx context.Context, w io.Writer, job *source, o making) (*report.Build, *params.Job, error) {
	r, x, err := o.build(ctx, job, study.Options{
		Pour: pour.Options{Wheels: 1, Molds: 1}, Flash: flash.DefaultOptions, Printing: printing.DefaultOptions,
		Machining: &machining.Options{Only: o.only.names}, Warn: job.warnsTo(w),
	})
	if err != nil {
		return nil, nil, err
	}
	return r, x.Mold.Job, nil
}

// buildRow is build for one row of several: with its warnings, which go to the row and
// into the folder, and with the search for remedies that a folder tells of.
func (o making) buildRow(ctx context.Context, job *source, so study.Options) (*report.Build, *study.Result, error) {
	gather, keep := so.Warn, job.warnsTo(io.Discard)
	so.Warn = func(f params.Faults) { gather(f); keep(f) }
	so.Flash.Tries, so.Printing.Tries = flash.DefaultOptions.Tries, printing.DefaultOptions.Tries
	so.Machining = &machining.Options{Only: o.only.names}
	return o.build(ctx, job, so)
}

// build is buildFolder with other options, for a caller that asks for the study, too. Its
// results have no names: returning would change them under what is left behind.
func (o making) build(ctx context.Context, job *source, so study.Options) (*report.Build, *study.Result, error) {
	j, err := so.Read(job.file(), job.sets.list)
	if err != nil {
		return nil, nil, err
	}
	if least := finest(j); o.tolerance < least {
		return nil, nil, usagef("--tolerance "+strings.ReplaceAll(params.Format(params.Length, least), " ", ""),
			"--tolerance = %s: allowed at least %s for a wheel of %s: finer meshes are huge, and no machine follows them",
			params.Format(params.Length, o.tolerance), params.Format(params.Length, least), params.Format(params.Length, size(j)))
	}
	x, err := studying(ctx, so, func(so study.Options) (*study.Result, error) { return study.Lay(j, so) })
	if err != nil {
		return nil, nil, err
	}
	m := x.Mold
	if err := o.only.check(m); err != nil {
		return nil, nil, err
	}
	options := export.Options{
		Dir: o.dir, Replace: o.replace, Wants: o.formats.has,
		Program: program, Job: m.Job, JobFile: job.name, JobBytes: job.bytes,
		Settings: job.settings(), Tolerance: o.tolerance,
	}
	so.Printing.Only = o.only.names
	var r *report.Build
	files, err := export.Write(ctx, options, func() (*export.Contents, error) {
		made, err := studying(ctx, so, func(so study.Options) (*mold.Made, error) { return o.complete(x, so) })
		if err != nil {
			return nil, err
		}
		r = report.OfBuild(m, made, x.Flash, x.Pour)
		r.SetStudy(x)
		r.Program, r.File, r.Warnings, r.Calibrated = program, job.name, job.warnings, job.note
		r.Tolerance, r.Folder = o.tolerance, o.dir
		return inparallel.Until(ctx, func() (*export.Contents, error) { return o.contents(r, made, x, job.settings()) })
	})
	if err != nil {
		return nil, nil, err
	}
	for _, f := range files {
		r.Files = append(r.Files, report.File(f))
	}
	return r, x, nil
}

// complete makes the pieces of a mold that was laid out, and studies them.
func (o making) complete(x *study.Result, so study.Options) (*mold.Made, error) {
	m := x.Mold
	made, err := m.Make(mold.MakeOptions{Tolerance: o.tolerance, Only: o.only.names, Progress: o.progress})
	if err != nil {
		return nil, err
	}
	if err := x.Complete(study.Exact(made), so); err != nil {
		return nil, err
	}
	if f := handover.Warnings(m.Job, o.formats.has); len(f) > 0 && len(x.Machining.Pieces) > 0 && so.Warn != nil {
		so.Warn(f)
	}
	return made, nil
}

// contents are the pieces and what is written beside them.
func (o making) contents(r *report.Build, made *mold.Made, x *study.Result, settings []string) (*export.Contents, error) {
	c := &export.Contents{Beds: x.Printing.Sorting()}
	for _, p := range made.Parts {
		c.Parts = append(c.Parts, export.Part{Name: p.Piece.Name, InPlace: p.Mesh, Posed: p.Posed})
	}
	if o.pictures {
		c.Files = pictures(made)
	}
	drawings := sheets(x, o.only.names)
	more, err := handed(x, drawings, o.formats.has, o.only.names)
	if err != nil {
		return nil, err
	}
	c.Files = append(c.Files, o.page(r, made, x, drawings, settings))
	c.Files = append(c.Files, more...)
	return c, nil
}

// finest is the finest tolerance in mm for a job's meshes, a hundred-thousandth of its
// size: the largest jobs would take a gigabyte and a minute at a micrometer.
func finest(j *params.Job) float64 { return math.Floor(size(j)/10) / 1e4 }

// size is the larger of a wheel's diameter and width, mm.
func size(j *params.Job) float64 { return max(j.Wheel.Diameter, j.Wheel.Width) }

// studying runs a part of a study, which cannot be canceled, and leaves it behind when the
// context is over. From then on it warns nobody: its caller may read the warnings.
func studying[T any](ctx context.Context, so study.Options, work func(study.Options) (T, error)) (T, error) {
	var mu sync.Mutex
	left, warn := false, so.Warn
	if warn != nil {
		so.Warn = func(f params.Faults) {
			mu.Lock()
			defer mu.Unlock()
			if !left {
				warn(f)
			}
		}
	}
	v, err := inparallel.Until(ctx, func() (T, error) { return work(so) })
	mu.Lock()
	defer mu.Unlock()
	left = true
	return v, err
}
