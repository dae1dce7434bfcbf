package rise

import (
	stdheap "container/heap"
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
)

// voxels is a cavity in cubes, and how air leaves it: a second, independent way to
// find what is trapped. The level at which the air in a cube loses its way out is
// the highest, over all ways to a vent, of the lowest point of the way; it is found
// by the priority flood that fills the hollows of elevation models (Barnes, Lehman
// and Mulla, Computers & Geosciences 62 (2014) 117), turned over.
type voxels struct {
	n      [3]int
	lo     mesh.Vec
	side   float64
	height []float64 // along up; NaN outside the cavity
	escape []float64
	queue  []int
}

func (v *voxels) Len() int           { return len(v.queue) }
func (v *voxels) Less(i, j int) bool { return v.escape[v.queue[i]] > v.escape[v.queue[j]] }
func (v *voxels) Swap(i, j int)      { v.queue[i], v.queue[j] = v.queue[j], v.queue[i] }
func (v *voxels) Push(x any)         { v.queue = append(v.queue, x.(int)) }
func (v *voxels) Pop() any {
	x := v.queue[len(v.queue)-1]
	v.queue = v.queue[:len(v.queue)-1]
	return x
}

func voxelsOf(m *mold.Mold, side float64, up mesh.Vec) *voxels {
	b := m.Rubber.Bounds()
	v := &voxels{lo: b.Lo, side: side}
	for i := range 3 {
		v.n[i] = int(math.Ceil((b.Hi[i] - b.Lo[i]) / side))
	}
	v.height = make([]float64, v.n[0]*v.n[1]*v.n[2])
	v.escape = make([]float64, len(v.height))
	for k := range v.height {
		p := v.center(k)
		v.height[k], v.escape[k] = math.NaN(), math.Inf(-1)
		if m.Rubber.Contains(p) {
			v.height[k] = up.Dot(p)
		}
	}
	return v
}

func (v *voxels) center(k int) mesh.Vec {
	i, j, l := k%v.n[0], k/v.n[0]%v.n[1], k/(v.n[0]*v.n[1])
	return v.lo.Add(mesh.Vec{float64(i) + .5, float64(j) + .5, float64(l) + .5}.Scale(v.side))
}

// trapped is the volume of the air that stays when the vents are open.
func (v *voxels) trapped(vents []Opening) float64 {
	for k, h := range v.height {
		for _, o := range vents {
			p := v.center(k)
			if !math.IsNaN(h) && !o.Gate && math.Hypot(p[0]-o.At[0], p[1]-o.At[1]) < o.R && math.Abs(p[2]-o.At[2]) < 1.01*v.side {
				v.escape[k] = h
				stdheap.Push(v, k)
			}
		}
	}
	done := make([]bool, len(v.height))
	for len(v.queue) > 0 {
		k := stdheap.Pop(v).(int)
		if done[k] {
			continue
		}
		done[k] = true
		i, j, l := k%v.n[0], k/v.n[0]%v.n[1], k/(v.n[0]*v.n[1])
		for _, d := range [][3]int{{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}} {
			x, y, z := i+d[0], j+d[1], l+d[2]
			if x < 0 || y < 0 || z < 0 || x >= v.n[0] || y >= v.n[1] || z >= v.n[2] {
				continue
			}
			q := x + v.n[0]*(y+v.n[1]*z)
			if e := min(v.escape[k], v.height[q]); !math.IsNaN(v.height[q]) && e > v.escape[q] {
				v.escape[q] = e
				stdheap.Push(v, q)
			}
		}
	}
	sum := 0.0
	for k, h := range v.height {
		if !math.IsNaN(h) && h > v.escape[k] {
			sum += v.side * v.side * v.side * min(1, (h-v.escape[k])/v.side)
		}
	}
	return sum
}

// Leaning molds keep as much air as the cubes say, which know nothing of columns.
func TestAgainstPriorityFlood(t *testing.T) {
	if testing.Short() {
		t.Skip("millions of cubes")
	}
	for _, c := range []struct {
		name   string
		side   float64
		tilt   Tilt
		within float64
	}{
		{"kestrel", .5, Tilt{12, 70}, .1}, {"wren", .2, Tilt{15, 200}, .1},
	} {
		m, _ := moldtest.Checked(t, moldtest.Example(t, c.name))
		cavity := moldCavity(t, m, c.side/2)
		got := cavity.Traps(c.tilt).Volume
		want := voxelsOf(m, c.side, c.tilt.Up()).trapped(openings(m))
		t.Logf("%s tilted by %v: %.1f mm³, cubes of %g mm %.1f mm³ (%+.1f %%)", c.name, c.tilt, got, c.side, want, 100*(got/want-1))
		if math.Abs(got/want-1) > c.within {
			t.Errorf("%s: %g mm³, by cubes %g", c.name, got, want)
		}
	}
}
