package flash

import (
	"slices"
	"testing"

	"wheelmold/mold/moldtest"
)

// Coats move the seams, and make no parting line of their own: their steps face no
// other piece.
func TestCoatsAddNoLines(t *testing.T) {
	lines := func(s moldtest.Split, sets ...string) []string {
		m, c := moldtest.Checked(t, moldtest.Wheels[0].Job(t, append(sets, s.Sets...)...))
		var names []string
		for _, x := range survey(m, c.Faces).sites {
			names = append(names, x.name)
		}
		return names
	}
	for _, s := range moldtest.Splits {
		bare, coated := lines(s), lines(s, "mold.coats.count=2")
		if !slices.Equal(bare, coated) {
			t.Errorf("%s: lines are %v, coated %v", s.Name, bare, coated)
		}
	}
}
