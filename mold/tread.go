package mold

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/integrate/quad"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold/cure"
	"wheelmold/params"
)

// Tread is the cavity that shapes the rubber, in the mold's frame: lower face
// at z = 0, upper face at z = Top. Lengths in mm, on the lattice where they
// place planes and cylinders.
type Tread struct {
	R, Top     float64 // outer radius in the middle, height of the cavity
	Width      float64 // of the wheel; above it lies the allowance to trim
	Edge       string
	EdgeSize   float64
	CrownR     float64 // radius of the crown's arc, 0: none
	Slope      float64 // of a drafted tread: how much its radius grows per height
	Grooves    []params.Groove
	Cross      params.CrossGrooves
	ribsOff    float64 // share of a pitch by which the first lies off +X
	Ceiling    float64 // rise of a coned ceiling at its ridge, 0: flat
	RidgeR     float64 // of the ceiling's ridge
	InnerR     float64 // hub end face: inner edge of the rubber's end faces
	LowerOuter float64 // outer radius of the lower face
	UpperOuter float64
}

// newTread sizes the cavity for the cured wheel (mold/cure, by mold.sizing). The
// rubber sits on the hub's body. Width, crown, edges and
// grooves are molded as the wheel has them.
func newTread(j *params.Job, core *hub.Core) *Tread {
	w := &j.Wheel
	rd := solid.Round
	const leastCrown = 0.01 // mm: a lower one is a cylinder to any maker
	width := rd(w.Width)
	if w.Crown >= leastCrown {
		width = 2 * rd(w.Width/2) // a crest on the lattice: a cup ends on it, not just beside it
	}
	t := &Tread{
		R: rd(cure.Sized(j, core.BodyR)), Top: width + rd(j.Mold.TopAllowance), Width: width,
		Edge: w.Edge, EdgeSize: rd(w.EdgeSize), Cross: w.Cross, InnerR: core.EndR(),
	}
	t.ribsOff = offParting(w.Cross.Count, j.Mold.Segments)
	if t.EdgeSize == 0 {
		t.Edge = "square"
	}
	if w.Crown >= leastCrown {
		h := t.Width / 2
		t.CrownR = (h*h + w.Crown*w.Crown) / (2 * w.Crown)
	}
	t.Slope = math.Tan(w.Draft * math.Pi / 180)
	for _, g := range w.Grooves {
		g.Position, g.Width, g.Depth = rd(g.Position), rd(g.Width), rd(g.Depth)
		if j.Mold.FaceUp == "back" {
			g.Position = width - g.Position
		}
		if g.Shape == "half-round" {
			g.Depth = g.Width / 2
		}
		t.Grooves = append(t.Grooves, g)
	}
	sort.Slice(t.Grooves, func(a, b int) bool { return t.Grooves[a].Position < t.Grooves[b].Position })
	o := t.outer()
	t.LowerOuter, t.UpperOuter = o[0].P[0], o[len(o)-1].P[0]
	t.clearFoot()
	if c := j.Mold.Ceiling; c.Shape == "coned" && c.Angle > 0 {
		t.RidgeR = rd(j.Mold.Vents.Circle / 2) // the air leaves at the highest circle
		t.RidgeR = max(t.RidgeR, t.InnerR+rd((t.UpperOuter-t.InnerR)/8))
		t.Ceiling = rd((t.UpperOuter - t.RidgeR) * math.Tan(c.Angle*math.Pi/180))
	}
	return t
}

// clearFoot deepens cross grooves whose flat bottom would just touch a round
// surface of the same depth, an edge or a groove around the tread, by far less
// than anyone can measure in rubber: a touch is neither cut nor meshed well.
func (t *Tread) clearFoot() {
	const apart = 0.02 // mm
	if t.Cross.Count == 0 {
		return
	}
	touches := func(d float64) bool {
		radii := []float64{t.LowerOuter, t.UpperOuter}
		for _, g := range t.Grooves {
			radii = append(radii, t.floor(g, g.Position-g.Width/2), t.floor(g, g.Position+g.Width/2))
		}
		return slices.ContainsFunc(radii, func(r float64) bool { return math.Abs(t.R-d-r) < apart })
	}
	for touches(t.Cross.Depth) {
		t.Cross.Depth += apart
	}
}

