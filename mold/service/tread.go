package service

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"wheelmold/params"
)

// Limits of a tread that carries a load.
const (
	// MostShare of its thickness is what a compressed block of rubber is designed for, and
	// about where the theory of small strain ends.
	MostShare = 0.15
	// MostPeak of the modulus is the peak pressure that shears the rubber below the
	// surface by half (a block's design limit): 0.30 p0 below a line contact (Johnson,
	// Contact Mechanics, from memory), over a third of the modulus.
	MostPeak = 0.5 / 3 / 0.30
)

// State tells whether a contact could be reckoned.
type State string

// States of a contact.
const (
	Reckoned    State = "reckoned"
	NoLoad      State = "no load"
	BeyondSmall State = "beyond small strain"
	BeyondTable State = "beyond the table"
)

// Span is a figure with the least and the most that the band of the modulus and a
// compressible rubber make of it. Most is +Inf where an end of the band is beyond the table.
type Span struct{ Least, Mid, Most float64 }

// Contact is how the tread stands on a hard floor under one load. Its figures are 0 where
// it is not reckoned.
type Contact struct {
	State      State
	Load       float64 // N
	PerWidth   float64 // N/mm of the width that carries
	Deflection Span    // mm by which the axle comes nearer to the floor
	Length     Span    // mm of the contact, along the floor
	Share      float64 // of the rubber's thickness that the deflection is
	Mean, Peak float64 // Pa, with the modulus in the middle
	Soft       Soft
	From       float64 // Shore A from which on a load beyond small strain or the table is in range; 0: none
}

// Soft is a contact with the modulus at the soft end of its band, by which its limits are
// judged.
type Soft struct {
	Share float64 // of the rubber's thickness that the deflection is; +Inf beyond the table
	Peak  float64 // Pa
}

// Small tells whether the strain is small there too.
func (s *Soft) Small() bool { return s.Share <= MostShare }

// Tread is what of the rubber carries a load: lengths in mm.
type Tread struct {
	Radius    float64 // of the wheel, in the middle of its width
	Thickness float64 // of the rubber over the hub's body
	Width     float64 // of the wheel
	Grooves   float64 // width that runs into grooves around the tread
	Edges     float64 // and into both edges
	Lugs      float64 // share of the way around that cross grooves leave
	Lean      float64 // by which crown or draft make the radius differ across the width
}

// Carries is the width in mm that carries, on the average around the wheel.
func (t *Tread) Carries() float64 { return (t.Width - t.Grooves - t.Edges) * t.Lugs }

// TreadLoad is how a wheel's tread stands its loads.
type TreadLoad struct {
	Tread
	Shore   float64 // A, of the blend where there is one
	Modulus Band
	Rest    Contact // the weight that the wheel carries
	Hit     Contact // a hit or a landing
	Grip    string  // what a rubber of that hardness is good for
	// Faults are what is worth a second look, each with the value to change.
	Faults params.Faults
}

// OfTread judges the tread of a job's wheel. It fails where grooves and edges leave no
// width that could carry.
func OfTread(j *params.Job) (*TreadLoad, error) {
	l := &TreadLoad{Tread: treadOf(j), Shore: j.Hardness()}
	if l.Carries() <= 0 || l.Thickness <= 0 {
		return nil, fmt.Errorf("the tread carries on %.3g mm of width and is %.3g mm thick: no load can be reckoned", l.Carries(), l.Thickness)
	}
	l.Modulus = Modulus(l.Shore)
	l.Rest = l.contact(j.Load(), l.Modulus)
	l.Hit = l.contact(j.Load()*j.Duty.Impact, l.Modulus)
	l.Grip = gripOf(l.Shore)
	l.Faults = l.faults(j)
	return l, nil
}

func treadOf(j *params.Job) Tread {
	w := &j.Wheel
	t := Tread{Radius: w.Diameter / 2, Width: w.Width, Lugs: 1}
	t.Thickness = t.Radius - j.Hub.BodyDiameter/2
	for _, g := range w.Grooves {
		t.Grooves += g.Width
	}
	if w.Edge != "square" {
		t.Edges = 2 * w.EdgeSize
	}
	if c := &w.Cross; c.Count > 0 {
		open := c.Width + 2*c.Depth*math.Tan(c.Flank*math.Pi/180)
		t.Lugs = 1 - float64(c.Count)*open/(math.Pi*w.Diameter)
	}
	t.Lean = max(w.Crown, w.Width*math.Tan(w.Draft*math.Pi/180))
	return t
}

// contact reckons one load, with the modulus in the middle and at the ends of its band.
func (t *Tread) contact(load float64, band Band) Contact {
	c := Contact{State: Reckoned, Load: load, PerWidth: load / t.Carries()}
	if load <= 0 {
		c.State = NoLoad
		return c
	}
	p, err := layers[0].press(c.PerWidth, t.Radius, t.Thickness, band.Mid)
	if errors.Is(err, ErrBeyondTable) {
		c.State, c.From = BeyondTable, t.hardFor(c.PerWidth)
		return c
	}
	if p.deflection > MostShare*t.Thickness {
		c.State, c.From = BeyondSmall, t.hardFor(c.PerWidth)
		return c
	}
	c.Soft = t.soft(c.PerWidth, band.Low)
	c.Mean, c.Peak, c.Share = p.mean, p.peak, p.deflection/t.Thickness
	c.Deflection, c.Length = Span{p.deflection, p.deflection, p.deflection}, Span{2 * p.half, 2 * p.half, 2 * p.half}
	for _, e := range []float64{band.Low, band.High} {
		for _, l := range layers {
			q, err := l.press(c.PerWidth, t.Radius, t.Thickness, e)
			if err != nil {
				q.deflection, q.half = math.Inf(1), math.Inf(1)
			}
			c.Deflection.take(q.deflection)
			c.Length.take(2 * q.half)
		}
	}
	return c
}

