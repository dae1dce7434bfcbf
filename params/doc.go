// Package params is the job file: what a builder states about wheel, hub, mold
// and pour, and what follows from it.
//
// One table (see [Keys]) holds every value: its key in the file, its unit, its
// allowed range, where it lives in a [Job], how its default is derived and why.
// Decoding, overrides, defaults, range checks, suggestions for misspelled keys
// and the commented file that [Write] makes are all read from that table.
//
// The package guarantees that a job returned without error is complete and
// passed [Job.Validate]: every number is finite and within its range, the
// features of wheel, hub, registers, sprue and vents can exist together, and the
// urethane is mixed, poured, gelled and demolded in this order. It does not place
// the features in the corners of the mold (balls, bolts, pry slots, jacks), and it
// does not judge strength, fits under load, or flow; that a bolt is not tightened
// to more than its thread bears is all it knows of forces. Bucket, scale, kit and
// the temperature at the gel follow from rough estimates, and say so.
//
// Numbers are read exactly (3.5 in is 88.9 mm, not a float near it) and then
// rounded once, to the nearest float64.
package params