// SurfaceR is the radius of the tread surface in mm at height z, grooves and edges
// aside.
func (t *Tread) SurfaceR(z float64) float64 {
	d := min(z, t.Width) - t.Width/2
	if t.CrownR == 0 {
		return t.R + d*t.Slope
	}
	return t.R - t.CrownR + math.Sqrt(t.CrownR*t.CrownR-d*d)
}

// MaxR is the largest radius in mm that the cavity may reach below coats of a
// thickness: what stands around it keeps its distance from there. It leaves the edges
// out. Coats lie square to a cone.
func (t *Tread) MaxR(coats float64) float64 {
	if t.Slope == 0 {
		return t.R + coats
	}
	return solid.Round(t.SurfaceR(t.Width) + coats*math.Hypot(1, t.Slope))
}

// to appends the tread surface from the profile's last corner to height z.
func (t *Tread) to(p solid.Profile, z float64) solid.Profile {
	r := t.SurfaceR(z)
	if t.CrownR == 0 {
		return p.LineTo(r, z).As(RoleTread)
	}
	return p.ArcTo(r, z, t.R-t.CrownR, t.Width/2, true).As(RoleTread)
}

// edge is the outline of an edge from its end face to the tread surface, the
// heights measured from that face, for a surface that grows by slope away from it.
func (t *Tread) edge(slope float64) solid.Profile {
	e := t.EdgeSize
	at := func(h float64) float64 { // the surface at that height
		if t.CrownR > 0 {
			return t.SurfaceR(h)
		}
		return t.R + (h-t.Width/2)*slope
	}
	var p solid.Profile
	switch {
	case t.Edge == "round" && t.CrownR > 0:
		// The edge circle touches the face from above and the crown from inside:
		// its center lies CrownR - e from the crown's center.
		c := t.R - t.CrownR
		up := t.Width/2 - e
		r := c + math.Sqrt((t.CrownR-e)*(t.CrownR-e)-up*up)
		k := t.CrownR / (t.CrownR - e)
		x, z := c+(r-c)*k, t.Width/2-up*k
		return p.LineTo(r, 0).As(RoleTread).ArcTo(x, z, r, e, true).As(RoleTread)
	case t.Edge == "round":
		// The circle touches the cone where its radius is square to it.
		cs := 1 / math.Hypot(1, slope)
		z := e - e*slope*cs
		r := at(z) - e*cs
		return p.LineTo(r, 0).As(RoleTread).ArcTo(at(z), z, r, e, true).As(RoleTread)
	case t.Edge == "chamfer":
		r := at(e)
		return p.LineTo(r-e, 0).As(RoleTread).LineTo(r, e).As(RoleTread)
	}
	return p.LineTo(at(0), 0).As(RoleTread)
}

// outer is the outer surface from the lower face to the upper.
func (t *Tread) outer() solid.Profile {
	p := t.edge(t.Slope)
	for _, g := range t.Grooves {
		p = t.groove(p, g)
	}
	// The upper edge is that of a tread turned over, mirrored.
	up := t.edge(-t.Slope)
	last := up[len(up)-1].P
	p = t.to(p, t.Width-last[1])
	for i := len(up) - 2; i >= 0; i-- {
		q := up[i]
		if q.Arc {
			p = p.ArcTo(q.P[0], t.Width-q.P[1], q.C[0], t.Width-q.C[1], true)
		} else {
			p = p.LineTo(q.P[0], t.Width-q.P[1])
		}
		p = p.As(RoleTread)
	}
	if t.Top > t.Width { // the allowance, to be trimmed to the finished face
		p = p.LineTo(p[len(p)-1].P[0], t.Top).As(RoleTread)
	}
	return p
}

