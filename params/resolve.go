package params

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// ref names one value of a job: a key, and the table's index in an array.
type ref struct {
	path  string
	index int
}

// label is how a fault names the value: grooves are counted from 1.
func (k Key) label(i int) string {
	if k.slot.count == nil {
		return k.Path
	}
	return fmt.Sprintf("%s[%d].%s", k.section(), i+1, k.name())
}

// stated is what was asked for: Quantity, float64, int or string; unitless for a
// quantity without its unit, unusable for what is no plain number; for Tables their
// number.
type stated map[ref]any

// unusable is what stands where a plain number should, and why it is none.
type unusable struct{ cause, source string }

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
	if u, ok := v.(unitless); ok {
		return k.objectUnitless(j, i, u), true
	}
	if u, ok := v.(unusable); ok {
		return Fault{Path: k.label(i), Value: u.source, Allowed: k.allowed(j), Cause: u.cause}, true
	}
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
		if cause = k.objectNumber(j, float64(v)); cause == tooLarge && k.over != nil {
			return cause, k.over(j)
		}
		return cause, ""
	case float64:
		if cause = k.objectNumber(j, v); cause != "" {
			return k.suspectBare(j, cause, v)
		}
	case Quantity:
		if cause = k.objectNumber(j, v.Base()); cause != "" {
			return k.suspectQuantity(j, cause, v)
		}
	}
	return "", ""
}

const tooLarge = "too large"

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
		return tooLarge
	}
	return "" // also where a limit is NaN, because it depends on a missing value
}

func (k Key) objectWord(j *Job, v string) (cause, hint string) {
	if k.Kind == Word {
		if slices.Contains(k.Options, v) {
			return "", ""
		}
		if n := nearest(v, k.Options); n != "" {
			return "unknown word", fmt.Sprintf("did you mean %q?", n)
		}
		return "unknown word", k.other
	}
	lo, hi := k.Range(j)
	switch n := float64(len([]rune(v))); {
	case n < lo:
		return "empty", ""
	case n > hi:
		return fmt.Sprintf("longer than %v characters", hi), ""
	case strings.ContainsFunc(v, unprintable):
		return "has characters that cannot be printed", ""
	}
	return "", ""
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
	case k.Kind == Text, math.IsNaN(lo):
		return ""
	case k.hi == nil, math.IsNaN(hi): // nothing else limits it, or a value that is not known
		return "at least " + k.Kind.limit(lo)
	case hi < lo:
		return "nothing, with the other values as they are"
	}
	if k.Kind.limit(lo) == k.Kind.limit(hi) {
		return "only " + k.Kind.limit(lo)
	}
	return k.Kind.limit(lo) + " to " + k.Kind.limit(hi)
}

// limit writes a limit for display.
func (k Kind) limit(v float64) string {
	if k == Expansion { // counts in millionths
		return Format(k, roundTo(v, 1e10))
	}
	return Format(k, readable(v))
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
