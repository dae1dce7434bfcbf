package main

import (
	"github.com/spf13/cobra"

	"wheelmold/mold/export"
	"wheelmold/mold/report"
)

// pieces are what a mold of the default split is made of, the hub included.
var pieces = []string{"base", "shell-a", "shell-b", "lid", "hub"}

// buildFlags are the flags of the command build.
type buildFlags struct {
	sets      settings
	tolerance length
	formats   choice
	only      choice
	out       string
	pictures  bool
	force     bool
	json      bool
	again     bool
}

func newBuild() *cobra.Command {
	b := &buildFlags{
		tolerance: meshTolerance(),
		formats:   choice{options: export.Formats},
		only:      choice{options: pieces},
	}
	c := &cobra.Command{
		Use:   "build JOB -o DIR",
		Short: "Make the mold's pieces as STL and 3MF",
		Long: `Make every piece of the mold as an exact mesh, audit it, and write a folder that
appears whole or not at all: an STL file per piece in its printing pose,
plate-1.3mf and so on with each load of the printer's bed, pieces.3mf with what is
milled or turned side by side, assembly.3mf with all in place, the resolved job, and
a manifest; with --pictures, pictures of the mold and its pieces.

JOB is a file, or "-" for standard input.

With --watch, the folder is made again whenever the job is saved, and a line tells
what changed. A job at fault is told, and what was made before stays until it is
mended. Ctrl-C ends it with exit code 0; a build that is under way leaves nothing.
A folder that was there before is replaced only with --force.

` + exitCodes,
		Example: `  wheelmold build wheel.toml -o wheel --tolerance 0.02mm --only base,lid
  wheelmold build wheel.toml -o wheel --watch`,
		Args: needs(1, "one job file"),
		RunE: b.run,
	}
	f := c.Flags()
	f.StringVarP(&b.out, "output", "o", "", "folder to make")
	b.sets.register(c)
	f.Var(&b.tolerance, "tolerance", "largest distance of a mesh from the true surface")
	f.Var(&b.formats, "format", "formats to write, of stl and 3mf (default both)")
	f.Var(&b.only, "only", "pieces to write, of base, shell-a, shell-b, lid and hub (default all)")
	f.BoolVar(&b.pictures, "pictures", false, "draw the mold apart and cut open, and each piece, as PNG files")
	f.BoolVar(&b.force, "force", false, "replace a folder of an earlier run")
	f.BoolVar(&b.json, "json", false, "print JSON instead of text")
	f.BoolVar(&b.again, "watch", false, "make the folder again whenever the job is saved")
	c.MarkFlagDirname("output")
	c.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(export.Formats, cobra.ShellCompDirectiveNoFileComp))
	c.RegisterFlagCompletionFunc("only", cobra.FixedCompletions(pieces, cobra.ShellCompDirectiveNoFileComp))
	return c
}

func (b *buildFlags) run(c *cobra.Command, args []string) error {
	if b.out == "" {
		return usagef("add -o DIR", "no folder to make was named")
	}
	if b.again {
		return b.watch(c, args[0])
	}
	job, err := readJob(c, args[0], &b.sets)
	if err != nil {
		return err
	}
	bar := newProgress(c.ErrOrStderr())
	r, err := buildFolder(c.Context(), c.ErrOrStderr(), job, b.making(bar))
	bar.clear()
	if err != nil {
		return err
	}
	if b.json {
		return report.WriteJSON(c.OutOrStdout(), r)
	}
	return r.WriteText(c.OutOrStdout())
}

// making is what the flags say of the folder.
func (b *buildFlags) making(bar *progress) making {
	return making{
		dir: b.out, replace: b.force, tolerance: b.tolerance.mm,
		formats: b.formats, only: b.only, pictures: b.pictures, progress: bar.stage,
	}
}
