package mold

import "math"

// MaxLugStretch is the share of a lug's width by which rubber is taken to give
// way when a rib is drawn past it: an assumption for Shore A 40-80, on the safe
// side of the 300 % and more that such rubber stretches before it tears.
const MaxLugStretch = 0.3

// RibDrag is the way in mm by which the ribs of the cross grooves push lugs aside
// when a piece around the axis is drawn off, and the width in mm of a lug at its
// root. The piece reaches half degrees to either side of the direction of its pull,
// given in degrees from +X.
//
// The way is the rib's depth times the part of its flank's normal that points along
// the pull. A drag of 0 or less is none.
func (t *Tread) RibDrag(pull, half float64) (drag, lug float64) {
	x := t.Cross
	if x.Count == 0 {
		return 0, 0
	}
	f, foot := x.Flank*math.Pi/180, t.CrossFoot()
	half += math.Atan(x.Width/2/foot) * 180 / math.Pi // one on the parting plane belongs to both
	drag = math.Inf(-1)
	for i := range x.Count {
		off := math.Abs(math.Remainder(t.ribAngle(i)-pull, 360))
		if off <= half {
			drag = max(drag, (t.MaxR(0)-foot)*math.Sin(off*math.Pi/180-f))
		}
	}
	return max(drag, 0), 2*math.Pi*foot/float64(x.Count) - x.Width
}
