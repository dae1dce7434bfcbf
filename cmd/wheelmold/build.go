package main

import "github.com/spf13/cobra"

// buildFlags are the flags of the command build.
type buildFlags struct {
	meshFlags
	sets  settings
	only  someOf
	force bool
	json  bool
	again bool
}

func newBuild() *cobra.Command {
	b := &buildFlags{}
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
when, which values were changed and what came of it. A job at fault is told, and what was made before stays until it is
mended. Ctrl-C ends it with exit code 0; a build that is under way leaves nothing.
A folder that was there before is replaced only with --force.

` + exitCodes,
		Example: `  wheelmold build wheel.toml -o wheel --tolerance 0.02mm --only base,lid
  wheelmold build wheel.toml -o wheel --watch`,
		Args: needs(1, "one job file"),
		RunE: b.run,
	}
	b.meshFlags.register(c, "format", "")
	b.sets.register(c)
	f := c.Flags()
	f.Var(&b.only, "only", "pieces to write, as in base,lid (default all)")
	f.BoolVar(&b.force, "force", false, "replace a folder of an earlier run")
	f.BoolVar(&b.json, "json", false, "print JSON instead of text")
	f.BoolVar(&b.again, "watch", false, "make the folder again whenever the job is saved")
	c.RegisterFlagCompletionFunc("only", cobra.FixedCompletions(pieceNames, cobra.ShellCompDirectiveNoFileComp))
	return c
}

func (b *buildFlags) run(c *cobra.Command, args []string) error {
	if err := b.placed(); err != nil {
		return err
	}
	if b.again {
		return b.watch(c, args[0])
	}
	job, err := readJob(c, args[0], &b.sets)
	if err != nil {
		return err
	}
	bar := newProgress(c.ErrOrStderr())
	r, _, err := buildFolder(c.Context(), c.ErrOrStderr(), job, b.making(bar))
	bar.clear()
	if err != nil {
		return err
	}
	return result(c, b.json, r)
}

// making is what the flags say of the folder.
func (b *buildFlags) making(bar *progress) making {
	o := b.meshFlags.making(b.out, bar.stage)
	o.replace, o.only = b.force, b.only
	return o
}
