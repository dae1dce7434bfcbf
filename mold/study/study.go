// Package study takes a job through everything that is known of its mold: layout,
// exact boundaries, flash, pour. It is the one way in which all commands analyze a
// job, and the mechanism by which many variants of one are studied side by side.
//
// It guarantees that a row of a table is what a single run of the same job and
// settings gives, on any number of cores; that a variant which cannot be made hinders
// no other; and that it reads no file and no clock. It makes no meshes and writes
// nothing: a caller that does can study what it made.
package study

import (
	"errors"

	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/pour"
	"wheelmold/params"
)

// Options say what is asked of a study.
type Options struct {
	Pour  pour.Options
	Flash flash.Options
	// Locate finds where the values that faults name were stated; nil: nowhere, for a
	// job that was made in code.
	Locate func(params.Faults) params.Faults
	// Warn is told the warnings of each stage before the next begins; may be nil.
	Warn func(params.Faults)
}

// Result is all that is known of one job's mold.
type Result struct {
	Mold  *mold.Mold
	Exact *mold.Checked
	Flash *flash.Estimate
	Pour  *pour.Plan
}

// Stage is where a job was refused.
type Stage int

// Stages, in their order.
const (
	Reading Stage = iota // its values
	Layout               // its geometry
	Pouring              // its pour
)

// Refused is a job that cannot be made or poured, with the values to change.
type Refused struct {
	Stage  Stage
	Faults params.Faults
}

func (r *Refused) Error() string { return r.Faults.Error() }

// Run studies a job. A job that cannot be made or poured is a *Refused; geometry
// that cannot be evaluated keeps the error of its package.
func Run(j *params.Job, o Options) (*Result, error) {
	m, err := Lay(j, o)
	if err != nil {
		return nil, err
	}
	exact, err := m.Check()
	if err != nil {
		return nil, err
	}
	return Of(m, exact, o)
}

// Lay is the first part of [Run]: it lays the mold out.
func Lay(j *params.Job, o Options) (*mold.Mold, error) {
	m, err := mold.New(j)
	if err != nil {
		return nil, o.refuse(Layout, err)
	}
	o.warn(m.Warnings)
	return m, nil
}

// Exact is what of a mold that was made a study rests on.
func Exact(made *mold.Made) *mold.Checked {
	return &mold.Checked{
		Volumes: made.Volumes, Faces: made.Faces, RawVolumes: made.RawVolumes, RawFaces: made.RawFaces, Rubber: made.Audit.Rubber,
	}
}

// Of is the second part of [Run]: it studies a mold whose exact boundaries are known.
func Of(m *mold.Mold, exact *mold.Checked, o Options) (*Result, error) {
	e, err := flash.Analyze(m, exact.Faces, o.Flash)
	if err != nil {
		return nil, o.refuse(Layout, err)
	}
	// What 9 of 10 casts stay below is mixed for.
	p, err := pour.New(m, exact.Volumes, e.Lost.P90, o.Pour)
	if err != nil {
		return nil, o.refuse(Pouring, err)
	}
	o.warn(append(e.Warnings(), p.Warnings...))
	return &Result{m, exact, e, p}, nil
}

// refuse tells a job at fault from a program that is.
func (o *Options) refuse(at Stage, err error) error {
	var faults params.Faults
	if !errors.As(err, &faults) {
		return err
	}
	return &Refused{at, o.located(faults)}
}

func (o *Options) located(faults params.Faults) params.Faults {
	if o.Locate == nil {
		return faults
	}
	return o.Locate(faults)
}

func (o *Options) warn(warnings params.Faults) {
	if o.Warn != nil && len(warnings) > 0 {
		o.Warn(o.located(warnings))
	}
}
