package study

import (
	"sync"

	"wheelmold/mold/flash"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/machining"
	"wheelmold/mold/pour"
	"wheelmold/params"
)

// Case is one variant of a job.
type Case struct {
	Name   string           // tells it from the others, and is plain enough for a folder
	Values []params.Setting // that tell it from the others
	Sets   []params.Setting // all that is set on top of the text, Values included
	Own    bool             // it is the job as it stands
}

// Row is what became of a case.
type Row struct {
	Case
	Figures  *Figures      // nil where there is an error
	Err      error         // *Refused, or as of [Run]
	Warnings params.Faults // also of a row that failed later
}

// RowOptions are those of rows: one wheel, and no search for remedies of flash and for
// splits that would fit the bed, which no table tells of.
var RowOptions = Options{
	Pour:      pour.Options{Wheels: 1, Molds: 1},
	Flash:     flash.Options{Draws: flash.DefaultOptions.Draws, Seed: flash.DefaultOptions.Seed},
	Machining: &machining.Options{},
}

// Runner studies one case. Its options are to be handed on: they gather warnings.
type Runner func(c *Case, o Options) (*Result, error)

// Of is the runner that studies variants of a text.
func (c *Case) Of(t Text, o Options) (*Result, error) {
	j, err := o.Read(t, c.Sets)
	if err != nil {
		return nil, err
	}
	return Run(j, o)
}

// Rows runs all cases on all cores and returns their rows in the order of the cases.
// over, which may be nil, is told of each row as soon as it is over, one at a time.
func Rows(cases []Case, run Runner, over func(r *Row)) []Row {
	rows := make([]Row, len(cases))
	var mu sync.Mutex
	inparallel.Wide(len(cases), func(i int) {
		rows[i] = row(&cases[i], run)
		if over == nil {
			return
		}
		mu.Lock()
		defer mu.Unlock()
		over(&rows[i])
	})
	return rows
}

// row keeps the figures alone: a whole result holds every face and map of its mold.
func row(c *Case, run Runner) Row {
	r := Row{Case: *c}
	o := RowOptions
	o.Warn = func(f params.Faults) { r.Warnings = append(r.Warnings, f...) }
	result, err := run(c, o)
	if err != nil {
		r.Err = err
		return r
	}
	r.Figures = result.Figures()
	return r
}
