package flat

import (
	"testing"

	"wheelmold/mold/moldtest"
)

// All drawings of the largest example.
func BenchmarkOf(b *testing.B) {
	m, c := moldtest.Checked(b, moldtest.Example(b, "albatross"))
	for b.Loop() {
		if _, err := Of(m, c.RawFaces); err != nil {
			b.Fatal(err)
		}
	}
}
