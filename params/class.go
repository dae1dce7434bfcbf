package params

import (
	_ "embed"
	"maps"
	"math"
	"slices"
	"strings"
)

// ClassTable is the program's own table of weight classes, as a file to edit.
//
//go:embed classes.toml
var ClassTable []byte

// ClassTableName is what faults call the program's own table.
const ClassTableName = "classes.toml"

// Class is a weight class of combat robots, with the job of a sensible wheel.
type Class struct {
	Name   string   // a plain word, also of a folder
	Also   []string // what else the trade calls it
	Limit  Quantity // of the whole robot's mass
	Region string   // where the class is known under this limit
	Note   string

	home spot
	job  *document
}

// Job resolves the job of the class's wheel, with settings on top as on the command
// line. Error and warnings are as of [Parse]; what the class does not state itself
// stands where the class begins. A robot is taken to be as heavy as the class allows,
// unless the class states its mass. With a setting of another process, what the class
// states of making its mold is left out.
func (c *Class) Job(sets ...Setting) (j *Job, warnings Faults, err error) {
	d := *c.job // what is stated in the table stays as it is
	d.stated, d.spots, d.faults = maps.Clone(d.stated), maps.Clone(d.spots), slices.Clone(d.faults)
	if remade(d.stated, sets) {
		maps.DeleteFunc(d.stated, func(r ref, _ any) bool { return ofMaking(r.path) })
	}
	mass := ref{"duty.mass", 0}
	if _, ok := d.stated[mass]; !ok && c.Limit.Number != nil { // without a limit the table is refused
		d.stated[mass] = c.Limit
	}
	return d.job(sets)
}

// remade reports whether settings ask for a mold of another process than is stated.
func remade(s stated, sets []Setting) bool {
	for _, x := range sets {
		if x.Key == "process.name" && strings.Trim(x.Value, `"'`) != s[ref{"process.name", 0}] {
			return true
		}
	}
	return false
}

// ofMaking tells whether a class states a value because of how its mold is made: coats
// and stock of a print are nothing for a mold of metal.
func ofMaking(path string) bool {
	for _, p := range []string{"process.", "printing.", "machining.", "mold.coats.", "mold.mating."} {
		if strings.HasPrefix(path, p) {
			return true
		}
	}
	return false
}

// sameLimit is how far a stated mass may lie from a class's limit to mean it: 454 g
// are a pound, and 100 kg are 220 lb. Neighboring classes lie farther apart.
const sameLimit = 0.005

// FindClass is the class that a builder's word means: its name or another term for
// it, or its limit in any unit, however spaced; nil if none.
func FindClass(classes []*Class, word string) *Class {
	for _, c := range classes {
		if slices.ContainsFunc(c.terms(), func(t string) bool { return plainly(t) == plainly(word) }) {
			return c
		}
	}
	q, err := ParseQuantity(Mass, word)
	if err != nil {
		return nil
	}
	for _, c := range classes {
		if math.Abs(q.Base()/c.Limit.Base()-1) < sameLimit {
			return c
		}
	}
	return nil
}

// NearestClass is the term that a misspelled word most likely meant, or "". A mass is
// not misspelled: there is no such class.
func NearestClass(classes []*Class, word string) string {
	if _, err := ParseQuantity(Mass, word); err == nil {
		return ""
	}
	written := map[string]string{}
	var all []string
	for _, c := range classes {
		for _, t := range c.terms() {
			all = append(all, plainly(t))
			written[plainly(t)] = t
		}
	}
	return written[nearest(plainly(word), all)]
}

func (c *Class) terms() []string { return append([]string{c.Name}, c.Also...) }

// loose evens out what builders write as they like: gaps, and units and "weight" in
// their many forms. Of two that begin alike the longer comes first.
var loose = strings.NewReplacer(" ", "", "-", "", "_", "", "weight", "",
	"kilograms", "kg", "kilogram", "kg", "kilos", "kg", "grams", "g", "gram", "g",
	"pounds", "lb", "pound", "lb", "lbs", "lb")

func plainly(term string) string { return loose.Replace(strings.ToLower(term)) }
