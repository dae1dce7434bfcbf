// Package machining tells whether a shop can cut the pieces as they are: what the tool
// does not reach from the faces that the job declares, which inner radii, corners, holes
// and slots none of its cutters makes, and which walls are too thin to stand up to it.
//
// # What it guarantees
//
// Faces are the connected regions of the exact boundary, their areas exact. Reach, depth
// and thickness are read along lines through the exact solid, in closed form, from points
// spread evenly over each face; no mesh limits them. Radii are those of the faces' own
// carriers. Equal input gives equal output, on any number of cores.
//
// # What it does not
//
// A face is looked at from points: what is smaller than their distance may go unseen, and
// the share of a face that is hidden has the error that is stated with it. The tool is a
// line, as wide as nothing: whether it fits is asked of inner radii, slots and corners,
// one by one, and where its holder may go is asked of upright walls alone. Clamps, vises
// and the tool's way there are not reckoned. Nothing here refuses a job: all findings are
// advice, for a shop may have tools and ways that the job does not name.
package machining
