package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wheelmold/mold/castlog"
	"wheelmold/mold/flash"
	"wheelmold/mold/report"
	"wheelmold/mold/study"
	"wheelmold/params"
)

// measured is a flag for a number that was measured on a cast. The range refuses slips of
// the hand and mixed-up units, not unusual casts.
type measured struct {
	name   string
	kind   params.Kind
	lo, hi float64 // in the base unit
	doc    string
	at     func(*castlog.Record) *castlog.Measure
	per    float64 // base units in one of the record's
}

var measurements = []measured{
	{"a", params.Mass, 0, 2e5, "mass of A as weighed", func(r *castlog.Record) *castlog.Measure { return &r.MassA }, 1},
	{"b", params.Mass, 0, 2e5, "mass of B as weighed", func(r *castlog.Record) *castlog.Measure { return &r.MassB }, 1},
	{"mixed", params.Mass, 0, 2e5, "mass in the bucket when mixed", func(r *castlog.Record) *castlog.Measure { return &r.Mixed }, 1},
	{"left", params.Mass, 0, 2e5, "mass that clings to bucket and paddle once all that runs is poured out", func(r *castlog.Record) *castlog.Measure { return &r.Residue }, 1},
	{"spare", params.Mass, 0, 2e5, "mass of good mix that was left over and poured elsewhere", func(r *castlog.Record) *castlog.Measure { return &r.Spare }, 1},
	{"poured", params.Mass, 0, 2e5, "mass poured into the molds", func(r *castlog.Record) *castlog.Measure { return &r.Poured }, 1},
	{"wheel", params.Mass, 0, 2e5, "mass of the finished wheel with its hub", func(r *castlog.Record) *castlog.Measure { return &r.Wheel }, 1},
	{"hub", params.Mass, 0, 2e5, "mass of the hub before the cast", func(r *castlog.Record) *castlog.Measure { return &r.Hub }, 1},
	{"temperature", params.Temperature, 0, 50, "of the room", func(r *castlog.Record) *castlog.Measure { return &r.Room }, 1},
	{"hours", params.Time, 600, 60 * 86400, "from pour to opening, as in 16 h", func(r *castlog.Record) *castlog.Measure { return &r.Demold }, 3600},
	{"diameter", params.Length, 5, 2000, "of the cured tread in the middle of its width", func(r *castlog.Record) *castlog.Measure { return &r.Diameter }, 1},
	{"hardness", params.Number, 5, 100, "Shore A", func(r *castlog.Record) *castlog.Measure { return &r.Hardness }, 1},
	{"flash-thickness", params.Length, 0, 3, "of the flash at its root, on the line that the sheet names", func(r *castlog.Record) *castlog.Measure { return &r.Flash }, 1},
	{"flash", params.Mass, 0, 2e5, "mass of the flash", func(r *castlog.Record) *castlog.Measure { return &r.FlashMass }, 1},
}

// logFlags are the flags of the command log.
type logFlags struct {
	sets                settings
	texts               []string // of measurements, in their order
	date, result, notes string
	voids               string
	cavity              string
	accept              choice
	json, learn         bool
}

func newLog() *cobra.Command {
	l := &logFlags{texts: make([]string, len(measurements)), accept: choice{options: ratioNames}}
	c := &cobra.Command{
		Use:   "log JOB",
		Short: "Write down a cast beside its job, or list the casts with what was predicted",
		Long: `Add a cast to the log beside the job: wheel.casts for wheel.toml, a plain text file to
which lines are only added. What was measured goes into flags, with units; what the job
predicts as it stands now is kept beside it. Without any such flag the casts are listed.

Ratios that were accepted in the log count in every command that reads the job, where
the job does not state calibration.gap, calibration.residue or calibration.shrinkage.
--accept takes those whose interval leaves 1 out; --accept=gap,shrinkage takes what it names.

` + exitCodes,
		Example: `  wheelmold log wheel.toml --mixed "412 g" --left "31 g" --diameter "59.8 mm" --flash-thickness "0.08 mm" --result good
  wheelmold log wheel.toml`,
		Args: needs(1, "one job file"),
		RunE: l.run,
	}
	l.sets.register(c)
	f := c.Flags()
	for i, m := range measurements {
		f.StringVar(&l.texts[i], m.name, "", m.doc)
	}
	f.StringVar(&l.date, "date", "", "day of the cast, as 2026-05-01 (default today)")
	f.StringVar(&l.voids, "voids", "", "how many, or in words")
	f.StringVar(&l.result, "result", "", strings.Join(castlog.Results(), ", "))
	f.StringVar(&l.notes, "note", "", "anything else")
	f.BoolVar(&l.learn, "learn", false, "compare the casts with what was predicted, and propose ratios")
	f.StringVar(&l.cavity, "cavity", "", "diameter of the cavity, of a mold that was made before the job or its ratios changed")
	f.Var(&l.accept, "accept", "with --learn: write ratios into the log, from where they count")
	f.Lookup("accept").NoOptDefVal = sureOnes
	f.BoolVar(&l.json, "json", false, "print JSON instead of text")
	c.RegisterFlagCompletionFunc("result", cobra.FixedCompletions(castlog.Results(), cobra.ShellCompDirectiveNoFileComp))
	return c
}

