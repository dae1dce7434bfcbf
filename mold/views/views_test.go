package views

import (
	"math"
	"strings"
	"sync/atomic"
	"testing"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/mold/moldtest"
)

// each calls f on the views of every piece of every split, with stock to lap.
func each(t *testing.T, f func(t *testing.T, m *mold.Mold, c *mold.Checked, p *mold.Piece, all []View)) {
	for _, s := range moldtest.Splits {
		for _, face := range []string{"front", "back"} {
			t.Run(s.Name+", "+face, func(t *testing.T) {
				t.Parallel()
				sets := append(s.Sets[:len(s.Sets):len(s.Sets)], "mold.mating.stock=0.25mm", "mold.face_up="+face, "hub.bolts.count=5", "hub.bolts.circle=80mm")
				m, c := moldtest.Checked(t, moldtest.Wheels[2].Job(t, sets...))
				for i := range m.Pieces {
					set, all := Of(m, &m.Pieces[i]), []View{}
					for _, v := range []View{set.Inside, set.Outside, set.Lower, set.Upper} {
						if v.Name != "" {
							all = append(all, v)
						}
					}
					f(t, m, c, &m.Pieces[i], all)
				}
			})
		}
	}
}

// No view is mirrored, each looks from where its name says, and all that a piece has count
// along the same X, Y and Z.
func TestViews(t *testing.T) {
	each(t, func(t *testing.T, m *mold.Mold, _ *mold.Checked, p *mold.Piece, all []View) {
		if want := map[mold.Kind]int{mold.Plate: 2, mold.Shell: 4, mold.Hub: 2}[p.Kind]; len(all) != want {
			t.Errorf("%s: %d views, want %d", p.Name, len(all), want)
		}
		from := map[string]mesh.Vec{
			"seen from inside": p.Pull.Scale(-1), "seen from inside, on the parting face": p.Pull.Scale(-1), "seen from outside": p.Pull,
			"lower end": {0, 0, -1}, "upper end": {0, 0, 1},
			"seen on the back": {0, 0, -1}, "seen on the front": {0, 0, 1},
		}
		if p.Kind == mold.Hub && m.Job.Mold.FaceUp == "back" {
			from["seen on the back"], from["seen on the front"] = from["seen on the front"], from["seen on the back"]
		}
		named := map[string]mesh.Vec{}
		for _, v := range all {
			u, w := v.Plane.U, v.Plane.V
			if math.Abs(u.Norm()-1) > 1e-12 || math.Abs(w.Norm()-1) > 1e-12 || math.Abs(u.Dot(w)) > 1e-12 {
				t.Errorf("%s, %s: %v", p.Name, v.Name, v.Plane)
			}
			if want, ok := from[v.Name]; !ok || v.Plane.W().Dist(want) > 1e-12 {
				t.Errorf("%s, %s: seen from %v, want %v", p.Name, v.Name, v.Plane.W(), want)
			}
			for i, d := range [2]mesh.Vec{u, w} {
				name, back := strings.CutPrefix(v.Axes[i], "-")
				if back {
					d = d.Scale(-1)
				}
				if is, known := named[name]; known && is.Dist(d) > 1e-12 {
					t.Errorf("%s: %s is %v and %v", p.Name, name, is, d)
				}
				named[name] = d
			}
		}
		if z, ok := named["Z"]; ok && z != axisZ {
			t.Errorf("%s: Z is %v", p.Name, z)
		}
	})
}

// What lies around the axis is measured from where it begins, as it leaves the machine.
func TestEnds(t *testing.T) {
	each(t, func(t *testing.T, m *mold.Mold, c *mold.Checked, p *mold.Piece, all []View) {
		if p.Kind != mold.Shell {
			return
		}
		low, high := math.Inf(1), math.Inf(-1)
		for _, v := range c.RawFaces[p.Name].Vertices {
			low, high = min(low, v[2]), max(high, v[2])
		}
		if l, h := Ends(m, p); math.Abs(l-low) > 1e-9 || math.Abs(h-high) > 1e-9 {
			t.Errorf("%s: ends at %v and %v, is between %v and %v", p.Name, l, h, low, high)
		}
		for _, v := range all {
			want := mesh.Vec{}
			if v.Plane.V == axisZ {
				want[2] = low
			}
			if v.Origin.Dist(want) > 1e-9 {
				t.Errorf("%s, %s: counts from %v, want %v", p.Name, v.Name, v.Origin, want)
			}
		}
	})
}

// The hub lies with a bolt hole straight above its axis.
func TestHubHasAHoleUp(t *testing.T) {
	each(t, func(t *testing.T, m *mold.Mold, c *mold.Checked, p *mold.Piece, all []View) {
		if p.Kind != mold.Hub {
			return
		}
		hs, err := holes.Of(m, p.Name, c.RawFaces[p.Name])
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range all {
			up := false
			for i := range hs {
				at := v.Plane.At(hs[i].At)
				up = up || hs[i].Role == hub.RoleKeepOut && math.Abs(at[0]) < 1e-4 && at[1] > 1
			}
			if !up {
				t.Errorf("%s: no bolt hole at the top", v.Name)
			}
		}
	})
}

// A plate stands as in the closed mold, but for a strap, whose bar stands upright: it is
// longest that way.
func TestPlatesStand(t *testing.T) {
	var straps atomic.Int32
	t.Cleanup(func() {
		if straps.Load() == 0 {
			t.Error("no strap was looked at")
		}
	})
	each(t, func(t *testing.T, m *mold.Mold, c *mold.Checked, p *mold.Piece, all []View) {
		if p.Kind != mold.Plate {
			return
		}
		strap := p.Name == "strap"
		if strap {
			straps.Add(1)
		}
		for _, v := range all {
			if upright := v.Plane.V == (mesh.Vec{0, 1, 0}); upright == strap {
				t.Errorf("%s, %s: %v is up", p.Name, v.Name, v.Plane.V)
			}
			var size [2]float64
			for _, x := range c.RawFaces[p.Name].Vertices {
				size[0], size[1] = max(size[0], math.Abs(x.Dot(v.Plane.U))), max(size[1], math.Abs(x.Dot(v.Plane.V)))
			}
			if strap && size[1] < 1.1*size[0] {
				t.Errorf("%s, %s: reaches %.1f mm upward, %.1f mm aside", p.Name, v.Name, size[1], size[0])
			}
		}
	})
}
