package outdir

import (
	"context"
	"path/filepath"
	"testing"
)

// A folder within another appears with it, and goes with it.
func TestWithin(t *testing.T) {
	for _, whole := range []bool{true, false} {
		dir := t.TempDir()
		f, err := Create(context.Background(), filepath.Join(dir, "all"), false)
		if err != nil {
			t.Fatal(err)
		}
		if err := build(f.Within("out"), "in ", false, disk); err != nil {
			t.Fatal(err)
		}
		if _, err := Create(context.Background(), f.Within("out"), false); err == nil {
			t.Error("two folders of one name")
		}
		if !whole {
			f.Discard()
			expect(t, dir)
			continue
		}
		if err := f.Commit(); err != nil {
			t.Fatal(err)
		}
		want := []string{"all"}
		for _, name := range wholeTree("in ") {
			want = append(want, "all/"+name)
		}
		expect(t, dir, want...)
	}
}
