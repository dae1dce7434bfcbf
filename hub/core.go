// Package hub models the hub core: the hard part that stays in the wheel.
//
// It turns the job's hub into outlines and a solid in the mold's frame, and
// gives its volume in closed form. It trusts the job: params.Job.Validate
// decides what can exist.
package hub

import (
	"fmt"
	"math"
	"sort"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// Roles of the hub's faces.
const (
	RoleBond    = "bond surface" // what the rubber grips
	RoleKeepOut = "keep-out"     // bore, pockets, seat, bolt holes: no rubber
	RoleEnd     = "hub end face"
	RoleLock    = "lock hole" // filled by rubber on purpose
)

// Core is the hub in the mold's frame: axis +Z, every length in mm and on the
// lattice. Heights named From... count from its lower face at Z0.
type Core struct {
	Z0, Length     float64
	BodyR, FlangeR float64
	FlangeT        float64
	Grooves        []Groove // from the lowest up
	BoreR          float64
	Lower, Upper   End
	BoltCount      int
	BoltCircleR    float64
	BoltR          float64
	LockCount      int
	LockR          float64
	LockDepth      float64
	LockFrom       float64
}

// Groove is a retention groove of the bond surface.
type Groove struct {
	HalfRound    bool
	From         float64 // its middle
	Width, Depth float64
}

// End is what one end face is recessed by: a seat, and a bearing pocket at the
// seat's bottom. Radius 0 means there is none.
type End struct{ SeatR, SeatD, PocketR, PocketD float64 }

// Depth is how far the end's recesses reach into the hub.
func (e End) Depth() float64 { return e.SeatD + e.PocketD }

// New places the job's hub with its lower face at height z0. With the wheel's
// back up, the hub is turned over.
func New(j *params.Job, z0 float64) *Core {
	h := &j.Hub
	rd := solid.Round
	c := &Core{
		Z0: rd(z0), Length: rd(h.Length), BodyR: rd(h.BodyDiameter / 2), FlangeR: rd(h.FlangeDiameter / 2), FlangeT: rd(h.FlangeThickness),
		BoreR: rd(h.Bore / 2), BoltCount: h.Bolts.Count, BoltCircleR: rd(h.Bolts.Circle / 2), BoltR: rd(h.Bolts.Hole / 2),
		LockCount: h.LockHoles.Count, LockR: rd(h.LockHoles.Diameter / 2), LockDepth: rd(h.LockHoles.Depth), LockFrom: rd(h.LockHoles.Position),
	}
	if c.FlangeR <= c.BodyR || c.FlangeT <= 0 {
		c.FlangeR, c.FlangeT = c.BodyR, 0
	}
	end := func(p params.Pocket, side string) End {
		e := End{PocketR: rd(p.Diameter / 2), PocketD: rd(p.Depth)}
		if p.Diameter <= 0 {
			e.PocketR, e.PocketD = 0, 0
		}
		if h.Seat.Side == side && h.Seat.Diameter > 0 {
			e.SeatR, e.SeatD = rd(h.Seat.Diameter/2), rd(h.Seat.Depth)
		}
		return e
	}
	c.Lower, c.Upper = end(h.BearingBack, "back"), end(h.BearingFront, "front")
	for _, g := range h.Grooves {
		w, d := rd(g.Width), rd(g.Depth)
		if g.Shape == "half-round" {
			d = w / 2
		}
		c.Grooves = append(c.Grooves, Groove{g.Shape == "half-round", rd(g.Position), w, d})
	}
	if j.Mold.FaceUp == "back" {
		c.turnOver()
	}
	sort.Slice(c.Grooves, func(a, b int) bool { return c.Grooves[a].From < c.Grooves[b].From })
	return c
}

func (c *Core) turnOver() {
	c.Lower, c.Upper = c.Upper, c.Lower
	c.LockFrom = c.Length - c.LockFrom
	for i := range c.Grooves {
		c.Grooves[i].From = c.Length - c.Grooves[i].From
	}
}

// EndR is the outer radius of both end faces.
func (c *Core) EndR() float64 { return c.FlangeR }

// Z1 is the height of the upper face.
func (c *Core) Z1() float64 { return c.Z0 + c.Length }

// OpeningR is the radius within which an end face is open: the widest of bore,
// pocket or seat, and the bolt holes.
func (c *Core) OpeningR(e End) float64 {
	r := max(c.BoreR, e.PocketR, e.SeatR)
	if c.BoltCount > 0 {
		r = max(r, c.BoltCircleR+c.BoltR)
	}
	return r
}

// outside appends the outer surface from height lo to height hi (absolute), the
// end faces' radius carried on beyond the hub's own ends.
func (c *Core) outside(p solid.Profile, lo, hi float64) solid.Profile {
	e, b := c.EndR(), c.BodyR
	p = p.LineTo(e, lo).As(RoleBond)
	if c.FlangeT > 0 {
		p = p.LineTo(e, c.Z0+c.FlangeT).As(RoleBond).LineTo(b, c.Z0+c.FlangeT).As(RoleBond)
	}
	for _, g := range c.Grooves {
		m := c.Z0 + g.From
		z0, z1 := m-g.Width/2, m+g.Width/2
		if g.HalfRound {
			p = p.LineTo(b, z0).As(RoleBond).ArcTo(b, z1, b, m, false).As(RoleBond)
			continue
		}
		p = p.LineTo(b, z0).As(RoleBond).LineTo(b-g.Depth, z0).As(RoleBond).LineTo(b-g.Depth, z1).As(RoleBond).LineTo(b, z1).As(RoleBond)
	}
	if c.FlangeT > 0 {
		p = p.LineTo(b, c.Z1()-c.FlangeT).As(RoleBond).LineTo(e, c.Z1()-c.FlangeT).As(RoleBond)
	}
	return p.LineTo(e, hi)
}

// Column is the hub's outline filled to the axis and carried on, at the end
// faces' radius, to heights lo and hi: what the rubber cannot fill.
func (c *Core) Column(lo, hi float64) solid.Profile {
	p := c.outside(solid.Profile{}.LineTo(0, lo), lo, hi)
	return p.LineTo(0, hi)
}

// Outline is the hub's own outline, without bolt and lock holes.
func (c *Core) Outline() solid.Profile {
	z0, z1 := c.Z0, c.Z1()
	in := c.inside(c.Lower)
	var p solid.Profile
	// The lower end: recesses from the bore outward, then the end face.
	for _, s := range in {
		p = p.LineTo(s.P[0], z0+s.P[1]).As(RoleKeepOut)
	}
	p[len(p)-1].Role = RoleEnd
	p = c.outside(p, z0, z1)
	p[len(p)-1].Role = RoleEnd
	up := c.inside(c.Upper)
	for i := len(up) - 1; i >= 0; i-- {
		p = p.LineTo(up[i].P[0], z1-up[i].P[1]).As(RoleKeepOut)
	}
	return p
}

// inside lists the corners of an end's recesses, from the bore outward to the
// end face, as (radius, depth).
func (c *Core) inside(e End) solid.Profile {
	var p solid.Profile
	r, d := c.BoreR, e.Depth()
	p = p.LineTo(r, d)
	if e.PocketR > 0 {
		r, d = e.PocketR, e.SeatD
		p = p.LineTo(r, e.Depth()).LineTo(r, d)
	}
	if e.SeatR > 0 && e.SeatR > r {
		p = p.LineTo(e.SeatR, e.SeatD)
		r = e.SeatR
	}
	if d > 0 || e.SeatD > 0 {
		p = p.LineTo(r, 0)
	}
	return dropDoubles(p)
}

func dropDoubles(p solid.Profile) solid.Profile {
	out := p[:1]
	for _, c := range p[1:] {
		if c.P != out[len(out)-1].P {
			out = append(out, c)
		}
	}
	return out
}

// Solids are the hub's trees, all of one model.
type Solids struct {
	Hub   *solid.Node
	Locks []*solid.Node // the drills of the lock holes
}

// Build adds the hub to the model.
func (c *Core) Build(m *solid.Model) Solids {
	z := mesh.Vec{0, 0, 1}
	var s Solids
	var cut []*solid.Node
	for i := 0; i < c.BoltCount; i++ {
		p := Polar(c.BoltCircleR, 360*(float64(i)+.5)/float64(c.BoltCount))
		cut = append(cut, m.Cylinder(fmt.Sprintf("hub bolt hole %d", i+1), RoleKeepOut, p, z, c.BoltR, c.Z0-1, c.Z1()+1))
	}
	for i := 0; i < c.LockCount; i++ {
		a := LockAngle(i, c.LockCount)
		sn, cs := math.Sincos(a * math.Pi / 180)
		o := mesh.Vec{0, 0, c.Z0 + c.LockFrom}
		// The drill reaches past the flange, so that only its bottom lies in the hub.
		n := m.Cylinder(fmt.Sprintf("lock hole %d", i+1), RoleLock, o, mesh.Vec{cs, sn, 0}, c.LockR, c.BodyR-c.LockDepth, c.FlangeR+1)
		s.Locks = append(s.Locks, n)
	}
	body := m.Revolve("hub", RoleBond, solid.AxisFrame(mesh.Vec{}, z), c.Outline())
	s.Hub = solid.Minus(body, append(cut, s.Locks...)...)
	return s
}

// LockAngle is where lock hole i of n is drilled, degrees from +X: half a pitch
// off the bolt holes' first, so that few line up.
func LockAngle(i, n int) float64 { return 360 * float64(i) / float64(n) }

// Polar returns the lattice point at radius r and the given degrees.
func Polar(r, deg float64) mesh.Vec {
	sn, cs := math.Sincos(deg * math.Pi / 180)
	return mesh.Vec{solid.Round(r * cs), solid.Round(r * sn), 0}
}
