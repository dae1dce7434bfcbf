package drawing

import (
	"strings"
	"testing"

	"wheelmold/mesh/outline"
)

// plate is a drawing of a square plate, with dimensions of its sides asked for.
func plate(side float64, n int) (d *Drawing, dims []wanted) {
	d = &Drawing{ID: "plate", Areas: []Area{{Cut, "base", outline.Region{block(0, 0, side, side)}}}}
	for range n {
		dims = append(dims, wanted{Dim{Kind: Across, From: Point{0, 0}, To: Point{side, 0}, Value: side, Name: "side"}, below})
	}
	return d, dims
}

// Each letter stands for one dimension.
func TestLetters(t *testing.T) {
	d := Drawing{Dims: []Dim{{Name: "x", Bare: true}, {Name: "y"}, {Name: "z", Bare: true}}}
	if d.letter(); d.Letters() != "a: x, b: z" {
		t.Errorf("letters %q", d.Letters())
	}
	if k := d.Dims[0].Ink(1).Label; k.Name != "a" {
		t.Errorf("beside the value stands %q", k.Name)
	}
	if k := d.Dims[1].Ink(1).Label; k.Name != "y" {
		t.Errorf("beside the value stands %q", k.Name)
	}
}

// What finds no room is left out and told: all of it where not even the drawing fits
// the paper at the least scale, and what is too much for the rows below it.
func TestWhatFindsNoRoomIsTold(t *testing.T) {
	for _, c := range []struct {
		side        float64
		want, shown int
	}{{100, 3, 3}, {100, mostRows, mostRows}, {100, mostRows + 2, mostRows}, {50 * Paper.Height, 2, 0}} {
		d, dims := plate(c.side, c.want)
		names := []named{{text: "far away", tips: []spot{{Point{c.side / 2, c.side / 2}, 0}}}}
		missed := d.arrange(nil, dims, names, 0)
		if n := len(d.Dims) + len(d.Balloons); n+len(missed) != c.want+1 || len(d.Dims) != c.shown {
			t.Errorf("a plate of %g mm: %d of %d dimensions, %d names, and missed %q", c.side, len(d.Dims), c.want, len(d.Balloons), missed)
		}
		if note := notShown(missed); (note == "") != (len(missed) == 0) || len(missed) > 0 && !strings.Contains(note, dims[0].Text()) {
			t.Errorf("a plate of %g mm misses %q and says %q", c.side, missed, note)
		}
		if c.shown > 0 {
			checkTexts(t, d)
		}
	}
}
