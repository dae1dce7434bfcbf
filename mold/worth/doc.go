// Package worth reckons whether a wheel is worth casting: what a good wheel costs, in
// money and in hours, after so many of them, and from how many on that is less than what a
// bought one costs for the same life.
//
// It guarantees that what is paid once, for each mold, for each cast and for each kit is
// counted as often as it is paid, that failed casts are paid for by the good ones, and that
// the break-even is the least number from which casting stays cheaper, however molds and
// kits step the cost. All of it is arithmetic on the job's prices and on estimates of other
// packages: the band shows what a shop's hours and kits may change, no more. Casts are
// counted as expected (wheels over the share that succeeds), not as a run of bad luck.
//
// Not counted are hardware, tools, scale and printer as such, freight, and the days that
// the mold waits for the cure.
package worth
