// Package shop says what the drawings for the shop have to say: a sheet for each milled
// piece of the mold and for a turned hub, with views, dimensions and their tolerances,
// tables of holes and pockets, notes, and what belongs in a title block.
//
// A printed piece gets no sheet: its file is all that a printer reads. So a printed mold
// has none, but for its hub if that is turned; and a printed hub has none.
//
// A sheet shows the piece as it leaves the machine, stock for lapping included. Every
// dimension has the model's number as its value, and its two points lie that far apart in
// the view; limits are those of ISO 286 (params.Fit) and ISO 2768-1
// (params.GeneralTolerance), or the job's own (process.tolerance and clearances: see
// limits.go). The outline across the axis can be drawn from its sheet alone; every datum
// that a sheet names is one that a tolerance frame on it refers to. What is neither in the
// job nor in a standard is marked as assumed. Where everything goes on paper is decided by
// mold/shop/paper.
package shop
