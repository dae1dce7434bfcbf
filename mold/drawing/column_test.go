package drawing

import (
	"math"
	"testing"
)

// Texts of a column keep their pitch and stay as near to what they name as they can:
// those too close share the way evenly.
func TestSpread(t *testing.T) {
	for _, c := range []struct{ in, want []float64 }{
		{[]float64{20, 10, 0}, []float64{20, 10, 0}},
		{[]float64{1, 1}, []float64{4, -2}},
		{[]float64{2, 1, 0}, []float64{7, 1, -5}},
		{[]float64{30, 1, 1}, []float64{30, 4, -2}},
		{[]float64{8, 1, 1}, []float64{28. / 3, 10. / 3, -8. / 3}},
	} {
		got := spread(c.in, 6)
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-12 {
				t.Errorf("%v spread to %v, want %v", c.in, got, c.want)
				break
			}
		}
	}
}

// namesAside are names of places, in a column on one side.
func namesAside(side float64, texts []string, at ...Point) (out []named) {
	for i, p := range at {
		out = append(out, named{text: texts[i], tips: []spot{{p, 0}}, aside: side})
	}
	return out
}

// Names in a column are off each other's leaders and dimensions, and no leaders cross:
// at different depths, and at the edge all in one place, where leaders are steep.
func TestColumn(t *testing.T) {
	texts := []string{"one", "two", "three", "four", "five", "six"}
	for side, to := range map[float64]side{-1: leftward, 1: rightward} {
		u, edge := 50+side*50, 50+side*48
		for _, tips := range [][]Point{
			{{edge, 52}, {edge, 50}, {50, 51}, {edge, 49}, {50, 48}, {edge, 90}},
			{{edge, 20}, {edge, 20}, {edge, 20}, {edge, 20}, {edge, 20}, {edge, 20}},
		} {
			d, _ := plate(100, 0)
			dims := []wanted{{Dim{Kind: Plumb, From: Point{u, 40}, To: Point{u, 60}, Value: 20, Name: "height"}, to}}
			names := namesAside(side, texts, tips...)
			if missed := d.arrange(nil, dims, names, 0); len(missed) > 0 || len(d.Balloons) != len(names) || len(d.Dims) != 1 {
				t.Fatalf("missed %q", missed)
			}
			checkColumn(t, d)
			for _, b := range d.Balloons {
				if (b.At[0]-50)*side < 50 {
					t.Errorf("%s stands at %.1f, on the wrong side", b.Text, b.At)
				}
			}
		}
	}
}

// checkColumn holds leaders off texts and each other.
func checkColumn(t *testing.T, d *Drawing) {
	t.Helper()
	checkTexts(t, d)
	dim := d.Dims[0].Ink(d.Scale).Label
	labels := map[string]Label{dim.Text: dim}
	for _, b := range d.Balloons {
		labels[b.Text] = NameLabel(b.Text, scaled(b.At, d.Scale))
	}
	for i, b := range d.Balloons {
		leader, _ := b.Leader(d.Scale)
		for text, l := range labels {
			if box := l.Box(); text != b.Text && box.MeetsLine(leader) {
				t.Errorf("the leader of %s runs through %s", b.Text, text)
			}
		}
		for _, o := range d.Balloons[:i] {
			if other, _ := o.Leader(d.Scale); Cross(leader, other) {
				t.Errorf("the leaders of %s and %s cross", b.Text, o.Text)
			}
		}
	}
}

// A name too long to stand beside the plate at any scale leaves its column.
func TestNamesLeaveAColumnWithoutRoom(t *testing.T) {
	long := "a name that is so long that it finds no room on the right of anything, however small it gets, on paper"
	d, _ := plate(100, 0)
	names := namesAside(1, []string{long}, Point{50, 95})
	if TextWidth(long, TypeSize) > Paper.Width-4 || TextWidth(long, TypeSize) < Paper.Width-12 {
		t.Fatalf("%.0f mm long", TextWidth(long, TypeSize))
	}
	if missed := d.arrange(nil, nil, names, 0); len(missed) > 0 || len(d.Balloons) != 1 {
		t.Errorf("missed %q", missed)
	}
}
