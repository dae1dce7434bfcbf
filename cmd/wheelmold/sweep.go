package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"wheelmold/mold"
	"wheelmold/mold/export/outdir"
	"wheelmold/mold/report"
	"wheelmold/mold/study"
	"wheelmold/params"
)

// sweepTable is the name of the table in the folder of a sweep.
const sweepTable = "table.csv"

// sweepFlags are the flags of the command sweep.
type sweepFlags struct {
	meshFlags
	series manySettings
	form   form
	build  bool
}

func newSweep() *cobra.Command {
	s := &sweepFlags{}
	c := &cobra.Command{
		Use:   "sweep JOB --set key=from..to/step",
		Short: "Show a job over values of one key or several as a table",
		Long: `Study the same job with one key or several taking values in turn, and show what
they do to rubber, mix, block, parting lines, pour and printing. Values are written as

  --set wheel.diameter=60mm..120mm/10mm   both ends and a step: 60, 70 ... 120 mm
  --set wheel.diameter=60..120mm/10       the unit may stand once
  --set "wheel.width=5/8 in,3/4 in,20mm"  a list, each value with its unit
  --set "mold.split=open top,clam"        words, commas between
  --set process.name=filament             one value for all rows

The end belongs to a range if whole steps lead to it. Where a fraction or a unit has a
slash of its own that could be taken for that of the step, put spaces around the
latter: 1..4 / 3/8in. Several keys make a row for each combination, the last key
changing fastest, a thousand rows at most.

With --build, DIR gets a folder per row with all that build writes, named as in
wheel.diameter=60mm, and the table as table.csv; a name too long for a folder is cut,
and ends with the number of its row. DIR appears whole or not at all; a row
that cannot be made leaves nothing in it, and fails the command once the others are
made.

JOB is a file, or "-" for standard input.

` + rowCodes,
		Example: `  wheelmold sweep wheel.toml --set wheel.diameter=60mm..120mm/10mm
  wheelmold sweep wheel.toml --set wheel.diameter=60..80/10mm --set mold.segments=2,3 --format csv
  wheelmold sweep wheel.toml --set wheel.diameter=60mm..120mm/10mm --build -o wheels`,
		Args: needs(1, "one job file"),
		RunE: s.run,
	}
	f := c.Flags()
	f.Var(&s.series, "set", "values of a key, as in wheel.diameter=60mm..120mm/10mm; may be repeated")
	s.form.register(c)
	f.BoolVar(&s.build, "build", false, "make every row's folder, too")
	s.meshFlags.register(c, "files", " with --build")
	c.RegisterFlagCompletionFunc("set", completeKey)
	return c
}

func (s *sweepFlags) run(c *cobra.Command, args []string) error {
	if err := s.placed(); s.build && err != nil {
		return err
	}
	if !s.build && s.out != "" {
		return usagef("add --build", "-o names a folder, and nothing is to be built")
	}
	cases, err := study.Sweep(s.series.list)
	if err != nil {
		return usagef("", "--set: %w", err)
	}
	job, err := readJob(c, args[0], &settings{})
	if err != nil {
		return err
	}
	rows, err := s.rows(c, job, cases)
	if err != nil {
		return err
	}
	if err := tableOf(job, rows).Write(c.OutOrStdout(), s.form.word); err != nil {
		return err
	}
	return unmade(c, rows, s.build)
}

func tableOf(job *source, rows []study.Row) *report.Variants {
	r := report.OfSweep(job.name, rows)
	r.Program = program
	return r
}

// rows studies the cases, and builds them if that is asked for.
func (s *sweepFlags) rows(c *cobra.Command, job *source, cases []study.Case) ([]study.Row, error) {
	if !s.build {
		return studyRows(c, cases, analyzed(c, job), nil)
	}
	dir, err := outdir.Create(c.Context(), s.out, false)
	var exists *outdir.ExistsError
	if errors.As(err, &exists) {
		return nil, &outdir.ForeignError{Path: exists.Path, Reason: "it exists already"}
	}
	if err != nil {
		return nil, err
	}
	defer dir.Discard()
	rows, err := studyRows(c, cases, s.builder(c, job, dir), tellUnmade)
	if err != nil {
		return nil, err
	}
	for i := range rows {
		// A place that cannot be written is no fault of a row.
		if err := rows[i].Err; err != nil {
			if code, _ := explain(err); code == exitFiles {
				return nil, err
			}
		}
	}
	if len(failedIn(rows)) == len(rows) {
		return rows, nil
	}
	if err := dir.Write(sweepTable, tableOf(job, rows).Table.WriteCSV); err != nil {
		return nil, err
	}
	return rows, dir.Commit()
}

// builder makes a row's folder within another.
func (s *sweepFlags) builder(c *cobra.Command, job *source, dir *outdir.Folder) runner {
	return func(x *study.Case, o study.Options, stage func(mold.Stage)) (*study.Result, error) {
		own := &source{name: job.name, bytes: job.bytes, sets: &settings{x.Sets, setTexts(x.Sets)}, warnings: []string{}}
		_, result, err := s.making(dir.Within(x.Name), stage).buildRow(c.Context(), own, o)
		return result, err
	}
}

// manySettings is the flag --set of a sweep.
type manySettings struct {
	list []params.Series
	text []string
}

func (s *manySettings) String() string { return strings.Join(s.text, " ") }
func (s *manySettings) Type() string   { return "key=values" }

func (s *manySettings) Set(text string) error {
	series, err := params.ParseSeries(text)
	if err != nil {
		return err
	}
	s.list, s.text = append(s.list, series), append(s.text, text)
	return nil
}
