package flash

import (
	"math"
	"strings"

	"wheelmold/mold"
	"wheelmold/params"
)

// Change is something that may make a parting line better, as it was tried.
type Change struct {
	What  string   // in words, as an order
	Sets  []string // key=value of the job that say so; none where it is work at the bench
	Mass  float64  // g of flash and leak that half of the draws stay below, then
	Grade Grade
}

// trial changes the conditions for one line; it reports what it did and the
// settings that say so, and false where there is nothing to do.
type trial func(c *conditions, s *site) (what string, sets []string, ok bool)

// atBench are the changes at the bench, the cheapest first. A lower head is among
// them: it takes no new mold.
var atBench = []trial{clean, lap, lapPlate, seal("wiped"), seal("grease"), seal("wax"), seal("tape"), seal("cord"), torque, moreBolts, lowerHead}

// inGeometry need a new mold; they are tried where the bench does not help.
var inGeometry = []trial{thickerPlate, widerLand}

func clean(c *conditions, s *site) (string, []string, bool) {
	d := &c.job.Mold.Mating.Dirt
	was := *d
	*d = 0
	return "scrape and wipe both faces just before closing", []string{"mold.mating.dirt=0mm"}, was > 0 && c.feeler(s) == 0
}

// lappedRoughness in mm: Ra of a face lapped on fine abrasive (assumed).
const lappedRoughness = 0.001

// lap flattens the faces that lie flat on a plate: the shells', and the hub's.
func lap(c *conditions, s *site) (string, []string, bool) {
	m := &c.job.Mold.Mating
	switch {
	case s.at == atHub:
		return flatten(c, "face or lap the hub's ends, and measure its length again", "hub.", &c.job.Hub.Flatness, &c.job.Hub.Roughness)
	case c.feeler(s) > 0:
		return "", nil, false
	}
	what := "lap all mating faces of the shells (ends bolted together, before the balls are glued in) on abrasive over a flat plate, and measure their height again"
	switch l := c.geometry.layout; {
	case c.geometry.cup():
		what = "lap the cup's rim (before the balls are glued in) on abrasive over a flat plate, and measure its depth again"
	case l.Below == "":
		what = "lap the halves' mating faces (before the balls are glued in) on abrasive over a flat plate, by no more than it takes"
	}
	return flatten(c, what, "mold.mating.shells_", &m.ShellsFlatness, &m.ShellsRoughness)
}

// lapPlate does so with base and lid as well, whose registers stand in the way. What the
// hub lies on within a cup, or in clam halves, is out of reach.
func lapPlate(c *conditions, s *site) (string, []string, bool) {
	l := c.geometry.layout
	if s.at == atSides || c.feeler(s) > 0 || s.at == atHub && l.LineLow() == "" {
		return "", nil, false
	}
	_, sets, _ := lap(c, s)
	m := &c.job.Mold.Mating
	plates := l.Below + " and " + l.Above + " on a plate with a hole for the register"
	what := "lap all mating faces of the shells, and " + plates
	switch {
	case s.at == atHub:
		what = "face or lap the hub's ends, and " + plates
	case c.geometry.cup():
		what = "lap the cup's rim, and the lid on a plate with a hole for the register"
	}
	_, more, ok := flatten(c, what, "mold.mating.plates_", &m.PlatesFlatness, &m.PlatesRoughness)
	return what, append(sets, more...), ok
}

// flatten brings a face to what lapping reaches; prefix is that of its keys.
func flatten(c *conditions, what, prefix string, flatness, roughness *float64) (string, []string, bool) {
	flat := c.job.Process.LappedFlatness
	if *flatness <= flat {
		return "", nil, false
	}
	*flatness, *roughness = flat, min(*roughness, lappedRoughness)
	return what, []string{set(prefix+"flatness", params.Length, *flatness), set(prefix+"roughness", params.Length, *roughness)}, true
}

// seal tries another seal. Grease and wax are not for a line at the hub: they
// would creep onto the surface that the rubber must bond to.
func seal(name string) trial {
	return func(c *conditions, s *site) (string, []string, bool) {
		at := s.sealIn(&c.job.Mold)
		fills := name == "grease" || name == "wax"
		switch {
		case s.gapped() || *at == name || s.at == atHub && (fills || name == "tape"):
			return "", nil, false
		case name == "wiped" && *at != "dry", name == "tape" && *at == "clay", name == "grease" && *at == "wax":
			return "", nil, false
		}
		*at = name
		return sealWords[name], []string{s.sealKey() + "=" + name}, true
	}
}

var sealWords = map[string]string{
	"wiped":  "wipe the faces with mold release",
	"grease": "fill the joint with grease, clear of the hub's bond surface",
	"wax":    "fill the joint with paste wax, clear of the hub's bond surface",
	"tape":   "tape the joint around the outside",
	"cord":   "lay a cord in a groove around the cavity",
}

// torque tries all that head and thread stand.
func torque(c *conditions, s *site) (string, []string, bool) {
	b, key := &c.job.Mold.Bolts.Torque, "mold.bolts.torque"
	size := c.job.Mold.Bolts.Size
	switch s.at {
	case atHub:
		return "", nil, false
	case atSides:
		b, key, size = &c.job.Mold.SideClamp.Torque, "mold.side_clamp.torque", c.job.Mold.SideClamp.Size
	}
	f, ok := params.FastenerOf(size)
	if !ok || *b <= 0 {
		return "", nil, false
	}
	most := math.Floor(f.Torque(f.MostTension(c.job.Mold.Bolts.Fit, c.job.Process.Bearing))*10) / 10
	if most <= *b*1.05 {
		return "", nil, false
	}
	*b = most
	return "tighten the bolts to " + params.Format(params.Torque, most), []string{set(key, params.Torque, most)}, true
}

