package printing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/params"
)

// warn collects what may fail on the printer, or of what it made. Heat is judged in
// Plan.Heat; the plan of the pour warns of it.
func (p *Plan) warn(m *mold.Mold) {
	j := m.Job
	p.warnMisfits()
	p.warnBed()
	if j.Printed() {
		p.warnHoles(j, m.Layout)
		p.warnSlots(j)
		p.warnWalls(j)
		p.warnCoats(j)
		p.warnSupports(j)
	}
}

func (p *Plan) caution(path, value, allowed, cause, hint string, with ...string) {
	p.Warnings = append(p.Warnings, params.Fault{Path: path, Value: value, Allowed: allowed, Cause: cause, Hint: hint, With: with})
}

func sizeText(v mesh.Vec) string {
	return fmt.Sprintf("%.1f x %.1f x %.1f mm", v[0], v[1], v[2])
}

// warnMisfits: pieces that the bed does not hold, those of one remedy together.
func (p *Plan) warnMisfits() {
	var names []string
	for i := range p.Misfits {
		f := &p.Misfits[i]
		names = append(names, fmt.Sprintf("%s (%s)", mold.Title(f.Piece), sizeText(f.Size)))
		if i+1 < len(p.Misfits) && p.Misfits[i+1].Kind != mold.Hub {
			continue
		}
		b := p.Bed
		p.caution("printing.bed_x", params.Millimeters(b.X), "", fmt.Sprintf("the bed of %s does not hold: %s", sizeText(mesh.Vec{b.X, b.Y, b.Z}), strings.Join(names, ", ")), f.Remedy(),
			"printing.bed_y", "printing.bed_z", "mold.split", "mold.segments")
		names = nil
	}
}

// warnBed: faces that close the mold or shape the rubber, pressed wide by the first
// layers. A hub has to stand on an end.
func (p *Plan) warnBed() {
	for i := range p.Pieces {
		x := &p.Pieces[i]
		for _, r := range x.OnBed {
			if x.Kind != mold.Hub && (ofCavity(r.Role) || ofMating(r.Role)) {
				p.caution("", "", "", fmt.Sprintf("%s of %s lies on the bed, where the first layers bulge and warp", r.Role, mold.Title(x.Name)), "lap it flat, and scrape its edges")
			}
		}
	}
}

// warnHoles: channels that print shut.
func (p *Plan) warnHoles(j *params.Job, l *mold.Layout) {
	least := j.Process.MinHole
	for _, c := range []struct {
		path string
		at   []mesh.Vec
		d    float64
	}{
		{"mold.vents.diameter", l.Vents, j.Mold.Vents.Diameter},
		{"mold.sprue.gate", l.Gates, j.Mold.Sprue.Gate},
	} {
		if slices.ContainsFunc(c.at, func(v mesh.Vec) bool { return !halved(l, v) }) && c.d < least-slack {
			p.caution(c.path, params.Millimeters(c.d), "at least "+params.Millimeters(least), "so narrow that it may print shut", fmt.Sprintf("drill it through after printing, %s", params.Millimeters(c.d)), "process.min_hole")
		}
	}
}

// halved reports whether a channel lies on a plane on which clam halves part, so that
// each half has an open groove of it.
func halved(l *mold.Layout, at mesh.Vec) bool {
	return l.Above == "" && slices.ContainsFunc(l.Partings, func(q mold.Parting) bool {
		out := q.Outward()
		return math.Abs(at[0]*out[1]-at[1]*out[0]) < onPlane
	})
}

// onPlane is how near to a plane a channel's axis lies on it, mm: well above what
// rounding moves it by, well below the wall that keeps others clear of it.
const onPlane = 1e-3

// slack absorbs rounding of lengths, mm.
const slack = 1e-9

