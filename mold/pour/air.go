package pour

import (
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/pour/rise"
	"wheelmold/params"
)

// Air is what a slowly rising urethane does with the air above it.
type Air struct {
	Cell  float64   // of the columns that the cavity was cut into, mm
	Tilt  rise.Tilt // how the mold stands
	Unmet []string  // channels that open nowhere: a rib is in their way
	// NoVents: air can leave by the sprues alone, against the stream.
	NoVents bool
	// OpenTop: nothing roofs the rubber. What rises to its surface leaves there, and what
	// pits stay go with the layer that is trimmed off. Traps lie below undercuts alone,
	// and neither a vent nor a tilt frees them.
	OpenTop bool
	Traps   []Trap  // the largest first
	Volume  float64 // of all traps
	Doubt   float64 // by how much columns twice as wide change Volume
	Lean    rise.Lean
	Spills  bool  // Lean is so far that the sprue runs over before the mold is full
	Tries   []Try // other molds, where there are traps
	Vents   []rise.Wetting
	Roof    Roof
	Inner   float64 // area of level roofs within the cavity: grooves, flanges, ribs
	InnerTo float64 // farthest that a bubble there has to walk to where it can rise on
}

// Trap is air that stays, and the vents that let it out.
type Trap struct {
	rise.Trap
	Cause string
	Drill rise.Drilling
}

// Try is the same job with other settings.
type Try struct {
	What   string
	Sets   []string
	Volume float64 // of the air that is trapped then, mm³
	Error  string  // why there is no such mold
}

// Roof is what of the cavity's upper face is level or nearly so: pits collect there.
// It has no area where the mold leans.
type Roof struct {
	rise.Ceiling
	Face    string  // of the wheel, which is up
	Level   bool    // no slope leads bubbles to the vents
	Covered float64 // area under hub.cover_diameter
	// Tilted is how much air in mm³ stays at the rim if the mold leans by Lean.Angle
	// up toward the vent farthest from the sprues.
	Lean   rise.Tilt
	Vent   string
	Tilted float64
	Coned  *Try    // the same mold with a coned ceiling; nil where it has one
	Layer  float64 // mass in g of a top allowance of AllowanceTried
}

// AllowanceTried is the height in mm of the layer that is proposed to be trimmed.
const AllowanceTried = 2.0

// leanTried is the tilt in degrees proposed for a level roof: a shim of 3.5 mm
// under a mold 100 mm wide.
const leanTried = 2.0

// Slopes in degrees of the coned ceiling that is proposed: half a degree is milled
// easily, but less than a layer of a print over the width of a small tread.
const cone, printedCone = 0.5, 3.0

// levelBelow is the slope in degrees below which a roof counts as level: a spirit
// level on a workbench holds about as much.
const levelBelow = 0.2

// leastTrap is the smallest pocket of air in mm³ that is told: a bubble of 2 mm.
const leastTrap = 4.0

// sliver is the share of the upper face that may be level before it is told.
const sliver = 0.05

// openings are where gates and vents meet the cavity, or the air all of its top.
func openings(m *mold.Mold) (out []rise.Opening) {
	l := m.Layout
	if m.Layout.OpenTop() {
		return []rise.Opening{{Name: "open top", At: mesh.Vec{0, 0, l.Top}, R: math.Inf(1)}}
	}
	for i, p := range l.Gates {
		out = append(out, rise.Opening{Name: fmt.Sprintf("sprue %d", i+1), At: p, R: l.GateR, Gate: true})
	}
	for i, p := range l.Vents {
		out = append(out, rise.Opening{Name: fmt.Sprintf("vent %d", i+1), At: p, R: l.VentR})
	}
	return out
}

// cavityOf is a mold's cavity in columns of a cell in mm; 0: as wide as usual.
func cavityOf(m *mold.Mold, cell float64) (*rise.Cavity, error) {
	return rise.New(m.Rubber, openings(m), rise.Settings{Cell: cell, Least: leastTrap})
}

// stanceOf is how the mold stands while it is poured.
func stanceOf(p *params.Pour) rise.Tilt { return rise.Tilt{Angle: p.Tilt, Toward: p.TiltToward} }

