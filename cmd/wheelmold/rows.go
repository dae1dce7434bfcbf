package main

import (
	"errors"
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"wheelmold/mold"
	"wheelmold/mold/report"
	"wheelmold/mold/study"
	"wheelmold/params"
)

const rowCodes = `A row that cannot be made says why, and the others go on. If no row can be made at
all, the exit code is that of the first.

` + exitCodes

// form is the flag --format of a table.
type form struct{ word string }

func (f *form) String() string { return f.word }
func (f *form) Type() string   { return "form" }

func (f *form) Set(s string) error {
	c := choice{options: report.TableFormats}
	if err := c.Set(s); err != nil {
		return err
	}
	if len(c.chosen) != 1 {
		return errors.New("takes one form")
	}
	f.word = c.chosen[0]
	return nil
}

func (f *form) register(c *cobra.Command) {
	f.word = report.TableFormats[0]
	c.Flags().Var(f, "format", "form of the table: "+strings.Join(report.TableFormats, ", "))
	c.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(report.TableFormats, cobra.ShellCompDirectiveNoFileComp))
}

// studyRows studies all cases, and shows on a terminal how many are over.
func studyRows(c *cobra.Command, cases []study.Case, run study.Runner) ([]study.Row, error) {
	ctx := c.Context()
	makeRoom()
	bar := newProgress(c.ErrOrStderr())
	defer bar.clear()
	rows := study.Rows(cases, func(x *study.Case, o study.Options) (*study.Result, error) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		return run(x, o)
	}, func(x *study.Case, n int) {
		bar.stage(mold.Stage{Name: x.Name, Done: n, Total: len(cases)})
	})
	return rows, ctx.Err()
}

// makeRoom lets memory grow with the molds that are at work at once, if main bounded it
// for one: they would be collected all the time, a third of the work on eight cores.
func makeRoom() {
	if debug.SetMemoryLimit(-1) == gcMemory {
		debug.SetMemoryLimit(gcMemory * int64(max(2, runtime.GOMAXPROCS(0))) / 2)
	}
}

// analyzed is the runner that studies variants of a job and makes nothing.
func analyzed(c *cobra.Command, job *source) study.Runner {
	return func(x *study.Case, o study.Options) (*study.Result, error) {
		return interruptible(c.Context(), func() (*study.Result, error) { return x.Of(job.file(), o) })
	}
}

// failedIn is how many rows could not be made.
func failedIn(rows []study.Row) (n int) {
	for i := range rows {
		if rows[i].Err != nil {
			n++
		}
	}
	return n
}

// noneMade is the first row's error if no row could be made, for the exit code. That
// some could not is a warning.
func noneMade(c *cobra.Command, rows []study.Row) error {
	n := failedIn(rows)
	if n == len(rows) {
		return rows[0].Err
	}
	if n > 0 {
		say(c.ErrOrStderr(), "warning", message{text: fmt.Sprintf("%d of %d rows could not be made", n, len(rows))})
	}
	return nil
}

// setTexts are settings as on a command line.
func setTexts(sets []params.Setting) (texts []string) {
	for _, s := range sets {
		texts = append(texts, s.String())
	}
	return texts
}
