package pour

import (
	"wheelmold/mold/urethane"
	"wheelmold/params"
)

// Clock is when each step of a batch is due, s after its own first mixing.
type Clock struct {
	StirEnd   float64 // stop stirring
	PourStart float64
	PourEnd   float64 // expected: as long as the gates take, and no less than pour.duration
	BeginBy   float64 // the latest begin of the pour, which takes the longer the later it begins
	PourBy    float64 // end of the pot life in the bucket: the latest end of the pour
	TopUp     float64 // what is in the mold still levels: sprue and vents may be topped up
	Gel       float64 // of what is in the mold
	// Next is when to begin mixing the next batch: from when hands are free, and
	// until, so that it runs onto rubber that still flows in the same mold; both 0
	// where none follows. Where From exceeds Until, more hands are needed.
	NextFrom, NextUntil float64
	// JointAt: a batch for the same mold that begins to be mixed later than this
	// meets gelled rubber.
	JointAt float64
}

// Due is by when the pour must be over: until then what is in the bucket pours, and
// what is in the mold levels.
func (c *Clock) Due() float64 { return min(c.PourBy, c.TopUp) }

// InTime reports whether the next batch can be mixed in time.
func (c *Clock) InTime() bool { return c.NextFrom <= c.NextUntil }

// follow tells what comes after a batch.
type follow int

const (
	nothing   follow = iota
	otherMold        // a batch for another mold: no hurry
	sameMold         // a batch that must join this one
)

// clockOf is the clock, but for BeginBy, of a batch that takes so many seconds to run
// in. Until the pour the mix is as warm as its components, from then on as the mold
// (assumed: a large mass warms itself and is faster, see urethane). It is taken to begin
// at pour.start: in a warm mold a later begin leaves a little more time than told.
func clockOf(p *params.Pour, run float64, next follow) Clock {
	mix := urethane.Of(p).At(p.MixTemperature)
	mold := mix.At(p.MoldTemperature)
	inMold := func(age float64) float64 { return p.Start + mold.Clock(max(0, age-mix.Age(p.Start))) }
	c := Clock{
		StirEnd: p.Stir, PourStart: p.Start, PourEnd: p.Start + max(run, p.Duration), PourBy: mix.Pourable(),
		TopUp: inMold(mix.PotLife), Gel: inMold(mix.Gel),
	}
	if next != nothing {
		c.NextFrom = c.PourEnd
		if p.People > 1 { // it is ready when this one is poured
			c.NextFrom = max(0, c.PourEnd-p.Start)
		}
	}
	if next == sameMold {
		c.NextUntil = max(0, c.TopUp-p.Start)
		c.JointAt = max(0, c.Gel-p.Start)
	}
	return c
}
