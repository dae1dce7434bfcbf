package main

import (
	"github.com/spf13/cobra"

	"wheelmold/mold/flash"
	"wheelmold/mold/machining"
	"wheelmold/mold/printing"
	"wheelmold/mold/report"
	"wheelmold/mold/study"
)

func newCheck() *cobra.Command {
	var sets settings
	var json bool
	cast := oneWheel()
	c := &cobra.Command{
		Use:   "check JOB",
		Short: "Check a job and report sizes, volumes and masses, without making anything",
		Long: `Read a job, lay the mold out, and report sizes and volumes, what to mix and
whether it can be poured, where air stays, and how much rubber may seep between
the pieces. Nothing is meshed or written. Everything that
is wrong is listed at once, with its place.

JOB is a file, or "-" for standard input.

` + exitCodes,
		Example: `  wheelmold check wheel.toml --set wheel.diameter=90mm`,
		Args:    needs(1, "one job file"),
		RunE: func(c *cobra.Command, args []string) error {
			job, x, err := studied(c, args[0], &sets, study.Options{Pour: cast.options(), Flash: flash.DefaultOptions, Printing: printing.DefaultOptions, Machining: &machining.Options{}})
			if err != nil {
				return err
			}
			r := report.OfCheck(x.Mold, x.Exact, x.Flash, x.Pour)
			r.SetStudy(x)
			r.Program, r.File, r.Warnings, r.Calibrated = program, job.name, job.warnings, job.note
			return result(c, json, r)
		},
	}
	sets.register(c)
	cast.register(c)
	c.Flags().BoolVar(&json, "json", false, "print JSON instead of text")
	return c
}
