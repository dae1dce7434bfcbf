package params

import (
	"fmt"
	"math"
	"slices"
)

// Validate judges a resolved job, also one made in code: every value against
// its range, and whether the features can exist together. All faults are
// reported at once, but not what merely follows from one: a value out of its
// range is replaced by its default before the features are judged, and of
// clashes that share a value at fault the first is reported. Without a sound
// diameter, width and bore only ranges are judged.
func (j *Job) Validate() Faults {
	sane, faults, _ := resolve(j.values())
	if !sound(sane) {
		return faults
	}
	return faults.withRoots(sane.clashes())
}

// withRoots appends the clashes that do not follow from a fault before them: no
// value that takes part in them is at fault already, save by a clash on the same
// value, which another rule may limit more.
func (fs Faults) withRoots(clashes Faults) Faults {
	ranged := fs
	for _, f := range clashes {
		if !ranged.names(f.Path) && !slices.ContainsFunc(f.With, fs.names) {
			fs = append(fs, f)
		}
	}
	return fs
}

// judge collects the clashes of a job whose values are all within their ranges.
type judge struct {
	*Job
	wall   float64 // least wall that survives, Process.MinWall
	faults Faults
}

func (j *Job) clashes() Faults {
	c := &judge{Job: j, wall: j.Process.MinWall}
	c.judgeProcess()
	c.judgeDraft()
	c.judgeTread()
	c.judgeCrossGrooves()
	c.judgeOffset()
	c.judgeBody()
	c.judgeRecesses()
	c.judgeRetention()
	c.judgeBoltCircle()
	c.judgeLockHoles()
	c.judgeRubber()
	c.judgeStack()
	c.judgeSplit()
	c.judgeRegister("back", &j.Mold.RegisterBack)
	c.judgeRegister("front", &j.Mold.RegisterFront)
	c.judgePlates()
	c.judgeBalls()
	c.judgeCutters()
	c.judgeFits()
	c.judgeSideClamp()
	c.judgePour()
	c.judgeTimes()
	c.judgeCure()
	c.judgeBlend()
	c.judgeHoles()
	return c.faults
}

// refuse records a clash; with names the other values that take part in it.
func (c *judge) refuse(path, allowed, cause string, with ...string) {
	if slices.ContainsFunc(c.faults, func(f Fault) bool { return f.Path == path && f.Allowed == allowed && f.Cause == cause }) {
		return // both sides of a hub say the same
	}
	c.faults = append(c.faults, Fault{Path: path, Value: c.show(path), Allowed: allowed, Cause: cause, With: with})
}

// show formats the value at a path, which may number a groove.
func (j *Job) show(path string) string {
	plain, i, _ := splitIndex(path)
	k, ok := keyAt(plain)
	if !ok || i >= k.len(j) || k.Kind == Tables {
		return ""
	}
	v := k.get(j, i)
	if v, number := v.(float64); number {
		return k.Kind.legibly(v)
	}
	return k.format(v)
}

func mm(v float64) string      { return Format(Length, readable(v)) }
func upTo(v float64) string    { return limit("up to ", v) }
func atLeast(v float64) string { return "at least " + mm(v) }

// limit says so where no positive value would do.
func limit(words string, v float64) string {
	if v < 0.001 {
		return "none here"
	}
	return words + mm(math.Floor(v*1e4+1e-4)/1e4) // never more than is allowed
}

// part is a section of a hub feature in the half plane (r, z): r from the axis,
// z from the hub's back face. Round parts are discs inscribed in their box.
type part struct {
	name           string
	path           string
	r0, r1, z0, z1 float64
	round          bool
}

// nearestOf returns the part with the least gap to p, and that gap.
func (p part) nearestOf(others []part, gap func(p, q part) float64) (nearest part, least float64) {
	least = math.Inf(1)
	for _, q := range others {
		if g := gap(p, q); g < least {
			nearest, least = q, g
		}
	}
	return nearest, least
}

// gap is the thickness of material between two parts; negative where they
// overlap. At most one of them is round.
func (p part) gap(q part) float64 {
	if q.round {
		p, q = q, p
	}
	if !p.round {
		return boxGap(max(q.r0-p.r1, p.r0-q.r1), max(q.z0-p.z1, p.z0-q.z1))
	}
	r, z, radius := (p.r0+p.r1)/2, (p.z0+p.z1)/2, (p.z1-p.z0)/2
	return boxGap(max(q.r0-r, r-q.r1), max(q.z0-z, z-q.z1)) - radius
}

// boxGap joins the separations along two axes.
func boxGap(r, z float64) float64 {
	if r > 0 && z > 0 {
		return math.Hypot(r, z)
	}
	return max(r, z)
}

// keepOuts are the hub's openings that must stay free of rubber, without its
// bolt holes.
func (h *Hub) keepOuts() []part {
	parts := []part{{name: "the bore", path: "hub.bore", r1: h.Bore / 2, z1: h.Length}}
	for _, side := range []string{"back", "front"} {
		for _, name := range []string{"bearing", "seat"} {
			o := h.opening(side, name)
			if o.diameter <= 0 || o.to <= o.from {
				continue
			}
			p := part{r1: o.diameter / 2, z0: o.from, z1: o.to}
			if side == "front" {
				p.z0, p.z1 = h.Length-o.to, h.Length-o.from
			}
			if name == "seat" {
				p.name, p.path = "the sprocket's seat", "hub.seat.diameter"
			} else {
				p.name, p.path = "the bearing pocket in the "+side+" face", "hub.bearing_"+side+".diameter"
			}
			parts = append(parts, p)
		}
	}
	return parts
}

// boltRing is where the bolt holes pass the half plane.
func (h *Hub) boltRing() (part, bool) {
	b := h.Bolts
	p := part{name: "the bolt holes", path: "hub.bolts.circle", r0: (b.Circle - b.Hole) / 2, r1: (b.Circle + b.Hole) / 2, z1: h.Length}
	return p, b.Count > 0
}

// groovePart is a retention groove in the half plane.
func (h *Hub) groovePart(i int) part {
	g, r := h.Grooves[i], h.BodyDiameter/2
	p := part{path: fmt.Sprintf("hub.groove[%d].depth", i+1), r0: r - g.Depth, r1: r, z0: g.Position - g.Width/2, z1: g.Position + g.Width/2}
	if g.Shape == "half-round" {
		p.round, p.r0, p.r1 = true, r-g.Width/2, r+g.Width/2
	}
	return p
}
