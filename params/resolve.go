package params

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
)

// ref names one value of a job: a key, and the table's index in an array.
type ref struct {
	path  string
	index int
}

// label is how a fault names the value: grooves are counted from 1.
func (k Key) label(i int) string {
	if k.slot.list == nil {
		return k.Path
	}
	return fmt.Sprintf("%s[%d].%s", k.section(), i+1, k.name())
}

// stated is what was asked for: Quantity, float64, int or string; for Tables
// their number.
type stated map[ref]any

// resolve fills a job from the stated values, and each other one by its
// default. A stated value that is not allowed becomes a fault, and its default
// stands in for it, so that the rest can be judged. Without a sound value for a
// required key, everything derived from it is NaN. Strained are defaults that
// come out of their range: always the consequence of some stated value.
func resolve(s stated) (j *Job, faults, strained Faults) {
	j = new(Job)
	for _, k := range table {
		for i := range k.len(j) {
			if v, ok := s[ref{k.Path, i}]; ok {
				f, bad := k.check(j, i, v)
				if !bad {
					k.set(j, i, v)
					continue
				}
				faults = append(faults, f)
			}
			v := k.standard(j, i)
			if f, bad := k.check(j, i, v); bad && !k.Required() {
				f.Cause, f.Hint = "derived "+f.Cause, "the default is "+k.From
				strained = append(strained, f)
			}
			k.set(j, i, v)
		}
	}
	return j, faults, strained
}

// standard is the default; NaN for a required key, which are all numbers.
func (k Key) standard(j *Job, i int) any {
	if k.Required() {
		return math.NaN()
	}
	return k.slot.value(j, i)
}

// slack absorbs the rounding of float64 sums of a few lengths below 10⁴ mm
// (each at most 2⁻⁴⁰ mm), so that a value exactly on a limit is allowed.
const slack = 1e-9

// check judges one value against its key's range in a job whose earlier values
// are already set.
func (k Key) check(j *Job, i int, v any) (Fault, bool) {
	cause, hint := k.objection(j, v)
	if cause == "" {
		return Fault{}, false
	}
	return Fault{Path: k.label(i), Value: k.format(v), Allowed: k.allowed(j), Cause: cause, Hint: hint}, true
}

// objection says what is wrong with a value, and what to do; "" if nothing is.
func (k Key) objection(j *Job, v any) (cause, hint string) {
	switch v := v.(type) {
	case string:
		return k.objectWord(j, v)
	case int:
		return k.objectNumber(j, float64(v)), ""
	case float64:
		cause = k.objectNumber(j, v)
		if cause != "" && k.Kind == Length {
			return k.suspectUnit(j, cause, v, firstUnit(Length))
		}
	case Quantity:
		cause = k.objectNumber(j, v.Base())
		if cause != "" {
			number, _ := v.Number.Float64()
			return k.suspectUnit(j, cause, number, v.unit)
		}
	}
	return cause, ""
}

func (k Key) objectNumber(j *Job, v float64) string {
	lo, hi := k.Range(j)
	absurd := float64(maxPlain)
	if hi > absurd { // a stress counts in millions of pascals
		absurd = 1000 * hi
	}
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return "not a finite number"
	case v > absurd || v < -absurd:
		return "absurdly large"
	case v < lo-slack && v < 0:
		return "negative"
	case v < lo-slack:
		return "too small"
	case v > hi+slack:
		return "too large"
	}
	return "" // also where a limit is NaN, because it depends on a missing value
}

func (k Key) objectWord(j *Job, v string) (cause, hint string) {
	if k.Kind == Word {
		if slices.Contains(k.Options, v) {
			return "", ""
		}
		if n := nearest(v, k.Options); n != "" {
			hint = fmt.Sprintf("did you mean %q?", n)
		}
		return "unknown word", hint
	}
	lo, hi := k.Range(j)
	switch n := float64(len([]rune(v))); {
	case n < lo:
		return "empty", ""
	case n > hi:
		return fmt.Sprintf("longer than %v characters", hi), ""
	case strings.ContainsFunc(v, func(r rune) bool { return !unicode.IsPrint(r) }):
		return "has characters that cannot be printed", ""
	}
	return "", ""
}

