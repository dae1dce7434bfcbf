package main

import (
	"fmt"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"wheelmold/mold/flash"
	"wheelmold/mold/pour"
	"wheelmold/mold/printing"
	"wheelmold/mold/report"
	"wheelmold/mold/study"
)

// pourFlags are the flags of the command pour.
type pourFlags struct {
	sets   settings
	amount amount
	at     daytime
	json   bool
}

func newPour() *cobra.Command {
	f := &pourFlags{amount: oneWheel()}
	c := &cobra.Command{
		Use:   "pour JOB",
		Short: "Print the sheet to work from at the bench, on one page",
		Long: `Print one page to work from while casting: what to prepare, how to put the mold
together, what to weigh out, when to stir, pour and stop, how to open the mold,
and what to write down. Masses and times stand in it, reasons do not: those are
in the report of check.

JOB is a file, or "-" for standard input.

` + exitCodes,
		Example: `  wheelmold pour wheel.toml --wheels 4 --at 14:30 | lp -o cpi=11`,
		Args:    needs(1, "one job file"),
		RunE:    f.run,
	}
	f.sets.register(c)
	f.amount.register(c)
	c.Flags().Var(&f.at, "at", "time of the day at which A meets B, as in 14:30")
	c.Flags().BoolVar(&f.json, "json", false, "print JSON instead of text")
	return c
}

func (f *pourFlags) run(c *cobra.Command, args []string) error {
	// The sheet tells of no remedies against flash, and nobody waits for them.
	o := study.Options{
		Pour: f.amount.options(), Printing: printing.DefaultOptions,
		Flash: flash.Options{Draws: flash.DefaultOptions.Draws, Seed: flash.DefaultOptions.Seed},
	}
	job, x, err := studied(c, args[0], &f.sets, o)
	if err != nil {
		return err
	}
	s := report.OfPour(x, f.at.Time)
	s.Program, s.File, s.Warnings, s.Calibrated = program, job.name, job.warnings, job.note
	return result(c, f.json, s)
}

// amount is how much is cast.
type amount struct{ wheels, molds number }

func oneWheel() amount { return amount{number{n: 1, hi: 10000}, number{n: 1, hi: 100}} }

// options count a wheel for each mold at least: a mix fills them all.
func (a *amount) options() pour.Options {
	return pour.Options{Wheels: max(a.wheels.n, a.molds.n), Molds: a.molds.n}
}

func (a *amount) register(c *cobra.Command) {
	c.Flags().Var(&a.wheels, "wheels", "wheels to cast in all, for kits and costs; as many as molds at least")
	c.Flags().Var(&a.molds, "molds", "molds that are filled from one mix")
}

// number is a flag that holds a whole number from 1 to hi.
type number struct{ n, hi int }

func (n *number) String() string { return fmt.Sprint(n.n) }
func (n *number) Type() string   { return "number" }

func (n *number) Set(s string) error {
	v, err := strconv.Atoi(s)
	if err != nil || v < 1 || v > n.hi {
		return fmt.Errorf("%q is no whole number from 1 to %d", s, n.hi)
	}
	n.n = v
	return nil
}

// daytime is a flag that holds a time of the day.
type daytime struct{ time.Time }

func (d *daytime) String() string { return "" }
func (d *daytime) Type() string   { return "time" }

func (d *daytime) Set(s string) error {
	t, err := time.Parse("15:04", s)
	if err != nil {
		return fmt.Errorf("%q is no time of the day: write it as 14:30", s)
	}
	d.Time = t.AddDate(1, 0, 0) // midnight is not the zero time
	return nil
}
