package study

import (
	"slices"

	"wheelmold/params"
)

// compared are the ways to split a mold that every table of splits shows.
var compared = []params.Way{
	{Split: params.SplitFour, Segments: 2}, {Split: params.SplitFour, Segments: 3}, {Split: params.SplitFour, Segments: 4},
	{Split: params.SplitOpen, Segments: 2}, {Split: params.SplitClam, Segments: 2}, {Split: params.SplitCup, Segments: 1},
}

// Splits lists a case for every split of a job that is stated by the settings and
// a text: the job's own among them, where it can be resolved. Defaults follow the
// split, and what the job states stays stated, also if that forbids the split.
func Splits(t Text, sets []params.Setting) []Case {
	all := slices.Clone(compared)
	own := params.Way{}
	if j, _, err := t.Job(sets...); err == nil {
		own = j.Way()
		if !slices.Contains(all, own) {
			last := slices.IndexFunc(all, func(w params.Way) bool { return w.Split == own.Split })
			for last+1 < len(all) && all[last+1].Split == own.Split {
				last++
			}
			all = slices.Insert(all, last+1, own)
		}
	}
	var cases []Case
	for _, w := range all {
		cases = append(cases, Case{
			Name: w.String(), Values: w.Settings(), Own: w == own,
			Sets: append(slices.Clip(slices.Clone(sets)), w.Settings()...),
		})
	}
	return cases
}
