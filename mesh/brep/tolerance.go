package brep

// Rounding epsilons. None of them is a meshing tolerance; lengths in mm. They
// rest on two facts: leaf parameters lie on solid.Lattice, 6e-5 mm, so that
// features which do not coincide are that far apart or farther; and coordinates
// of up to 1e3 mm carry rounding errors of about 1e-12 mm.
const (
	// dirTol: sine of the angle below which directions are equal, as in solid.
	dirTol = 1e-9
	// carrierTol: a point this near to a carrier lies on it. Carriers are
	// interned at the same distance.
	carrierTol = 1e-7
	// tangentGap: carriers with less between them touch. Above the rounding of
	// gap functions, and far below carrierTol, so that no two interned carriers
	// fall between "same" and "tangent".
	tangentGap = 2e-8
	// flatF: a carrier function this small counts as zero along a curve, where
	// the curve and the carrier are nearly tangent.
	flatF = 1e-8
	// contactTol widens boxes in tests that must not miss a contact.
	contactTol = 1e-6
	// vertexTol: transversal cuts are polished to about 1e-12/sin³, and sines
	// down to 1e-4 are accepted.
	vertexTol = 2e-6
	// touchTol: a cut where the curve is tangent to the third carrier is known
	// only to about √(2·R·rounding), 1e-5 mm for R = 1e3 mm, and must stay below
	// solid.Lattice.
	touchTol = 5e-5
	// maxSide is the step off an edge at which its faces are looked for.
	maxSide = .02
)