// warnSlots: slots and marks that the printer cannot resolve.
func (p *Plan) warnSlots(j *params.Job) {
	least := j.Process.MinFeature
	if s := &j.Mold.PrySlots; s.Depth > 0 {
		for _, c := range []struct {
			path string
			v    float64
		}{{"mold.pry_slots.width", s.Width}, {"mold.pry_slots.depth", s.Depth}, {"mold.pry_slots.height", s.Height}} {
			if c.v < least-slack {
				p.caution(c.path, params.Millimeters(c.v), "at least "+params.Millimeters(least), "narrower than anything that prints open", "", "process.min_feature")
			}
		}
	}
	if d, layer := j.Mold.Engraving.Depth, j.Printing.Layer; d > 0 && d < 2*layer-slack {
		p.caution("mold.engraving.depth", params.Millimeters(d), "at least "+params.Millimeters(2*layer), "shallower than two layers: marks may not show", "", "printing.layer")
	}
	if b := &j.Mold.Balls; b.Diameter > 0 && b.Clearance < j.Process.Clearance-slack {
		p.caution("mold.balls.clearance", params.Millimeters(b.Clearance), "at least "+params.Millimeters(j.Process.Clearance), "pockets printed so tight hold the mold open on its balls", "ream them with a ball cutter, or print a coupon first", "process.clearance")
	}
}

// leastSkin is the wall in mm that keeps urethane out of an infill: three strands of
// 0.4 mm, so that no gap between two of them goes through. Assumed.
const leastSkin = 1.2

// warnWalls: walls through which the urethane gets into the infill, which no scale
// shows before the mold is full of it.
func (p *Plan) warnWalls(j *params.Job) {
	q := &j.Printing
	if q.Fill == "solid" || q.Infill == 1 {
		return
	}
	if left := q.Wall - j.Mold.Mating.Stock; left < leastSkin-slack {
		cause := "liquid urethane gets through so thin a wall into the infill"
		if j.Mold.Mating.Stock > 0 {
			cause += fmt.Sprintf(": lapping leaves %s of it", params.Millimeters(left))
		}
		p.caution("printing.wall", params.Millimeters(q.Wall), "at least "+params.Millimeters(leastSkin+j.Mold.Mating.Stock), cause, "", "mold.mating.stock")
	}
	if p.Resin {
		p.caution("printing.fill", `"walled"`, `"solid"`, "a hollow resin print keeps liquid resin inside, which seeps out and inhibits the urethane's cure", "drain, wash and cure the inside, then plug the drains", "printing.infill")
	}
}

// warnCoats: bare prints beside urethane.
func (p *Plan) warnCoats(j *params.Job) {
	if p.Resin && j.Hub.Printed() {
		p.caution("hub.material", j.Hub.Material, `"nylon", or a hub printed from filament`,
			"what a resin print sweats out inhibits the urethane's cure, and nothing may coat a bond surface: the tread may not hold",
			"wash and cure the hub fully, and try a coupon of it first")
	}
	if j.Mold.Coats.Count > 0 {
		return
	}
	cause, hint := "the rubber keys into bare layer lines: it grips the cavity and shows them", "sand and seal the cavity in two or more coats, cured hard, then wax"
	if p.Resin {
		cause, hint = "what a resin print sweats out inhibits the urethane's cure: it stays sticky where it touches", "wash and cure the print fully, coat it, and try a coupon first"
	}
	p.caution("mold.coats.count", "0", "", cause, hint)
}

// warnSupports: supports that would scar what closes the mold or shapes the rubber.
// A speck is left out, which prints well enough without; what counts as one is assumed.
func (p *Plan) warnSupports(j *params.Job) {
	const speck = 10 // mm²
	var parts []string
	for i := range p.Pieces {
		x := &p.Pieces[i]
		if o := x.Overhang; x.Kind != mold.Hub && o.Cavity+o.Mating > speck {
			parts = append(parts, fmt.Sprintf("%s by %.0f and %.0f mm²", mold.Title(x.Name), o.Cavity, o.Mating))
		}
	}
	if len(parts) > 0 {
		p.caution("printing.overhang", params.Format(params.Angle, j.Printing.Overhang), "", "hang over as they lie, on faces of the cavity and on mating faces: "+strings.Join(parts, ", "),
			"supports leave marks there: sand or lap them off")
	}
}
