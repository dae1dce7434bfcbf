package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"wheelmold/mold"
	"wheelmold/mold/export"
	"wheelmold/mold/report"
	"wheelmold/params"
)

// printsFlags are the flags of the command prints.
type printsFlags struct {
	wanted    []string
	classes   classTable
	tolerance length
	formats   choice
	out       string
	pictures  bool
	force     bool
	json      bool
}

func newPrints() *cobra.Command {
	p := &printsFlags{tolerance: meshTolerance(), formats: choice{options: export.Formats}}
	c := &cobra.Command{
		Use:   "prints --class CLASSES -o DIR",
		Short: "Make whole sets of files for the wheels of weight classes",
		Long: `Make the molds of the wheels that "wheelmold new --class" begins with, for several
weight classes in one go: below DIR a folder per class with all that "wheelmold build"
writes, each whole or not at all. DIR is made if it is not there. A class that cannot
be made says why, and the others go on; the exit code is then that of the first.

` + exitCodes,
		Example: `  wheelmold prints --class 1lb,3lb -o prints
  wheelmold prints --class all -o prints --tolerance 0.05mm`,
		Args: needs(0, "no arguments"),
		RunE: p.run,
	}
	f := c.Flags()
	f.StringSliceVar(&p.wanted, "class", nil, "weight classes, as in 1lb,beetle, or all")
	f.StringVarP(&p.out, "output", "o", "", "folder to make the sets in")
	p.classes.register(c)
	f.Var(&p.tolerance, "tolerance", "largest distance of a mesh from the true surface")
	f.Var(&p.formats, "format", "formats to write, of stl and 3mf (default both)")
	f.BoolVar(&p.pictures, "pictures", false, "draw the molds apart and cut open, and each piece, as PNG files")
	f.BoolVar(&p.force, "force", false, "replace folders of an earlier run")
	f.BoolVar(&p.json, "json", false, "print JSON instead of text")
	c.MarkFlagDirname("output")
	c.RegisterFlagCompletionFunc("class", completeClass)
	c.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(export.Formats, cobra.ShellCompDirectiveNoFileComp))
	return c
}

func (p *printsFlags) run(c *cobra.Command, _ []string) error {
	if p.out == "" {
		return usagef("add -o DIR", "no folder to make was named")
	}
	classes, err := p.classes.read(c)
	if err != nil {
		return err
	}
	if classes, err = choose(classes, p.wanted); err != nil {
		return err
	}
	if err := os.Mkdir(p.out, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	} else if err == nil {
		defer os.Remove(p.out) // stays if there is a set in it
	}
	sets, failed := p.makeAll(c, classes)
	if err := c.Context().Err(); err != nil {
		return err
	}
	write := sets.WriteText
	if p.json {
		write = func(w io.Writer) error { return report.WriteJSON(w, sets) }
	}
	return errors.Join(write(c.OutOrStdout()), failed)
}

// choose finds the classes that are asked for, in the order of the table.
func choose(classes []*params.Class, wanted []string) ([]*params.Class, error) {
	if len(wanted) == 0 {
		return nil, usagef("add --class 1lb,3lb, or --class all", "no weight class was named")
	}
	if slices.Equal(wanted, []string{"all"}) {
		return classes, nil
	}
	chosen := map[*params.Class]bool{}
	for _, word := range wanted {
		class, err := find(classes, strings.TrimSpace(word))
		if err != nil {
			return nil, err
		}
		chosen[class] = true
	}
	return slices.DeleteFunc(slices.Clone(classes), func(c *params.Class) bool { return !chosen[c] }), nil
}

// makeAll makes one set after the other, each on all cores. What is wrong with one is
// told at once.
func (p *printsFlags) makeAll(c *cobra.Command, classes []*params.Class) (*report.Sets, error) {
	bar := newProgress(c.ErrOrStderr())
	defer bar.clear()
	sets := report.NewSets(program)
	failed := &unmadeError{}
	for i, class := range classes {
		if c.Context().Err() != nil {
			break
		}
		var said bytes.Buffer
		r, err := p.make(c.Context(), &said, class, bar.share(class.Name, i, len(classes)))
		if err != nil && c.Context().Err() == nil {
			failed.add(class.Name, err, &said)
		}
		bar.aside(func() { io.Copy(c.ErrOrStderr(), &said) })
		sets.Add(class.Name, filepath.Join(p.out, class.Name), r)
	}
	return sets, failed.orNil(len(classes))
}

// make makes the set of one class.
func (p *printsFlags) make(ctx context.Context, w io.Writer, class *params.Class, stage func(mold.Stage)) (*report.Build, error) {
	job, _, err := class.Job()
	if err != nil {
		return nil, ofFlags(err)
	}
	var text bytes.Buffer
	if err := writeClass(&text, class, job); err != nil {
		return nil, err
	}
	source := &source{class.Name + ".toml", text.Bytes(), &settings{}, []string{}}
	return buildFolder(ctx, w, source, making{
		dir: filepath.Join(p.out, class.Name), replace: p.force, tolerance: p.tolerance.mm,
		formats: p.formats, pictures: p.pictures, progress: stage,
	})
}

// unmadeError is that sets could not be made; why was told when it showed.
type unmadeError struct {
	names []string
	of    int
	code  int // of the first
}

// add tells why a set could not be made.
func (e *unmadeError) add(name string, err error, w io.Writer) {
	code, messages := explain(err)
	for _, m := range messages {
		m.text = name + ": " + m.text
		say(w, "error", m)
	}
	if e.names = append(e.names, name); e.code == exitDone {
		e.code = code
	}
}

func (e *unmadeError) orNil(of int) error {
	if e.of = of; len(e.names) == 0 {
		return nil
	}
	return e
}

func (e *unmadeError) Error() string {
	return fmt.Sprintf("%d of %d sets not made: %s", len(e.names), e.of, strings.Join(e.names, ", "))
}
