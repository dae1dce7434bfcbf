// Package holes lists what is drilled and milled into a piece on top of its shape: the
// round holes (Of), as a machinist drills them, and the pockets (Pockets).
//
// Holes are every cylinder and cone of the piece's exact boundary that has its material
// outside and belongs to a hole of the mold, gathered by axis, from the opening inward.
// Diameters, depths and places are the model's, not rounded. Where a hole opens to a face
// that is not square to it, depths count from where its axis meets that face.
//
// The cavity, and what is turned on the outside of the hub, are neither.
package holes
