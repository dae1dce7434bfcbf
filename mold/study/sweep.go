package study

import (
	"fmt"
	"strings"

	"wheelmold/params"
)

// MostRows is how many rows a sweep may have: more than that nobody reads, and they
// take a quarter of an hour.
const MostRows = 1000

// Sweep lists the cases of all values of all series, the last series fastest. An error
// says what to write instead.
func Sweep(all []params.Series) ([]Case, error) {
	n, swept, seen := 1, 0, map[string]int{}
	for _, s := range all {
		seen[s.Key]++
		n *= len(s.Values)
		if n > MostRows {
			return nil, fmt.Errorf("that makes more than %d rows: take larger steps, or sweep fewer keys at once", MostRows)
		}
		if len(s.Values) > 1 {
			swept++
		}
	}
	if swept == 0 {
		return nil, fmt.Errorf("nothing to sweep: give a key several values, as in --set wheel.diameter=60mm..120mm/10mm")
	}
	for _, s := range all {
		if len(s.Values) > 1 && seen[s.Key] > 1 {
			return nil, fmt.Errorf("%s is set twice: state its values in one place", s.Key)
		}
	}
	cases := make([]Case, n)
	for i := range cases {
		cases[i] = caseOf(all, i)
	}
	return cases, nil
}

// caseOf is the case of a number, read as one digit for each series.
func caseOf(all []params.Series, number int) Case {
	c := Case{Sets: make([]params.Setting, len(all))}
	for i := len(all) - 1; i >= 0; i-- {
		n := len(all[i].Values)
		c.Sets[i] = all[i].Values[number%n]
		number /= n
	}
	var names []string
	for i, s := range c.Sets {
		if len(all[i].Values) > 1 {
			c.Values = append(c.Values, s)
			names = append(names, s.Slug())
		}
	}
	c.Name = strings.Join(names, ",")
	return c
}
