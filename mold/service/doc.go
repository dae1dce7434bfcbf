// Package service judges a wheel in use: how far the tread gives way under its load and
// how hard it presses on the floor, and how hub and bond stand what the drive and hits ask
// of them.
//
// # What it guarantees
//
// The tread is an elastic layer that a rigid core holds, pressed on a rigid floor without
// friction. Its figures are those of the exact plane solution for that layer, interpolated
// between tabulated points whose limit for a small contact is Hertz's (layer.go); where a
// point is left out, its neighbors give it back within 1 %, the deflection within 2.5 %.
// Beyond small strain or the table nothing is told. The hardness gives
// a modulus only as a band of three published relations (modulus.go), and every figure
// that rests on it is told with what the band and a compressible rubber make of it.
// Its limits are judged at the soft end. Stresses of hub and bond are averages on the exact
// outlines, of a push at the tread with what its tilting adds to a rigid ring at most,
// against strengths that are cautious and named (bond.go, hub.go).
//
// # What it does not
//
// The solution is for small strain, for a tread much wider than its contact is long and
// for a layer much thinner than the wheel's radius. Side walls that are free make a narrow
// tread softer than told: the stiffness is an upper bound. A crowned or drafted tread is
// reckoned as if the load were even across it. Rubber is slower and stiffer in a hit than
// at rest, creeps under a load that stays, and warms as it rolls: none of that is in it.
// A hit's shear in the bond is averaged around the hub, though it acts at one place.
// How tread and hub wear is guidance from practice, not a forecast.
package service
