package mold

import (
	"fmt"
	"math/rand"
	"testing"

	"wheelmold/mesh"
)

// turn is a rotation by half or quarter turns about the block's middle.
type turn func(mesh.Vec) mesh.Vec

func (m *Mold) turns() (rx, ry, quarter turn) {
	z := m.Layout.Top
	return func(p mesh.Vec) mesh.Vec { return mesh.Vec{p[0], -p[1], z - p[2]} },
		func(p mesh.Vec) mesh.Vec { return mesh.Vec{-p[0], p[1], z - p[2]} },
		func(p mesh.Vec) mesh.Vec { return mesh.Vec{-p[1], p[0], p[2]} }
}

// pocketsOf lists the pockets of a piece, in place.
func (m *Mold) pocketsOf(piece string) []mesh.Vec {
	var out []mesh.Vec
	for _, b := range m.Layout.Balls {
		p := b.At
		in := map[string]bool{
			"base":    b.Line == m.Layout.LineLow(),
			"lid":     b.Line == m.Layout.LineTop(),
			"shell-a": b.Axis == 1 || p[1] > 0,
			"shell-b": b.Axis == 1 || p[1] < 0,
		}
		if in[piece] {
			out = append(out, p)
		}
	}
	return out
}

func moved(ps []mesh.Vec, ts ...turn) []mesh.Vec {
	out := append([]mesh.Vec(nil), ps...)
	for i := range out {
		for _, t := range ts {
			out[i] = t(out[i])
		}
	}
	return out
}

// fits reports whether two pieces' pockets on a mating plane face each other.
func fits(a, b []mesh.Vec, on func(mesh.Vec) bool) bool {
	const play = 0.5 // mm, far above any ball's clearance
	covered := func(a, b []mesh.Vec) bool {
		for _, p := range a {
			ok := !on(p)
			for _, q := range b {
				ok = ok || p.Dist(q) < play
			}
			if !ok {
				return false
			}
		}
		return true
	}
	return covered(a, b) && covered(b, a)
}

// Every way to stack the pieces, swapped, turned and upside down: only the right
// one (as a whole in its four positions) lets all the balls in.
func TestOneWayTogether(t *testing.T) {
	ms, tags, _ := validJobs(few(30, 8))
	for i, m := range ms {
		if right, wrong := m.countFits(); right != 4 || len(wrong) > 0 {
			t.Errorf("%s: %d right positions (want 4), wrong ones that fit: %v", tags[i], right, wrong)
		}
	}
}

func (m *Mold) countFits() (right int, wrong []string) {
	rx, ry, q := m.turns()
	rz := func(p mesh.Vec) mesh.Vec { return q(q(p)) }
	id := func(p mesh.Vec) mesh.Vec { return p }
	quarters := []turn{id, q, rz, func(p mesh.Vec) mesh.Vec { return q(rz(p)) }}
	type put struct {
		name string
		at   []mesh.Vec
	}
	plates := func(own, other string) []put {
		var out []put
		for k, t := range quarters {
			out = append(out, put{fmt.Sprintf("%s turned %d", own, 90*k), moved(m.pocketsOf(own), t)})
			out = append(out, put{fmt.Sprintf("%s over and turned %d", other, 90*k), moved(m.pocketsOf(other), rx, t)})
		}
		return out
	}
	halves := func(own, other string) []put {
		return []put{
			{own, m.pocketsOf(own)}, {own + " over", moved(m.pocketsOf(own), ry)},
			{other + " turned", moved(m.pocketsOf(other), rz)}, {other + " over", moved(m.pocketsOf(other), rx)},
		}
	}
	top := m.Layout.Top
	low := func(p mesh.Vec) bool { return p[2] < 1e-3 }
	high := func(p mesh.Vec) bool { return p[2] > top-1e-3 }
	side := func(p mesh.Vec) bool { return !low(p) && !high(p) }
	ok := map[string]bool{ // the whole mold in its four positions
		"base turned 0, shell-a, shell-b, lid turned 0":                                 true,
		"base turned 180, shell-b turned, shell-a turned, lid turned 180":               true,
		"lid over and turned 0, shell-b over, shell-a over, base over and turned 0":     true,
		"lid over and turned 180, shell-a over, shell-b over, base over and turned 180": true,
	}
	for ia, a := range halves("shell-a", "shell-b") {
		for ib, b := range halves("shell-b", "shell-a") {
			if (ia < 2) != (ib < 2) { // there is one of each
				continue
			}
			both := append(append([]mesh.Vec(nil), a.at...), b.at...)
			if !fits(a.at, b.at, side) {
				continue
			}
			for _, p := range plates("base", "lid") {
				for _, l := range plates("lid", "base") {
					if p.name[:3] == l.name[:3] || !fits(p.at, both, low) || !fits(l.at, both, high) {
						continue
					}
					name := fmt.Sprintf("%s, %s, %s, %s", p.name, a.name, b.name, l.name)
					if ok[name] {
						right++
					} else {
						wrong = append(wrong, name)
					}
				}
			}
		}
	}
	return right, wrong
}

