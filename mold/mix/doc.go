// Package mix reckons what to weigh out for a pour: how much to mix with all
// that does not end up in the wheel, in how many batches, what the scale has to
// show, how many kits it takes and what a wheel costs.
//
// It guarantees that the masses of Need add up to what is mixed; that all
// batches of a plan are alike, so that no two layers differ by rounding; that
// what the scale is to show never falls short of what is needed; and that every
// figure is finite. It does not know the mass of the vessel, which the scale
// carries too, nor what evaporates or stays in the cans that the components come
// in. Volumes follow from the density of the cured rubber: that of the mix is a
// little lower, so that the bucket is a little fuller than said, and what fills a mold
// weighs less by what it shrinks, 1 to 3 %.
//
// Components are weighed into one bucket, by running totals: first A, then B,
// then pigment, and of a blend both A before both B. The pot life starts where
// B meets A, so that only the last of the weighing is in a hurry; pigment comes
// last, because a little more or less of it does not change the cure; where the
// data sheet wants it in one of the components, it goes there first.
//
// Masses are in g, lengths in mm, densities in g/cm³, hardness in Shore A, shares
// are fractions.
package mix
