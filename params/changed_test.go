package params

import (
	"slices"
	"testing"
)

// What differs is what was stated otherwise; what followed from it is not told.
func TestChanged(t *testing.T) {
	const begin = "wheel.diameter = \"60 mm\"\nwheel.width = \"20 mm\"\nhub.bore = \"6 mm\"\n"
	const groove = "[[hub.groove]]\nwidth = \"3 mm\"\n"
	before, _, err := Parse("a", []byte(begin+"mold.coats.count = 2\n"+groove))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		groove string
		sets   []Setting
		want   []string
	}{
		{groove, nil, nil},
		{groove, []Setting{{Key: "mold.coats.count", Value: "3"}}, []string{"mold.coats.count"}},
		{groove, []Setting{{Key: "wheel.diameter", Value: "64 mm"}, {Key: "name", Value: "other"}}, []string{"name", "wheel.diameter"}},
		{groove, []Setting{{Key: "hub.groove[1].width", Value: "3.5 mm"}}, []string{"hub.groove[1].width"}},
		{"hub.groove = []\n", nil, []string{"hub.groove"}},
	} {
		now, _, err := Parse("a", []byte(begin+"mold.coats.count = 2 # as before\n"+c.groove), c.sets...)
		if err != nil {
			t.Fatal(err)
		}
		if got := now.Changed(before); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v", c.sets, got, c.want)
		}
		if got := before.Changed(now); !slices.Equal(got, c.want) {
			t.Errorf("%v, taken back: %v, want %v", c.sets, got, c.want)
		}
	}
}
