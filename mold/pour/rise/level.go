package rise

import "math"

// Volume is the cavity's volume by its columns.
func (c *Cavity) Volume() float64 {
	sum := 0.0
	for _, r := range c.runs {
		sum += r.Hi - r.Lo
	}
	return sum * c.Cell * c.Cell
}

// Fill is a level of the liquid, along up from the frame's origin, and the volume of
// the cavity below it.
type Fill struct{ Level, Volume float64 }

// Levels returns n+1 equally spaced levels from the cavity's lowest point to its
// highest, with the volume below each.
func (c *Cavity) Levels(t Tilt, n int) []Fill {
	s := c.along(t)
	lo, hi := math.Inf(1), math.Inf(-1)
	for k, r := range c.runs {
		lo, hi = min(lo, s.at(k, r.Lo)), max(hi, s.roof[k])
	}
	out := make([]Fill, n+1)
	for i := range out {
		l := lo + (hi-lo)*float64(i)/float64(max(n, 1))
		out[i] = Fill{l, s.below(l)}
	}
	return out
}

// Below returns the cavity's volume below a level along up.
func (c *Cavity) Below(t Tilt, level float64) float64 { return c.along(t).below(level) }

func (s *surface) below(level float64) float64 { return s.Volume() - s.air(level) }

// air is the cavity's volume above a level.
func (s *surface) air(level float64) float64 {
	sum := 0.0
	for k := range s.runs {
		sum += s.above(k, level)
	}
	return sum
}

// Wetting tells when the rising liquid reaches an opening's mouth: at its lowest point
// (Wet), and at its highest, where it shuts. Air is what the cavity then still holds
// above that level, in traps and elsewhere. Levels are along up.
type Wetting struct {
	Name            string
	Wet, Shut       float64
	WetAir, AirLeft float64
}

// Wettings returns when each opening that meets the cavity gets wet, in their order.
func (c *Cavity) Wettings(t Tilt) (out []Wetting) {
	s := c.along(t)
	for i := range c.mouths {
		m := &c.mouths[i]
		if len(m.runs) == 0 {
			continue
		}
		wet, shut, _ := m.heights(s.up)
		out = append(out, Wetting{m.Name, wet, shut, s.air(wet), s.air(shut)})
	}
	return out
}
