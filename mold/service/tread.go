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
}

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
		c.State = BeyondTable
		return c
	}
	if p.deflection > MostShare*t.Thickness {
		c.State = BeyondSmall
		return c
	}
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

// take widens a span.
func (s *Span) take(v float64) { s.Least, s.Most = min(s.Least, v), max(s.Most, v) }

// gripOf is what practice holds of a hardness in Shore A.
func gripOf(shore float64) string {
	switch {
	case shore < 45:
		return "very soft: grips best, and tears and wears soonest; for light wheels"
	case shore <= 60:
		return "soft: grips well and suits big wheels; wears sooner than a hard one"
	case shore < 80:
		return "medium: a compromise between grip and wear"
	}
	return "hard: lasts longest and rolls easiest; grips least, most of all on dust"
}

// overloaded tells whether a contact at rest goes beyond what the rubber stands for long.
func (t *Tread) overloaded(c *Contact, modulus float64) bool {
	switch c.State {
	case NoLoad:
		return false
	case Reckoned:
		return c.Peak > MostPeak*modulus
	}
	return true
}

// faults warns of a load at rest that is too much, with what would mend it.
func (l *TreadLoad) faults(j *params.Job) params.Faults {
	if !l.overloaded(&l.Rest, l.Modulus.Mid) {
		return nil
	}
	path, value := "pour.hardness", l.Shore
	if j.Pour.Blend.With > 0 {
		path = "pour.blend.wanted"
	}
	var cause string
	switch l.Rest.State {
	case BeyondTable:
		cause = fmt.Sprintf("%.3g N at rest press the tread flat: %v", l.Rest.Load, ErrBeyondTable)
	case BeyondSmall:
		cause = fmt.Sprintf("%.3g N at rest press the tread in by more than %.0f %% of its thickness, which is what rubber is designed for", l.Rest.Load, 100*MostShare)
	default:
		cause = fmt.Sprintf("%.3g N at rest press on the tread with a peak of %.2g MPa; more than %.2g MPa shears it by over half below its surface", l.Rest.Load, l.Rest.Peak/1e6, MostPeak*l.Modulus.Mid/1e6)
	}
	return params.Faults{{Path: path, Value: fmt.Sprintf("%g", value), Cause: cause, Hint: l.change(path), With: []string{"wheel.width", "hub.body_diameter"}}}
}

// change proposes what brings the load at rest within its limits, each by itself: harder
// by whole steps of 5 Shore A, wider, or thicker, up to what a wheel can be.
func (l *TreadLoad) change(path string) string {
	var ways []string
	for s := 5 * math.Floor(l.Shore/5+1); s <= 95; s += 5 {
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
	return !t.overloaded(&c, band.Mid)
}