func (l *logFlags) run(c *cobra.Command, args []string) error {
	if args[0] == "-" {
		return usagef("name the job's file", "a job from standard input has no log beside it")
	}
	if strings.HasSuffix(args[0], ".casts") {
		return usagef("name the job's file", "%s is a log of casts", args[0])
	}
	path := castlog.PathFor(args[0])
	accepts := c.Flags().Changed("accept")
	if accepts && !l.learn {
		return usagef("add --learn", "--accept takes what --learn proposes")
	}
	if l.learn && (l.measures(c) || l.adds(c) && !accepts) {
		return usagef("add the cast first", "--learn reads casts, and adds none")
	}
	if l.adds(c) && !l.learn {
		return l.add(c, args[0], path)
	}
	// A name that is no job's would have an empty log.
	job, err := readJob(c, args[0], nil)
	if err != nil {
		return err
	}
	if l.learn {
		return l.lesson(c, job, path)
	}
	return l.list(c, path)
}

// add writes a cast down, and shows it among the others.
func (l *logFlags) add(c *cobra.Command, name, path string) error {
	r, err := l.record(c)
	if err != nil {
		return err
	}
	log, _, err := readCasts(io.Discard, path)
	if err != nil {
		return err
	}
	_, x, err := studied(c, name, &l.sets, study.Options{
		Pour: study.RowOptions.Pour, Flash: flash.Options{Draws: flash.DefaultOptions.Draws, Seed: flash.DefaultOptions.Seed},
	})
	if err != nil {
		return err
	}
	if err := l.predict(&r, x, log); err != nil {
		return err
	}
	if f := implausible(&r); len(f) > 0 {
		return usagef("nothing was written down", "%w", f)
	}
	if at := log.Repeats(r); at > 0 {
		return usagef("another cast of that day needs a --note of its own", "%s holds this cast already, in line %d", path, at)
	}
	if err := castlog.Append(path, r); err != nil {
		return err
	}
	remark(c.ErrOrStderr(), "added the cast of %s to %s; to take it back, delete its line", r.Date, path)
	for _, s := range odd(&r) {
		say(c.ErrOrStderr(), "warning", message{text: s})
	}
	return l.list(c, path)
}

// castFlags tell of a cast that is to be added, beside its measurements.
var castFlags = []string{"voids", "result", "note", "cavity"}

// adds reports whether something was measured or noted.
func (l *logFlags) adds(c *cobra.Command) bool { return c.Flags().Changed("date") || l.measures(c) }

// measures is adds but for the date, which a calibration has, too.
func (l *logFlags) measures(c *cobra.Command) bool {
	return slices.ContainsFunc(castFlags, c.Flags().Changed) ||
		slices.ContainsFunc(measurements, func(m measured) bool { return c.Flags().Changed(m.name) })
}

// lesson prints what the casts say, and accepts it if that is asked for.
func (l *logFlags) lesson(c *cobra.Command, job *source, path string) error {
	log, _, err := readCasts(c.ErrOrStderr(), path)
	if err != nil {
		return err
	}
	lesson := castlog.Learn(log)
	if c.Flags().Changed("accept") {
		if err := l.take(c, job, path, log, lesson); err != nil {
			return err
		}
	}
	out := report.OfLesson(path, lesson)
	out.Program = program
	return result(c, l.json, out)
}

// record reads the flags, and tells all that is wrong with them at once.
func (l *logFlags) record(c *cobra.Command) (castlog.Record, error) {
	r := castlog.Record{Kind: castlog.Cast, Date: l.date, Voids: l.voids, Result: l.result, Notes: l.notes}
	if r.Date == "" {
		r.Date = time.Now().Format(time.DateOnly)
	}
	var faults params.Faults
	for i, m := range measurements {
		if !c.Flags().Changed(m.name) {
			continue
		}
		v, f := params.Measure(m.kind, "--"+m.name, l.texts[i], m.lo, m.hi)
		if f != nil {
			faults = append(faults, *f)
			continue
		}
		*m.at(&r) = castlog.Of(v / m.per)
	}
	if _, err := time.Parse(time.DateOnly, r.Date); err != nil {
		faults = append(faults, params.Fault{Path: "--date", Value: r.Date, Cause: "is no day: write year-month-day, as 2026-05-01"})
	}
	if r.Result != "" && !slices.Contains(castlog.Results(), r.Result) {
		faults = append(faults, params.Fault{Path: "--result", Value: r.Result, Allowed: strings.Join(castlog.Results(), ", "), Cause: "unknown word"})
	}
	if len(faults) > 0 {
		return r, usagef("", "%w", faults)
	}
	return r, nil
}

// list prints the casts of a log.
func (l *logFlags) list(c *cobra.Command, path string) error {
	log, _, err := readCasts(c.ErrOrStderr(), path)
	if err != nil {
		return err
	}
	r := report.OfCasts(path, log)
	r.Program = program
	return result(c, l.json, r)
}

// mostFaults is how many lines of a log are warned of one by one.
const mostFaults = 5

// readCasts reads a log, and warns of each line that could not be used, as it returns.
func readCasts(w io.Writer, path string) (log *castlog.Log, warnings []string, err error) {
	if log, err = castlog.ReadFile(path); err != nil {
		return nil, nil, err
	}
	for i, f := range log.Faults {
		text := fmt.Sprintf("%s: %v; the other lines count", path, f)
		if i == mostFaults {
			text = fmt.Sprintf("%s: %d lines more that cannot be used", path, log.Damaged-i)
		}
		say(w, "warning", message{text: text})
		warnings = append(warnings, text)
		if i == mostFaults {
			break
		}
	}
	return log, warnings, nil
}
