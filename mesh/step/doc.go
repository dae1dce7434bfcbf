// Package step writes solids as STEP files (ISO 10303-21) with true surfaces, and
// parses such files.
//
// # What a file holds
//
// One product, or an assembly of several in place, each an
// ADVANCED_BREP_SHAPE_REPRESENTATION: a face per connected region of the boundary, on
// a plane, cylinder, cone, sphere or torus, with edges on lines, circles and ellipses
// wherever the curve is one. A hole is one cylinder with its diameter. There are no
// facets and no approximated surfaces. A curve that is none of these is a cubic
// B-spline within 1e-6 mm of both its surfaces; the file states 1e-5 mm as the largest
// gap. Lengths are millimeters. Faces carry their role as a name, and a color if asked
// for. The same solid gives the same bytes on every run: a file carries no date.
//
// # Which edition
//
// AP214 (AUTOMOTIVE_DESIGN, ISO 10303-214:2001). It is the oldest protocol that
// carries colors and assemblies beside exact solids, so that programs of the last
// twenty years read it; AP242 would add nothing of what is written here.
//
// # Choices that readers force
//
//   - A face that goes all the way around its axis is cut open by a seam edge that it
//     uses twice (region.Solid.Cut), and its surface's reference direction is turned to
//     that seam, or off the face if it does not go around: otherwise the surface's own
//     period would cross the face.
//   - A torus whose tube reaches its axis (center radius up to tube radius, as of a
//     crowned wheel) is a SURFACE_OF_REVOLUTION of a CIRCLE: common readers take a
//     DEGENERATE_TOROIDAL_SURFACE for invalid.
//   - A FACE_BOUND is never reversed. The loop itself runs as the face's sense asks.
//   - An apostrophe in a name is written by its number: doubled, as the standard
//     has it, common readers end the string there.
//
// # What it does not do
//
// No tolerances on dimensions, no threads, no curves in surface parameters: readers
// make those. It does not judge a solid; what mesh/brep and mesh/region accept is
// written.
package step
