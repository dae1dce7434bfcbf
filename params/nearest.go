package params

import "strings"

// nearest is the candidate that a misspelled word most likely meant, or "": one
// slip is forgiven, and a second one in words of eight letters or more.
func nearest(word string, candidates []string) string {
	best, least := "", 1+max(1, min(2, len(word)/4))
	for _, c := range candidates {
		if len(word)-len(c) >= least || len(c)-len(word) >= least {
			continue // at least so many letters differ
		}
		if d := distance(strings.ToLower(word), c); d < least {
			best, least = c, d
		}
	}
	return best
}

// distance counts the insertions, deletions, replacements and swaps of
// neighbors that turn a into b (optimal string alignment; bytes suffice, as
// keys and words are ASCII).
func distance(a, b string) int {
	before, last := make([]int, len(b)+1), make([]int, len(b)+1)
	for k := range last {
		last[k] = k
	}
	for i := 1; i <= len(a); i++ {
		row := make([]int, len(b)+1)
		row[0] = i
		for k := 1; k <= len(b); k++ {
			replace := last[k-1]
			if a[i-1] != b[k-1] {
				replace++
			}
			row[k] = min(replace, last[k]+1, row[k-1]+1)
			if i > 1 && k > 1 && a[i-1] == b[k-2] && a[i-2] == b[k-1] {
				row[k] = min(row[k], before[k-2]+1)
			}
		}
		before, last = last, row
	}
	return last[len(b)]
}

// nearestKey is the key that an unknown path most likely meant, or "": by
// spelling, or the same name in another section.
func nearestKey(path string) string {
	var paths, moved []string
	name := path[strings.LastIndexByte(path, '.')+1:]
	for _, k := range table {
		if path == k.name() && k.Required() {
			return k.Path // all that must be stated, written without its section
		}
		paths = append(paths, k.Path)
		if k.name() == name {
			moved = append(moved, k.Path)
		}
	}
	if n := nearest(path, paths); n != "" {
		return n
	}
	if len(moved) == 1 {
		return moved[0]
	}
	return ""
}
