// Package tess cuts the exact boundary of a solid (mesh/brep) into triangles
// within a tolerance.
//
// It guarantees: the mesh is closed, oriented and 2-manifold in edges and
// vertices; vertices lie on solid.Lattice, so that binary STL holds them to the
// bit and those of a face on a lattice plane lie on that plane; no facet has zero
// area; no facet is farther than the tolerance from its face's surface, and no
// facet border farther than that from the true edge; the same boundary gives the
// same mesh for any number of threads. Facets of faces that come closer to each
// other than the tolerance are kept from crossing by meshing finer.
//
// It does not guarantee well-shaped triangles: on cylinders and planes they are
// as long as the face. It does not check the boundary; features that touch in a
// point are refused as brep refuses them. Walls thinner than a few lattice steps
// fail, with the place named.
//
// # Method
//
//  1. Plan where the facets of each face part (walls.go, rows.go): cylinders and
//     cones at half planes through the axis, the walls; tori and spheres at
//     parallels, the rows, each with its own number of lattice points. Plans
//     follow from carrier and tolerance alone, so that pieces which share a
//     carrier and an edge on it put the same vertices there.
//  2. Split every edge once (edge.go): where it crosses walls or rows of its two
//     faces, on parallels at their lattice, and between as the tolerance demands.
//     Both faces use the same vertices, which closes the mesh by construction.
//  3. Cut every face along its walls or rows. What lies between two walls
//     (slab.go) or is touched by the outline between two rows (band.go, strip.go)
//     becomes a small polygon (chart.go) for the constrained Delaunay
//     triangulation (cdt.go); what lies untouched between two rows is stitched
//     (stitch.go); most slabs are quadrangles.
//     Planes are triangulated whole.
//  4. Split facets of tori and spheres that sag too much beside an outline
//     (repair.go).
//  5. Round all vertices to the lattice, weld, check the pairing of sides and the
//     ring of facets around each vertex (join.go), and facets of faces that come
//     close for crossings (near.go). On failure mesh again, finer.
//
// # The metric of the deviation
//
// A chord of length l along a direction of normal curvature κ sags by κl²/8. In
// a chart that stretches each principal direction by √|κ| the sag of an edge is
// l²/8, and that of a triangle is R²/2 with R the radius of its circumcircle, if
// it is acute. So triangles that are equilateral in the chart cover the most for
// a given tolerance: area (3√3/4)R² against R² for halves of squares, 30 % more.
// On cylinders and cones length along a ruling does not count at all, and facets
// should reach from edge to edge.
// Staggered rows come near it, and circles in the chart are what the Delaunay
// criterion of the outline's polygons should be round in. On the inner half of a
// torus, a saddle, the sag has no extremum inside a facet; only edges count,
// and rows may stand √5/1.5 times as far apart.
//
// # Tried and dropped
//
//   - Walls in both directions on tori and spheres, as on cylinders, with cells
//     joined afterwards where parallels are short: half as many triangles again,
//     and every edge of a torus must take the walls of its neighbors.
//   - The same number of points on all rows of a sphere: a quarter more triangles
//     than thinning them by 3/4, 2/3 or 1/2 towards the poles. An exhaustive
//     search over counts and heights of rows gains a further 2 % and is slow.
//   - Delaunay triangles on unrolled cylinders: chords along a curved edge came out
//     of the neighboring face where the edge is acute (slab.go, flatten).
//   - Vertices at every crossing of a wall and of a row, however close: rounding
//     changed the order of neighbors on the edge. Within eight lattice steps one
//     vertex now stands for both (edge.go, spacing).
//   - Vertices off the surface by half the tolerance, which would save half the
//     triangles of spheres: but then no vertex is a true point of the solid.
//   - Rounding all vertices before the faces are cut: planes are, so that their
//     triangulation is exact; elsewhere walls and rows would no longer be straight.
package tess
