package flash

import (
	"fmt"
	"math"

	"wheelmold/mold"
	"wheelmold/params"
)

// Contribution is one cause of a parting line's gap, mm; negative where it
// closes the gap. The expected ones add up to the expected gap, the worst ones
// to the worst, unless they close it altogether.
type Contribution struct {
	Kind            Kind
	Name            string
	Expected, Worst float64
	Note            string // method and assumption
}

// Kind is a kind of contribution, the same word for every line.
type Kind string

// Kinds of contributions, in the order in which they are told.
const (
	Feeler   Kind = "feeler gauge"
	WaveLow  Kind = "waviness, one face"
	WaveHigh Kind = "waviness, other face"
	Rough    Kind = "roughness"
	Dirt     Kind = "dirt"
	Step     Kind = "shell heights"
	Proud    Kind = "hub too long"
	Short    Kind = "hub too short"
	Clamps   Kind = "clamps"
	Seal     Kind = "seal"
	Casts    Kind = "as casts show"
)

// Kinds lists them all.
var Kinds = []Kind{Feeler, WaveLow, WaveHigh, Rough, Dirt, Step, Proud, Short, Clamps, Seal, Casts}

// Gap is the mean distance of two mating faces along the seam, mm.
type Gap struct {
	Expected, Worst float64
	Band            Band // of the draws
	Parts           []Contribution
}

// face is what the make of one mating face tells of it, mm.
type face struct{ waviness, roughness float64 } // peak to valley over 100 mm; Ra

// face is that of a piece in a line. A cup's rim is made like a shell's faces: nothing
// stands out of it, so that it can be lapped on a plain plate. What the hub's end lies on
// lies deep in its piece, or has a register in its middle.
func (c *conditions) face(s *site, piece string) face {
	m, g := &c.job.Mold.Mating, c.geometry
	switch kind := g.kind(piece); {
	case kind == mold.Hub:
		return face{c.job.Hub.Flatness, c.job.Hub.Roughness}
	case s.at != atHub && (kind == mold.Shell || piece == g.layout.Below && g.cup()):
		return face{m.ShellsFlatness, m.ShellsRoughness}
	}
	return face{m.PlatesFlatness, m.PlatesRoughness}
}

// cup tells whether the lower piece carries the sides, too.
func (g *geometry) cup() bool { return len(g.layout.Sides) == 0 }

// term is one contribution in one state of the uncertain inputs. The note is
// written when it is asked for: most terms are only added up.
type term struct {
	kind  Kind
	name  string
	note  func() string
	value float64
}

func plain(s string) func() string { return func() string { return s } }

// gap is the mean gap of a site in a state, mm.
func (c *conditions) gap(s *site, x *state) float64 {
	return max(0, sum(c.terms(s, x)))
}

// sum is what terms come to; less than nothing where they close the gap and more.
func sum(terms []term) float64 {
	h := 0.0
	for _, t := range terms {
		h += t.value
	}
	return h
}

// explain gives the gap with its contributions, expected and at worst.
func (c *conditions) explain(s *site) Gap {
	expected, worst := c.terms(s, expected(c)), c.terms(s, worst(s))
	g := Gap{Expected: max(0, sum(expected)), Worst: max(0, sum(worst))}
	for i, t := range expected {
		g.Parts = append(g.Parts, Contribution{t.kind, t.name, t.value, worst[i].value, t.note()})
	}
	return g
}

// terms lists the contributions. Their number and order are the same in every
// state.
func (c *conditions) terms(s *site, x *state) []term {
	var t []term
	if f := c.feeler(s); f > 0 {
		mean := x.mean
		if x.aligned { // at worst the gap is everywhere as wide as at its widest
			mean = 1
		}
		t = []term{{Feeler, "feeler gauge", func() string {
			return fmt.Sprintf("%s measured at the widest spot, %.2g of it on average", mm(f), mean)
		}, mean * f}}
	} else {
		t = c.faceTerms(s, x)
		if s.at == atHub {
			t = append(t, c.slackTerm(s, x))
		}
	}
	return c.castsTerm(c.sealTerm(s, t))
}

// feeler is the gauge that enters a site, mm; 0 where none was tried. The hub's
// ends cannot be reached with one.
func (c *conditions) feeler(s *site) float64 {
	m := &c.job.Mold.Mating
	return [...]float64{atBase: m.FeelerBase, atLid: m.FeelerLid, atSides: m.FeelerSides, atHub: 0}[s.at]
}

// faceTerms are those of two faces that lie on each other.
func (c *conditions) faceTerms(s *site, x *state) []term {
	low, high := c.face(s, s.low[0]), c.face(s, s.high[0])
	width, force := c.span(s, x)
	pv := [2]float64{x.wave[0] * low.waviness * width / 100, x.wave[1] * high.waviness * width / 100}
	wave := pv[0] + pv[1] // crests on crests
	if !x.aligned {
		wave = math.Hypot(pv[0], pv[1])
	}
	part := func(i int) float64 {
		switch {
		case wave == 0:
			return 0
		case x.aligned:
			return x.mean * pv[i]
		}
		return x.mean * pv[i] * pv[i] / wave
	}
	over := func() string {
		clamps := "between clamps"
		if force == 0 {
			clamps = "without a clamp"
		}
		return fmt.Sprintf("over %s %s; mean gap %.2g of peak to valley", mm(width), clamps, x.mean)
	}
	t := []term{
		{WaveLow, "waviness of " + c.geometry.group(s.low), over, part(0)},
		{WaveHigh, "waviness of " + c.geometry.group(s.high), over, part(1)},
		{Rough, "roughness", plain("both faces; distance of their mean planes"), x.rough * math.Hypot(low.roughness, high.roughness)},
		{Dirt, "dirt", plain("crumbs and old release, mold.mating.dirt"), x.dirt * c.job.Mold.Mating.Dirt},
	}
	if s.at == atBase || s.at == atLid {
		if c.geometry.heldApart() {
			t = append(t, c.stepTerm(x))
		}
		t = append(t, c.proudTerm(x))
	}
	if s.at == atHub {
		return t // nothing but the stack presses the hub's ends
	}
	return append(t, term{Clamps, "clamps", plain("bows that the clamps press flat, beam between two of them"), -x.mean * pressed(wave, c.yielding(s, force, width), x)})
}

