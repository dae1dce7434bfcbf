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
	cases, names := make([]Case, n), nameList{}
	for i := range cases {
		cases[i] = caseOf(all, i)
		cases[i].Name = names.next(cases[i].Values)
	}
	return cases, nil
}

// longestName is how many bytes a case's name may have. Some encrypted file systems take
// no more than 143 for a folder, of which thirty are for a temporary name.
const longestName = 110

// nameList gives out names, each once, that every file system takes for a folder: some
// know no upper case, and lose dots at the end.
type nameList map[string]bool

// next names the next case by its values, as many as there is room for. Where that is
// not all of them, or not enough to tell it from those before, its number follows.
func (l nameList) next(values []params.Setting) string {
	var slugs []string
	for _, s := range values {
		slugs = append(slugs, s.Slug())
	}
	name := strings.TrimRight(strings.Join(slugs, ","), ".")
	if key := strings.ToLower(name); len(name) <= longestName && !l[key] {
		l[key] = true
		return name
	}
	number := fmt.Sprintf(",row-%d", len(l)+1)
	room := longestName - len(number)
	for len(slugs) > 1 && len(strings.Join(slugs, ",")) > room {
		slugs = slugs[:len(slugs)-1]
	}
	name = strings.Join(slugs, ",")
	name = name[:min(len(name), room)] + number
	l[name] = true
	return name
}

// caseOf is the case of a number, read as one digit for each series; it has no name yet.
func caseOf(all []params.Series, number int) Case {
	c := Case{Sets: make([]params.Setting, len(all))}
	for i := len(all) - 1; i >= 0; i-- {
		n := len(all[i].Values)
		c.Sets[i] = all[i].Values[number%n]
		number /= n
	}
	for i, s := range c.Sets {
		if len(all[i].Values) > 1 {
			c.Values = append(c.Values, s)
		}
	}
	return c
}
