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
	PourBy    float64 // end of the pot life in the bucket: the latest end of the pour
	TopUp     float64 // what is in the mold still levels: sprue and vents may be topped up
	Gel       float64 // of what is in the mold
	// Next is when to begin mixing the next batch: from, with one pair of hands,
	// and until, so that it runs onto rubber that still flows; both 0 for the last
	// batch. Where From exceeds Until, somebody else must mix.
	NextFrom, NextUntil float64
	// JointAt: a batch that begins to be mixed later than this meets gelled rubber.
	JointAt float64
}

// Alone reports whether one pair of hands can mix the next batch in time.
func (c *Clock) Alone() bool { return c.NextFrom <= c.NextUntil }

// clockOf is the clock of a batch that takes so many seconds to run in. Until the
// pour the mix is as warm as its components, from then on as the mold (assumed:
// a large mass warms itself and is faster, see urethane).
func clockOf(p *params.Pour, run float64, last bool) Clock {
	mix := urethane.Of(p).At(p.MixTemperature)
	mold := mix.At(p.MoldTemperature)
	inMold := func(age float64) float64 { return p.Start + mold.Clock(max(0, age-mix.Age(p.Start))) }
	c := Clock{
		StirEnd: p.Stir, PourStart: p.Start, PourEnd: p.Start + max(run, p.Duration), PourBy: mix.Pourable(),
		TopUp: inMold(mix.PotLife), Gel: inMold(mix.Gel),
	}
	if !last {
		c.NextFrom = c.PourEnd
		c.NextUntil = max(0, c.TopUp-p.Start)
		c.JointAt = max(0, c.Gel-p.Start)
	}
	return c
}
