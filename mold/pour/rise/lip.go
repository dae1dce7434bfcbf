package rise

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/plumb"
	"wheelmold/mold/inparallel"
)

// lip is a step in the roof between two linked runs, as at the edge of an undercut:
// air from under the lower roof rises on once it has passed the edge. The edge lies
// anywhere between the columns, so that under a tilt, or where the lower roof dips
// toward it, its height is not that of the lower run's top. Its place is found on the
// line between both.
type lip struct {
	low, high int32
	at        mesh.Vec // on the lower roof, at its edge
}

const (
	// leastStep: tops that differ by less, in cells, are taken as a slope. What is
	// lost is a saddle moved by one cell times the tilt, behind a low step.
	leastStep = 0.3
	// stepKept: a step keeps more than this of its height when the line is halved; a
	// slope of any steepness loses half, and half of that next.
	stepKept = 0.7
	// halvings place an edge within a cell/1024.
	halvings = 10
)

// findLips looks between every two linked runs of unequal tops, row by row.
func (c *columns) findLips(s *plumb.Solid) {
	rows := make([][]lip, c.ny)
	inparallel.Do(c.ny, func(j int) {
		line := s.Line()
		for k := c.first[j*c.nx]; k < c.first[(j+1)*c.nx]; k++ {
			for _, l := range c.linked(int(k)) {
				if d := c.runs[l.to].Hi - c.runs[k].Hi; d > leastStep*c.cell {
					if p, ok := c.edge(line, int(k), int(l.to)); ok {
						rows[j] = append(rows[j], lip{k, l.to, p})
					}
				}
			}
		}
	})
	c.lips = slices.Concat(rows...)
	for i, l := range c.lips {
		c.mark(l.low, l.high, int32(i))
		c.mark(l.high, l.low, int32(i))
	}
}

func (c *columns) mark(from, to, lip int32) {
	ls := c.linked(int(from))
	for i := range ls {
		if ls[i].to == to {
			ls[i].lip = lip
		}
	}
}

// edge finds the step on the line from run low to run high, and returns the end of the
// lower roof; false if the roof only slopes, or the line leaves the cavity.
func (c *columns) edge(line *plumb.Line, low, high int) (mesh.Vec, bool) {
	a, b := c.top(low), c.top(high)
	step := b[2] - a[2]
	floor := max(c.runs[low].Lo, c.runs[high].Lo)
	for i := range halvings {
		m := a.Add(b).Scale(.5)
		z, ok := passage(line.Runs(m[0], m[1]), floor, a[2])
		if !ok {
			return mesh.Vec{}, false
		}
		if m[2] = z; b[2]-z > z-a[2] {
			a = m
		} else {
			b = m
		}
		if i == 1 && b[2]-a[2] < stepKept*step {
			return mesh.Vec{}, false
		}
	}
	return a, true
}

// passage is the top of the run that shares most with the heights lo to hi.
func passage(runs []plumb.Run, lo, hi float64) (top float64, ok bool) {
	most := math.Inf(-1)
	for _, r := range runs {
		if share := min(r.Hi, hi) - max(r.Lo, lo); share > most {
			most, top = share, r.Hi
		}
	}
	return top, most > plumb.Thin
}
