package effort

import (
	"fmt"
	"math"

	"wheelmold/params"
)

// assumptions put in words what the figures rest on, rates of the job included.
func (e *Effort) assumptions(j *params.Job) []string {
	if len(e.Pieces) == 0 {
		return nil
	}
	q := &j.Machining
	var milled, turned bool
	for _, p := range e.Pieces {
		milled, turned = milled || p.By == Milled, turned || p.By == Turned
	}
	say := fmt.Sprintf
	mm := params.Millimeters
	out := []string{say("one blank for each piece, %s larger on every face, plate and bar in steps of %s (machining.allowance, machining.blank_step)", mm(q.Allowance), mm(q.BlankStep))}
	if milled {
		out = append(out,
			say("round plates are sliced from bar up to %d mm where that wastes less; all else is sawn from plate", largestBar),
			say("roughing takes off %g cm3 in a minute (machining.rate); holes count as roughed, too", q.Rate),
			say("finished are the faces that shape the rubber, carry the hub or meet another piece, in %s for 100 cm2 (machining.finishing); outer faces and pry slots stay as roughed", minutes(q.Finishing)),
			say("to square a blank takes as long as one set-up more, however often it is turned over; its chips count as roughed"),
			say("shells that differ in their holes at most are programmed once (machining.programming: %s)", minutes(q.Programming)))
	}
	if turned {
		out = append(out, say("the hub is turned from a bar that the chuck holds by %d mm more, which are sawn off; %g cm3 of chips in a minute, finishing cuts included (machining.turning_rate)", grip, q.TurningRate))
	}
	out = append(out,
		say("each set-up takes %s (machining.set_up), each hole %s (machining.hole_time)", minutes(q.SetUp), minutes(q.HoleTime)),
		say("an hour costs %g, programming too (machining.hourly_rate); a kilogram of stock %s, in your currency", q.HourlyRate, stockPrices(j, milled, turned)),
		say("a shop's hours may be these divided or multiplied by %d, which the range shows; the price of stock is taken as it stands", Spread),
		"cutters, inspection, deburring, coating, engraved marks and freight are not in it")
	return out
}

func stockPrices(j *params.Job, milled, turned bool) string {
	mold := fmt.Sprintf("%g (machining.stock_price)", j.Machining.StockPrice)
	hub := fmt.Sprintf("%g (hub.stock_price)", j.Hub.StockPrice)
	switch {
	case milled && turned:
		return mold + ", of the hub's " + hub
	case milled:
		return mold
	}
	return hub
}

// minutes prints a time in the unit that reads best.
func minutes(s float64) string {
	if s < 90 {
		return fmt.Sprintf("%g s", math.Round(s))
	}
	return fmt.Sprintf("%g min", tenths(s/60))
}
