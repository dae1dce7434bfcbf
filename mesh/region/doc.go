// Package region reads an exact boundary (mesh/brep) as what one draws and exchanges:
// whole edges, connected faces with closed loops, and shells.
//
// # Guarantees
//
// Every edge is used exactly twice, once in each sense of the solid's surface. Every
// face is connected; its loops are closed, with the face on their left seen against
// its carrier's N. Lines, circles and ellipses are told from other curves to 1e-9 mm,
// whatever the carriers that meet in them. The shells' volumes add up to the
// boundary's. The same boundary gives the same regions, number for number.
//
// # Method
//
//  1. Each of the boundary's curves is named (conic.go): where one of its carriers is a
//     plane, or its points lie in one, the section of the other carrier by that plane
//     is a conic in closed form.
//  2. Edges are joined where nothing but one and the same curve passes a vertex
//     (join.go). Branches that meet in a turning point make one path (path.go).
//  3. On each carrier and side the edges are linked to loops (link.go). Where several
//     pass one vertex, each takes the first way out clockwise from where it came.
//  4. Loops bound one face if nothing lies between them: from the highest point of each
//     a line runs on over the face to the first loop that it meets, or to the pole
//     (face.go). No outline is approximated, so that gaps of any width count.
//  5. Faces hang together by their edges (shell.go).
//  6. Cut adds the seams (seam.go): along a meridian through a vertex that is there
//     anyway, else one that crosses rims only, else through holes, in several parts. A
//     closed edge that nothing else meets is turned, not split.
//
// # What it does not do
//
// It does not say which void lies in which lump. A vertex in which two parts of a
// solid touch, and nowhere else, is one vertex. Refused as InternalError are what no
// mold has: a bent tube, which is a ring cut across by loops that run around its tube;
// and a ring with so many holes that no circle around its tube, or none about its axis,
// misses them, once it is to be Cut.
//
// Where curves are tangent, a vertex is known to 5e-5 mm only (mesh/brep): an edge then
// ends beside its vertex, as a rule by less than 1e-6 mm. Points of a Free edge near a
// turning point may lie 3e-6 mm ahead or behind along it, but not off it.
package region
