package params

import (
	"fmt"
	"math"
)

// slope is how much the tread's radius grows per height, toward the face that is
// up in the mold.
func (w *Wheel) slope() float64 { return math.Tan(w.Draft * math.Pi / 180) }

// leanOut is how much the cone's radius at the tread's faces differs from that in
// the middle, mm.
func (w *Wheel) leanOut() float64 { return w.slope() * w.Width / 2 }

// faces returns the outer diameters in mm of the tread's end faces, down and up
// in the mold, edges taken off. A round touches cone and face: it takes
// e·(1 ± sin a)/cos a off the radius at which the cone meets the face.
func (w *Wheel) faces() (lower, upper float64) {
	mid, lean, e := w.Diameter-2*w.Crown, 2*w.leanOut(), 2*w.EdgeSize
	sn, cs := math.Sincos(w.Draft * math.Pi / 180)
	if w.Edge == "round" {
		return mid - lean - e*(1-sn)/cs, mid + lean - e*(1+sn)/cs
	}
	return mid - lean - e*(1-w.slope()), mid + lean - e*(1+w.slope())
}

// shoulder is how far from a face of the tread the edge reaches, mm: a round on a
// cone a little farther at the wide end.
func (w *Wheel) shoulder() float64 {
	if w.Edge == "round" {
		return w.EdgeSize * (1 + math.Sin(w.Draft*math.Pi/180))
	}
	return w.EdgeSize
}

// judgeDraft: a tread is a cone or crowned, and its cross grooves reach from face
// to face.
func (c *judge) judgeDraft() {
	w := &c.Wheel
	if w.Draft <= 0 {
		return
	}
	if w.Crown > 0 {
		c.refuse("wheel.draft", "0 deg, or wheel.crown = \"0 mm\"", "a tread is either drafted or crowned, not both", "wheel.crown")
	}
	if x := w.Cross; x.Count > 0 && x.Depth < w.leanOut()+c.Process.MinFeature-slack {
		c.refuse("wheel.cross.depth", atLeast(w.leanOut()+c.Process.MinFeature),
			fmt.Sprintf("the tread's draft takes %s off the radius at its narrow face, where the cross grooves would run out", mm(w.leanOut())), "wheel.draft")
	}
}
