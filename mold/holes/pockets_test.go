package holes_test

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/mold/moldtest"
)

func pockets(t *testing.T, m *mold.Mold, c *mold.Checked, piece string) []holes.Pocket {
	t.Helper()
	got, err := holes.Pockets(m, piece, c.RawFaces[piece])
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// near: heights and widths lie on the lattice, one by one.
func near(a, b float64) bool { return math.Abs(a-b) < 2e-4 }

// Every pry slot of the layout has a share in two pieces, each half as high as the slot
// and what is lapped off; a nut's hexagon and a mark are as the job asks; and a point in
// the middle of each is empty, one below it is not.
func TestPocketsAreTheLayouts(t *testing.T) {
	for _, j := range jobs(t) {
		t.Run(j.Name, func(t *testing.T) {
			m, c := moldtest.Checked(t, j)
			slots, marks := map[string]int{}, 0
			for _, p := range m.Pieces {
				stock := 0.0
				if p.Raw != p.Root {
					stock = j.Mold.Mating.Stock
				}
				nuts := 0
				for _, q := range pockets(t, m, c, p.Name) {
					switch q.Role {
					case mold.RolePry:
						slots[q.Name]++
						if !near(q.Width, j.Mold.PrySlots.Height/2+stock) {
							t.Errorf("%s: %s is %.4f high, want half of %g and %g", p.Name, q.Name, q.Width, j.Mold.PrySlots.Height, stock)
						}
						checkEmpty(t, &p, &q)
					case mold.RoleMark:
						marks++
						if !near(q.Depth, j.Mold.Engraving.Depth) {
							t.Errorf("%s: mark %.4f deep", p.Name, q.Depth)
						}
					case mold.RoleBolt:
						nuts++
						b := m.Layout.Bolts[0]
						corners := 2 * ((b.NutR-q.Corner)*2/math.Sqrt(3) + q.Corner)
						if !near(q.Width, 2*b.NutR) || !near(q.Length, corners) || !near(q.Depth, b.NutD) {
							t.Errorf("%s: %+v, want a hexagon %.3f across flats, %.3f deep", p.Name, q, 2*b.NutR, b.NutD)
						}
						checkEmpty(t, &p, &q)
					}
				}
				if hex := len(m.Layout.Bolts) > 0 && m.Layout.Bolts[0].NutHex; hex && p.Kind == mold.Plate && p.Pull[2] < 0 && nuts != len(m.Layout.Bolts) {
					t.Errorf("%s: %d hexagons for %d bolts", p.Name, nuts, len(m.Layout.Bolts))
				}
			}
			for name, n := range slotShares(m) {
				if slots[name] != n {
					t.Errorf("%s is in %d pieces, want %d", name, slots[name], n)
				}
			}
			if marks > len(m.Pieces)-1 || marks < 1 && len(m.Warnings) == 0 {
				t.Errorf("%d marks on %d pieces", marks, len(m.Pieces)-1)
			}
		})
	}
}

// slotShares counts the pieces with material behind the inner end of each pry slot, by
// points there.
func slotShares(m *mold.Mold) map[string]int {
	out := map[string]int{}
	for _, s := range m.Layout.Slots {
		axis, sense := s.Outward()
		f := solid.AxisFrame(mesh.Vec{}, mesh.Vec{0, 0, 1})
		sn, cs := math.Sincos(s.Turned * math.Pi / 180)
		f.X, f.Y = mesh.Vec{cs, sn, 0}, mesh.Vec{-sn, cs, 0}
		for _, p := range m.Pieces {
			for k := range 64 {
				q := s.Lo.Add(s.Hi).Scale(.5)
				a, b := (axis+1)%3, (axis+2)%3
				q[a] = s.Lo[a] + (s.Hi[a]-s.Lo[a])*(float64(k%8)+.5)/8
				q[b] = s.Lo[b] + (s.Hi[b]-s.Lo[b])*(float64(k/8)+.5)/8
				if q[axis] = s.Lo[axis] - .01; sense < 0 {
					q[axis] = s.Hi[axis] + .01
				}
				if p.Raw.Contains(f.Global(q)) {
					out[s.Name]++
					break
				}
			}
		}
	}
	return out
}

// checkEmpty looks a little above and below a pocket's floor in its middle.
func checkEmpty(t *testing.T, p *mold.Piece, q *holes.Pocket) {
	t.Helper()
	across := q.Dir.Cross(q.Along)
	for _, at := range []mesh.Vec{ // off the round corners, or beside a bolt's hole
		q.At.AddScaled(.4*q.Length, q.Along), q.At.AddScaled(-.4*q.Length, q.Along), q.At.AddScaled(.45*q.Width, across),
	} {
		if !p.Raw.Contains(at.AddScaled(q.Depth-.01, q.Dir)) && p.Raw.Contains(at.AddScaled(q.Depth+.01, q.Dir)) {
			return
		}
	}
	t.Errorf("%s: the floor of %s is not %.3f deep", p.Name, q.Name, q.Depth)
}

// A wheel whose hub stands out of the tread at both ends has a round recess for it in
// both plates, as deep as it stands out; a strap's groove runs around.
func TestRoundPockets(t *testing.T) {
	j := moldtest.Wheels[1].Job(t, "hub.length=31mm", "hub.offset=-3mm", "mold.side_clamp.kind=strap", "mold.base_thickness=14mm", "mold.lid_thickness=14mm")
	m, c := moldtest.Checked(t, j)
	for _, w := range []struct {
		piece  string
		z, dir float64
		depth  float64
	}{{"base", 0, -1, -m.Layout.LandLow}, {"lid", m.Layout.Top, 1, m.Layout.LandTop - m.Layout.Top}} {
		found := false
		for _, q := range pockets(t, m, c, w.piece) {
			if q.Role != mold.RoleLand {
				continue
			}
			found = true
			if q.At.Dist(mesh.Vec{0, 0, w.z}) > 1e-6 || q.Dir.Dist(mesh.Vec{0, 0, w.dir}) > 1e-9 || !near(q.Depth, w.depth) || q.Diameter < 2*m.Core.EndR() {
				t.Errorf("%s: %+v, want one %.3f deep from %.3f", w.piece, q, w.depth, w.z)
			}
		}
		if !found {
			t.Errorf("%s has no recess for the hub", w.piece)
		}
	}
	n := 0
	for _, q := range pockets(t, m, c, "shell-a") {
		if s := m.Layout.Strap; q.Role == mold.RoleStrap {
			n++
			if !near(q.Depth, s.Depth) || !near(q.Width, s.Z1-s.Z0) {
				t.Errorf("%+v, want %+v", q, *s)
			}
		}
	}
	if n != 1 {
		t.Errorf("%d strap grooves", n)
	}
}
