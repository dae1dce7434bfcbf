package main

import (
	"github.com/spf13/cobra"

	"wheelmold/mold/report"
	"wheelmold/mold/study"
)

func newCompare() *cobra.Command {
	var sets settings
	var form form
	c := &cobra.Command{
		Use:   "compare JOB",
		Short: "Show the same job in every split of the mold side by side",
		Long: `Lay the same job out in every split (four pieces, three and four shells, open top,
clam, cup and lid) and show side by side how many pieces and parting lines there
are, what seeps and drips, how long the pour and the printing take. Nothing is
meshed or written.

Defaults follow the split; values that the job states stay as they are. Where one of
them forbids a split, the table says which, and what to change. The job's own split
is marked. Every row is what check says of the job with the same mold.split and
mold.segments.

JOB is a file, or "-" for standard input.

` + rowCodes,
		Example: `  wheelmold compare wheel.toml
  wheelmold compare wheel.toml --set process.name=filament --format csv`,
		Args: needs(1, "one job file"),
		RunE: func(c *cobra.Command, args []string) error {
			job, err := readJob(c, args[0], &sets)
			if err != nil {
				return err
			}
			rows, err := studyRows(c, study.Splits(job.file(), sets.list), analyzed(c, job), nil)
			if err != nil {
				return err
			}
			r := report.OfSplits(job.name, rows)
			r.Program = program
			if err := r.Write(c.OutOrStdout(), form.word); err != nil {
				return err
			}
			return unmade(c, rows, false)
		},
	}
	sets.register(c)
	form.register(c)
	return c
}
