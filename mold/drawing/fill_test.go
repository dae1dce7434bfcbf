package drawing

import (
	"math"
	"testing"

	"wheelmold/mold/moldtest"
)

// The fill is dimensioned from a corner that can be seen at the height of the cavity's top
// up to where the rubber stands: from where the mating face ends if the pieces part there,
// so that its extension line does not run along the face, else from the cavity's edge, where
// no piece ends. What lies on either side of the place tells which it is.
func TestFillStartsWhereTheTopEnds(t *testing.T) {
	lands, edges := 0, 0
	for _, split := range splitsDrawn {
		m, ds := sectionsOf(t, moldtest.Wheels[0].Job(t, split.sets...))
		l := m.Layout
		if len(l.Gates) == 0 { // poured into the open ring
			if x := dimOf(ds, "fill"); x != nil {
				t.Errorf("%s: a fill of %g mm above a mold without a roof", split.name, x.Value)
			}
			continue
		}
		x := dimOf(ds[:1], "fill")
		if x == nil {
			t.Fatalf("%s: the fill has no dimension", split.name)
		}
		if x.From[1] != l.Top || math.Abs(x.To[1]-l.Top-m.Job.Pour.Fill) > 1e-9 || x.From[0] <= 0 {
			t.Errorf("%s: from %v to %v, want from the cavity's top at %g up by %g, on the right", split.name, x.From, x.To, l.Top, m.Job.Pour.Fill)
		}
		const aside = 1e-3
		at := func(right, up float64) string {
			return cutAt(&ds[0], Point{x.From[0] + right*aside, x.From[1] + up*aside})
		}
		if len(l.Sides) > 0 && l.Below != "" { // plates part from shells at the cavity's top
			lands++
			if below, above := at(-1, -1), at(-1, 1); below == above || below == "rubber" || below == "" || above != l.Above {
				t.Errorf("%s: from %v: inward %q lies on %q, want the upper piece on a shell", split.name, x.From, above, below)
			}
			if below, above := at(1, -1), at(1, 1); below != "" && above != "" {
				t.Errorf("%s: from %v: outward the mating face goes on between %q and %q", split.name, x.From, above, below)
			}
			continue
		}
		edges++
		if in, above := at(-1, -1), at(-1, 1); in != "rubber" || above == "rubber" {
			t.Errorf("%s: from %v: inward %q below %q, want rubber below a piece", split.name, x.From, in, above)
		}
		if out := at(300, -1); out == "rubber" || out == "" { // past the rounded edge
			t.Errorf("%s: from %v: outward %q, want a piece", split.name, x.From, out)
		}
	}
	if lands == 0 || edges == 0 {
		t.Errorf("%d fills from a mating face, %d from the cavity's edge", lands, edges)
	}
}

// dimOf is a dimension by name.
func dimOf(ds []Drawing, name string) *Dim {
	for i := range ds {
		for k := range ds[i].Dims {
			if x := &ds[i].Dims[k]; x.Name == name {
				return x
			}
		}
	}
	return nil
}

// cutAt is what the section cuts at a place; "": nothing.
func cutAt(d *Drawing, p Point) string {
	for _, a := range d.Areas {
		if a.Look == Cut && a.Region.Contains(p) {
			return a.Of
		}
	}
	return ""
}
