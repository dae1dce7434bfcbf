// Package castlog keeps what a builder writes down of each cast, beside what had been
// predicted for it, and learns from both how far the predictions are off.
//
// # The file
//
// One line is one record, as key=value with the unit in the key, readable and
// searchable by hand. The first line names the format. Each line ends with the CRC-32C
// of all before it.
//
// # What it guarantees
//
// Append only ever adds to the file. It holds an exclusive lock of the system, writes
// the record at once, and waits until the drive has it. A line that was cut off earlier
// stays as it is, and the next record begins on a line of its own. Read returns every
// intact record, and every other line as a fault with its number and cause: it drops
// none silently and gives up on none. Any single changed byte is found. Keys that a
// newer program wrote are kept.
//
// # What it does not
//
// The sum finds accidents, not forgery. The lock holds on drives of this machine; of
// network drives, only where they honor locks. A drive that loses what it said it
// kept loses the record. What Learn says of one or two casts rests on the spread that it
// assumes: of casts that vary twice as much, two hold the truth in 85 % of trials, not
// 90 %. An error that all casts share, such as the power of the gap that the mass of
// flash goes with, does not shrink with their number, though the interval does.
package castlog
