package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"wheelmold/mold/castlog"
	"wheelmold/mold/cure"
	"wheelmold/mold/flash"
	"wheelmold/mold/portable"
	"wheelmold/mold/study"
	"wheelmold/params"
)

// sureOnes is --accept without names: ratios whose interval leaves 1 out.
const sureOnes = "sure"

// ratioNames are what --accept may name.
var ratioNames = []string{"gap", "residue", "shrinkage", sureOnes}

// predict keeps what the job predicts beside what was measured, in the cavity in which it
// was cast.
func (l *logFlags) predict(r *castlog.Record, x *study.Result, log *castlog.Log) error {
	j, s, cal := x.Mold.Job, &x.Pour.Shrinkage, &x.Mold.Job.Calibration
	line := x.Flash.Widest()
	r.ExpectedLine, r.ExpectedGap = line.Name, castlog.Of(1000*line.Gap.Expected)
	need, w := &x.Pour.Mix.Need, &x.Pour.Weights
	r.ExpectedMixed, r.ExpectedRubber, r.ExpectedHardness = castlog.Of(need.Mixed), castlog.Of(w.Rubber), castlog.Of(j.Hardness())
	r.ExpectedResidue, r.ExpectedFlash = castlog.Of(need.Residue), castlog.Of(x.Flash.Flash.P50)
	r.ExpectedStrain = castlog.Of(100 * (s.Reaction + s.Cooling))
	r.GapRatio, r.ResidueRatio, r.ShrinkageRatio = castlog.Of(cal.Gap), castlog.Of(cal.Residue), castlog.Of(cal.Shrinkage)
	r.Process = j.Process.Name
	var err error
	if r.FlashPower, err = flashPower(x); err != nil {
		return err
	}
	cavity, err := l.castIn(r, s.Cavity.Diameter, log)
	if err != nil {
		return err
	}
	r.ExpectedCured, r.Cavity, r.Core = castlog.Of(cure.Expected(j, cavity)), castlog.Of(cavity), castlog.Of(s.Core)
	return nil
}

// otherCavity is how much in mm two cavities of one mold differ at most.
const otherCavity = 0.01

// castIn is the diameter in mm of the cavity that a cast was made in. A ratio that was
// accepted since changes what the job makes, not the mold that is there: where the two
// differ, the builder has to tell, or the ratio would be learned twice.
func (l *logFlags) castIn(r *castlog.Record, now float64, log *castlog.Log) (float64, error) {
	if l.cavity != "" {
		v, f := params.Measure(params.Length, "--cavity", l.cavity, 5, 2000)
		if f != nil {
			return 0, usagef("", "%w", params.Faults{*f})
		}
		return v, nil
	}
	casts := log.Casts()
	if len(casts) == 0 || !r.Diameter.Known {
		return now, nil
	}
	last := casts[len(casts)-1].Cavity
	if !last.Known || math.Abs(last.Value-now) <= otherCavity {
		return now, nil
	}
	return 0, usagef(fmt.Sprintf(`--cavity "%s mm" if it was the mold of the last cast, --cavity "%s mm" if the mold was made by the job as it is now`, mm3(last.Value), mm3(now)),
		"the job makes another cavity now than that of the last cast: which mold was it?")
}

func mm3(v float64) string { return strconv.FormatFloat(v, 'f', 3, 64) }

// implausible is what no cast can explain: slips of the hand, or of the unit.
func implausible(r *castlog.Record) params.Faults {
	var out params.Faults
	refuse := func(flag string, v float64, unit, cause string, a ...any) {
		out = append(out, params.Fault{Path: flag, Value: strconv.FormatFloat(v, 'g', 6, 64) + " " + unit, Cause: fmt.Sprintf(cause, a...)})
	}
	if d := r.Diameter; d.Known && d.Value > r.Cavity.Value+0.1 {
		refuse("--diameter", d.Value, "mm", "is larger than the cavity, %s mm: another wheel, or another unit", mm3(r.Cavity.Value))
	} else if d.Known && d.Value < 0.95*r.Cavity.Value {
		refuse("--diameter", d.Value, "mm", "is more than 5 %% below the cavity, %s mm: another wheel, or not the tread's diameter", mm3(r.Cavity.Value))
	}
	mixed := r.Mixed.Or(2 * r.ExpectedMixed.Value)
	for _, m := range []struct {
		flag string
		castlog.Measure
	}{{"--left", r.Residue}, {"--spare", r.Spare}, {"--poured", r.Poured}, {"--flash", r.FlashMass}} {
		if m.Known && m.Value > mixed {
			refuse(m.flag, m.Value, "g", "is more than can have been mixed, %.5g g", mixed)
		}
	}
	if w := r.Wheel; w.Known && r.Hub.Known && w.Value < r.Hub.Value {
		refuse("--wheel", w.Value, "g", "is less than its hub, %g g", r.Hub.Value)
	}
	if all := r.Poured.Or(0) + r.Residue.Or(0) + r.Spare.Or(0); r.Mixed.Known && all > 1.02*r.Mixed.Value {
		refuse("--mixed", r.Mixed.Value, "g", "is less than what was poured, clings and is spare, %.5g g", all)
	}
	return out
}

