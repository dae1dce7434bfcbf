package film

import "math"

// Land is the way from one place of the seam to the nearest exit.
type Land struct {
	U, V     float64 // the place on the seam, mm
	Weight   float64 // length of seam that it stands for, mm
	Distance float64 // to the nearest exit, along ways inside the region, mm; +Inf if none
	Exit     int     // that exit's label, -1 if none
}

// Lands returns one land for each crossing of a line with the seam.
func (g *Grid) Lands() []Land {
	var lands []Land
	m := g.march(g.slowness(Exit))
	for k := range g.crossings {
		x := &g.crossings[k]
		if x.class != Seam {
			continue
		}
		u, v := g.point(k)
		d, label := m.beyond(x)
		lands = append(lands, Land{U: u, V: v, Weight: g.weight(k), Distance: d * g.Cell, Exit: label})
	}
	return lands
}

// beyond carries the time from a crossing's cell on to the crossing itself: by
// the slope, and by the curvature where it is that of a distance and not of a
// ridge between two exits. A run of one cell can lead straight to an exit.
func (m *march) beyond(x *crossing) (t float64, label int) {
	g := m.g
	c, back := int(x.cell), int(x.dir^1)
	if m.from[c] < 0 {
		return math.Inf(1), -1
	}
	label = g.crossings[m.from[c]].label
	t = m.time[c] + x.share
	l := g.link[4*c+back]
	if l >= 0 && m.slow[l] > 0 && g.crossings[l].share+x.share < t {
		return g.crossings[l].share + x.share, g.crossings[l].label
	}
	if l != open {
		return t, label
	}
	n := c + g.step(back)
	slope := m.time[c] - m.time[n]
	carried := m.time[c] + x.share*slope
	if g.link[4*n+back] == open {
		bend := slope - m.time[n] + m.time[n+g.step(back)]
		carried += x.share * (1 + x.share) / 2 * math.Max(0, bend)
	}
	return math.Min(t, math.Max(carried, m.time[c]-x.share)), label
}
