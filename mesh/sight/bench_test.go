package sight_test

import (
	"testing"

	"wheelmold/mesh/outline"
	"wheelmold/mesh/sight"
	"wheelmold/mold/moldtest"
)

// All pieces of the largest example in three views. A sheet should not wait for it:
// well below 1 s.
func BenchmarkLines(b *testing.B) {
	m, c := moldtest.Checked(b, moldtest.Example(b, "albatross"))
	for b.Loop() {
		for _, p := range m.Pieces {
			for _, v := range []outline.View{sight.Top, sight.Front, sight.Right} {
				if _, err := sight.Lines(c.RawFaces[p.Name], v, .01); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
}