// odd is what a cast may be right about, but looks like a slip, or like a poor wheel.
func odd(r *castlog.Record) (out []string) {
	if m := r.Residue; m.Known && r.ExpectedResidue.Value > 0 && m.Value > 3*r.ExpectedResidue.Value {
		out = append(out, fmt.Sprintf("--left = %g g: more than three times what was predicted, %.3g g: the margin is --spare, not --left", m.Value, r.ExpectedResidue.Value))
	}
	if m := r.Rubber(); m.Known && r.ExpectedRubber.Value > 0 && m.Value < 0.95*r.ExpectedRubber.Value {
		out = append(out, fmt.Sprintf("--wheel = %g g: %.4g g of rubber where %.4g g were predicted: look for a void; do not run it hard before", r.Wheel.Value, m.Value, r.ExpectedRubber.Value))
	}
	if h := r.Hardness; h.Known && math.Abs(h.Value-r.ExpectedHardness.Value) > 7 {
		out = append(out, fmt.Sprintf("--hardness = %g: %g was mixed for: not cured yet, or A and B not in their ratio", h.Value, r.ExpectedHardness.Value))
	}
	return out
}

// take writes ratios of a lesson into the log: those that were named, or those that the
// casts are sure of. A ratio beyond its range has another cause and is never taken.
func (l *logFlags) take(c *cobra.Command, job *source, path string, log *castlog.Log, lesson *castlog.Lesson) error {
	r, err := l.record(c)
	if err != nil {
		return err
	}
	r.Kind = castlog.Calibration
	sure := slices.Contains(l.accept.chosen, sureOnes)
	var from, left []string
	for i, m := range []*castlog.Measure{&r.GapRatio, &r.ResidueRatio, &r.ShrinkageRatio} {
		f := lesson.Findings()[i]
		switch name := ratioNames[i]; {
		case f.N == 0 || !sure && !slices.Contains(l.accept.chosen, name):
		case f.Beyond:
			left = append(left, name+", beyond its range")
		case sure && !f.Sure():
			left = append(left, fmt.Sprintf("%s, whose interval holds 1 (--accept=%s takes it all the same)", name, name))
		default:
			*m = castlog.Of(params.Significant(f.Ratio, 3))
			from = append(from, fmt.Sprintf("%s by %d", name, f.N))
		}
	}
	if len(left) > 0 {
		say(c.ErrOrStderr(), "note", message{text: "not accepted: " + strings.Join(left, "; ")})
	}
	if len(from) == 0 {
		return usagef("log what was measured first", "no cast says anything that could be accepted")
	}
	r.From = "casts: " + strings.Join(from, ", ")
	if made := madeBy(log); made != "" {
		r.From += ", " + made
	}
	if again(&r, log) {
		remark(c.ErrOrStderr(), "%s has these ratios in force already", path)
		return nil
	}
	for _, name := range ratioNames[:3] {
		if key := "calibration." + name; params.States(job.bytes, key) {
			say(c.ErrOrStderr(), "note", message{text: fmt.Sprintf("%s is stated in %s, and counts there instead of the log's", key, job.name)})
		}
	}
	if err := castlog.Append(path, r); err != nil {
		return err
	}
	remark(c.ErrOrStderr(), "accepted in %s", path)
	return nil
}

// madeBy names how the molds of the casts were made, for who reads a ratio later, with
// another mold in mind.
func madeBy(log *castlog.Log) string {
	var names []string
	for _, r := range log.Casts() {
		if r.Process != "" && !slices.Contains(names, r.Process) {
			names = append(names, r.Process)
		}
	}
	return strings.Join(names, " and ")
}

// again reports whether a calibration changes nothing of what is in force.
func again(r *castlog.Record, log *castlog.Log) bool {
	c, from := log.Calibration()
	return from != "" && r.GapRatio.Or(c.Gap) == c.Gap && r.ResidueRatio.Or(c.Residue) == c.Residue && r.ShrinkageRatio.Or(c.Shrinkage) == c.Shrinkage
}

// flashPower is the power of the gap that the mass of flash goes with in this mold: by an
// estimate with twice the gap.
func flashPower(x *study.Result) (castlog.Measure, error) {
	wide, job := *x.Mold, *x.Mold.Job
	job.Calibration.Gap *= 2
	wide.Job = &job
	e, err := flash.Analyze(&wide, x.Exact.Faces, x.Flash.Options)
	if err != nil || x.Flash.Flash.P50 <= 0 || e.Flash.P50 <= 0 {
		return castlog.Measure{}, err
	}
	return castlog.Of(min(max(portable.Log2(e.Flash.P50/x.Flash.Flash.P50), 1), 3)), nil
}
