package mold

import (
	"fmt"
	"image"
	"testing"
)

// Every piece of every split is seen when the mold is drawn apart: without it, the
// picture is another.
func TestPicturesOfEverySplit(t *testing.T) {
	for _, sets := range [][]string{
		{"mold.segments=3"}, {"mold.segments=4"}, {"mold.split=open top"}, {"mold.split=clam"}, {"mold.split=cup and lid"},
	} {
		m, err := New(splitJob(t, 70, 25, 8, "filament", sets...))
		if err != nil {
			t.Fatal(err)
		}
		made, err := m.Make(MakeOptions{Tolerance: .1})
		if err != nil {
			t.Fatal(err)
		}
		whole, cut := pixels(made.Exploded(240)), pixels(made.Section(240))
		if differ(whole, cut) < 1000 {
			t.Errorf("%v: drawn apart and cut open look alike", sets)
		}
		parts := made.Parts
		for i, p := range parts {
			made.Parts = append(append([]Part{}, parts[:i]...), parts[i+1:]...)
			if n := differ(whole, pixels(made.Exploded(240))); p.Piece.Kind != Hub && n < 300 {
				t.Errorf("%v: %s makes %d pixels of the picture", sets, p.Piece.Name, n)
			}
		}
	}
}

// differ counts the pixels in which two pictures differ.
func differ(a, b *image.RGBA) (n int) {
	for i := 0; i < len(a.Pix); i += 4 {
		if fmt.Sprint(a.Pix[i:i+4]) != fmt.Sprint(b.Pix[i:i+4]) {
			n++
		}
	}
	return n
}
