package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wheelmold/mold/report"
	"wheelmold/mold/study"
	"wheelmold/params"
)

func newClasses() *cobra.Command {
	var table classTable
	var toml bool
	c := &cobra.Command{
		Use:   "classes",
		Short: "Print the weight classes and the wheels that jobs for them begin with",
		Long: `Print the weight classes of combat robots with their limits, and for each the wheel
that "wheelmold new --class" and "wheelmold prints" begin with. All of it is a table
that can be edited: save it with --toml, and use it by --classes.

` + exitCodes,
		Example: `  wheelmold classes --toml > classes.toml
  wheelmold classes --classes classes.toml`,
		Args: needs(0, "no arguments"),
		RunE: func(c *cobra.Command, _ []string) error {
			classes, err := table.read(c)
			if err != nil {
				return err
			}
			if toml {
				_, err := c.OutOrStdout().Write(table.src)
				return err
			}
			return report.WriteClasses(c.OutOrStdout(), classes)
		},
	}
	table.register(c)
	c.Flags().BoolVar(&toml, "toml", false, "print the table as a file to edit")
	return c
}

// classTable is the flag --classes: an edited table, or the program's own.
type classTable struct {
	file string
	src  []byte // as read
}

func (t *classTable) register(c *cobra.Command) {
	c.Flags().StringVar(&t.file, "classes", "", "an edited table of weight classes instead of the program's own")
	c.MarkFlagFilename("classes", "toml")
}

// read reads the table; what is wrong with it is a bad job.
func (t *classTable) read(c *cobra.Command) ([]*params.Class, error) {
	name := params.ClassTableName
	t.src = params.ClassTable
	if t.file != "" {
		file, err := readJob(c, t.file, nil)
		if err != nil {
			return nil, err
		}
		name, t.src = file.name, file.bytes
	}
	classes, err := params.ReadClasses(name, t.src)
	var faults params.Faults
	if errors.As(err, &faults) {
		return nil, study.Refuse(study.Reading, faults)
	}
	return classes, err
}

// find is the class that a word on the command line means.
func find(classes []*params.Class, word string) (*params.Class, error) {
	if c := params.FindClass(classes, word); c != nil {
		return c, nil
	}
	var names []string
	for _, c := range classes {
		names = append(names, c.Name)
	}
	hint := "the classes are " + strings.Join(names, ", ") + `; "wheelmold classes" tells more`
	if n := params.NearestClass(classes, word); n != "" {
		hint = fmt.Sprintf("did you mean %q? %s", n, "T"+hint[1:])
	}
	return nil, usagef(hint, "no weight class is called %q", word)
}

// completeClass offers the names of the program's own classes.
func completeClass(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	classes, err := params.ReadClasses(params.ClassTableName, params.ClassTable)
	if err != nil {
		return nil, cobra.ShellCompDirectiveError
	}
	var out []string
	for _, c := range classes {
		out = append(out, c.Name+"\t"+strings.Join(c.Also, ", "))
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}
