package mold_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// thrown is a wheel as its job describes it, written down a second time: points are in or
// out by the keys' own words. Of the mold it takes only the cavity's radius and the height
// at which the hub sits.
type thrown struct {
	*params.Job
	r, z0 float64 // mm
}

// up turns a place that is counted from a back face into a height in the mold.
func (t *thrown) up(position, from, length float64) float64 {
	if t.Mold.FaceUp == "back" {
		position = length - position
	}
	return from + position
}

// surface is the tread's radius at a height, grooves aside.
func (t *thrown) surface(z float64) float64 {
	w, c := t.Wheel.Width, t.Wheel.Crown
	if c == 0 {
		return t.r
	}
	arc := (w*w/4 + c*c) / (2 * c)
	return t.r - arc + math.Sqrt(arc*arc-(z-w/2)*(z-w/2))
}

// rounded reports whether an edge of the tread takes a point off.
func (t *thrown) rounded(r, z float64) bool {
	w, e := t.Wheel.Width, t.Wheel.EdgeSize
	z = min(z, w-z)
	switch t.Wheel.Edge {
	case "chamfer":
		return z < e && r > t.surface(0)-e+z
	case "round":
		// The disc of the edge touches the face, and the surface from inside.
		in, touch := t.r-e, e
		if c := t.Wheel.Crown; c > 0 {
			arc := (w*w/4 + c*c) / (2 * c)
			in = t.r - arc + math.Sqrt((arc-e)*(arc-e)-(w/2-e)*(w/2-e))
			touch = w/2 - (w/2-e)*arc/(arc-e)
		}
		return z < touch && r > in && math.Hypot(r-in, z-e) > e
	}
	return false
}

// grooved reports whether a groove around a surface of radius s takes a point off.
func (t *thrown) grooved(g params.Groove, r, z, s, from, length float64) bool {
	d := math.Abs(z - t.up(g.Position, from, length))
	if d > g.Width/2 {
		return false
	}
	if g.Shape == "half-round" {
		return math.Hypot(r-s, d) < g.Width/2
	}
	return r > s-g.Depth
}

// tread reports whether a point lies inside the cavity's outline.
func (t *thrown) tread(r, angle, z float64) bool {
	w := t.Wheel.Width
	s := t.surface(z)
	if z < 0 || z > w || r > s || t.rounded(r, z) {
		return false
	}
	for _, g := range t.Wheel.Grooves {
		from := s
		if g.Shape != "half-round" {
			from = t.r // under a crown all floors are as far from the axis
		}
		if t.grooved(g, r, z, from, 0, w) {
			return false
		}
	}
	x := &t.Wheel.Cross
	if x.Count == 0 {
		return true
	}
	// Where around they begin does not matter to a volume.
	pitch := 2 * math.Pi / float64(x.Count)
	a := math.Remainder(angle, pitch)
	along, across := r*math.Cos(a), math.Abs(r*math.Sin(a))
	foot := t.r - x.Depth
	return along < foot || across > x.Width/2+(along-foot)*math.Tan(x.Flank*math.Pi/180)
}

// hub reports whether a point lies in the hub; its openings count as hub where they are
// closed to the rubber.
func (t *thrown) hub(r, angle, z float64, closed bool) bool {
	h := &t.Hub
	z -= t.z0
	if z < 0 || z > h.Length {
		return false
	}
	radius := h.BodyDiameter / 2
	if end := min(z, h.Length-z); end < h.FlangeThickness && h.FlangeDiameter > h.BodyDiameter {
		radius = h.FlangeDiameter / 2
	} else {
		for _, g := range h.Grooves {
			if t.grooved(g, r, z, radius, 0, h.Length) {
				return false
			}
		}
	}
	return r < radius && !t.locked(r, angle, z) && (closed || !t.opening(r, angle, z))
}

// locked reports whether a point lies in a lock hole.
func (t *thrown) locked(r, angle, z float64) bool {
	k := &t.Hub.LockHoles
	if k.Count == 0 {
		return false
	}
	a := math.Remainder(angle, 2*math.Pi/float64(k.Count))
	return r*math.Cos(a) > t.Hub.BodyDiameter/2-k.Depth && math.Hypot(r*math.Sin(a), z-t.up(k.Position, 0, t.Hub.Length)) < k.Diameter/2
}