// airOf lets the urethane rise in the mold's cavity.
func airOf(m *mold.Mold, c *rise.Cavity) Air {
	stance := stanceOf(&m.Job.Pour)
	a := Air{Cell: c.Cell, Tilt: stance, Unmet: c.Unmet(), NoVents: len(m.Layout.Vents) == 0 && !m.Layout.OpenTop(), OpenTop: m.Layout.OpenTop()}
	var ceilings []rise.Ceiling
	var found rise.Air
	inparallel.Do(2, func(i int) {
		if i == 0 {
			found = c.Traps(stance)
			if !a.OpenTop {
				a.Vents = c.Wettings(stance)
			}
		} else {
			ceilings = c.Ceilings(stance)
		}
	})
	if !a.NoVents {
		a.trapped(m, c, found)
	}
	a.roofs(m, c, ceilings)
	return a
}

// trapped tells of each trap why, and what lets it out.
func (a *Air) trapped(m *mold.Mold, c *rise.Cavity, found rise.Air) {
	a.Volume = found.Volume
	if len(found.Traps) == 0 {
		return
	}
	free := func(at mesh.Vec) bool { return reachable(m, at) }
	a.Traps = make([]Trap, len(found.Traps))
	inparallel.Do(len(a.Traps), func(i int) {
		a.Traps[i] = Trap{Trap: found.Traps[i], Cause: cause(m, found.Traps[i].Top), Drill: rise.Drilling{Left: found.Traps[i].Volume}}
		if !a.OpenTop {
			a.Traps[i].Drill = c.Drill(found, i, m.Layout.VentR, free)
		}
	})
	if coarser, err := cavityOf(m, 2*c.Cell); err == nil {
		a.Doubt = math.Abs(coarser.Traps(a.Tilt).Volume - a.Volume)
	}
	if a.OpenTop {
		return
	}
	a.Lean = c.LeastTilt()
	a.Spills = a.Lean.Tilt.Angle > MostTilt(m, a.Lean.Tilt.Toward)
	if m.Tread.Ceiling > 0 {
		a.Tries = append(a.Tries, attempt(m.Job, "make the ceiling flat", c.Cell, func(j *params.Job) {
			j.Mold.Ceiling.Shape, j.Mold.Ceiling.Angle = "flat", 0
		}, "mold.ceiling.shape=flat", "mold.ceiling.angle=0deg"))
	}
}

// MostTilt is how far in degrees a mold can lean with the side at an azimuth raised,
// and still be filled to the roof there: the urethane rises no higher than it stands
// above the lowest sprue, in pour.funnel.
func MostTilt(m *mold.Mold, toward float64) float64 {
	l := m.Layout
	ay, ax := math.Sincos(toward * math.Pi / 180)
	reach := 0.0
	for _, g := range l.Gates {
		reach = max(reach, m.Tread.UpperOuter-g[0]*ax-g[1]*ay)
	}
	return math.Atan2(l.Ceil-m.Tread.Top+m.Job.Pour.Funnel, reach) * 180 / math.Pi
}

// attempt makes the mold of a changed job and lets the urethane rise in it.
func attempt(j *params.Job, what string, cell float64, change func(*params.Job), sets ...string) Try {
	t := Try{What: what, Sets: sets}
	other := *j
	change(&other)
	m, err := mold.New(&other)
	if err != nil {
		t.Error = err.Error()
		return t
	}
	c, err := cavityOf(m, cell)
	if err != nil {
		t.Error = err.Error()
		return t
	}
	t.Volume = c.Traps(stanceOf(&other.Pour)).Volume
	return t
}

// reachable: a bore straight up from here meets nothing but the lid, and keeps its
// walls from hub, rim, sprues and other vents.
func reachable(m *mold.Mold, at mesh.Vec) bool {
	l, t := m.Layout, m.Tread
	if at[2] < t.Top-1e-6 {
		return false
	}
	r, wall := math.Hypot(at[0], at[1]), m.Job.Mold.Wall
	if r-l.VentR < t.InnerR || r+l.VentR > t.UpperOuter {
		return false
	}
	if !parts(m, at, l.VentR+wall) {
		return false
	}
	clear := func(holes []mesh.Vec, radius float64) bool {
		return !slices.ContainsFunc(holes, func(h mesh.Vec) bool {
			return math.Hypot(h[0]-at[0], h[1]-at[1]) < radius+l.VentR+wall
		})
	}
	return clear(l.Gates, l.MouthR) && clear(l.Vents, l.VentR)
}

