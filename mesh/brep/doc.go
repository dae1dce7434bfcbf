// Package brep reads a labeled solid (mesh/solid) as its exact boundary: faces
// trimmed out of the leaves' carriers, edges on the carriers' curves of
// intersection, and vertices.
//
// # Guarantees
//
// Every edge of a Boundary has exactly two faces, on opposite sides; the edges of
// every face form closed loops; points of an edge lie on the carriers of both its
// faces to 1e-7 mm, as a rule to 1e-12. Volume is exact to about 1e-12 of the
// solid's size. The same tree gives the same boundary, whatever other solids the
// Evaluator has seen and however many goroutines share it.
//
// Shapes that no builder can want are refused by name and place (Refusal): holes
// that touch in a line, surfaces that touch in a point, and curved surfaces that
// meet at an angle for which there is no closed form here. Two features whose
// edges meet in one vertex and nowhere else are not seen here; the mesher, which
// has the facets around the vertex, refuses those.
//
// # Method
//
//  1. Two carriers meet in curves known in closed form (meet*.go): lines, circles,
//     an ellipse, and for the others a parameter (the angle about a cylinder, the
//     height, the angle about a torus's tube) in which the curve is the two signs
//     of a square root. Where the radicand vanishes branches begin and end
//     (branch.go); t = c + h·sin φ makes them smooth there.
//  2. A curve is cut where it meets a trimmed patch of a third carrier (cut.go).
//     Carrier functions are 1-Lipschitz, which proves arcs free of contacts
//     (seek.go); what is found is polished on all three carriers. A run of
//     parameters with |f| below 1e-8 mm is one contact. Smooth joints of outlines
//     cut too: no crossing of carriers marks them.
//  3. Parts that lie on patches of both carriers are edges; equal ones found from
//     several pairs are merged by their ends and middle (edge.go).
//  4. Beside the middle of an edge, on each of its carriers, the tree tells
//     whether material lies below and above (side.go, solid.Node.Beside). Where it
//     lies on one side only there is a face. Two faces make an edge; the same face
//     twice makes none (a plane going on through another leaf's border); four are
//     refused.
//  5. Faces gather the edges of one carrier and side (face.go); a sphere or torus
//     without an edge is a whole face or none. Where a sphere's pole or a torus's
//     seam would lie on an edge the face gets the same surface in other parameters
//     (frame.go).
//
// Tolerances are derived in tolerance.go.
//
// # Which carriers may meet
//
//	plane     any, but not within 1e-3 of square to the axis of a cone or torus
//	cylinder  any cylinder, sphere; cone and torus with parallel or crossing axes
//	cone, torus, sphere  with parallel axes; a sphere has any axis
//
// Other pairs are refused unless subdivision shows their patches apart.
//
// # Tried and dropped
//
// Offsetting along the normal to classify both sides of a surface needs a step
// that thin walls and tangent surfaces leave no room for; patches through the
// point answer by their orientation instead. Derivatives of branches by the cross
// product of normals are rounding noise near turning points; the volume does
// without (quadrature.go).
package brep