// Pieces come off in the stated order, each along its pull, without cutting a
// ball, the hub, or a piece that is still there.
func TestRelease(t *testing.T) {
	ms, tags, _ := validJobs(few(12, 4))
	for i, m := range ms {
		for _, c := range m.collisions([]string{"lid", "base", "shell-a", "shell-b"}) {
			t.Errorf("%s: %s", tags[i], c)
		}
	}
	// The other way round the balls between shells and base lock the shells.
	if c := ms[0].collisions([]string{"shell-a"}); len(c) == 0 {
		t.Error("pulling shell A first meets nothing: the test sees no balls")
	}
}

func (m *Mold) collisions(order []string) []string {
	type body struct {
		name string
		in   func(mesh.Vec) bool
		box  []mesh.Box
	}
	left := map[string]body{}
	var names []string
	for _, p := range m.Pieces {
		b := body{name: p.Name, in: p.Root.Contains}
		for _, l := range p.Root.Leaves() {
			b.box = append(b.box, l.Box)
		}
		left[p.Name] = b
		names = append(names, p.Name)
	}
	if m.Job.Mold.RegisterBack.Clearance < 0 || m.Job.Mold.RegisterFront.Clearance < 0 {
		delete(left, "hub") // pressed in on purpose
	}
	// A ball stays in a shell when lid or base leaves; between the shells, in shell B.
	for i, b := range m.Layout.Balls {
		n := ballName(i, b)
		at, r := b.At, b.Diameter/2-.01
		v := mesh.Vec{r, r, r}
		left[n] = body{n, func(p mesh.Vec) bool { return p.Dist(at) < r }, []mesh.Box{{Lo: at.Sub(v), Hi: at.Add(v)}}}
		names = append(names, n)
	}
	r := rand.New(rand.NewSource(3))
	var out []string
	for _, name := range order {
		moving := left[name]
		delete(left, name)
		for i, b := range m.Layout.Balls { // these leave in the shell's own pockets
			if b.Axis == 2 && (name == "shell-a" && b.At[1] > 0 || name == "shell-b") && len(order) > 1 {
				delete(left, ballName(i, b))
			}
		}
		p, _ := m.Piece(name)
		hit := map[string]float64{}
		for _, box := range moving.box {
			for k := 0; k < 300; k++ {
				var q mesh.Vec
				for a := range q {
					q[a] = box.Lo[a] + (box.Hi[a]-box.Lo[a])*r.Float64()
				}
				if !moving.in(q) {
					continue
				}
				for _, s := range []float64{.02, .3, 1, 3, 10, 30} {
					for _, n := range names {
						if b, ok := left[n]; ok && b.in(q.AddScaled(s, p.Pull)) {
							hit[n] = s
						}
					}
				}
			}
		}
		for _, n := range names {
			if s, ok := hit[n]; ok {
				out = append(out, fmt.Sprintf("%s cuts %s when it has moved %g mm", name, n, s))
			}
		}
	}
	return out
}

func ballName(i int, b Ball) string { return fmt.Sprintf("ball %d of %s", i+1, b.Line) }
