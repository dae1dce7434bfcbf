// Package sight draws a solid as a technical drawing shows it: seen from one side
// without perspective, with the lines that show and those that material hides.
//
// Lines are the sharp edges of the exact boundary and the silhouettes of its curved
// faces. It guarantees true geometry: what is straight or round in the view comes as
// lines and arcs, with the exact ends and radii; other curves come as points on them,
// with chords within the tolerance asked for. A line is cut where it passes behind
// another or comes out, found on the lines themselves and not on a mesh. Where several
// lie on each other (within 1e-4 mm) one is drawn, a visible one before a hidden one.
//
// It leaves out edges along which faces run on smoothly, and what is seen end-on. Of
// material in front of a line, what is nearer to it than 0.002 mm hides nothing. Cuts
// where two curves meet that are neither straight nor round may miss a meeting nearer
// than 0.002 mm to a touch. It draws no center lines and no dimensions.
//
// # Method
//
//  1. Silhouettes of cylinders, cones, spheres and tori in closed form (contour.go),
//     trimmed where the borders of their faces turn from the viewer (trim.go).
//  2. Every line becomes parts that are straight, round or neither and do not turn
//     back in the view (lay.go): a circle seen from its side two straight ones.
//  3. What lies behind a line changes at contours alone: edges between a face that is
//     turned to the viewer and one that is not, and silhouettes. Parts are cut where
//     these cross them or end on them (cross.go).
//  4. Beside the middle of what lies between two cuts, to the left and right, a line of
//     sight through the exact solid (mesh/plumb) tells whether material lies in
//     front. Free on one side is visible (ray.go).
//  5. Parts on one line or circle are joined, and what is drawn twice is taken away
//     (merge.go).
package sight
