// Package holes lists the round holes of a piece, as a machinist drills them: every
// cylinder and cone of its exact boundary that opens to a face and has its material
// outside, gathered by axis.
package holes
