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
	"wheelmold/mold/report"
	"wheelmold/mold/study"
	"wheelmold/params"
)

// printsFlags are the flags of the command prints.
type printsFlags struct {
	meshFlags
	wanted  []string
	classes classTable
	force   bool
	json    bool
}

func newPrints() *cobra.Command {
	p := &printsFlags{}
	c := &cobra.Command{
		Use:   "prints --class CLASSES -o DIR",
		Short: "Make whole sets of files for the wheels of weight classes",
		Long: `Make the molds of the wheels that "wheelmold new --class" begins with, for several
weight classes in one go: below DIR a folder per class with all that "wheelmold build"
writes, each whole or not at all. DIR is made if it is not there. A class that cannot
be made says why, and the others go on; the exit code is then that of the first that
could not. An interrupt leaves the sets that are whole by then, and lists them.

` + exitCodes,
		Example: `  wheelmold prints --class 1lb,3lb -o prints
  wheelmold prints --class all -o prints --tolerance 0.05mm`,
		Args: needs(0, "no arguments"),
		RunE: p.run,
	}
	p.meshFlags.register(c, "format", "")
	p.classes.register(c)
	f := c.Flags()
	f.StringSliceVar(&p.wanted, "class", nil, "weight classes, as in 1lb,beetle, or all")
	f.BoolVar(&p.force, "force", false, "replace folders of an earlier run")
	f.BoolVar(&p.json, "json", false, "print JSON instead of text")
	c.RegisterFlagCompletionFunc("class", completeClass)
	return c
}

func (p *printsFlags) run(c *cobra.Command, _ []string) error {
	if err := p.placed(); err != nil {
		return err
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
	sets, rows, stop := p.makeAll(c, classes)
	made := sets.Made()
	if stop != nil && len(made) == 0 {
		return stop
	}
	write := sets.WriteText
	if p.json {
		write = func(w io.Writer) error { return report.WriteJSON(w, sets) }
	}
	err = write(c.OutOrStdout())
	if stop != nil {
		return errors.Join(err, &stoppedError{stop, made, len(rows)})
	}
	return errors.Join(err, unmade(c, rows, true))
}

// stoppedError is an interrupt after which there are folders that were whole by then.
type stoppedError struct {
	cause error
	stay  []string
	of    int
}

func (e *stoppedError) Unwrap() error { return e.cause }

func (e *stoppedError) Error() string {
	return fmt.Sprintf("interrupted; %d of %d made, which stay: %s", len(e.stay), e.of, strings.Join(e.stay, "; "))
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

// makeAll makes a set for each class.
func (p *printsFlags) makeAll(c *cobra.Command, classes []*params.Class) (*report.Sets, []study.Row, error) {
	cases, builds, index := make([]study.Case, len(classes)), make([]*report.Build, len(classes)), map[string]int{}
	for i, class := range classes {
		cases[i].Name, index[class.Name] = class.Name, i
	}
	rows, err := studyRows(c, cases, func(x *study.Case, o study.Options, stage func(mold.Stage)) (r *study.Result, err error) {
		i := index[x.Name]
		builds[i], r, err = p.make(c.Context(), classes[i], o, stage)
		return r, err
	}, func(w io.Writer, r *study.Row) {
		for _, f := range r.Warnings {
			say(w, "warning", ofFault(f))
		}
		tellUnmade(w, r)
	})
	sets := report.NewSets(program)
	for i, x := range cases {
		sets.Add(x.Name, filepath.Join(p.out, x.Name), builds[i])
	}
	return sets, rows, err
}

// make makes the set of one class.
func (p *printsFlags) make(ctx context.Context, class *params.Class, so study.Options, stage func(mold.Stage)) (*report.Build, *study.Result, error) {
	job, _, err := class.Job()
	if err != nil {
		return nil, nil, ofFlags(err)
	}
	var text bytes.Buffer
	if err := writeClass(&text, class, job); err != nil {
		return nil, nil, err
	}
	o := p.making(filepath.Join(p.out, class.Name), stage)
	o.replace = p.force
	return o.buildRow(ctx, &source{name: class.Name + ".toml", bytes: text.Bytes(), sets: &settings{}, warnings: []string{}}, so)
}
