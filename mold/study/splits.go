package study

import (
	"slices"
	"strconv"

	"wheelmold/params"
)

// split is a way to split a mold.
type split struct {
	name     string
	segments int
}

// splits are those that are compared.
var splits = []split{
	{params.SplitFour, 2}, {params.SplitFour, 3}, {params.SplitFour, 4},
	{params.SplitOpen, 2}, {params.SplitClam, 2}, {params.SplitCup, 1},
}

// Splits lists a case for every split of a job that is stated by the settings and
// a text: the job's own among them, where it can be resolved. Defaults follow the
// split, and what the job states stays stated, also if that forbids the split.
func Splits(t Text, sets []params.Setting) []Case {
	all := slices.Clone(splits)
	own := split{}
	if j, _, err := t.Job(sets...); err == nil {
		own = split{j.Mold.Split, j.Mold.Segments}
		if !slices.Contains(all, own) {
			last := slices.IndexFunc(all, func(s split) bool { return s.name == own.name })
			for last+1 < len(all) && all[last+1].name == own.name {
				last++
			}
			all = slices.Insert(all, last+1, own)
		}
	}
	var cases []Case
	for _, s := range all {
		values := []params.Setting{{Key: "mold.split", Value: s.name}, {Key: "mold.segments", Value: strconv.Itoa(s.segments)}}
		cases = append(cases, Case{
			Name: s.title(), Values: values, Own: s == own,
			Sets: append(slices.Clip(slices.Clone(sets)), values...),
		})
	}
	return cases
}

// title is how a table names a split.
func (s split) title() string {
	switch {
	case s.name == params.SplitCup, s.segments == 2:
		return s.name
	case s.name == params.SplitClam:
		return s.name + ", " + strconv.Itoa(s.segments) + " parts"
	}
	return s.name + ", " + strconv.Itoa(s.segments) + " shells"
}
