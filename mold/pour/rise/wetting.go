package rise

// Volume is the cavity's volume by its columns.
func (c *Cavity) Volume() float64 {
	sum := 0.0
	for _, r := range c.runs {
		sum += r.Hi - r.Lo
	}
	return sum * c.Cell * c.Cell
}

// Below is the cavity's volume by its columns below a height above the frame's origin,
// at rest: what a liquid that has risen so far fills. Over a level floor or roof it is
// as exact as the area there, which cells count to about a quarter of a cell along the
// edge.
func (c *Cavity) Below(height float64) float64 {
	sum := 0.0
	for _, r := range c.runs {
		sum += max(0, min(height, r.Hi)-r.Lo)
	}
	return sum * c.Cell * c.Cell
}

// air is the cavity's volume above a level.
func (s *surface) air(level float64) float64 {
	sum := 0.0
	for k := range s.runs {
		sum += s.above(k, level)
	}
	return sum
}

// Wetting tells when the rising liquid reaches an opening's mouth: at its lowest point
// (Wet), and at its highest, where it shuts. AirLeft is what the cavity then still
// holds above that level, in traps and elsewhere. Levels are along up.
type Wetting struct {
	Name      string
	Wet, Shut float64
	AirLeft   float64
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
		out = append(out, Wetting{m.Name, wet, shut, s.air(shut)})
	}
	return out
}
