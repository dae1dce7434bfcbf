package params

import (
	"fmt"
	"strconv"
)

// Ways to split the mold into pieces.
const (
	SplitFour = "four-piece"  // base, shells around the axis, lid
	SplitOpen = "open top"    // base, shells, and a strap over the hub instead of a lid
	SplitClam = "clam"        // two halves that part along the axis
	SplitCup  = "cup and lid" // one parting line across the axis
)

// Splits lists them all.
var Splits = []string{SplitFour, SplitOpen, SplitClam, SplitCup}

// Way is one way to split a mold.
type Way struct {
	Split    string
	Segments int
}

// Ways lists all ways to split a mold, those with the fewest shells first.
func Ways() []Way {
	var out []Way
	for _, s := range Splits {
		least, most := segments(s)
		for n := least; n <= most; n++ {
			out = append(out, Way{s, n})
		}
	}
	return out
}

// Way is how the job's mold is split.
func (j *Job) Way() Way { return Way{j.Mold.Split, j.Mold.Segments} }

// Settings ask for the way.
func (w Way) Settings() []Setting {
	return []Setting{{Key: "mold.split", Value: w.Split}, {Key: "mold.segments", Value: strconv.Itoa(w.Segments)}}
}

// String names the way: the split, and how many shells if more than two.
func (w Way) String() string {
	if w.Segments <= 2 {
		return w.Split
	}
	return fmt.Sprintf("%s, %d shells", w.Split, w.Segments)
}

// segments are the least and the most pieces around the axis that a split has.
func segments(split string) (least, most int) {
	switch split {
	case SplitCup:
		return 1, 1
	case SplitClam:
		return 2, 2
	}
	return 2, 4
}

// splitKeys come before the hub: how the mold holds it follows from the split.
var splitKeys = []Key{
	{Path: "mold.split", Kind: Word, Options: Splits,
		slot: in(func(j *Job) *string { return &j.Mold.Split }, always(SplitFour)),
		Doc:  "How the mold is split: base, shells and lid; the same with an open top, where a strap holds the hub down and the rubber is trimmed; two clam halves that grip the ends of the hub; or a cup with a lid, out of which the wheel is drawn.",
		From: "base, shells and lid open around any wheel"},
	{Path: "mold.segments", Kind: Count,
		lo: func(j *Job) float64 { least, _ := segments(j.Mold.Split); return float64(least) },
		hi: func(j *Job) float64 { _, most := segments(j.Mold.Split); return float64(most) },
		over: func(j *Job) string {
			return map[string]string{SplitCup: "a cup is one piece", SplitClam: "more than two pieces without base and lid have nothing that locates them"}[j.Mold.Split]
		},
		slot: in(func(j *Job) *int { return &j.Mold.Segments }, func(j *Job) int { least, _ := segments(j.Mold.Split); return least }),
		Doc:  "Pieces around the axis: shells, or the halves of a clam. A cup is one piece.",
		From: "two; a cup is one piece"},
}

// Plates tells whether base and lid are pieces of their own, or a cup and a strap
// in their place: whatever parts the mold across the axis, below and above.
func (j *Job) Plates() (below, above bool) {
	s := j.Mold.Split
	return s == SplitFour || s == SplitOpen, s != SplitClam
}

// SideHeight is the height in mm of the pieces that lie around the axis.
func (j *Job) SideHeight() float64 {
	h := j.Wheel.Width
	if j.Mold.Split == SplitClam {
		h += j.Mold.BaseThickness + j.Mold.LidThickness
	}
	return h
}

// clamGrip is how far a hub stands out of the tread into clam halves by default,
// and the least, mm: common practice for what a half can hold upright.
const clamGrip, leastClamGrip = 2.0, 1.0

// standsOut is how far the hub stands out of the tread at either end by default, mm.
func standsOut(j *Job) float64 {
	if j.Mold.Split == SplitClam {
		return clamGrip
	}
	return 0
}

func whereOpen[T any](open, closed func(*Job) T) func(*Job) T {
	return func(j *Job) T {
		if j.Mold.Split == SplitOpen {
			return open(j)
		}
		return closed(j)
	}
}
