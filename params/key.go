package params

import (
	"math"
	"slices"
	"strings"
)

// Key is one row of the table: one value of the job.
type Key struct {
	Path    string   // in the job file; of a groove, without its index
	Kind    Kind     // what it measures
	Doc     string   // what it is
	From    string   // where its default comes from; "" if it must be stated
	Options []string // the words that are allowed, if not any

	slot   slot
	lo, hi bound             // of a number, or of the length of a text; nil: 0 and maxPlain
	usual  bound             // what a number is in most wheels; nil: its default, if it has one
	over   func(*Job) string // what forbids a larger number; nil: the range says it all
	other  string            // hint for a word that is not allowed; "": the range says it all
	sample string            // what to write for a required value
}

// bound is a limit that may depend on other values of the job.
type bound func(*Job) float64

// slot reaches a value of the job and derives its default. The index counts
// the tables of an array, and is 0 elsewhere.
type slot struct {
	count func(*Job) int      // tables of the array that the value is in; nil outside arrays
	at    func(*Job, int) any // *float64, *int, *string; *[]Groove or *[]Cutter for Tables
	value func(*Job, int) any // float64, int, string; int for Tables; nil: required
}

// in is the slot of a value outside arrays; value is nil if it must be stated.
func in[T float64 | int | string](at func(*Job) *T, value func(*Job) T) slot {
	s := slot{at: func(j *Job, _ int) any { return at(j) }}
	if value != nil {
		s.value = func(j *Job, _ int) any { return value(j) }
	}
	return s
}

// inTable is the slot of one value of each table in an array.
func inTable[E any, T float64 | string](list func(*Job) *[]E, at func(*E) *T, value func(*Job, int) T) slot {
	return slot{
		count: func(j *Job) int { return len(*list(j)) },
		at:    func(j *Job, i int) any { return at(&(*list(j))[i]) },
		value: func(j *Job, i int) any { return value(j, i) },
	}
}

// tables is the slot of an array of tables; count is how many there are by default.
func tables[E any](list func(*Job) *[]E, count func(*Job) int) slot {
	return slot{
		at:    func(j *Job, _ int) any { return list(j) },
		value: func(j *Job, _ int) any { return count(j) },
	}
}

// sized is n empty tables.
func sized[E any](n int) []E {
	if n > 0 {
		return make([]E, n)
	}
	return nil
}

func always[T any](v T) func(*Job) T { return func(*Job) T { return v } }

func fixed(v float64) bound { return always(v) }

// unsuspected marks lengths measured in hundredths of a millimeter: a good one
// may be 25 times better than the default without any mix-up of units.
var unsuspected = fixed(0)

// table holds every value, each after those that its default is derived from.
var table = slices.Concat(nameKeys, processKeys, printingKeys, wheelKeys, splitKeys, stackKeys, hubKeys, holeKeys, moldKeys, machiningKeys, pourKeys, dutyKeys, worthKeys, calibrationKeys)

// Keys returns the table of all values of a job.
func Keys() []Key { return slices.Clone(table) }

func keyAt(path string) (Key, bool) {
	i := slices.IndexFunc(table, func(k Key) bool { return k.Path == path })
	if i < 0 {
		return Key{}, false
	}
	return table[i], true
}

// section is the path without its last part: the TOML table of the key.
func (k Key) section() string {
	i := strings.LastIndexByte(k.Path, '.')
	return k.Path[:max(i, 0)]
}

// name is the last part of the path.
func (k Key) name() string { return k.Path[strings.LastIndexByte(k.Path, '.')+1:] }

// Required reports whether the key has no default.
func (k Key) Required() bool { return k.slot.value == nil }

// len is how many values the key has in the job: one, or one in each table.
func (k Key) len(j *Job) int {
	if k.slot.count == nil {
		return 1
	}
	return k.slot.count(j)
}

// get returns the value as float64, int or string; for Tables their number.
func (k Key) get(j *Job, i int) any {
	switch p := k.slot.at(j, i).(type) {
	case *float64:
		return *p
	case *int:
		return *p
	case *string:
		return *p
	case *[]Groove:
		return len(*p)
	case *[]Cutter:
		return len(*p)
	}
	return nil
}

// set stores a value of the type that get returns, or a quantity.
func (k Key) set(j *Job, i int, v any) {
	if q, ok := v.(Quantity); ok {
		v = q.Base()
	}
	switch p := k.slot.at(j, i).(type) {
	case *float64:
		*p = v.(float64)
	case *int:
		*p = v.(int)
	case *string:
		*p = v.(string)
	case *[]Groove:
		*p = sized[Groove](v.(int))
	case *[]Cutter:
		*p = sized[Cutter](v.(int))
	}
}

// Range is what the job allows for a number, in the kind's base unit, or for
// the length of a text in characters.
func (k Key) Range(j *Job) (lo, hi float64) {
	hi = maxPlain
	if k.lo != nil {
		lo = k.lo(j)
	}
	if k.hi != nil {
		hi = k.hi(j)
	}
	return lo, hi
}

// roundTo rounds to steps per unit: roundTo(v, 10) to tenths. Dividing by a
// whole number last gives the float64 nearest to the decimal.
func roundTo(v, steps float64) float64 { return math.Round(v*steps) / steps }

// tenth and hundredth make derived lengths that can be read off a caliper.
func tenth(v float64) float64     { return roundTo(v, 10) }
func hundredth(v float64) float64 { return roundTo(v, 100) }

func tenthBelow(v float64) float64 { return math.Floor(v*10+1e-9) / 10 }

func clamp(v, lo, hi float64) float64 { return min(max(v, lo), hi) }

// whole rounds to a whole number; NaN, which has none, to 0.
func whole(v float64) int {
	if math.IsNaN(v) {
		return 0
	}
	return int(math.Round(v))
}
