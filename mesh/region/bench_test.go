package region_test

import (
	"testing"

	"wheelmold/mesh/region"
	"wheelmold/mold/moldtest"
)

// All pieces of the largest example: natural regions, then cut.
func BenchmarkPieces(b *testing.B) {
	_, c := moldtest.Checked(b, moldtest.Example(b, "albatross"))
	for b.Loop() {
		for name, faces := range c.RawFaces {
			s, err := region.Of(faces)
			if err != nil {
				b.Fatalf("%s: %v", name, err)
			}
			if _, err := s.Cut(); err != nil {
				b.Fatalf("%s: %v", name, err)
			}
		}
	}
}
