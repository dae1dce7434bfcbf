package hub

import (
	"wheelmold/mesh/solid"
)

// Raw adds the hub as it is made to the model: bore, bearing pockets, seat and bolt
// holes wider by wider mm on the diameter, so that they have their size if they come
// out so much smaller. Lock holes, which rubber fills, are s's own. With nothing to add
// it is s's hub.
func (c *Core) Raw(m *solid.Model, s Solids, wider float64) *solid.Node {
	w := *c
	w.widen(solid.Round(wider / 2))
	if w.BoreR == c.BoreR {
		return s.Hub
	}
	w.LockCount = 0
	made := w.Build(m)
	return solid.Minus(made.Hub, s.Locks...)
}

// widen adds d mm to the radius of everything that must fit something.
func (c *Core) widen(d float64) {
	c.BoreR += d
	for _, e := range []*End{&c.Lower, &c.Upper} {
		if e.PocketR > 0 {
			e.PocketR += d
		}
		if e.SeatR > 0 {
			e.SeatR += d
		}
	}
	if c.BoltCount > 0 {
		c.BoltR += d
	}
}
