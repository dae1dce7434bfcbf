package flash

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wheelmold/mesh/brep"
	"wheelmold/mold"
	"wheelmold/params"
)

// Options say how much work an estimate is.
type Options struct {
	Draws int    // of the uncertain inputs
	Seed  uint64 // the same seed gives the same draws
	Tries bool   // look for the cheapest change that helps
}

// DefaultOptions are those of the command.
var DefaultOptions = Options{Draws: 500, Seed: 1, Tries: true}

// drop is the mass in g from which a leak drips: one drop of a few millimeters
// (assumed).
const drop = 0.05

// Analyze estimates the flash of a mold from its pieces' exact boundaries, by
// name. The error says what about the mold makes an estimate senseless.
func Analyze(m *mold.Mold, faces map[string]*brep.Boundary, o Options) (*Estimate, error) {
	if f := heldApart(m); len(f) > 0 {
		return nil, f
	}
	g := survey(m, faces)
	if len(g.sites) == 0 {
		return nil, fmt.Errorf("no mating faces that the rubber reaches were found: the model contradicts itself")
	}
	c := newConditions(g, m.Job)
	e := &Estimate{
		Options: o, Liquid: filmOf(&m.Job.Pour), Stack: c.stack, Fill: c.fillHeight(), Feeler: m.Job.Mold.Mating.Feeler, Poured: g.poured,
	}
	draws := drawAll(c, o)
	c.wet(draws)
	var all [][]outcome // by line, then by corner
	for i, s := range g.sites {
		outcomes := c.casts(s, draws.of(i))
		all = append(all, outcomes)
		e.Lines = append(e.Lines, c.line(s, outcomes))
	}
	for i := range g.corners {
		k := &g.corners[i]
		outcomes := c.castCorners(k, draws)
		all = append(all, outcomes)
		e.Corners = append(e.Corners, c.corner(k, outcomes))
	}
	e.total(c, all)
	if o.Tries {
		c.tryChanges(e, draws)
		for i := range e.Lines {
			e.Lines[i].pickBest()
		}
	}
	return e, nil
}

// heldApart refuses balls that their pockets do not swallow.
func heldApart(m *mold.Mold) params.Faults {
	var out params.Faults
	for _, b := range m.Layout.Balls {
		if apart := b.Diameter - 2*b.Depth; apart > 1e-6 {
			out = append(out, params.Fault{
				Path: "mold.balls.spare", Value: params.Format(params.Length, -apart), Allowed: "0.2 mm or more",
				Cause: fmt.Sprintf("two pockets of %s hold the faces of %s apart by %s with their ball of %s", mm(b.Depth), b.Line, mm(apart), mm(b.Diameter)),
			})
		}
	}
	return out
}

// line estimates one parting line.
func (c *conditions) line(s *site, outcomes []outcome) Line {
	seal := sealOf(&c.job, s)
	l := Line{
		Name: s.name, Pieces: s.pieces(), Seal: seal.name, SealKey: s.sealKey(),
		Seam: s.seam, Land: s.land(), Exits: s.ways(), Gap: c.explain(s),
	}
	x := expected(c)
	liquid := c.liquid(&x.shared)
	l.Head = [2]float64{max(0, liquid.Head(c.fillHeight()-s.highest)), max(0, liquid.Head(c.fillHeight()-s.lowest))}
	exp := c.cast(s, x)
	l.Expected = exp.result()
	for _, r := range s.entry {
		l.Clearance = append(l.Clearance, Clearance{"around the hub's end", r.EffectiveGap(), r.Length(), r.MeanRadius()})
	}
	for _, r := range s.after {
		l.Clearance = append(l.Clearance, Clearance{"register", r.EffectiveGap(), r.Length(), r.MeanRadius()})
	}
	l.Flash, l.Leak = band(outcomes, flashOf), band(outcomes, leakOf)
	l.Drips = chance(outcomes, func(o *outcome) bool { return o.leak > drop })
	l.Opening = chance(outcomes, func(o *outcome) bool { return o.inOpening > drop })
	l.Gap.Band = band(outcomes, func(o *outcome) float64 { return o.gap })
	l.Mass = medianMass(outcomes)
	l.Grade = gradeOf(l.Mass, c.geometry.poured)
	l.Reason = reason(&l, c.job.Calibration.Gap)
	l.Map = s.draw(outcomes, exp.share)
	return l
}

func (c *conditions) casts(s *site, draws []state) []outcome {
	out := make([]outcome, len(draws))
	for i := range draws {
		out[i] = c.cast(s, &draws[i])
	}
	return out
}

func (o *outcome) result() Result {
	return Result{o.gap, o.capillary, o.held, o.mobility, o.depth, o.area, o.flash, o.leak, o.reached}
}

