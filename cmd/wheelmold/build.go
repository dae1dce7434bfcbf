package main

import (
	"context"

	"github.com/spf13/cobra"

	"wheelmold/mold"
	"wheelmold/mold/export"
	"wheelmold/mold/export/outdir"
	"wheelmold/mold/flash"
	"wheelmold/mold/pour"
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
}

func newBuild() *cobra.Command {
	b := &buildFlags{
		// Below a micrometer no machine follows, and meshes become huge; above a
		// millimeter they look like nothing.
		tolerance: length{mm: 0.01, lo: 0.001, hi: 1},
		formats:   choice{options: export.Formats},
		only:      choice{options: pieces},
	}
	c := &cobra.Command{
		Use:   "build JOB -o DIR",
		Short: "Make the mold's pieces as STL and 3MF",
		Long: `Make every piece of the mold as an exact mesh, audit it, and write a folder that
appears whole or not at all: an STL file per piece in its printing pose,
pieces.3mf with all of them side by side, assembly.3mf with all in place, the
resolved job, and a manifest; with --pictures, pictures of the mold and its pieces.

JOB is a file, or "-" for standard input.

` + exitCodes,
		Example: `  wheelmold build wheel.toml -o wheel --tolerance 0.02mm --only base,lid`,
		Args:    needs(1, "one job file"),
		RunE:    b.run,
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
	c.MarkFlagDirname("output")
	c.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(export.Formats, cobra.ShellCompDirectiveNoFileComp))
	c.RegisterFlagCompletionFunc("only", cobra.FixedCompletions(pieces, cobra.ShellCompDirectiveNoFileComp))
	return c
}

func (b *buildFlags) run(c *cobra.Command, args []string) error {
	if b.out == "" {
		return usagef("add -o DIR", "no folder to make was named")
	}
	job, err := readJob(c, args[0], &b.sets)
	if err != nil {
		return err
	}
	m, warnings, err := job.model(c)
	if err != nil {
		return err
	}
	r, files, err := b.make(c, job, m, warnings)
	if err != nil {
		return err
	}
	for _, f := range files {
		r.Files = append(r.Files, report.File(f))
	}
	if b.json {
		return report.WriteJSON(c.OutOrStdout(), r)
	}
	return r.WriteText(c.OutOrStdout())
}

// make makes the mold, plans its pour, and writes its folder, showing progress.
func (b *buildFlags) make(c *cobra.Command, job *source, m *mold.Mold, warnings []string) (r *report.Build, files []outdir.Entry, err error) {
	bar := newProgress(c.ErrOrStderr())
	defer bar.clear()
	options := export.Options{
		Dir: b.out, Replace: b.force, Wants: b.formats.has,
		Program: program, Job: m.Job, JobFile: job.name, JobBytes: job.bytes,
		Settings: b.sets.text, Tolerance: b.tolerance.mm,
	}
	files, err = export.Write(c.Context(), options, func() (parts []export.Part, beside []export.File, err error) {
		made, err := interruptible(c.Context(), func() (*mold.Made, error) {
			return m.Make(mold.MakeOptions{
				Tolerance: b.tolerance.mm, Only: b.only.chosen,
				Progress: bar.stage,
			})
		})
		if err != nil {
			return nil, nil, err
		}
		var page export.File
		if r, page, err = b.report(c, job, made, warnings); err != nil {
			return nil, nil, err
		}
		for _, p := range made.Parts {
			parts = append(parts, export.Part{Name: p.Piece.Name, InPlace: p.Mesh, Posed: p.Posed})
		}
		if b.pictures {
			beside = append(beside, pictures(made)...)
		}
		return parts, append(beside, page), nil
	})
	return r, files, err
}

// report estimates the flash and plans the pour of what was made, and tells of it.
func (b *buildFlags) report(c *cobra.Command, job *source, made *mold.Made, warnings []string) (r *report.Build, page export.File, err error) {
	m := made.Mold
	e, err := flash.Analyze(m, made.Faces, flash.DefaultOptions)
	if err != nil {
		return nil, page, err
	}
	plan, more, err := job.plan(c, m, made.Volumes, e, pour.Options{Wheels: 1, Molds: 1})
	if err != nil {
		return nil, page, err
	}
	r = report.OfBuild(m, made, e, plan)
	r.Program, r.File, r.Warnings = program, job.name, append(warnings, more...)
	r.Tolerance, r.Folder = b.tolerance.mm, b.out
	return r, b.page(r, made, e, plan), nil
}

// interruptible runs work that cannot be canceled, and leaves it behind when the
// context is: the process is about to end.
func interruptible[T any](ctx context.Context, work func() (T, error)) (T, error) {
	type outcome struct {
		v   T
		err error
	}
	done := make(chan outcome, 1)
	go func() {
		v, err := work()
		done <- outcome{v, err}
	}()
	select {
	case o := <-done:
		return o.v, o.err
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
}
