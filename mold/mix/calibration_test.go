package mix

import (
	"math"
	"testing"
)

// What stays behind is as many times as much as casts show, whichever way it is reckoned;
// what is poured stays as it is, and no ratio means one.
func TestResidueAsCastsShow(t *testing.T) {
	for _, by := range []string{"film", "depth", "share"} {
		p := pour()
		switch by {
		case "depth":
			p.Bucket.Residue = 2
		case "share":
			p.Waste = 0.1
		}
		in := Input{Rubber: 1000, Flash: 20}
		as, none := in, in
		as.Stays, in.Stays = 2, 1
		a, b, c := mustNeed(t, p, in, 2), mustNeed(t, p, as, 2), mustNeed(t, p, none, 2)
		if a != c || a.By != by || !(a.Residue > 1) {
			t.Errorf("%s: %+v with a ratio of 1, %+v without any", by, a, c)
		}
		if !near(b.Residue, 2*a.Residue, 1e-12) || !near(b.Mixed-a.Mixed, a.Residue, 1e-9) {
			t.Errorf("%s: %+v with twice the residue of %+v", by, b, a)
		}
	}
	p := pour()
	if _, err := Needed(&p, Input{Rubber: 1, Stays: mostStays}, 1); err != nil || mostStays < 20 {
		t.Errorf("a ratio of %d, where calibration.residue may be 20: %v", mostStays, err)
	}
	for _, r := range []float64{-1, math.NaN(), math.Inf(1)} {
		if _, err := Needed(&p, Input{Rubber: 1, Stays: r}, 1); err == nil {
			t.Errorf("a ratio of %g is taken", r)
		}
	}
}
