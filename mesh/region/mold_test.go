package region_test

import (
	"testing"

	"wheelmold/mesh/region"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
)

func TestEveryPiece(t *testing.T) {
	for _, name := range []string{"wren", "kestrel", "albatross"} {
		for _, sp := range moldtest.Splits {
			if name == "albatross" && sp.Name[:4] == "open" {
				continue
			}
			m, err := mold.New(moldtest.Example(t, name, sp.Sets...))
			if err != nil {
				t.Logf("%s %s: %v", name, sp.Name, err)
				continue
			}
			c, err := m.Check()
			if err != nil {
				t.Errorf("%s %s: %v", name, sp.Name, err)
				continue
			}
			for piece, b := range c.RawFaces {
				id := name + ", " + sp.Name + ", " + piece
				s, err := region.Of(b)
				if err != nil {
					t.Errorf("%s: %v", id, err)
					continue
				}
				audit(t, id, s)
				cut, err := s.Cut()
				if err != nil {
					t.Errorf("%s: %v", id, err)
					continue
				}
				audit(t, id+", cut", cut)
			}
		}
	}
}
