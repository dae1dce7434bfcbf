package mold

import (
	"math"

	"wheelmold/mesh/solid"
)

// A hexagonal nut recess that is milled has round corners. It is a larger hexagon whose
// round corners still clear the nut's: one closed pass of the cutter, no farther out than
// the nut's corners, while bores that relieve sharp corners would reach beyond them into
// the walls around.

// relieve gives the recess for a nut, across flats, the corners of the shop's smallest
// flat cutter that reaches its floor. They leave it sharp, and say so, where the nut
// would turn in the recess: the smallest that ISO 4032 allows is 1.092 times its nominal
// width across corners (M3, from memory of the standard; more from there on).
func (p *placer) relieve(b *Bolt, flats float64) {
	const (
		apart = .05       // mm between the nut's corners and the recess's
		least = 1.092 / 2 // of the width across flats: from the middle to a corner
	)
	if !p.j.Milled() {
		return
	}
	r := math.Inf(1)
	for _, c := range p.j.Machining.Cutters {
		if c.CornerRadius == 0 && c.Reach >= b.NutD {
			r = min(r, c.Diameter/2*(1+p.j.Machining.CornerMargin))
		}
	}
	wide := max(b.NutR, flats/2+apart+p.comp+r*(1-math.Sqrt(3)/2))
	if wide > least*flats {
		p.warn("mold.bolts.nut", "hex", "round", "no flat cutter of the shop reaches into the corners of the nuts' recesses and leaves walls that hold the nut")
		return
	}
	b.NutR, b.NutCorner = solid.Round(wide), solid.Round(r)
}

// NutReach is how far a hexagonal nut recess reaches from its middle in a direction,
// degrees from one of its corners, mm.
func (b *Bolt) NutReach(deg float64) float64 {
	a := math.Abs(math.Mod(math.Mod(deg, 60)+60, 60)-30) * math.Pi / 180 // from the nearest flat's middle
	straight := (b.NutR - b.NutCorner) / math.Sqrt(3)
	if b.NutR*math.Tan(a) <= straight {
		return b.NutR / math.Cos(a)
	}
	// The corner's arc: its center lies on the ray through the corner.
	d, off := 2*straight, math.Pi/6-a
	return d*math.Cos(off) + math.Sqrt(b.NutCorner*b.NutCorner-d*d*math.Sin(off)*math.Sin(off))
}

// nutShape is the recess's outline about the bolt.
func (b *Bolt) nutShape() solid.Profile {
	switch r := b.NutCorner; {
	case !b.NutHex:
		return solid.Circle(0, 0, b.NutR)
	case r > 0:
		return rounded(hexagon(b.NutR), r, r, r, r, r, r)
	}
	return hexagon(b.NutR)
}
