package main

import (
	"context"
	"sync"

	"github.com/spf13/cobra"

	"wheelmold/mold/export"
	"wheelmold/mold/flash"
	"wheelmold/mold/handover"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/machining"
	"wheelmold/mold/pour"
	"wheelmold/mold/printing"
	"wheelmold/mold/report"
	"wheelmold/mold/shop/paper"
	"wheelmold/mold/study"
)

// shopFormats are what a machine shop gets.
var shopFormats = []string{handover.STEP, handover.DXF, handover.PDF}

// shopFlags are the flags of the command shop.
type shopFlags struct {
	out     string
	sets    settings
	only    someOf
	formats choice
	force   bool
	json    bool
}

func newShop() *cobra.Command {
	s := &shopFlags{formats: choice{options: shopFormats}}
	c := &cobra.Command{
		Use:   "shop JOB -o DIR",
		Short: "Make what a machine shop needs: STEP, DXF and drawings",
		Long: `Hand the mold and its hub to a machine shop: write a folder, whole or not at all, with
exact solids as STEP (a file per piece and one of the closed mold), flat drawings as
DXF with outlines, pockets and hole patterns on layers, and drawings.pdf with a sheet
for each piece: dimensions, tolerances, fits, hole table and notes. What is printed
gets its STEP file only.

Tell whether the pieces can be cut as they are, from which sides, what the cutters do
not reach, and about what stock, hours and money it takes.

Nothing is meshed. JOB is a file, or "-" for standard input. Without -o nothing is
written.

` + exitCodes,
		Example: `  wheelmold shop wheel.toml -o wheel-shop
  wheelmold shop wheel.toml -o wheel-shop --format step --only base,lid
  wheelmold shop wheel.toml --set machining.mill=plain`,
		Args: needs(1, "one job file"),
		RunE: s.run,
	}
	s.sets.register(c)
	f := c.Flags()
	f.StringVarP(&s.out, "output", "o", "", "folder to make (default: none, only tell)")
	f.Var(&s.formats, "format", "what to write, of step, dxf and pdf (default all)")
	f.Var(&s.only, "only", "pieces to write, as in base,hub (default all)")
	f.BoolVar(&s.force, "force", false, "replace a folder of an earlier run")
	f.BoolVar(&s.json, "json", false, "print JSON instead of text")
	c.MarkFlagDirname("output")
	c.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(shopFormats, cobra.ShellCompDirectiveNoFileComp))
	c.RegisterFlagCompletionFunc("only", cobra.FixedCompletions(pieceNames, cobra.ShellCompDirectiveNoFileComp))
	return c
}

func (s *shopFlags) run(c *cobra.Command, args []string) error {
	job, x, err := studied(c, args[0], &s.sets, study.Options{
		Pour: pour.Options{Wheels: 1, Molds: 1}, Flash: flash.DefaultOptions, Printing: printing.DefaultOptions,
		Machining: &machining.Options{Only: s.only.names},
	})
	if err != nil {
		return err
	}
	if err := s.only.check(x.Mold); err != nil {
		return err
	}
	if f := handover.Warnings(x.Mold.Job, s.formats.has); s.out != "" && len(x.Machining.Pieces) > 0 {
		job.warnsTo(c.ErrOrStderr())(f)
	}
	r := report.OfShop(x.Mold, x.Machining, x.Effort)
	r.Program, r.File, r.Warnings = program, job.name, job.warnings
	if s.out != "" {
		files, err := s.write(c.Context(), job, x)
		if err != nil {
			return err
		}
		r.Wrote(s.out, files)
	}
	return result(c, s.json, r)
}

// write writes the folder and returns its files.
func (s *shopFlags) write(ctx context.Context, job *source, x *study.Result) ([]report.File, error) {
	o := export.Options{
		Dir: s.out, Replace: s.force, Wants: func(string) bool { return false },
		Program: program, Job: x.Mold.Job, JobFile: job.name, JobBytes: job.bytes, Settings: job.settings(),
	}
	entries, err := export.Write(ctx, o, func() (*export.Contents, error) {
		files, err := inparallel.Until(ctx, func() ([]export.File, error) {
			return handed(x, sheets(x, s.only.names), s.formats.has, s.only.names)
		})
		if err != nil {
			return nil, err
		}
		c := &export.Contents{Files: files}
		for _, p := range x.Mold.Pieces {
			if s.only.has(p.Name) {
				c.Parts = append(c.Parts, export.Part{Name: p.Name})
			}
		}
		return c, nil
	})
	var out []report.File
	for _, f := range entries {
		out = append(out, report.File(f))
	}
	return out, err
}

// handed are the files for a machine shop, of the formats that are wanted.
func handed(x *study.Result, pages func() ([]*paper.Page, error), wants func(string) bool, only []string) ([]export.File, error) {
	files, err := handover.Files(x.Mold, x.Exact.Faces, x.Exact.RawFaces, handover.Options{Program: program, Only: only, Wants: wants, Drawings: pages})
	if err != nil {
		return nil, err
	}
	var out []export.File
	for _, f := range files {
		out = append(out, export.File{Name: f.Name, Fill: f.Fill})
	}
	return out, nil
}

// sheets lays the shop's drawings out, once for all who ask.
func sheets(x *study.Result, only []string) func() ([]*paper.Page, error) {
	return sync.OnceValues(func() ([]*paper.Page, error) {
		blanks := map[string]string{}
		for i := range x.Effort.Pieces {
			p := &x.Effort.Pieces[i]
			blanks[p.Name] = p.Stock.String()
		}
		return handover.Pages(x.Mold, x.Exact.RawFaces, blanks, only)
	})
}
