package main

import (
	"errors"
	"io"

	"github.com/spf13/cobra"

	"wheelmold/mold/export/outdir"
	"wheelmold/params"
)

func newNew() *cobra.Command {
	diameter, width, bore := &length{mm: 60}, &length{mm: 20}, &length{mm: 6}
	var process, name, out string
	var force bool
	c := &cobra.Command{
		Use:   "new",
		Short: "Write a commented job file for a wheel",
		Long: `Write a job file in which every value is explained. What follows from diameter,
width, bore and process is there as a comment, to be changed where wanted.`,
		Example: `  wheelmold new --diameter 3.5in --width 30mm --bore 8mm --process filament -o wheel.toml`,
		Args:    needs(0, "no arguments"),
		RunE: func(c *cobra.Command, _ []string) error {
			job, err := params.Default(diameter.mm, width.mm, bore.mm, process)
			if err != nil {
				return ofFlags(err)
			}
			if name != "" {
				if job.Mold.Engraving.Text == job.Name {
					job.Mold.Engraving.Text = name
				}
				job.Name = name
			}
			write := func(w io.Writer) error { return ofFlags(params.Write(w, job)) }
			if out == "" {
				return write(c.OutOrStdout())
			}
			return outdir.WriteFile(out, force, write)
		},
	}
	f := c.Flags()
	f.Var(diameter, "diameter", "outer diameter of the tread")
	f.Var(width, "width", "width of the tread")
	f.Var(bore, "bore", "diameter of the hub's bore")
	f.StringVar(&process, "process", "milled", "how the mold is made: "+processes())
	f.StringVar(&name, "name", "", "name of the job, engraved in the pieces")
	f.StringVarP(&out, "output", "o", "", "file to write instead of standard output")
	f.BoolVar(&force, "force", false, "replace the file if it is there")
	return c
}

// ofFlags makes faults of a job that came from flags a bad job.
func ofFlags(err error) error {
	var faults params.Faults
	if errors.As(err, &faults) {
		return &jobError{faults, exitJob}
	}
	return err
}

func processes() string {
	s := ""
	for i, p := range params.Processes {
		if i > 0 {
			s += ", "
		}
		s += p.Name
	}
	return s
}
