package main

import (
	"errors"
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"wheelmold/mold"
	"wheelmold/mold/report"
	"wheelmold/mold/study"
	"wheelmold/params"
)

const rowCodes = `A row that cannot be made says why, and the others go on. A table is done if any
row could be made; what --build makes only if all could. Else the exit code is that of
the first that could not.

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

// runner is a [study.Runner] that is told where to show how far it is; it need not.
type runner func(x *study.Case, o study.Options, stage func(mold.Stage)) (*study.Result, error)

// studyRows studies all cases at once, and shows on a terminal how far they are. tell,
// which may be nil, writes what is to be said of a row as soon as it is over.
func studyRows(c *cobra.Command, cases []study.Case, run runner, tell func(io.Writer, *study.Row)) ([]study.Row, error) {
	ctx, w := c.Context(), c.ErrOrStderr()
	makeRoom()
	bar := newProgress(w)
	defer bar.clear()
	all := bar.several(len(cases))
	rows := study.Rows(cases, func(x *study.Case, o study.Options) (*study.Result, error) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		return run(x, o, all.share(x.Name))
	}, func(r *study.Row) {
		all.end(r.Name)
		if tell != nil && ctx.Err() == nil {
			bar.aside(func() { tell(w, r) })
		}
	})
	return rows, ctx.Err()
}

// tellUnmade tells why a row's folder could not be made.
func tellUnmade(w io.Writer, r *study.Row) {
	if r.Err == nil {
		return
	}
	_, messages := explain(r.Err)
	for _, m := range messages {
		m.text = r.Name + ": " + m.text
		say(w, "error", m)
	}
}

// makeRoom lets memory grow with the molds that are at work at once, if main bounded it
// for one: they would be collected all the time, a third of the work on eight cores.
func makeRoom() {
	if debug.SetMemoryLimit(-1) == gcMemory {
		debug.SetMemoryLimit(gcMemory * int64(max(2, runtime.GOMAXPROCS(0))) / 2)
	}
}

// analyzed is the runner that studies variants of a job and makes nothing.
func analyzed(c *cobra.Command, job *source) runner {
	return func(x *study.Case, o study.Options, _ func(mold.Stage)) (*study.Result, error) {
		return studying(c.Context(), o, func(o study.Options) (*study.Result, error) { return x.Of(job.file(), o) })
	}
}

// failedIn are the rows that could not be made.
func failedIn(rows []study.Row) (failed []*study.Row) {
	for i := range rows {
		if rows[i].Err != nil {
			failed = append(failed, &rows[i])
		}
	}
	return failed
}

// unmade is the error of rows that could not be made. A table without some of them is
// a table still, and a warning will do unless it has none at all; folders that were to
// be made are missing.
func unmade(c *cobra.Command, rows []study.Row, folders bool) error {
	failed := failedIn(rows)
	switch {
	case len(failed) == 0:
		return nil
	case folders:
		return &unmadeError{failed, len(rows)}
	case len(failed) == len(rows):
		return failed[0].Err
	}
	say(c.ErrOrStderr(), "warning", message{text: fmt.Sprintf("%d of %d rows could not be made", len(failed), len(rows))})
	return nil
}

// unmadeError is that folders are missing; why was told when it showed.
type unmadeError struct {
	rows []*study.Row
	of   int
}

func (e *unmadeError) Error() string {
	var names []string
	for _, r := range e.rows {
		names = append(names, r.Name)
	}
	return fmt.Sprintf("%d of %d not made: %s", len(names), e.of, strings.Join(names, "; "))
}

// code is the exit code of the first.
func (e *unmadeError) code() int {
	code, _ := explain(e.rows[0].Err)
	return code
}

// setTexts are settings as on a command line.
func setTexts(sets []params.Setting) (texts []string) {
	for _, s := range sets {
		texts = append(texts, s.String())
	}
	return texts
}
