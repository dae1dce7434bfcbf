// Package effort estimates what it takes to mill a mold and to turn its hub: blanks,
// chips, hours and price, piece by piece.
//
// Sizes and volumes are exact: a blank follows from the piece's extent along its axes, and
// what is removed is blank less piece. Everything else is an estimate from the rates that
// the job states (machining.*, hub.stock_price): roughing by volume, finishing by area,
// set-ups and holes by number. No tool path is planned. What a shop asks may be half or
// twice the estimate of its work, as Low and High say; Assumed puts in words what the
// figures rest on.
//
// Not counted are cutters, inspection, deburring, coating, engraved marks, freight, and
// what a shop earns beyond its rate. Printed pieces have no part in it (mold/printing has).
package effort
