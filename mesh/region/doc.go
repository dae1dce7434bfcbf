// Package region reads an exact boundary (mesh/brep) as what one draws and exchanges:
// whole edges, connected faces with closed loops, and shells.
package region