func moreBolts(c *conditions, s *site) (string, []string, bool) {
	if s.at == atHub || c.force(s) == 0 {
		return "", nil, false
	}
	c.bolts *= 2
	return "clamp between the bolts, so that clamps stand half as far apart", nil, true
}

func lowerHead(c *conditions, s *site) (string, []string, bool) {
	f := &c.job.Pour.Fill
	if *f < 4 {
		return "", nil, false
	}
	*f = math.Ceil(*f / 2)
	return "fill the sprue only half, and top up when it has thickened", []string{set("pour.fill", params.Length, *f)}, true
}

func thickerPlate(c *conditions, s *site) (string, []string, bool) {
	switch s.at {
	case atBase:
		t := &c.job.Mold.BaseThickness
		*t = math.Ceil(*t * 1.5)
		return "make the base thicker", []string{set("mold.base_thickness", params.Length, *t)}, true
	case atLid:
		t := &c.job.Mold.LidThickness
		*t = math.Ceil(*t * 1.5)
		return "make the lid thicker", []string{set("mold.lid_thickness", params.Length, *t)}, true
	}
	return "", nil, false
}

func widerLand(c *conditions, s *site) (string, []string, bool) {
	if s.at == atHub {
		return "", nil, false
	}
	l := &c.job.Mold.Land
	*l = math.Ceil(*l * 1.5)
	return "make the land wider", []string{set("mold.land", params.Length, *l)}, true
}

func set(key string, kind params.Kind, v float64) string {
	return key + "=" + strings.ReplaceAll(params.Format(kind, v), " ", "")
}

// tryChanges finds, for every line that is not tight, the first change in the
// order of the bench that lowers its grade. The draws are those of the estimate,
// so that nothing but the change makes the difference.
func (c *conditions) tryChanges(e *Estimate, d *drawn) {
	for i := range e.Lines {
		l, s := &e.Lines[i], c.geometry.sites[i]
		if l.Grade == Tight {
			continue
		}
		draws := d.of(i)
		for _, t := range atBench {
			n := *c
			what, sets, ok := t(&n, s)
			if !ok {
				continue
			}
			n.stack = stackOf(n.geometry, &n.job)
			l.add(Change{What: what, Sets: sets, Mass: medianMass(n.casts(s, draws))}, e.Poured)
		}
	}
	c.tryGeometry(e, d)
}

// worthwhile is the part of a line's mass that a change must take away to be
// proposed: less is lost in what nobody knows.
const worthwhile = 0.3

// add files a change that was tried; the first that lowers the grade, and the mass
// by something that shows, is the one to make.
func (l *Line) add(x Change, poured float64) {
	x.Grade = gradeOf(x.Mass, poured)
	l.Tried = append(l.Tried, x)
	if l.Change == nil && x.Grade < l.Grade && x.Mass <= (1-worthwhile)*l.Mass {
		l.Change = &x
	}
}

// pickBest finds a change that helps more than the first: of those with the best
// grade the first.
func (l *Line) pickBest() {
	if l.Change == nil {
		return
	}
	best := l.Change
	for i := range l.Tried {
		if x := &l.Tried[i]; x.Grade < best.Grade {
			best = x
		}
	}
	if best != l.Change {
		l.Best = best
	}
}

// tryGeometry lays out and reads another mold for each change that the bench
// could not bring about. A mold that cannot be made is no remedy.
func (c *conditions) tryGeometry(e *Estimate, d *drawn) {
	type tried struct {
		job  params.Job
		cond *conditions
	}
	var molds []tried
	laidOut := func(n *conditions) *conditions {
		for _, t := range molds {
			if sameJob(&t.job, &n.job) {
				return t.cond
			}
		}
		var fresh *conditions
		if m, err := mold.New(&n.job); err == nil {
			if checked, err := m.Check(); err == nil {
				fresh = newConditions(survey(m, checked.Faces), &n.job)
				fresh.wet(d)
			}
		}
		molds = append(molds, tried{n.job, fresh})
		return fresh
	}
	for i := range e.Lines {
		l, s := &e.Lines[i], c.geometry.sites[i]
		if l.Grade == Tight || l.Change != nil {
			continue
		}
		for _, t := range inGeometry {
			n := *c
			what, sets, ok := t(&n, s)
			if !ok {
				continue
			}
			fresh := laidOut(&n)
			if fresh == nil || i >= len(fresh.geometry.sites) || fresh.geometry.sites[i].name != l.Name {
				continue
			}
			l.add(Change{What: what, Sets: sets, Mass: medianMass(fresh.casts(fresh.geometry.sites[i], d.of(i)))}, e.Poured)
		}
	}
}

// sameJob compares what the geometric trials change.
func sameJob(a, b *params.Job) bool {
	return a.Mold.BaseThickness == b.Mold.BaseThickness && a.Mold.LidThickness == b.Mold.LidThickness &&
		a.Mold.Land == b.Mold.Land
}
