package shop

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"wheelmold/mold"
)

// cornered is the outline through points that stand at angles, in degrees, and distances
// from the axis.
func cornered(n int, at func(i int) (angle, r float64)) []corner {
	out := make([]corner, n)
	for i := range out {
		a, r := at(i)
		sin, cos := math.Sincos(a * math.Pi / 180)
		out[i].at = point{r * cos, r * sin}
	}
	return out
}

// told is what a sheet says of an outline, in its view and in its tables.
func told(kind mold.Kind, corners []corner) (*view, *sheet) {
	s := &sheet{m: &mold.Mold{Layout: &mold.Layout{}}, piece: &mold.Piece{Kind: kind}, corners: corners}
	v := &view{}
	s.describe(v)
	return v, s
}

// Any regular polygon about the axis, however it is turned, is one call-out that points at
// the middle of a side, half of what it says across flats from the axis; no table repeats it.
func TestRegularOutlinesAreCalledOut(t *testing.T) {
	for n, name := range map[int]string{6: "hexagon", 8: "octagon", 12: "polygon of 12 sides"} {
		for _, turn := range []float64{-170, 0, 22.5, 111, 359} {
			const across = 80.
			v, s := told(mold.Plate, cornered(n, func(i int) (float64, float64) {
				return turn + 360*float64(i)/float64(n), across / 2 / math.Cos(math.Pi/float64(n))
			}))
			if want := fmt.Sprintf("regular %s,\n80 across flats", name); len(v.Callouts) != 1 || v.Callouts[0].Text != want {
				t.Errorf("%d sides, turned by %g°: %+v", n, turn, v.Callouts)
				continue
			}
			tip := v.Callouts[0].Tip
			if r := math.Hypot(tip[0], tip[1]); math.Abs(r-across/2) > 1e-9 {
				t.Errorf("%d sides, turned by %g°: points %.3f mm from the axis", n, turn, r)
			}
			if len(s.Tables) > 0 || len(v.Marks) > 0 {
				t.Errorf("%d sides: %d tables and %d marks besides", n, len(s.Tables), len(v.Marks))
			}
		}
	}
}

// An outline that is nearly regular, or has as many corners, is told corner by corner.
func TestOtherOutlinesAreTabled(t *testing.T) {
	regular := func(i int) (float64, float64) { return 45 * float64(i), 50 }
	for name, x := range map[string][]corner{
		"one corner farther out": cornered(8, func(i int) (float64, float64) {
			a, r := regular(i)
			if i == 3 {
				r += .02
			}
			return a, r
		}),
		"one corner beside its place": cornered(8, func(i int) (float64, float64) {
			a, r := regular(i)
			if i == 5 {
				a += .05
			}
			return a, r
		}),
		"sides long and short": cornered(8, func(i int) (float64, float64) {
			a, r := regular(i)
			return a + float64(i%2), r
		}),
		"corners out and in":   cornered(8, func(i int) (float64, float64) { return 45 * float64(i), 50 + 5*float64(i%2) }),
		"twice around":         cornered(10, func(i int) (float64, float64) { return 72 * float64(i), 50 }),
		"five sides":           cornered(5, func(i int) (float64, float64) { return 72 * float64(i), 50 }),
		"beside the axis":      moved(cornered(6, func(i int) (float64, float64) { return 60 * float64(i), 50 }), point{.1, 0}),
		"a round side":         rounded(cornered(8, regular)),
		"four corners, aslant": cornered(4, func(i int) (float64, float64) { return 10 + 90*float64(i), 50 }),
	} {
		v, s := told(mold.Plate, x)
		if len(v.Callouts) > 0 || len(s.Tables) != 1 || len(s.Tables[0].Rows) != len(x) || len(v.Marks) != len(x) {
			t.Errorf("%s: call-outs %+v, %d tables, %d marks", name, v.Callouts, len(s.Tables), len(v.Marks))
		}
	}
	// What a shell has of an outline is no closed polygon.
	if v, s := told(mold.Shell, cornered(8, regular)); len(v.Callouts) > 0 || len(s.Tables) != 1 || s.Tables[0].Rows[7][3] != "parting face" {
		t.Errorf("a shell: %+v, %+v", v.Callouts, s.Tables)
	}
}

func moved(all []corner, by point) []corner {
	for i := range all {
		all[i].at = point{all[i].at[0] + by[0], all[i].at[1] + by[1]}
	}
	return all
}

// rounded bulges the third side, about a middle beside the axis.
func rounded(all []corner) []corner {
	all[2].center, all[2].ccw = point{0, 1}, true
	all[2].radius = math.Hypot(all[2].at[0], all[2].at[1]-1)
	return all
}

// A circle about the axis and a rectangle along the view are said by their sizes alone.
func TestSizesSayRoundAndSquare(t *testing.T) {
	for name, x := range map[string][]corner{
		"circle": {{at: point{40, 0}, radius: 40, ccw: true}},
		"square": {{at: point{-40, -30}}, {at: point{40, -30}}, {at: point{40, 30}}, {at: point{-40, 30}}},
		"none":   nil,
	} {
		if v, s := told(mold.Plate, x); len(v.Callouts)+len(s.Tables)+len(v.Marks) > 0 {
			t.Errorf("%s: %+v, %+v", name, v.Callouts, s.Tables)
		}
	}
}

// Arcs of an outline are told by their radius and middle, which is named where it is the
// wheel's axis.
func TestArcsOfAnOutline(t *testing.T) {
	x := cornered(4, func(i int) (float64, float64) { return []float64{20, 70, 110, 250}[i], 50 })
	x[0].radius, x[0].ccw = 50, true
	x[2].radius, x[2].center, x[2].ccw = 60, point{-4.5, 3.25}, true
	_, s := told(mold.Plate, x)
	if len(s.Tables) != 1 {
		t.Fatalf("%d tables", len(s.Tables))
	}
	var on []string
	for _, r := range s.Tables[0].Rows {
		on = append(on, r[3])
	}
	if got, want := strings.Join(on, "; "), "R50 about the wheel axis; straight; R60 about X -4.5, Y 3.25; straight"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// Corners beyond the twenty-sixth have two letters, and no two the same name.
func TestCornerNames(t *testing.T) {
	seen := map[string]int{}
	for i := range 26 + 26*26 {
		name := cornerName(i)
		if k, ok := seen[name]; ok {
			t.Fatalf("%d and %d are both %q", k, i, name)
		}
		seen[name] = i
	}
	for i, want := range map[int]string{0: "a", 25: "z", 26: "aa", 27: "ab", 51: "az", 52: "ba"} {
		if got := cornerName(i); got != want {
			t.Errorf("%d is %q, want %q", i, got, want)
		}
	}
}
