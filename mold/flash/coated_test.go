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
	drafted := []string{"wheel.draft=1deg", "wheel.edge=square", "wheel.cross.count=12"}
	for _, s := range moldtest.Splits {
		for _, sets := range [][]string{nil, drafted} {
			if sets != nil && slices.Contains(s.Sets, "wheel.crown=1mm") {
				continue // either leans
			}
			bare, coated := lines(s, sets...), lines(s, append(sets, "mold.coats.count=4", "mold.coats.thickness=0.1mm")...)
			if !slices.Equal(bare, coated) {
				t.Errorf("%s %v: lines are %v, coated %v", s.Name, sets, bare, coated)
			}
		}
	}
}
