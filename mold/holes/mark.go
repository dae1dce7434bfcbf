package holes

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// letters of marks, without those that are read as digits.
const letters = "ABCDEFGHJKLMNPRSTUVWXYZ"

// mark sorts holes and marks them: a letter for those that are alike, with the same
// steps, drilled from the same side, and a number for each.
func mark(all []Hole) {
	slices.SortStableFunc(all, func(a, b Hole) int {
		return cmp.Or(compareKinds(&a, &b), around(&a, &b))
	})
	letter, number := -1, 0
	for i := range all {
		if number++; i == 0 || compareKinds(&all[i-1], &all[i]) != 0 {
			letter, number = letter+1, 1
		}
		all[i].Mark = fmt.Sprintf("%s%d", letterOf(letter), number)
	}
}

// letterOf is the letter of kind i, doubled where one alphabet is too short.
func letterOf(i int) string {
	n := len(letters)
	if i < n {
		return letters[i : i+1]
	}
	return letterOf(i/n-1) + letterOf(i%n)
}

// compareKinds orders holes by role, the larger ones first, and is 0 of holes alike.
func compareKinds(a, b *Hole) int {
	c := cmp.Or(
		cmp.Compare(slices.Index(roles, a.Role), slices.Index(roles, b.Role)),
		-micron(a.Steps[0].D0, b.Steps[0].D0),
		cmp.Compare(len(a.Steps), len(b.Steps)),
		cmp.Compare(sideOf(a), sideOf(b)),
		cmp.Compare(truth(a.Half), truth(b.Half)),
		cmp.Compare(truth(a.Through), truth(b.Through)),
		cmp.Compare(a.Thread, b.Thread),
	)
	for i := 0; i < len(a.Steps) && c == 0; i++ {
		s, t := a.Steps[i], b.Steps[i]
		c = cmp.Or(micron(s.To, t.To), micron(s.D0, t.D0), micron(s.D1, t.D1))
	}
	return c
}

// micron compares lengths that differ by more than what their placing on the lattice
// may do.
func micron(a, b float64) int {
	const one = 1e-3 // mm
	if math.Abs(a-b) < one/2 {
		return 0
	}
	return cmp.Compare(a, b)
}

// sideOf is the side that a hole is drilled from: from above, from below, or across.
func sideOf(h *Hole) int {
	switch {
	case h.Dir[2] < -.9:
		return 0
	case h.Dir[2] > .9:
		return 1
	}
	return 2
}

func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}

// around orders holes of one kind counterclockwise from +X, then upward.
func around(a, b *Hole) int {
	angle := func(h *Hole) float64 {
		t := math.Atan2(h.At[1], h.At[0])
		if t < -same {
			t += 2 * math.Pi
		}
		return t
	}
	if d := angle(a) - angle(b); math.Abs(d) > same {
		return cmp.Compare(d, 0)
	}
	return cmp.Or(micron(a.At[2], b.At[2]), cmp.Compare(a.Name, b.Name))
}
