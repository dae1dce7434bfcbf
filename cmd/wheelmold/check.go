package main

import (
	"github.com/spf13/cobra"

	"wheelmold/mold/flash"
	"wheelmold/mold/report"
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
			job, m, exact, warnings, err := checked(c, args[0], &sets)
			if err != nil {
				return err
			}
			e, err := flash.Analyze(m, exact.Faces, flash.DefaultOptions)
			if err != nil {
				return err
			}
			plan, more, err := job.plan(c.ErrOrStderr(), m, exact.Volumes, e, cast.options())
			if err != nil {
				return err
			}
			r := report.OfCheck(m, exact, e, plan)
			r.Program, r.File, r.Warnings = program, job.name, append(warnings, more...)
			if json {
				return report.WriteJSON(c.OutOrStdout(), r)
			}
			return r.WriteText(c.OutOrStdout())
		},
	}
	sets.register(c)
	cast.register(c)
	c.Flags().BoolVar(&json, "json", false, "print JSON instead of text")
	return c
}
