package sight

import (
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/outline"
)

// curve is a curve in the view, as points on it so close that no chord is farther from
// it than was asked for. Blocks of chords have boxes.
type curve struct {
	at    func(t float64) point
	t     []float64
	p     []point
	boxes []mesh.Box
}

const (
	// chordSag is the distance of chords on which meetings are looked for, mm. They
	// are then found on the curves.
	chordSag = .002
	block    = 16 // chords to a box
)

// sample follows a curve of space in the view.
func (d *drawing) sample(at func(t float64) vec, t0, t1, sag float64) *curve {
	c := &curve{at: func(t float64) point { return d.v.At(at(t)) }}
	c.add(t0)
	const parts = 8 // halves of an S would be told from a line by no middle
	for k := range parts {
		c.split(t0+(t1-t0)*float64(k)/parts, t0+(t1-t0)*float64(k+1)/parts, sag, 10)
	}
	for k := 0; k+1 < len(c.p); k += block {
		b := mesh.EmptyBox()
		for _, p := range c.p[k:min(k+block+1, len(c.p))] {
			b = b.Include(vec{p[0], p[1]})
		}
		c.boxes = append(c.boxes, b.Grow(2*sag+onIt))
	}
	return c
}

func (c *curve) add(t float64) {
	c.t, c.p = append(c.t, t), append(c.p, c.at(t))
}

// split adds the points after the last one, which is at a, up to b. It halves until the
// curve keeps within the sag of its chord at three places, with a fifth to spare for
// what lies between them.
func (c *curve) split(a, b, sag float64, depth int) {
	s := outline.Stretch{From: c.p[len(c.p)-1], To: c.at(b)}
	off := 0.0
	for _, k := range [3]float64{.25, .5, .75} {
		p := c.at(a + k*(b-a))
		off = max(off, dist(p, s.Nearest(p)))
	}
	if depth > 0 && off > .8*sag {
		c.split(a, (a+b)/2, sag, depth-1)
		c.split((a+b)/2, b, sag, depth-1)
		return
	}
	c.add(b)
}

func (c *curve) chord(k int) outline.Stretch { return outline.Stretch{From: c.p[k], To: c.p[k+1]} }

// near calls f for the chords in blocks whose boxes come near b.
func (c *curve) near(b *mesh.Box, f func(k int)) {
	for i := range c.boxes {
		if !apart(&c.boxes[i], b) {
			for k := i * block; k < min((i+1)*block, len(c.p)-1); k++ {
				f(k)
			}
		}
	}
}

// apart tells of boxes that do not overlap in the view.
func apart(a, b *mesh.Box) bool {
	return a.Lo[0] > b.Hi[0] || b.Lo[0] > a.Hi[0] || a.Lo[1] > b.Hi[1] || b.Lo[1] > a.Hi[1]
}

// foot returns the place of the curve nearest to q and how far it is; only as far as
// reach is looked.
func (c *curve) foot(q point, reach float64) (t, away float64) {
	box := mesh.Box{Lo: vec{q[0], q[1]}, Hi: vec{q[0], q[1]}}.Grow(reach)
	best := -1
	away = 2*chordSag + reach
	c.near(&box, func(k int) {
		s := c.chord(k)
		if l := dist(q, s.Nearest(q)); l < away {
			best, away = k, l
		}
	})
	if best < 0 {
		return 0, math.Inf(1)
	}
	a, b := c.t[max(best-1, 0)], c.t[min(best+2, len(c.t)-1)]
	t = highest(a, b, func(t float64) float64 { return -dist(c.at(t), q) })
	for _, end := range [2]float64{c.t[0], c.t[len(c.t)-1]} {
		if dist(c.at(end), q) <= dist(c.at(t), q) {
			t = end
		}
	}
	return t, dist(c.at(t), q)
}
