package service

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wheelmold/hub"
	"wheelmold/mold"
	"wheelmold/params"
)

// HubLoad is how the hub, and the rubber on it, stand what the wheel is asked to do.
type HubLoad struct {
	Bond     Bond
	Walls    []Wall    // the nearest to what it needs first
	Bearings []Bearing // in the hub's pockets; none without one
	Sprocket *Sprocket // nil without one
	Motion   Motion
	// Faults are what is worth a second look, each with the value to change.
	Faults params.Faults
}

// OfHub judges the hub of a mold's wheel. The masses of bare hub and trimmed rubber are
// in g, as the pour plan weighs them.
func OfHub(m *mold.Mold, hubMass, rubberMass float64) *HubLoad {
	h := &HubLoad{
		Bond:     bondOf(m),
		Walls:    wallsOf(m),
		Bearings: bearingsOf(m.Job),
		Motion:   motionOf(m, hubMass, rubberMass),
	}
	var faults params.Faults
	h.Sprocket, faults = sprocketOf(m.Job)
	h.Faults = slices.Concat(h.Bond.faults(m.Job), h.Motion.faults(m.Job), faults)
	return h
}

// Wall is the least thickness of hub between two features, or the room between a bolt's
// head and the wall of the seat that it lies in.
type Wall struct {
	Between, And string
	Path         string  // of the value that moves the first
	Least        float64 // mm
	Needed       float64 // mm
	Rule         string  // what Needed rests on
}

// Short tells whether the wall is below what it needs.
func (w *Wall) Short() bool { return w.Least < w.Needed-1e-6 }

// Rules that walls are held against.
const (
	RuleWall = "process.min_wall"
	RuleEdge = "bolt holes lie 1.5 diameters from an edge, counted from their centers: common practice, from memory"
	RuleHead = "room for a socket head, ISO 4762, of the largest screw that the hole takes: assumed"
)

// headRoom is what stays free between a bolt's head and a wall beside it, mm (assumed).
const headRoom = 0.5

// ring is a feature in the half plane through the axis: a box of radii and of heights
// above the hub's lower face, or a disc.
type ring struct {
	name, path     string
	r0, r1, z0, z1 float64
	round          bool
}

// gap is the thickness of material between two rings in mm, negative where they overlap.
func (p ring) gap(q ring) float64 {
	if q.round {
		p, q = q, p
	}
	if !p.round {
		return apart(max(q.r0-p.r1, p.r0-q.r1), max(q.z0-p.z1, p.z0-q.z1))
	}
	a, r, z := (p.z1-p.z0)/2, p.r1, (p.z0+p.z1)/2
	return apart(max(q.r0-r, r-q.r1), max(q.z0-z, z-q.z1)) - a
}

// apart joins the separations along two directions.
func apart(r, z float64) float64 {
	if r > 0 && z > 0 {
		return math.Hypot(r, z)
	}
	return max(r, z)
}

// wallsOf lists the least wall of each pair of neighbors.
func wallsOf(m *mold.Mold) []Wall {
	c := m.Core
	s := &survey{Core: c, wall: m.Job.Process.MinWall}
	s.lower, s.upper = "back", "front"
	if m.Job.Mold.FaceUp == "back" {
		s.lower, s.upper = s.upper, s.lower
	}
	s.web()
	s.outside()
	s.locks()
	s.bolts()
	slices.SortStableFunc(s.walls, func(a, b Wall) int { return cmp.Compare(a.Least/a.Needed, b.Least/b.Needed) })
	return s.walls
}

// survey collects a hub's walls.
type survey struct {
	*hub.Core
	wall         float64 // least that survives, mm
	lower, upper string  // the wheel's faces
	walls        []Wall
}

func (s *survey) add(a, b, path string, least, needed float64, rule string) {
	s.walls = append(s.walls, Wall{a, b, path, least, needed, rule})
}

// openings are bore, bearing pockets and seat.
func (s *survey) openings() []ring {
	out := []ring{{name: "bore", path: "hub.bore", r1: s.BoreR, z1: s.Length}}
	for _, x := range []struct {
		e    hub.End
		face string
		up   bool
	}{{s.Lower, s.lower, false}, {s.Upper, s.upper, true}} {
		put := func(name, path string, r, from, to float64) {
			if r <= 0 || to <= from {
				return
			}
			o := ring{name: name, path: path, r1: r, z0: from, z1: to}
			if x.up {
				o.z0, o.z1 = s.Length-to, s.Length-from
			}
			out = append(out, o)
		}
		put("seat", "hub.seat.diameter", x.e.SeatR, 0, x.e.SeatD)
		put("bearing pocket, "+x.face, "hub.bearing_"+x.face+".diameter", x.e.PocketR, x.e.SeatD, x.e.Depth())
	}
	return out
}