func (c *conditions) castCorners(k *corner, d *drawn) []outcome {
	out := make([]outcome, len(d.shared))
	for i := range out {
		out[i] = c.castCorner(k, &d.shared[i])
	}
	return out
}

func (c *conditions) corner(k *corner, outcomes []outcome) Corner {
	e := c.castCorner(k, &expected(c).shared)
	return Corner{
		Pieces: k.pieces, From: k.from, Length: k.length, Edge: c.job.Process.Edge, Expected: e.result(),
		Flash: band(outcomes, flashOf), Leak: band(outcomes, leakOf), Mass: medianMass(outcomes),
	}
}

// total adds up lines and corners, draw by draw.
func (e *Estimate) total(c *conditions, all [][]outcome) {
	sums := make([]outcome, e.Options.Draws)
	for k := range sums {
		for _, o := range all {
			sums[k].flash += o[k].flash
			sums[k].leak += o[k].leak
		}
		sums[k].flash, sums[k].leak = min(sums[k].flash, c.geometry.poured), min(sums[k].leak, c.geometry.poured)
	}
	e.Flash, e.Leak = band(sums, flashOf), band(sums, leakOf)
	e.Lost = band(sums, func(o *outcome) float64 { return o.flash + o.leak })
	e.Share = e.Lost.P50 / e.Poured
	if _, most := Curtain.Limits(); e.Share >= most {
		e.Grade = Flood
	}
	for i := range e.Lines {
		e.Grade = max(e.Grade, e.Lines[i].Grade)
	}
	for i := range e.Corners {
		e.Grade = max(e.Grade, gradeOf(e.Corners[i].Mass, e.Poured))
	}
}

func flashOf(o *outcome) float64 { return o.flash }
func leakOf(o *outcome) float64  { return o.leak }

func medianMass(o []outcome) float64 {
	return band(o, func(o *outcome) float64 { return o.flash + o.leak }).P50
}

func band(outcomes []outcome, of func(*outcome) float64) Band {
	if len(outcomes) == 0 {
		return Band{}
	}
	v := make([]float64, len(outcomes))
	for i := range outcomes {
		v[i] = of(&outcomes[i])
	}
	slices.Sort(v)
	q := func(p float64) float64 { // linear between order statistics
		x := p * float64(len(v)-1)
		i := min(int(x), len(v)-2)
		if i < 0 {
			return v[0]
		}
		return v[i] + (x-float64(i))*(v[i+1]-v[i])
	}
	return Band{q(0.1), q(0.5), q(0.9)}
}

func chance(outcomes []outcome, is func(*outcome) bool) float64 {
	if len(outcomes) == 0 {
		return 0
	}
	n := 0
	for i := range outcomes {
		if is(&outcomes[i]) {
			n++
		}
	}
	return float64(n) / float64(len(outcomes))
}

// land is how wide the mating face is along the seam.
func (s *site) land() Land {
	l := Land{Least: math.Inf(1)}
	var d, w []float64
	for i := range s.lands {
		x := &s.lands[i]
		if math.IsInf(x.Distance, 1) {
			continue
		}
		d, w = append(d, x.Distance), append(w, x.Weight)
		if x.Distance < l.Least {
			l.Least, l.At, l.Exit = x.Distance, s.point(x), s.exits[x.Exit]
		}
	}
	if len(d) == 0 {
		return Land{}
	}
	l.Typical = weightedMedian(d, w)
	return l
}

func weightedMedian(v, w []float64) float64 {
	order := make([]int, len(v))
	total := 0.0
	for i := range order {
		order[i] = i
		total += w[i]
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(v[a], v[b]), a-b) })
	sum := 0.0
	for _, i := range order {
		if sum += w[i]; sum >= total/2 {
			return v[i]
		}
	}
	return v[order[len(order)-1]]
}

// ways lists the kinds of ways out, the nearest first, and the neighboring
// parting lines, which start at the seam.
func (s *site) ways() []Exit {
	var out []Exit
	for kind, d := range s.exitAt {
		x := Exit{Kind: kind, Least: d}
		for i := range s.lands {
			if l := &s.lands[i]; l.Exit >= 0 && s.exits[l.Exit] == kind {
				x.Seam += l.Weight
			}
		}
		out = append(out, x)
	}
	slices.SortFunc(out, func(a, b Exit) int {
		return cmp.Or(cmp.Compare(a.Least, b.Least), strings.Compare(a.Kind, b.Kind))
	})
	for label, kind := range s.exits {
		if kind == ExitNeighbor && s.grid.Length(label) > 0 {
			return append(out, Exit{Kind: ExitNeighbor})
		}
	}
	return out
}
