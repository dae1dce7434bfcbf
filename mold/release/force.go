package release

import (
	"math"
	"slices"

	"wheelmold/mold"
	"wheelmold/params"
)

// PeelLow and PeelHigh are what peels rubber off a mold that was treated with release
// agent, J/m² (which is N per meter of the line that peels, at a right angle: Kendall
// 1975). From memory and weak: the band is wide on purpose.
const PeelLow, PeelHigh = 1.0, 50.0

// Opening is what holds each piece and what parts it. Forces in N.
//
// It guarantees the areas and levers of the layout, and that suction is an upper bound:
// the whole weight of the air on the projected area, while in fact air leaks in. It does
// not know what sticks where the release agent missed a spot.
type Opening struct {
	Pieces []Push // in the order in which they come off
	Order  string // that order, in words
	Why    string // of that order; "": nothing asks for it
	job    *params.Job
}

// Push is what holds one piece and what parts it. Forces in N, areas in mm², across the
// piece's pull.
type Push struct {
	Name      string
	Drawn     bool    // the wheel is drawn out of it by its hub; no bar reaches there
	Rubber    float64 // projected area of rubber
	Hub       float64 // of the hub's face against it that a seal closes to air; else 0
	Suction   float64 // on the rubber, at most
	HubSucks  float64 // on the hub's face, at most
	Front     float64 // longest line along which rubber peels, mm
	PeelLow   float64 // along that line
	PeelHigh  float64
	Grip      float64 // of a register that is tapped in
	Bars      []Pry   // of each of its parting lines
	Jacks     Jacking
	Jackable  bool // jack screws may be tapped into it or against it by mold.jacks.size
	Text      string
	Squeezes  bool // rubber has to give way, too: what that takes is not reckoned
	plateLine bool
}

// Holds is all that may hold the piece at once, N: an upper bound as suction is one, but
// for what it takes to squeeze rubber past an edge.
func (p *Push) Holds() float64 { return p.Suction + p.HubSucks + p.Grip + p.PeelHigh }

// BarForce is what bars in all slots of its parting lines give, N.
func (p *Push) BarForce() float64 {
	sum := 0.0
	for i := range p.Bars {
		sum += p.Bars[i].All()
	}
	return sum
}

// Parts is what bars or jack screws give, whichever is more, N.
func (p *Push) Parts() float64 { return max(p.BarForce(), p.Jacks.All()) }

// Sticks is what air that gets in does not take away, N: the register's grip, and peeling.
func (p *Push) Sticks() float64 { return p.Grip + p.PeelHigh }

// Forces finds what holds each piece of a mold and what parts it, in the order of the
// verdict.
func Forces(m *mold.Mold, v *Verdict) *Opening {
	j := judge{m}
	o := &Opening{job: m.Job, Order: order(v), Why: j.why()}
	for i := range v.Pieces {
		o.Pieces = append(o.Pieces, j.push(&v.Pieces[i]))
	}
	return o
}

func (j judge) push(p *Piece) Push {
	l := j.Layout
	x := Push{Name: p.Name, Drawn: p.Drawn, Squeezes: p.Squeeze != Squeeze{}}
	switch p.Name {
	case l.Above:
		x.plate(j, true)
		x.Bars, x.plateLine = []Pry{j.pry(l.LineTop(), true, 1)}, true
	case l.Below:
		x.plate(j, false)
		if line := l.LineLow(); line != "" {
			x.Bars, x.plateLine = []Pry{j.pry(line, true, 1)}, true
		}
	default:
		half := j.halfAngle(p.Name)
		x.side(j, half)
		for _, line := range slices.Compact(l.SideLines()) { // halves meet twice on one line
			if j.meets(line, p.Name) {
				x.Bars = append(x.Bars, j.pry(line, false, math.Sin(half)))
			}
		}
	}
	x.Suction, x.HubSucks = x.Rubber*1e-6*params.Atmosphere, x.Hub*1e-6*params.Atmosphere
	x.PeelLow, x.PeelHigh = x.Front/1000*PeelLow, x.Front/1000*PeelHigh
	var lines []string
	for i := range x.Bars {
		lines = append(lines, x.Bars[i].Line)
	}
	x.Jackable = len(l.Sides) == 2 && !x.plateLine || x.plateLine && !x.Bars[0].Arms
	x.Jacks = j.jacking(lines, x.Holds())
	x.Text = x.words(j.Job)
	return x
}

// plate measures a piece along the axis: a ring of rubber around the hub's face. Peeled
// from one edge, the line that peels is longest where it touches the hub; rubber that is
// drawn out of a cup comes off all around at once.
func (p *Push) plate(j judge, up bool) {
	t, c, l := j.Tread, j.Core, j.Layout
	in, r, end, gap, land := t.InnerR, t.LowerOuter, c.Lower, l.GapLow, 0.0
	if up {
		r, end, gap, land = t.UpperOuter, c.Upper, l.GapTop, l.Part
	}
	lo, hi := land, t.Top
	if !up {
		lo, hi = 0, 0
		if len(l.Sides) == 0 { // a cup
			hi = l.Part
		}
	}
	for _, s := range spans(t, lo, hi) {
		r = max(r, s.a[0], s.b[0])
	}
	if open := up && l.OpenTop(); !open {
		p.Rubber = math.Pi * (r*r - in*in)
		p.Front = 2 * math.Sqrt(r*r-in*in)
	}
	if p.Drawn {
		p.Front = 2 * math.Pi * r
	}
	if gap > 0 && j.Job.Mold.Stack.Seal != "none" {
		hole := c.OpeningR(end)
		p.Hub = math.Pi * (c.EndR()*c.EndR() - hole*hole)
	}
	p.Grip = j.grip(up)
}

// halfAngle is half of what a piece around the axis spans, in radians: a parting face is so
// far from its pull.
func (j judge) halfAngle(name string) float64 {
	sides := j.Layout.Sides
	i := slices.IndexFunc(sides, func(s mold.Side) bool { return s.Name == name })
	return (sides[i].To - sides[i].From) / 2 * math.Pi / 180
}

// side measures a piece around the axis: the tread's outline, over the chord that the
// piece spans across its pull. It peels along a line that runs with the axis.
func (p *Push) side(j judge, half float64) {
	t := j.Tread
	area := 0.0 // of the outline's half
	for _, s := range spans(t, 0, t.Top, fine(t.Top)...) {
		area += (s.a[0] + s.b[0]) / 2 * (s.b[1] - s.a[1])
	}
	p.Rubber = 2 * math.Sin(half) * area
	p.Front = t.Top
}

// fine are heights that break an outline's arcs into chords short enough for an area.
func fine(top float64) []float64 {
	const parts = 64
	out := make([]float64, parts)
	for i := range out {
		out[i] = top * float64(i) / parts
	}
	return out
}
