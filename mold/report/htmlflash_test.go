package report

import (
	"fmt"
	"testing"

	"wheelmold/mold/flash"
)

// Of each way out of a line the page tells how near it is and along how much of the seam
// it is the nearest: a length to the millimeter, or never. The seam itself is no way out,
// and the band's groove is called as in the rest of the page.
func TestWaysOutOfALine(t *testing.T) {
	l := FlashLine{Name: "plate-a", Exits: []FlashExit{
		{Kind: flash.ExitOuter, Least: 12.04, Seam: 310.6},
		{Kind: flash.ExitNeighbor},
		{Kind: flash.ExitStrap, Least: 7.25, Seam: 0.4},
		{Kind: flash.ExitBolt, Least: 20},
	}}
	got := l.exits()
	want := [][]string{{"outer face", "12", "311"}, {"band's groove", "7.2", "0"}, {"bolt hole", "20", "never"}}
	if fmt.Sprint(got.Rows) != fmt.Sprint(want) || got.Name != "ways out of plate-a" || len(got.Head) != len(want[0]) {
		t.Errorf("%+v, want the rows %v", got, want)
	}
}

// A line's gap is told by its parts and, last, as a whole, in microns.
func TestPartsOfAGap(t *testing.T) {
	l := FlashLine{Name: "plate-a", Gap: FlashGap{Expected: .0126, Worst: .04, Band: Band{P10: .006, P50: .012, P90: .021},
		Parts: []FlashCause{{Name: "flatness", Expected: .01, Worst: .03, Method: "stated"}}}}
	got := l.gaps()
	if len(got.Rows) != 2 || !got.Wide {
		t.Fatalf("%+v", got)
	}
	if want := []string{"flatness", "10", "30", "stated"}; fmt.Sprint(got.Rows[0]) != fmt.Sprint(want) {
		t.Errorf("%q, want %q", got.Rows[0], want)
	}
	if want := []string{"all", "13", "40", "mean distance of the faces along the seam; 10, 50, 90 % of the draws lie below 6, 12, 21"}; fmt.Sprint(got.Rows[1]) != fmt.Sprint(want) {
		t.Errorf("%q, want %q", got.Rows[1], want)
	}
}
