// Package flash estimates the rubber that seeps between the pieces of a mold
// before it gels, for every parting line.
//
// # Goals
//
// An estimate per parting line that rests on physics and on this mold's own
// geometry, shows every assumption, and says which change at the bench helps.
//
// # Steps
//
//  1. Parting lines are found, not listed: survey looks for flat faces of two
//     pieces that lie on each other, or face each other across a designed gap, in
//     the pieces' exact boundaries (mesh/contact). What the liquid wets, and what
//     lies beyond each edge, follows from the faces' roles. Another split gives
//     another list. They are called as the layout calls them, and what seals and
//     clamps them follows from where they lie.
//  2. The land is the way along the face from the seam to the nearest exit, by
//     fast marching (film).
//  3. The gap of a line is the sum of contributions (gap.go): waviness over the
//     span between clamps, roughness, dirt, the stack of hub and shells
//     (stack.go), less what clamps press flat and what the seal closes.
//  4. The liquid enters by slow flow in a slit (Hele-Shaw) under head and
//     capillary pressure while its viscosity grows to gel. All of gap, pressure
//     and viscosity act through one number, a = h²·P·∫dt/μ/12, so the spreading
//     is solved once per line (film, wetting.go) and read for every state of the
//     inputs. At an exit capillarity ends: a leak is driven by head alone.
//  5. The inputs that nobody knows are drawn (state.go), always in the same way
//     from the same seed, and give the bands.
//  6. Changes are tried in the order of the bench (change.go).
//
// # What it guarantees
//
// Given the inputs, masses are those of the flow equations, or bounds from above.
// On a grid twice as fine flash changes by less than 1 %, leak and land by less
// than 2 % (law_test.go). From above: exits do not drain the front, a clearance
// before the seam does not slow it, the head is that of the full mold as soon as
// a seam is wet, each way out drains as if it were the only one. An edge to a
// neighboring parting line lets nothing through, since it is wet from the same
// liquid; weight within a joint that climbs counts at its seam alone. Where a joint
// ends as high as the liquid stands, at the rim of an open top or the upper face of
// clam halves, nothing is left to push it out: that edge is no way out. With the gap
// or the pressure rising, or a seal or a clamp weakened, no mass falls.
//
// # What it does not
//
// The gap of each line is one number: a local dent leaks more than it says. The
// flatness of your faces, the contact angle and the growth of viscosity are
// assumed unless you measured them, and the mass goes with the gap's square and
// more. It is an estimate until a cast confirms it. The pour is at the pressure
// of the room; a pressure pot or a degassing chamber is another matter.
//
// # Tried and dropped
//
// Fast marching alone gives the arrival of the front, too, but only straight
// fronts come out right: around a hub it is 8 % off (reference case: radial slit
// of 30 mm). The obstacle problem that replaced it is exact in any plane shape,
// and one solution serves every gap, pressure and viscosity.
package flash
