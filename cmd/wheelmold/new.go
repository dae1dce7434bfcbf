package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"wheelmold/mold/export/outdir"
	"wheelmold/mold/study"
	"wheelmold/params"
)

// newFlags are the flags of the command new.
type newFlags struct {
	diameter, width, bore length
	process, name         string
	class                 string
	classes               classTable
	sets                  settings
	out                   string
	force                 bool
}

func newNew() *cobra.Command {
	n := &newFlags{diameter: length{mm: 60}, width: length{mm: 20}, bore: length{mm: 6}}
	c := &cobra.Command{
		Use:   "new",
		Short: "Write a commented job file for a wheel",
		Long: `Write a job file in which every value is explained. What follows from diameter,
width, bore and process is there as a comment, to be changed where wanted.

With --class, the job is that of a wheel for a weight class of combat robots (see
"wheelmold classes"); what other flags state counts instead.`,
		Example: `  wheelmold new --diameter 3.5in --width 30mm --bore 8mm --process filament -o wheel.toml
  wheelmold new --class 3lb --diameter 70mm -o wheel.toml`,
		Args: needs(0, "no arguments"),
		RunE: n.run,
	}
	f := c.Flags()
	f.Var(&n.diameter, "diameter", "outer diameter of the tread")
	f.Var(&n.width, "width", "width of the tread")
	f.Var(&n.bore, "bore", "diameter of the hub's bore")
	f.StringVar(&n.process, "process", "milled", "how the mold is made: "+processes())
	f.StringVar(&n.name, "name", "", "name of the job, engraved in the pieces")
	f.StringVar(&n.class, "class", "", "weight class to begin with, as in 3lb or beetle")
	n.classes.register(c)
	n.sets.register(c)
	f.StringVarP(&n.out, "output", "o", "", "file to write instead of standard output")
	f.BoolVar(&n.force, "force", false, "replace the file if it is there")
	c.RegisterFlagCompletionFunc("class", completeClass)
	return c
}

func (n *newFlags) run(c *cobra.Command, _ []string) error {
	write, err := n.job(c)
	if err != nil {
		return err
	}
	if n.out == "" {
		return write(c.OutOrStdout())
	}
	return outdir.WriteFile(n.out, n.force, write)
}

// job is the job that is asked for, to be written.
func (n *newFlags) job(c *cobra.Command) (func(io.Writer) error, error) {
	if n.class != "" {
		return n.ofClass(c)
	}
	if n.classes.file != "" {
		return nil, usagef("add --class NAME", "--classes is a table to choose a class from, and none was chosen")
	}
	job, err := params.Default(n.diameter.mm, n.width.mm, n.bore.mm, n.process)
	if err != nil {
		if _, _, typed := params.Parse("", nil, stated(c, true)...); typed != nil {
			err = typed // the same, with what was typed and its unit
		}
		return nil, n.blamed(err)
	}
	if n.name != "" {
		if job.Mold.Engraving.Text == job.Name {
			job.Mold.Engraving.Text = n.name
		}
		job.Name = n.name
	}
	if job, err = overridden(job, n.sets.list); err != nil {
		return nil, err
	}
	return func(w io.Writer) error { return ofFlags(params.Write(w, job)) }, nil
}

// overridden is a job with settings on top; what was derived is derived again.
func overridden(job *params.Job, sets []params.Setting) (*params.Job, error) {
	if sets == nil {
		return job, nil
	}
	var text bytes.Buffer
	if err := params.Write(&text, job); err != nil {
		return nil, ofFlags(err)
	}
	job, _, err := params.Parse("", text.Bytes(), sets...)
	return job, ofFlags(err)
}

// flagKeys are the flags that state a value of the job.
var flagKeys = []struct{ flag, key string }{
	{"diameter", "wheel.diameter"}, {"width", "wheel.width"}, {"bore", "hub.bore"}, {"process", "process.name"}, {"name", "name"},
}

// stated are the flags as settings of the job, those that were not typed only if all are
// wanted.
func stated(c *cobra.Command, all bool) (sets []params.Setting) {
	for _, f := range flagKeys {
		if value := c.Flag(f.flag).Value.String(); c.Flags().Changed(f.flag) || all && value != "" {
			sets = append(sets, params.Setting{Key: f.key, Value: value})
		}
	}
	return sets
}

// blamed is an error in which the faults of values name the flags that state them.
func (n *newFlags) blamed(err error) error {
	var faults params.Faults
	if !errors.As(err, &faults) {
		return err
	}
	faults = slices.Clone(faults)
	for i := range faults {
		set := func(s params.Setting) bool { return s.Key == faults[i].Path }
		for _, f := range flagKeys {
			if faults[i].File == "--set" && faults[i].Path == f.key && !slices.ContainsFunc(n.sets.list, set) {
				faults[i].File = "--" + f.flag
			}
		}
	}
	return ofFlags(faults)
}

// ofClass is the job of a weight class, with what other flags state on top.
func (n *newFlags) ofClass(c *cobra.Command) (func(io.Writer) error, error) {
	classes, err := n.classes.read(c)
	if err != nil {
		return nil, err
	}
	class, err := find(classes, n.class)
	if err != nil {
		return nil, err
	}
	job, _, err := class.Job(append(stated(c, false), n.sets.list...)...)
	if err != nil {
		return nil, n.blamed(err)
	}
	return func(w io.Writer) error { return writeClass(w, class, job) }, nil
}

// writeClass writes the job of a class, and on top what it was made from.
func writeClass(w io.Writer, class *params.Class, job *params.Job) error {
	var text bytes.Buffer
	if err := params.Write(&text, job); err != nil {
		return ofFlags(err)
	}
	_, err := fmt.Fprintf(w, "# A wheel for the weight class %s, invented after common practice: edit what is active below.\n#\n%s", class.Name, &text)
	return err
}

// ofFlags makes faults of a job that came from flags a bad job.
func ofFlags(err error) error {
	var faults params.Faults
	if errors.As(err, &faults) {
		return study.Refuse(study.Reading, faults)
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