// soft reckons a load per width in N/mm with a modulus at the soft end, Pa.
func (t *Tread) soft(perWidth, modulus float64) Soft {
	p, err := layers[0].press(perWidth, t.Radius, t.Thickness, modulus)
	if err != nil {
		return Soft{Share: math.Inf(1)}
	}
	return Soft{p.deflection / t.Thickness, p.peak}
}

// mostShore is as hard as rubber is proposed, Shore A.
const mostShore = 95

// hardFor is the least hardness, in steps of 5 Shore A, at whose soft end a load per width
// in N/mm strains the rubber but little; 0 if none does.
func (t *Tread) hardFor(perWidth float64) float64 {
	for s := 5.0; s <= mostShore; s += 5 {
		if soft := t.soft(perWidth, Modulus(s).Low); soft.Small() {
			return s
		}
	}
	return 0
}

// take widens a span.
func (s *Span) take(v float64) { s.Least, s.Most = min(s.Least, v), max(s.Most, v) }

// gripOf is what practice holds of a hardness in Shore A.
func gripOf(shore float64) string {
	switch {
	case shore < 45:
		return "very soft: grips best, and tears and wears soonest"
	case shore <= 60:
		return "soft: grips well and suits big wheels; wears sooner than a hard one"
	case shore < 80:
		return "medium: a compromise between grip and wear"
	}
	return "hard: lasts longest and rolls easiest; grips least, most of all on dust"
}

// overloaded tells whether a contact at rest goes beyond what the rubber stands for long,
// at the soft end of its modulus in Pa.
func overloaded(c *Contact, low float64) bool {
	switch c.State {
	case NoLoad:
		return false
	case Reckoned:
		return !c.Soft.Small() || c.Soft.Peak > MostPeak*low
	}
	return true
}

// faults warns of a load at rest that is too much, with what would mend it.
func (l *TreadLoad) faults(j *params.Job) params.Faults {
	low, soft := l.Modulus.Low, &l.Rest.Soft
	if !overloaded(&l.Rest, low) {
		return nil
	}
	path, value := "pour.hardness", l.Shore
	if j.Pour.Blend.With > 0 {
		path = "pour.blend.wanted"
	}
	load := digits(l.Rest.Load) + " N at rest "
	pressed := fmt.Sprintf("press the tread in by more than %.0f %% of its thickness, which is what rubber is designed for", 100*MostShare)
	const atSoft = ", at the soft end of its modulus"
	var cause string
	switch {
	case l.Rest.State == BeyondTable:
		cause = fmt.Sprintf("%spress the tread flat: %v", load, ErrBeyondTable)
	case l.Rest.State == BeyondSmall:
		cause = load + pressed
	case !soft.Small():
		cause = load + pressed + atSoft
	default:
		cause = fmt.Sprintf("%spress on the tread with a peak of %s MPa; more than %s MPa shears it by over half below its surface%s", load, digits(soft.Peak/1e6), digits(MostPeak*low/1e6), atSoft)
	}
	return params.Faults{{Path: path, Value: fmt.Sprintf("%g", value), Cause: cause, Hint: l.change(path), With: []string{"wheel.width", "hub.body_diameter"}}}
}

// change proposes what brings the load at rest within its limits, each by itself: harder
// by whole steps of 5 Shore A, wider, or thicker, up to what a wheel can be.
func (l *TreadLoad) change(path string) string {
	var ways []string
	for s := 5 * math.Floor(l.Shore/5+1); s <= mostShore; s += 5 {
		if l.eased(l.Tread, Modulus(s)) {
			ways = append(ways, fmt.Sprintf("%s = %g", path, s))
			break
		}
	}
	for f := 1.1; f <= 3; f += .1 {
		wide := l.Tread
		wide.Width += (f - 1) * l.Carries() / l.Lugs
		if l.eased(wide, l.Modulus) {
			ways = append(ways, "wheel.width = "+params.Millimeters(math.Ceil(wide.Width)))
			break
		}
	}
	for f := 1.1; f*l.Thickness <= .8*l.Radius; f += .1 {
		thick := l.Tread
		thick.Thickness *= f
		if l.eased(thick, l.Modulus) {
			ways = append(ways, "hub.body_diameter = "+params.Millimeters(math.Floor(2*(thick.Radius-thick.Thickness)))+" for thicker rubber, if seat and bolts leave room")
			break
		}
	}
	if len(ways) == 0 {
		return "no harder, wider or thicker tread alone carries it: a larger wheel, or more of them"
	}
	return "either " + strings.Join(ways, ", or ")
}

// eased tells whether a changed tread stands the load at rest.
func (l *TreadLoad) eased(t Tread, band Band) bool {
	c := t.contact(l.Rest.Load, band)
	return !overloaded(&c, band.Low)
}
