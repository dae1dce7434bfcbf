package machining

import (
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
)

// stepped is a block with a pocket 15 mm deep of which two walls are only as high as given.
func stepped(m *solid.Model, high float64) *solid.Node {
	top := 25 + high
	return solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{60, 50, 40}),
		m.Box("pocket", "pocket", mesh.Vec{10, 10, 25}, mesh.Vec{40, 35, 41}),
		m.Box("left", "step", mesh.Vec{-1, -1, top}, mesh.Vec{10, 51, 41}), m.Box("right", "step", mesh.Vec{40, -1, top}, mesh.Vec{61, 51, 41}))
}

// The cutter that makes a corner goes down beside the higher of its two walls: a low one
// on the other side lets no shorter cutter in, though the step above it is flush with the
// higher one's end.
func TestCornersAreAsDeepAsTheirHigherWall(t *testing.T) {
	for _, high := range []float64{3, 8, 14} {
		m := solid.NewModel()
		p := milled(t, job(t, "machining.plates_from=inside"), m, stepped(m, high))
		found := 0
		for _, c := range p.Corners {
			if c.Sort != Upright {
				continue
			}
			found++
			if c.Count != 4 || !near(c.Length, 4*high, 1e-9) || !near(c.Depth, 15, 1e-6) || c.Radius != 2 { // 16 mm of reach: the cutter of 4
				t.Errorf("walls of 15 and %g mm: %+v", high, c)
			}
		}
		if found != 1 {
			t.Errorf("walls of 15 and %g mm: %+v", high, p.Corners)
		}
	}
	// Where both are low one does.
	m := solid.NewModel()
	p := milled(t, job(t, "machining.plates_from=inside"), m, solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{60, 50, 40}), m.Box("pocket", "pocket", mesh.Vec{10, 10, 36}, mesh.Vec{40, 35, 41})))
	for _, c := range p.Corners {
		if c.Sort == Upright && (!near(c.Depth, 4, 1e-6) || c.Radius > 1) {
			t.Errorf("walls of 4 mm: %+v", c)
		}
	}
}

// A corner of a window that is 12 mm deep from below, and from above 40 beside its higher
// wall, is told by the side from which it is the less deep.
func TestCornersFromTheBetterSide(t *testing.T) {
	m := solid.NewModel()
	n := solid.Minus(box(m, mesh.Vec{0, 0, 0}, mesh.Vec{60, 50, 40}),
		m.Box("window", "window", mesh.Vec{10, 10, -1}, mesh.Vec{40, 35, 41}), m.Box("left", "step", mesh.Vec{-1, -1, 12}, mesh.Vec{10, 51, 41}), m.Box("right", "step", mesh.Vec{40, -1, 12}, mesh.Vec{61, 51, 41}))
	b := put(t, job(t), m, n)
	down, up := Direction{Dir: mesh.Vec{0, 0, -1}}, Direction{Dir: zAxis}
	count := 0
	for _, s := range b.seams {
		x := b.at(&s, .5)
		if !b.inner(&s) || x.dir[2] == 0 { // or along the foot of a wall
			continue
		}
		count++
		for _, c := range []struct {
			from []Direction
			want float64
		}{{[]Direction{down}, 12}, {[]Direction{up}, 40}, {[]Direction{down, up}, 12}, {[]Direction{up, down}, 12}} {
			if sort, depth := b.lies(&s, &x, c.from); sort != Upright || !near(depth, c.want, 1e-6) {
				t.Errorf("%v: %s, %g deep, want %g", c.from, sort, depth, c.want)
			}
		}
	}
	if count != 4 {
		t.Errorf("%d inner edges, want 4", count)
	}
}

// A face belongs to the blank's sides if no more than rounding lies beyond it; what is cut
// back by as little as a hundredth does not.
func TestSidesOfABlankLieOnTheBlock(t *testing.T) {
	for step, want := range map[float64]int{1e-5: 6 + 1, .01: 6, .1: 6} {
		m := solid.NewModel()
		n := solid.Minus(m.Box("block", mold.RoleOuter, mesh.Vec{0, 0, 0}, mesh.Vec{60, 40, 20}),
			m.Box("step", mold.RoleOuter, mesh.Vec{-1, -1, 20 - step}, mesh.Vec{30, 41, 21}))
		b := put(t, job(t), m, n)
		b.square()
		got := 0
		for i := range b.faces {
			if b.faces[i].squared {
				got++
			}
		}
		if got != want {
			t.Errorf("a step of %g mm: %d faces are the blank's, want %d", step, got, want)
		}
	}
}
