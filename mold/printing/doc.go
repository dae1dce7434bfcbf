// Package printing says how the pieces of a mold come off a printer: how they lie,
// what hangs over, whether they fit the bed, what they weigh and how long they take,
// and what of them may fail.
//
// It guarantees: areas are those of the exact faces' directions on a mesh of 0.05 mm,
// good to about a percent; sizes, and masses of solid pieces, are exact. It does not
// guarantee masses of walled pieces (see [plastic]), which slicers lay out as they
// like, nor times, which rest on two figures of the job that are averages; supports
// and brims are in neither. A piece is taken in its pose: nothing is turned to
// print better. Heat is an estimate of package cure.
//
// The same mold gives the same plan.
package printing