// parts tells whether a bore leaves with the pieces that it is in: through clam halves
// it lies on a parting plane, which halves it, or clear of it.
func parts(m *mold.Mold, at mesh.Vec, clear float64) bool {
	if m.Layout.Below != "" {
		return true
	}
	for i := range m.Layout.Partings {
		out := m.Layout.Partings[i].Outward()
		if away := math.Abs(at[0]*out[1] - at[1]*out[0]); away > 1e-6 && away < clear {
			return false
		}
	}
	return true
}

// cause names what roofs a trap's top.
func cause(m *mold.Mold, at mesh.Vec) string {
	const near = 0.05 // mm, for roofs that are met between columns
	h, t, r, z := m.Core, m.Tread, math.Hypot(at[0], at[1]), at[2]
	lid := "lid"
	if m.Layout.Above == "" {
		lid = "top of the halves"
	}
	switch {
	case z >= t.Top-near && t.Cross.Count > 0 && r > t.R-t.Cross.Depth-near:
		return "under the " + lid + ", in a lug between two cross grooves"
	case z >= t.Top-near && t.Ceiling > 0:
		return "under the coned " + lid
	case z >= t.Top-near:
		return "under the " + lid
	case z >= t.Top-t.EdgeSize-near && r > t.UpperOuter-near:
		return "in the upper edge of the tread"
	case h.FlangeT > 0 && r < h.FlangeR+near && math.Abs(z-(h.Z1()-h.FlangeT)) < near:
		return "under the hub's upper flange"
	case r < h.BodyR+near:
		return "in a retention groove or lock hole of the hub"
	}
	for _, g := range t.Grooves {
		if math.Abs(z-g.Position) < g.Width/2+near {
			return "under the rib that molds a groove of the tread"
		}
	}
	return "under an overhang of the cavity"
}

// roofs judges the level parts of the cavity's roof.
func (a *Air) roofs(m *mold.Mold, c *rise.Cavity, ceilings []rise.Ceiling) {
	for _, x := range ceilings {
		if a.OpenTop && x.Height >= m.Tread.Top-0.05 {
			continue // the open surface
		}
		if x.Height >= m.Tread.Top-0.05 {
			if x.Area > a.Roof.Area {
				a.Roof.Ceiling = x
			}
			continue
		}
		a.Inner += x.Area
		a.InnerTo = max(a.InnerTo, x.Farthest)
	}
	r := &a.Roof
	inner, outer := m.Tread.InnerR, m.Tread.UpperOuter
	if r.Area < sliver*math.Pi*(outer*outer-inner*inner) {
		*r = Roof{}
		return
	}
	r.Face, r.Level = m.Job.Mold.FaceUp, r.Slope < levelBelow
	if cover := m.Job.Hub.CoverDiameter / 2; cover > 0 {
		share := (cover*cover - inner*inner) / (outer*outer - inner*inner)
		r.Covered = r.Area * min(max(share, 0), 1)
	}
	r.Layer = grams(r.Area*AllowanceTried, &m.Job.Pour)
	if !r.Level || a.NoVents {
		return
	}
	if at, name, ok := farthestVent(m.Layout); ok {
		r.Lean, r.Vent = rise.Tilt{Angle: leanTried, Toward: math.Atan2(at[1], at[0]) * 180 / math.Pi}, name
		r.Tilted = c.Traps(r.Lean).Volume
	}
	if m.Tread.Ceiling > 0 {
		return // what is level lies inside the vents' circle
	}
	angle := cone
	if m.Job.Printed() {
		angle = printedCone
	}
	coned := attempt(m.Job, fmt.Sprintf("cone the ceiling by %g degrees", angle), c.Cell, func(j *params.Job) {
		j.Mold.Ceiling.Shape, j.Mold.Ceiling.Angle = "coned", angle
	}, "mold.ceiling.shape=coned", fmt.Sprintf("mold.ceiling.angle=%gdeg", angle))
	r.Coned = &coned
}

// farthestVent is the vent farthest from all sprues.
func farthestVent(l *mold.Layout) (at mesh.Vec, name string, ok bool) {
	most := -1.0
	for i, v := range l.Vents {
		d := math.Inf(1)
		for _, g := range l.Gates {
			d = min(d, v.Dist(g))
		}
		if d > most+1e-9 {
			at, name, most, ok = v, fmt.Sprintf("vent %d", i+1), d, true
		}
	}
	return at, name, ok
}