// readings are the units that builders mix up.
var readings = []struct {
	kind               Kind
	name, noun, plural string
}{
	{Length, "mm", "a millimeter value", "millimeters"},
	{Length, "in", "an inch value", "inches"},
	{Length, "cm", "a centimeter value", "centimeters"},
	{Time, "min", "a value in minutes", "minutes"},
	{Time, "s", "a value in seconds", "seconds"},
	{Viscosity, "mPa*s", "a value in mPa*s", "mPa*s"},
	{Viscosity, "Pa*s", "a value in Pa*s", "Pa*s"},
	{Stress, "MPa", "a value in MPa", "MPa"},
	{Stress, "GPa", "a value in GPa", "GPa"},
	{Stress, "Pa", "a value in Pa", "Pa"},
	{Tension, "mN/m", "a value in mN/m", "mN/m"},
	{Temperature, "F", "a Fahrenheit value", "Fahrenheit"},
	{Temperature, "C", "a Celsius value", "Celsius"},
}

// suspectUnit adds to the cause of a value out of range that it would fit in
// another unit. A length made in code carries mm without anybody having written
// so: it may also have been multiplied by 25.4 for nothing, if at least a tenth
// of the limit would be left.
func (k Key) suspectUnit(j *Job, cause string, number float64, written unit) (string, string) {
	lo, hi := k.Range(j)
	fits := func(v float64) bool { return v > 0 && v >= lo && v <= hi }
	for _, r := range readings {
		u, _ := unitNamed(r.kind, r.name)
		if r.kind == k.Kind && r.name != written.names[0] && fits(u.inBase(number)) {
			return cause + fmt.Sprintf(": looks like %s written as %s", r.noun, plural(written.names[0])),
				fmt.Sprintf("write %q", shortest(number)+" "+r.name)
		}
	}
	if v := written.inBase(number) / 25.4; k.Kind == Length && fits(v) && v > hi/10 {
		return cause + ": looks like a millimeter value in an inch file", ""
	}
	return cause, ""
}

// plural is the name of a unit in a sentence.
func plural(unit string) string {
	for _, r := range readings {
		if r.name == unit {
			return r.plural
		}
	}
	return unit
}

// allowed describes the key's range in the job.
func (k Key) allowed(j *Job) string {
	if k.Kind == Word {
		quoted := make([]string, len(k.Options))
		for i, o := range k.Options {
			quoted[i] = fmt.Sprintf("%q", o)
		}
		return strings.Join(quoted, ", ")
	}
	lo, hi := k.Range(j)
	switch {
	case k.Kind == Text, math.IsNaN(lo), math.IsNaN(hi):
		return ""
	case hi == maxPlain:
		return "at least " + Format(k.Kind, readable(lo))
	case hi < lo:
		return "nothing, with the other values as they are"
	}
	return Format(k.Kind, readable(lo)) + " to " + Format(k.Kind, readable(hi))
}

// readable rounds a limit to ten-thousandths for display; shares are small
// enough to survive it.
func readable(v float64) float64 { return roundTo(v, 1e4) }

func (k Key) format(v any) string {
	switch v := v.(type) {
	case Quantity:
		return v.String()
	case float64:
		return Format(k.Kind, v)
	case int:
		return fmt.Sprint(v)
	case string:
		return fmt.Sprintf("%q", v)
	}
	return fmt.Sprint(v)
}

// values is everything that a job holds, as if it were all stated.
func (j *Job) values() stated {
	s := stated{}
	for _, k := range table {
		for i := range k.len(j) {
			s[ref{k.Path, i}] = k.get(j, i)
		}
	}
	return s
}

// Default returns the complete job of a wheel of which only diameter, width and
// bore (in mm) and the making process are known; "" means milled.
func Default(diameter, width, bore float64, process string) (*Job, error) {
	s := stated{
		{"wheel.diameter", 0}: diameter,
		{"wheel.width", 0}:    width,
		{"hub.bore", 0}:       bore,
	}
	if process != "" {
		s[ref{"process.name", 0}] = process
	}
	j, faults, strained := resolve(s)
	if faults == nil {
		faults = append(j.clashes(), strained...)
	}
	if faults != nil {
		return nil, faults
	}
	return j, nil
}