func (t *Tread) groove(p solid.Profile, g params.Groove) solid.Profile {
	z0, z1 := g.Position-g.Width/2, g.Position+g.Width/2
	p = t.to(p, z0)
	r0, r1 := t.SurfaceR(z0), t.SurfaceR(z1)
	if g.Shape != "half-round" {
		return p.LineTo(t.floor(g, z0), z0).As(RoleTread).LineTo(t.floor(g, z1), z1).As(RoleTread).LineTo(r1, z1).As(RoleTread)
	}
	// On a crown or cone the two rims differ: the half circle stands on their chord.
	return p.ArcTo(r1, z1, (r0+r1)/2, g.Position, false).As(RoleTread)
}

// floor is the radius of a groove's flat floor at height z: along a cone, and level
// under a crown.
func (t *Tread) floor(g params.Groove, z float64) float64 {
	if t.CrownR == 0 {
		return t.SurfaceR(z) - g.Depth
	}
	return t.R - g.Depth
}

// Cavity is the whole cavity, hub included, filled to the axis.
func (t *Tread) Cavity() solid.Profile {
	p := solid.Profile{}.LineTo(0, 0).As(RoleTreadFace)
	p = append(p, t.outer()...).As(RoleCeiling)
	if t.Ceiling > 0 {
		up := t.Top + t.Ceiling
		p = p.LineTo(t.RidgeR, up).As(RoleCeiling).LineTo(t.InnerR, up).As(RoleCeiling).LineTo(t.InnerR, t.Top).As(RoleCeiling)
	}
	return p.LineTo(0, t.Top)
}

// rib is the outline of one cross groove's rib in its own frame: x radial, y
// tangential. It reaches past the tread surface into the shell.
func (t *Tread) rib() solid.Profile {
	const past = 1.0 // mm
	s0, w := t.CrossFoot(), solid.Round(t.Cross.Width/2)
	s1 := t.MaxR(0) + past
	w1 := solid.Round(w + (s1-s0)*math.Tan(t.Cross.Flank*math.Pi/180))
	return solid.Poly(s0, -w, s1, -w1, s1, w1, s0, w)
}

// CrossFoot is the distance of the cross grooves' flat bottoms from the axis, mm.
func (t *Tread) CrossFoot() float64 { return t.R - solid.Round(t.Cross.Depth) }

// ribAngle is where cross groove i lies, degrees from +X.
func (t *Tread) ribAngle(i int) float64 {
	return 360 * (float64(i) + t.ribsOff) / float64(t.Cross.Count)
}

// offParting is the share of a pitch by which cross grooves begin off +X, so that none
// lies on a parting plane along the axis: half a pitch off that of two shells, a
// quarter where half would meet it on the far side, and as far as can be from those of
// three or four.
func offParting(count, segments int) float64 {
	if segments <= 2 {
		if count%2 == 1 {
			return .25
		}
		return .5
	}
	best, most := .5, 0.0
	for k := range 24 {
		off, least := float64(k)/24, 1.0
		for _, s := range sides("", segments) {
			pitches := s.From / 360 * float64(count)
			least = min(least, math.Abs(math.Remainder(pitches-off, 1)))
		}
		if least > most+1e-9 {
			best, most = off, least
		}
	}
	return best
}

// ribFrame is the frame of the rib's outline.
func (t *Tread) ribFrame(i int) solid.Frame {
	sn, cs := math.Sincos(t.ribAngle(i) * math.Pi / 180)
	return solid.Frame{X: mesh.Vec{cs, sn, 0}, Y: mesh.Vec{-sn, cs, 0}, Z: axisZ}
}

func (t *Tread) build(m *solid.Model) *solid.Node {
	n := m.Revolve("tread cavity", RoleTread, solid.AxisFrame(mesh.Vec{}, axisZ), t.Cavity())
	var ribs []*solid.Node
	for i := 0; i < t.Cross.Count; i++ {
		ribs = append(ribs, m.Extrude(fmt.Sprintf("cross groove %d", i+1), RoleTread, t.ribFrame(i), -1, t.Top+t.Ceiling+1, t.rib()))
	}
	return solid.Minus(n, ribs...)
}