// opening reports whether a point of the hub lies in its bore, pockets, seat or bolt holes.
func (t *thrown) opening(r, angle, z float64) bool {
	h := &t.Hub
	if r < h.Bore/2 {
		return true
	}
	if b := &h.Bolts; b.Count > 0 {
		pitch := 2 * math.Pi / float64(b.Count)
		a := math.Remainder(angle-pitch/2, pitch)
		if math.Hypot(r*math.Cos(a)-b.Circle/2, r*math.Sin(a)) < b.Hole/2 {
			return true
		}
	}
	for side, pocket := range map[string]params.Pocket{"back": h.BearingBack, "front": h.BearingFront} {
		in := z
		if side == t.Mold.FaceUp {
			in = h.Length - z
		}
		seat := 0.0
		if h.Seat.Side == side {
			seat = h.Seat.Depth
		}
		if in < seat && r < h.Seat.Diameter/2 || in < seat+pocket.Depth && r < pocket.Diameter/2 {
			return true
		}
	}
	return false
}

// count throws points evenly into a ring and returns the volume of what is in, with its
// standard error, mm³.
func count(inner, outer, z0, z1 float64, in func(r, angle, z float64) bool) (volume, err float64) {
	const n = 1_000_000
	rng := rand.New(rand.NewPCG(3, 1))
	hits := 0
	for range n {
		r := math.Sqrt(inner*inner + (outer*outer-inner*inner)*rng.Float64())
		if in(r, 2*math.Pi*rng.Float64(), z0+(z1-z0)*rng.Float64()) {
			hits++
		}
	}
	whole, p := math.Pi*(outer*outer-inner*inner)*(z1-z0), float64(hits)/n
	return whole * p, whole * math.Sqrt(p*(1-p)/n)
}

// Rubber and hub have the volumes that points thrown at random find, by the job's words
// alone, within four standard errors: some 0.3 % of them.
func TestThrownPoints(t *testing.T) {
	for _, c := range []struct {
		name string
		sets []string
	}{
		{"kestrel", nil}, {"kestrel", []string{"mold.face_up=back", "wheel.edge=chamfer", "wheel.edge_size=4mm"}}, {"albatross", []string{"mold.ceiling.shape=flat", "mold.ceiling.angle=0deg"}}, {"wren", nil},
		{"wren", []string{"wheel.edge=square", "wheel.cross.depth=1.5mm", "wheel.cross.flank=20deg"}},
	} {
		m, _ := moldtest.Checked(t, moldtest.Example(t, c.name, c.sets...))
		w := &thrown{m.Job, m.Tread.R, m.Core.Z0}
		const deepest = 0.5 // of the body's radius: no groove or lock hole goes deeper
		end := m.Core.EndR()
		rubber, e := count(deepest*w.Hub.BodyDiameter/2, w.r, 0, w.Wheel.Width, func(r, angle, z float64) bool {
			return w.tread(r, angle, z) && !w.hub(r, angle, z, true) && (r > end || z > w.z0 && z < w.z0+w.Hub.Length)
		})
		if want := m.RubberVolume() - m.TrimVolume(); math.Abs(rubber-want) > 4*e {
			t.Errorf("%s %v: rubber %.1f ± %.1f mm³ by points, %.1f in closed form", c.name, c.sets, rubber, e, want)
		} else {
			t.Logf("%s: rubber off by %.2f standard errors of %.3f %%", c.name, (rubber-want)/e, 100*e/want)
		}
		outer := max(w.Hub.BodyDiameter, w.Hub.FlangeDiameter) / 2
		body, e := count(0, outer, w.z0, w.z0+w.Hub.Length, func(r, angle, z float64) bool { return w.hub(r, angle, z, false) })
		if want := m.Core.Volume(); math.Abs(body-want) > 4*e {
			t.Errorf("%s %v: hub %.1f ± %.1f mm³ by points, %.1f in closed form", c.name, c.sets, body, e, want)
		}
	}
}
