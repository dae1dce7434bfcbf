package rise

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/plumb"
)

// mouth is an opening tied to the columns that it touches, however narrow it is.
type mouth struct {
	Opening
	rim  []mesh.Vec // points of the roof around the mouth
	runs []tie
}

// tie is a run that the mouth touches. Air from within the mouth's circle leaves at
// the run's own top; air from beyond must first reach the rim.
type tie struct {
	run    int
	within bool
}

// rimPoints: a level rim seen tilted is met at its highest point but for
// R·(1-cos(π/96)) < 0.0006 R times the tilt's sine.
const rimPoints = 96

func (c *Cavity) open(o Opening) mouth {
	m := mouth{Opening: o}
	if math.IsInf(o.R, 1) {
		c.uncover(&m)
		return m
	}
	line := c.solid.Line()
	for k := range rimPoints {
		sn, cs := math.Sincos(2 * math.Pi * float64(k) / rimPoints)
		x, y := o.At[0]+o.R*cs, o.At[1]+o.R*sn
		if runs := line.Runs(x, y); len(runs) > 0 {
			m.rim = append(m.rim, mesh.Vec{x, y, runs[nearest(runs, o.At[2])].Hi})
		}
	}
	c.tie(&m)
	if len(m.rim) == 0 { // as wide as the cavity
		for _, t := range m.runs {
			m.rim = append(m.rim, c.top(t.run))
		}
	}
	return m
}

// uncover ties all runs that reach a mouth's height.
func (c *Cavity) uncover(m *mouth) {
	for k := range c.runs {
		if c.runs[k].Hi >= m.At[2]-plumb.Thin {
			m.runs = append(m.runs, tie{k, true})
			m.rim = append(m.rim, c.top(k))
		}
	}
}

// tie finds the runs within the circle, or the nearest one if there is none, and the
// ones next to them whose cells the circle may touch. Ones that are not linked to
// those lie beyond a wall, ones beyond a lip under another roof. The next ones lie up
// to √2 cells beyond the circle: were they left out, air beyond would have to pass the
// tops of the columns within.
func (c *Cavity) tie(m *mouth) {
	reach := m.R + c.Cell*math.Sqrt2/2
	x0, x1 := c.span(0, m.At[0], reach)
	y0, y1 := c.span(1, m.At[1], reach)
	near, best := -1, math.Inf(1)
	seen := map[int]bool{}
	for j := y0; j <= y1; j++ {
		for i := x0; i <= x1; i++ {
			a, b := c.first[j*c.nx+i], c.first[j*c.nx+i+1]
			if a == b {
				continue
			}
			k := int(a) + nearest(c.runs[a:b], m.At[2])
			d := m.from(c.point(k, 0))
			if d <= m.R {
				m.runs = append(m.runs, tie{k, true})
				seen[k] = true
			}
			if d < best && d <= reach {
				near, best = k, d
			}
		}
	}
	if len(m.runs) == 0 && near >= 0 {
		m.runs = append(m.runs, tie{near, false})
		seen[near] = true
	}
	next := m.R + c.Cell*math.Sqrt2
	for _, t := range m.runs[:len(m.runs):len(m.runs)] {
		for _, l := range c.linked(t.run) {
			if k := int(l.to); !seen[k] && l.lip < 0 && m.from(c.point(k, 0)) <= next {
				seen[k] = true
				m.runs = append(m.runs, tie{k, false})
			}
		}
	}
}

// from is the distance in plan from the mouth's center.
func (m *mouth) from(p mesh.Vec) float64 { return math.Hypot(p[0]-m.At[0], p[1]-m.At[1]) }

// nearest is the index of the run that holds height z or comes closest to it.
func nearest(runs []plumb.Run, z float64) int {
	best, at := math.Inf(1), 0
	for i, r := range runs {
		if d := max(0, r.Lo-z, z-r.Hi); d < best {
			best, at = d, i
		}
	}
	return at
}

// heights of the rim along up: the liquid wets the mouth at the lowest, and closes it
// at the highest, whose point is returned too.
func (m *mouth) heights(up mesh.Vec) (lowest, highest float64, at mesh.Vec) {
	lowest, highest = math.Inf(1), math.Inf(-1)
	for _, p := range m.rim {
		h := up.Dot(p)
		lowest = min(lowest, h)
		if h > highest {
			highest, at = h, p
		}
	}
	return lowest, highest, at
}