// Volume is the cavity's volume in mm³, hub column included: Pappus-Guldin on
// the outline, less the ribs.
func (t *Tread) Volume() float64 {
	v := t.Cavity().RevolvedVolume()
	if t.Cross.Count > 0 {
		v -= float64(t.Cross.Count) * t.ribVolume()
	}
	return v
}

// ribVolume is the part of one rib inside the uncut cavity: the integral of the
// rib's section within radius r, taken over dz along the outline. The section
// has corners where r passes the rib's foot and its bottom corners; the panels
// end there.
func (t *Tread) ribVolume() float64 {
	foot, half, tan := t.ribSection()
	section := func(r float64) float64 { return ribArea(r, foot, half, tan) }
	breaks := []float64{foot, math.Hypot(foot, half)}
	v := 0.0
	for _, e := range t.Cavity().Elems() {
		at, cuts := elemPath(&e, breaks)
		for i := 0; i+1 < len(cuts); i++ {
			m, h := (cuts[i]+cuts[i+1])/2, (cuts[i+1]-cuts[i])/2
			v += quad.Fixed(func(phi float64) float64 {
				sn, cs := math.Sincos(phi)
				r, dz := at(m + h*sn)
				return section(r) * dz * h * cs
			}, -math.Pi/2, math.Pi/2, 64, nil, 0)
		}
	}
	return v
}

// ribSection returns the rib's foot radius, half width there and flank slope, as
// built (after rounding).
func (t *Tread) ribSection() (foot, half, slope float64) {
	p := t.rib()
	return p[0].P[0], p[3].P[1], (p[2].P[1] - p[3].P[1]) / (p[2].P[0] - p[3].P[0])
}

// ribArea is the area of {x >= foot, |y| <= half + (x-foot)·slope, x²+y² <= r²}.
func ribArea(r, foot, half, slope float64) float64 {
	if r <= foot {
		return 0
	}
	sq := func(x float64) float64 { return x * x }
	y := math.Sqrt(sq(r) - sq(foot))
	under := foot * y // of the lower limit of x, over 0..y
	if y > half {
		// The flank meets the circle at x = foot + q, y = half + q·slope.
		a, b, c := 1+sq(slope), foot+half*slope, sq(foot)+sq(half)-sq(r)
		q := (-b + math.Sqrt(b*b-a*c)) / a
		y = half + q*slope
		under = foot*y + q*(y-half)/2
	}
	return y*math.Sqrt(sq(r)-sq(y)) + sq(r)*math.Asin(y/r) - 2*under
}

// elemPath parametrizes a segment of the outline over [0, 1] by its radius and
// dz, and lists the parameters at which the radius equals one of the breaks.
func elemPath(e *solid.Elem, breaks []float64) (at func(float64) (r, dz float64), cuts []float64) {
	cuts = []float64{0, 1}
	add := func(x float64) {
		if x > 1e-12 && x < 1-1e-12 {
			cuts = append(cuts, x)
		}
	}
	if !e.Arc {
		dr, dz := e.B[0]-e.A[0], e.B[1]-e.A[1]
		for _, b := range breaks {
			if dr != 0 {
				add((b - e.A[0]) / dr)
			}
		}
		at = func(x float64) (float64, float64) { return e.A[0] + x*dr, dz }
	} else {
		t0, t1 := e.Angles()
		for _, b := range breaks {
			if k := (b - e.C[0]) / e.R; math.Abs(k) <= 1 {
				for _, a := range []float64{math.Acos(k), -math.Acos(k)} {
					add(solid.WrapAngle(a-t0) / (t1 - t0))
				}
			}
		}
		at = func(x float64) (float64, float64) {
			cs := math.Cos(t0 + x*(t1-t0))
			return e.C[0] + e.R*cs, e.R * cs * (t1 - t0)
		}
	}
	sort.Float64s(cuts)
	return at, cuts
}
