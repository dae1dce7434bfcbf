// Package study takes a job through everything that is known of its mold: layout,
// exact boundaries, flash, pour, printing, machining, release, use, worth. It is the one way in which
// all commands analyze a job, and the mechanism by which many variants of one are studied
// side by side.
//
// It guarantees that a row of a table is what a single run of the same job and
// settings gives, on any number of cores; that a variant which cannot be made hinders
// no other; and that it reads no file and no clock. It makes no meshes and writes
// nothing: a caller that does can study what it made.
package study

import (
	"errors"
	"fmt"
	"slices"

	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/machining"
	"wheelmold/mold/machining/effort"
	"wheelmold/mold/pour"
	"wheelmold/mold/printing"
	"wheelmold/mold/release"
	"wheelmold/mold/service"
	"wheelmold/mold/worth"
	"wheelmold/params"
)

// Options say what is asked of a study.
type Options struct {
	Pour     pour.Options
	Flash    flash.Options
	Printing printing.Options
	// Machining asks how a shop can cut the pieces; nil: it is not judged.
	Machining *machining.Options
	// Locate finds where the values that faults name were stated; nil: nowhere, for a
	// job that was made in code.
	Locate func(params.Faults) params.Faults
	// Warn is told the warnings of each stage before the next begins; may be nil.
	Warn func(params.Faults)
}

// Result is all that is known of one job's mold; after [Lay] alone, that it opens.
type Result struct {
	Mold    *mold.Mold
	Release *release.Verdict
	Opening *release.Opening // what may hold each piece, and what parts it
	Exact   *mold.Checked
	Flash   *flash.Estimate
	Pour    *pour.Plan
	// Printing has no pieces where the job prints nothing.
	Printing *printing.Plan
	// Machining and Effort have no pieces where all are printed; nil where they were not
	// asked for.
	Machining *machining.Plan
	Effort    *effort.Effort
	// Tread and Hub are what the wheel carries in use.
	Tread *service.TreadLoad
	Hub   *service.HubLoad
	// Worth is nil where not all pieces are priced.
	Worth *worth.Verdict
}

// Stage is where a job was refused.
type Stage int

// Stages, in their order.
const (
	Reading Stage = iota // its values
	Layout               // its geometry
	Pouring              // its pour
)

// MostFaults is how many faults of a job are kept: more are not mended in one go, and a
// file can have thousands, in every row of a table.
const MostFaults = 50

// Refused is a job that cannot be made or poured, with the values to change; see [Refuse].
type Refused struct {
	Stage  Stage
	Faults params.Faults
}

// Refuse refuses a job for its faults. Those beyond [MostFaults] are counted in a last one,
// which has no path.
func Refuse(at Stage, faults params.Faults) *Refused {
	if more := len(faults) - MostFaults; more > 0 {
		rest := params.Fault{File: faults[MostFaults].File, Cause: fmt.Sprintf("and %d more: mend those above first", more)}
		faults = append(slices.Clone(faults[:MostFaults]), rest)
	}
	return &Refused{at, faults}
}

func (r *Refused) Error() string { return r.Faults.Error() }

// Run studies a job. A job that cannot be made, opened or poured is a *Refused;
// geometry that cannot be evaluated keeps the error of its package.
func Run(j *params.Job, o Options) (*Result, error) {
	r, err := Lay(j, o)
	if err != nil {
		return nil, err
	}
	exact, err := r.Mold.Check()
	if err != nil {
		return nil, err
	}
	if err := r.Complete(exact, o); err != nil {
		return nil, err
	}
	return r, nil
}

// Lay is the first part of [Run]: it lays the mold out and asks whether it opens.
func Lay(j *params.Job, o Options) (*Result, error) {
	m, err := mold.New(j)
	if err != nil {
		return nil, o.refuse(Layout, err)
	}
	o.warn(m.Warnings)
	opens, err := release.Of(m)
	if err != nil {
		return nil, err
	}
	if f := opens.Faults(); len(f) > 0 {
		return nil, o.refuse(Layout, f)
	}
	forces := release.Forces(m, opens)
	o.warn(forces.Warnings())
	return &Result{Mold: m, Release: opens, Opening: forces}, nil
}

// Exact is what of a mold that was made a study rests on.
func Exact(made *mold.Made) *mold.Checked {
	return &mold.Checked{
		Volumes: made.Volumes, Faces: made.Faces, RawVolumes: made.RawVolumes, RawFaces: made.RawFaces, Rubber: made.Audit.Rubber,
	}
}

// Complete is the second part of [Run]: all that rests on the exact boundaries.
func (r *Result) Complete(exact *mold.Checked, o Options) (err error) {
	r.Exact = exact
	if r.Flash, err = flash.Analyze(r.Mold, exact.Faces, o.Flash); err != nil {
		return o.refuse(Layout, err)
	}
	// What 9 of 10 casts stay below is mixed for.
	if r.Pour, err = pour.New(r.Mold, exact.Volumes, r.Flash.Lost.P90, o.Pour); err != nil {
		return o.refuse(Pouring, err)
	}
	o.warn(append(r.Flash.Warnings(), r.Pour.Warnings...))
	if r.Printing, err = printing.Analyze(r.Mold, exact.RawFaces, o.Printing); err != nil {
		return o.refuse(Layout, err)
	}
	o.warn(r.Printing.Warnings)
	if err := r.machine(o); err != nil {
		return err
	}
	return r.use(o)
}

// use asks what the wheel carries, and whether casting it pays.
func (r *Result) use(o Options) (err error) {
	if r.Tread, err = service.OfTread(r.Mold.Job); err != nil {
		return err
	}
	w := &r.Pour.Weights
	r.Hub = service.OfHub(r.Mold, w.Hub, w.Rubber)
	o.warn(append(r.Tread.Faults, r.Hub.Faults...))
	if in := worth.From(r.Mold, r.Pour, r.Effort, r.Printing); in != nil {
		r.Worth = worth.Of(*in)
	}
	return nil
}

// machine asks how a shop can cut the pieces.
func (r *Result) machine(o Options) (err error) {
	if o.Machining == nil {
		return nil
	}
	if r.Machining, err = machining.Judge(r.Mold, r.Exact.RawFaces, *o.Machining); err != nil {
		return err
	}
	o.warn(r.Machining.Warnings)
	work := map[string]effort.Work{}
	for i := range r.Machining.Pieces {
		p := &r.Machining.Pieces[i]
		work[p.Name] = effort.Work{SetUps: len(p.SetUps), Holes: p.Drilled}
	}
	r.Effort, err = effort.Of(r.Mold, r.Exact.RawFaces, r.Exact.RawVolumes, work)
	return err
}

// refuse tells a job at fault from a program that is.
func (o *Options) refuse(at Stage, err error) error {
	var faults params.Faults
	if !errors.As(err, &faults) {
		return err
	}
	return Refuse(at, o.located(faults))
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