// span is the width between clamps along the seam, mm, and the force of a clamp.
// Twice the bolts stand half as far apart.
func (c *conditions) span(s *site, x *state) (width, force float64) {
	return (s.span + x.far*(s.widest-s.span)) / c.bolts, c.force(s) * params.NutFactor / x.nut
}

// plates are the thicknesses of the two pieces, the thinner first, mm.
func (c *conditions) plates(s *site) [2]float64 {
	l := c.geometry.layout
	a, b := l.FaceY, l.FaceY
	switch s.at {
	case atBase:
		a, b = -l.Bottom, l.SideHigh-l.SideLow
	case atLid:
		a, b = l.Ceil-l.Part, l.SideHigh-l.SideLow
	}
	return [2]float64{min(a, b), max(a, b)}
}

// yielding is by how much a clamp's force flattens the bows of both pieces, mm.
func (c *conditions) yielding(s *site, force, width float64) float64 {
	bend := 0.0
	for _, t := range c.plates(s) {
		bend += flattening(force, c.job.Process.Modulus, t, width)
	}
	return bend
}

// pressed is how much of an opening a flattening of the given size takes away:
// all that the force can reach of the bows that a clamp bears on. It grows with
// the force and stays below the opening.
func pressed(open, flattening float64, x *state) float64 {
	if open <= 0 {
		return 0
	}
	return x.bow * open * flattening / (open + flattening)
}

// heldApart tells whether shells of unequal heights hold a plate off: a lid that lies
// on all of them does, a strap lets each be pressed on the base by itself.
func (g *geometry) heldApart() bool { return !g.cup() && g.layout.Above == "lid" }

// stepTerm is the gap that one shell leaves where another is taller: the plate
// on them rests on the taller, and its bolts bend it down to the other. Of more than
// two, the difference is taken as that of two.
func (c *conditions) stepTerm(x *state) term {
	j := &c.job
	step := x.step * j.Process.Tolerance / 2
	l := c.geometry.layout
	force := c.stack.Clamp / float64(len(l.Sides)) * params.NutFactor / x.nut // of the bolts on the lower shell
	bend := flattening(force, j.Process.Modulus, min(-l.Bottom, l.Ceil-l.Top), 2*l.B)
	name := "shell A against shell B"
	if len(l.Sides) > 2 {
		name = "shell against shell"
	}
	return term{Step, name, plain("heights differ within process.tolerance; half of it on average"), step - pressed(step, bend, x)}
}

// proudTerm is what a hub that is too long holds base and lid off the shells; of a cup
// the lid alone. Clam halves have no line across the axis that it could open.
func (c *conditions) proudTerm(x *state) term {
	share := x.proud
	if c.geometry.cup() {
		share = 1
	}
	p := c.stack.proud(c.stack.slack(c.geometry, &c.job, x), x)
	return term{Proud, "hub stands proud", func() string {
		return fmt.Sprintf("stack of lengths; %.0f N/mm against %.0f N of clamps", c.stack.Stiffness, c.stack.Clamp)
	}, p * share}
}

// slackTerm is the gap at a hub's end that is too short. An elastic seal holds
// the hub against the other end; else it may rest anywhere.
func (c *conditions) slackTerm(s *site, x *state) term {
	v := max(0, c.stack.slack(c.geometry, &c.job, x))
	elastic := c.job.Mold.Stack.Seal == "gasket"
	switch designed := s.gapped(); {
	case designed && !elastic:
		v *= 1 - x.rests
	case !designed && elastic:
		v = 0
	case !designed:
		v *= x.rests
	}
	return term{Short, "hub too short", plain("stack of lengths, hub and " + c.geometry.layout.Around()), v}
}

// sealTerm closes what a crush bead or a gasket closes.
func (c *conditions) sealTerm(s *site, t []term) []term {
	seal := sealOf(&c.job, s)
	if closes := seal.bead + seal.follows; closes > 0 {
		t = append(t, term{Seal, seal.name, func() string { return "closes gaps up to " + mm(closes) + " (assumed)" }, -min(closes, max(sum(t), 0))})
	}
	return t
}

// castsTerm is by how much the gap is wider or narrower than all of that, as the
// builder's casts show: it makes the sum calibration.gap times what it would be. A line
// that closes stays closed.
func (c *conditions) castsTerm(t []term) []term {
	ratio := c.job.Calibration.Gap
	if ratio == 1 {
		return t
	}
	return append(t, term{Casts, "as casts show", plain("all of these together " + calibrated(ratio)), (ratio - 1) * max(sum(t), 0)})
}

// calibrated says that a gap was multiplied.
func calibrated(ratio float64) string {
	return fmt.Sprintf("x %.3g, calibrated by casts (calibration.gap)", ratio)
}

// mm writes a length for a note.
func mm(v float64) string { return params.Format(params.Length, params.Significant(v, 3)) }