// web is what the recesses of both faces leave between them along the axis.
func (s *survey) web() {
	deep := func(e hub.End, face string) (name, path string) {
		if e.PocketR > 0 {
			return "bearing pocket, " + face, "hub.bearing_" + face + ".depth"
		}
		return "seat", "hub.seat.depth"
	}
	lo, up := s.Lower.Depth(), s.Upper.Depth()
	if lo <= 0 || up <= 0 {
		return
	}
	a, path := deep(s.Lower, s.lower)
	b, _ := deep(s.Upper, s.upper)
	s.add(a, b, path, s.Length-lo-up, s.wall, RuleWall)
}

// outside is what openings leave to the body and to the grooves' bottoms.
func (s *survey) outside() {
	for _, o := range s.openings() {
		least, from := s.BodyR-o.r1, "body"
		for i, g := range s.grooves() {
			if d := o.gap(g); d < least {
				least, from = d, fmt.Sprintf("groove %d from below", i+1)
			}
		}
		s.add(o.name, from, o.path, least, s.wall, RuleWall)
	}
}

// grooves are the retention grooves, from the lowest up.
func (s *survey) grooves() (out []ring) {
	for _, g := range s.Grooves {
		r := ring{name: "groove", path: "hub.groove.depth", r0: s.BodyR - g.Depth, r1: s.BodyR, z0: g.From - g.Width/2, z1: g.From + g.Width/2, round: g.HalfRound}
		out = append(out, r)
	}
	return out
}

// locks is what the lock holes leave to openings, bolt holes and each other.
func (s *survey) locks() {
	if s.LockCount == 0 {
		return
	}
	const path = "hub.lock_holes.depth"
	bottom := s.BodyR - s.LockDepth
	hole := ring{r0: bottom, r1: s.BodyR, z0: s.LockFrom - s.LockR, z1: s.LockFrom + s.LockR}
	for _, o := range s.openings() {
		s.add("lock holes", o.name, path, hole.gap(o), s.wall, RuleWall)
	}
	if s.LockCount > 1 {
		sn, cs := math.Sincos(math.Pi / float64(s.LockCount))
		s.add("lock holes", "each other", "hub.lock_holes.count", 2*(bottom*sn-s.LockR*cs), s.wall, RuleWall)
	}
	if s.BoltCount > 0 {
		s.add("lock holes", "bolt holes", path, s.locksToBolts(bottom), s.wall, RuleWall)
	}
}

// locksToBolts looks along the axis: a lock hole is a strip that ends at its bottom, a
// bolt hole a circle half a pitch off the first lock hole.
func (s *survey) locksToBolts(bottom float64) float64 {
	least := math.Inf(1)
	for i := range s.BoltCount {
		for k := range s.LockCount {
			turn := 2*math.Pi*(float64(i)+.5)/float64(s.BoltCount) - hub.LockAngle(k, s.LockCount)*math.Pi/180
			sn, cs := math.Sincos(turn)
			least = min(least, apart(bottom-s.BoltCircleR*cs, math.Abs(s.BoltCircleR*sn)-s.LockR)-s.BoltR)
		}
	}
	return least
}

// bolts is what the bolt holes leave to openings, outside and each other: a hole's edge
// lies half a diameter nearer than its center.
func (s *survey) bolts() {
	if s.BoltCount == 0 {
		return
	}
	const name, path = "bolt holes", "hub.bolts.circle"
	in, out, needed := s.BoltCircleR-s.BoltR, s.BoltCircleR+s.BoltR, max(2*s.BoltR, s.wall)
	for _, o := range s.openings() {
		if o.name == "seat" && out <= o.r1 {
			// The holes start in its bottom: beyond its wall the hub is solid.
			head := screwIn(2*s.BoltR).HeadDiameter / 2
			s.add("bolt heads", "the seat's wall", path, o.r1-s.BoltCircleR-head, headRoom, RuleHead)
			continue
		}
		s.add(name, o.name, path, in-o.r1, needed, RuleEdge)
	}
	least, to := s.BodyR-out, "body"
	for i, g := range s.grooves() {
		if d := g.r0 - out; d < least {
			least, to = d, fmt.Sprintf("groove %d from below", i+1)
		}
	}
	s.add(name, to, path, least, needed, RuleEdge)
	if s.BoltCount > 1 {
		s.add(name, "each other", "hub.bolts.count", 2*s.BoltCircleR*math.Sin(math.Pi/float64(s.BoltCount))-2*s.BoltR, needed, RuleEdge)
	}
}
