package machining_test

import (
	"testing"

	"wheelmold/mold/machining"
	"wheelmold/mold/moldtest"
)

// The largest example, all its pieces.
func BenchmarkJudge(b *testing.B) {
	m, c := moldtest.Checked(b, moldtest.Example(b, "albatross"))
	for b.Loop() {
		if _, err := machining.Judge(m, c.RawFaces, machining.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
