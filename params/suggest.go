package params

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
)

// unitless is a number that stands where a quantity should.
type unitless struct {
	number *big.Rat
	text   string // of the number
	source string // as it stands in the file
}

// lackingUnit reads a number with nothing behind it.
func lackingUnit(text string) (unitless, bool) {
	number, name := splitNumber(text)
	r, err := parseNumber(number)
	return unitless{number: r, text: number}, err == nil && name == ""
}

// objectUnitless suggests the units in which the number would be allowed; if
// there are none, it names the range.
func (k Key) objectUnitless(j *Job, i int, u unitless) Fault {
	f := Fault{Path: k.label(i), Value: u.source}
	if names := k.unitsFor(j, u.number); len(names) > 0 {
		for n := range names {
			names[n] = fmt.Sprintf("%q", u.text+" "+names[n])
		}
		f.Cause = "has no unit: write " + strings.Join(names, " or ")
		return f
	}
	f.Allowed = k.allowed(j)
	f.Cause = fmt.Sprintf("has no unit: %v is written in %s", k.Kind, strings.Join(unitNames(k.Kind), ", "))
	return f
}

// unitsFor names the unit in which a number is most likely meant: the kind's
// first one that makes it allowed, but of a length both mm and inch if they do. A
// torque that is too large in newton meters is not made small by another unit
// unasked: it is left to the range.
func (k Key) unitsFor(j *Job, number *big.Rat) []string {
	if v, _ := number.Float64(); k.Kind == Torque && k.objectNumber(j, v) != "" {
		return nil
	}
	var fitting []string
	for _, name := range unitNames(k.Kind) {
		u, _ := unitNamed(k.Kind, name)
		if v, _ := u.toBase(number).Float64(); k.objectNumber(j, v) == "" {
			fitting = append(fitting, name)
		}
	}
	usual := slices.DeleteFunc(slices.Clone(fitting), func(name string) bool { return name != "mm" && name != "in" })
	if len(usual) > 0 {
		return usual
	}
	return fitting[:min(1, len(fitting))]
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

// plural is the name of a unit in a sentence.
func plural(unit string) string {
	for _, r := range readings {
		if r.name == unit {
			return r.plural
		}
	}
	return unit
}

// suspectQuantity adds to the cause of a value out of range that it would fit in
// another unit, or else what a larger value would do, or which slip of the
// decimal point it may be: one that somebody wrote.
func (k Key) suspectQuantity(j *Job, cause string, q Quantity) (string, string) {
	number, _ := q.Number.Float64()
	if noun, hint := k.suspectUnit(j, number, q.unit); hint != "" && !q.stepped {
		return cause + noun, hint
	}
	if cause != tooLarge {
		return cause, ""
	}
	if k.over != nil {
		return cause, k.over(j)
	}
	if q.stepped {
		return cause, ""
	}
	return cause, k.suspectPoint(j, number, q.unit)
}

// suspectBare does the same for a value of a job made in code. A length carries
// mm without anybody having written so: it may also have been multiplied by 25.4
// for nothing, if at least a tenth of the limit would be left.
func (k Key) suspectBare(j *Job, cause string, v float64) (string, string) {
	if k.Kind == Length {
		if noun, hint := k.suspectUnit(j, v, firstUnit(Length)); hint != "" {
			return cause + noun, hint
		}
		if _, hi := k.Range(j); k.fits(j, v/25.4) && v/25.4 > hi/10 {
			return cause + ": looks like a millimeter value in an inch file", ""
		}
	}
	if cause == tooLarge && k.over != nil {
		return cause, k.over(j)
	}
	return cause, ""
}

// suspectUnit finds another unit in which the number would fit.
func (k Key) suspectUnit(j *Job, number float64, written unit) (noun, hint string) {
	for _, r := range readings {
		u, _ := unitNamed(r.kind, r.name)
		if r.kind == k.Kind && r.name != written.names[0] && k.fits(j, u.inBase(number)) {
			return fmt.Sprintf(": looks like %s written as %s", r.noun, plural(written.names[0])),
				fmt.Sprintf("write %q", shortest(number)+" "+r.name)
		}
	}
	return "", ""
}

// thousandths are the units a thousand times smaller.
var thousandths = map[string]string{"m": "mm", "mm": "um", "in": "thou"}

// suspectPoint asks whether a length at least twice too large was meant to be a
// tenth or a thousandth; closer to the limit, a builder more likely overdid it.
func (k Key) suspectPoint(j *Job, number float64, written unit) string {
	_, hi := k.Range(j)
	if k.Kind != Length || written.inBase(number) < 2*hi {
		return ""
	}
	var meant []string
	if tenth := number / 10; k.fits(j, written.inBase(tenth)) {
		meant = append(meant, shortest(roundTo(tenth, 1e6))+" "+written.names[0])
	}
	if name, ok := thousandths[written.names[0]]; ok && k.fits(j, written.inBase(number/1000)) {
		meant = append(meant, shortest(number)+" "+name)
	}
	if meant == nil {
		return ""
	}
	return "perhaps " + strings.Join(meant, ", or ") + "?"
}

// fits reports whether a value in the base unit is allowed, and not just as
// nothing.
func (k Key) fits(j *Job, v float64) bool {
	lo, hi := k.Range(j)
	return v > 0 && v >= lo && v <= hi
}
