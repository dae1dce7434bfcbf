// Package film computes the geometry of slow flow in the thin gap between two
// faces: how far apart seam and exits are, which part of a flat region is wet
// after a given drive, and how much runs out of the exits in the end.
//
// # Physics
//
// In a gap of height h the mean flow of a liquid of viscosity µ is
// q = -(h³/12µ)∇p per unit width (Hele-Shaw; slow, no inertia, h far smaller
// than any length in the plane). Let it enter from the seam at a constant
// pressure P above the pressure at its front, with the mobility M = ∫dt/µ. Then
// the integral w = (h²/12)∫p dM over the past of each place (the transform of
// C. Baiocchi, 1971; for this flow C. M. Elliott and V. Janovsky, Proc. R. Soc.
// Edinburgh 88A, 1981) solves the obstacle problem
//
//	∇²w = 1 where w > 0,  w ≥ 0,  w = A on the seam,  A = h²PM/12 in mm².
//
// One independent problem for each A, whatever the shape of the region, and the
// wet part is where w > 0. From a straight seam w = (L-x)²/2 with L² = 2A; from
// a round one of radius R0 the front R obeys (R²/2)ln(R/R0) - (R²-R0²)/4 = A.
// Where the drive differs along the seam, w = A·drive there with drive ≤ 1.
// A drive of zero or less lets nothing in; a seam wetted from elsewhere takes
// liquid back at such places, as at every place where its drive is lower.
//
// All other edges, walls and exits, let nothing through. So an exit does not
// drain the front that has reached it, which makes the wet area an upper bound.
// By the comparison principle w grows with A, with the drive and with the seam:
// more drive never wets less.
//
// # Method
//
// The region is known by straight lines through it, in rows and columns a cell
// apart. Their crossings are the cells' centers, and a center next to an edge
// knows its distance from that edge along the line. The 5-point star takes a
// seam link of θ cells with the weight 1/θ, which keeps the matrix symmetric and
// the fluxes in balance (Gibou, Fedkiw, Cheng and Kang, J. Comput. Phys. 176,
// 2002). The load of a cell at the seam is that of (L-x)²/2, so that a straight
// seam is met at any angle and offset without an error of its own; see load.
//
// Distances come from fast marching, second order (Sethian, SIAM Review 41,
// 1999), started from the chords between neighboring crossings. Fronts come from
// projected red-black overrelaxation at levels of A in a geometric sequence;
// see front. The steady outflow comes from conjugate gradients with a modified
// incomplete factorization (Gustafsson, BIT 18, 1978).
//
// # Guarantees and limits
//
// Results depend on the input alone: one thread, fixed order. Lengths are in mm,
// the drive enters as an area in mm². Nothing here knows molds, materials, time.
//
// What is narrower than a cell may fall between the lines; Unresolved tells how
// much. Seams with a radius of less than some three cells are known too coarsely.
// Along smooth seams and between them and smooth exits, distances and outflows are
// of second order. Walls are steps of whole cells to the flow, an error of first
// order. Ways that hug a round wall come out too long by a cell or two per quarter
// turn at usual sizes. Fronts lie within a few hundredths of a cell while they run
// freely, within about a cell where they meet walls or each other.
package film
