package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wheelmold/params"
)

// newRoot is the whole command with its subcommands.
func newRoot(s streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "wheelmold",
		Short: "Make the mold for casting a wheel tread from a job file",
		Long: `wheelmold makes the mold for casting a polyurethane wheel tread around a hub
core: base, two shells and lid as exact meshes, with volumes and masses.

A job file states the wheel; every length in it carries its unit. Results go to
standard output, messages to standard error.

` + exitCodes,
		Example: `  wheelmold new --diameter 60mm --width 20mm --bore 6mm -o wheel.toml
  wheelmold check wheel.toml
  wheelmold build wheel.toml -o wheel
  wheelmold pour wheel.toml --wheels 4
  wheelmold log wheel.toml --diameter "59.8 mm" --result good
  wheelmold shop wheel.toml -o wheel-shop
  wheelmold compare wheel.toml
  wheelmold sweep wheel.toml --set wheel.diameter=60mm..120mm/10mm`,
		Args:          cobra.ArbitraryArgs,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return c.Help()
			}
			return unknownCommand(c, args[0])
		},
	}
	root.SetIn(s.in)
	root.SetOut(s.out)
	root.SetErr(s.err)
	root.SetFlagErrorFunc(explainFlag)
	root.AddCommand(newNew(), newClasses(), newCheck(), newBuild(), newPrints(), newPour(), newShop(), newSweep(), newCompare(), newLog(), newVersion())
	return root
}

func unknownCommand(c *cobra.Command, name string) error {
	var names []string
	for _, sub := range c.Commands() {
		names = append(names, sub.Name())
	}
	hint := "wheelmold --help lists the commands"
	if n := params.Nearest(name, names); n != "" {
		hint = fmt.Sprintf("did you mean %q?", n)
	}
	return usagef(hint, "unknown command %q", name)
}

// explainFlag adds the flag that was likely meant.
func explainFlag(c *cobra.Command, err error) error {
	if errors.Is(err, pflag.ErrHelp) {
		return err
	}
	hint := fmt.Sprintf("%s --help lists the flags", c.CommandPath())
	var unknown *pflag.NotExistError
	if errors.As(err, &unknown) {
		if n := params.Nearest(unknown.GetSpecifiedName(), flagNames(c)); n != "" {
			hint = fmt.Sprintf("did you mean --%s?", n)
		}
	}
	var invalid *pflag.InvalidValueError
	if errors.As(err, &invalid) {
		// What the value's own parser says includes what to write instead.
		err, hint = fmt.Errorf("--%s: %w", invalid.GetFlag().Name, invalid.Unwrap()), ""
	}
	return &usageError{err, hint}
}

func flagNames(c *cobra.Command) []string {
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	return names
}

// needs makes cobra's complaint about the number of arguments a usage error.
func needs(n int, what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) == n {
			return nil
		}
		return usagef("the form is: "+c.UseLine(), "%s needs %s, and got %d arguments", c.CommandPath(), what, len(args))
	}
}
