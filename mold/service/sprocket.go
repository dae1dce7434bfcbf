package service

import (
	"fmt"
	"math"

	"wheelmold/params"
)

// plateHeight is the height of a chain's plates in pitches, and hubPlay how far below
// them a hub stays, mm (both from memory).
const plateHeight, hubPlay = 0.95, 0.76

// Sprocket is the sprocket on the hub, in mm on the diameter.
type Sprocket struct {
	Chain   string
	Teeth   int
	Pitch   float64 // of the chain
	Circle  float64 // pitch circle
	Root    float64
	Outside float64
	Plates  float64 // over the plates of a chain that lies on it
	Hub     float64 // widest that a hub or a ring of bolt heads below the chain may be
	Heads   float64 // over the heads of the bolts of the hub's circle; 0: no bolts
	Screw   string  // whose heads they are
	Seat    float64 // the hub's seat; 0: none
	chain   params.Chain
}

// wheelOn is the sprocket of a chain with so many teeth, by geometry: pitch circle
// p/sin(180°/N), root less a roller, outside p(0.6 + cot(180°/N)) as ASME B29.1 has it,
// widest hub p(cot(180°/N) - 1) - 0.76 mm (the last two from memory).
func wheelOn(c params.Chain, teeth int) *Sprocket {
	sn, cs := math.Sincos(math.Pi / float64(teeth))
	s := &Sprocket{Chain: c.Name, Teeth: teeth, Pitch: c.Pitch, Circle: c.Pitch / sn, chain: c}
	s.Root = s.Circle - c.Roller
	s.Outside = c.Pitch * (0.6 + cs/sn)
	s.Plates = s.Circle + plateHeight*c.Pitch
	s.Hub = c.Pitch*(cs/sn-1) - hubPlay
	return s
}

// leastTeeth is the fewest that a sprocket can have by these formulas.
const leastTeeth = 6

// sprocketOf is the job's sprocket beside what it is bolted to, and what is wrong with it;
// nil without a chain, or with too few teeth for one.
func sprocketOf(j *params.Job) (*Sprocket, params.Faults) {
	c, known := params.ChainOf(j.Hub.Sprocket.Chain)
	if !known {
		return nil, nil
	}
	if n := j.Hub.Sprocket.Teeth; n < leastTeeth {
		return nil, params.Faults{{Path: "hub.sprocket.teeth", Value: fmt.Sprint(n), Allowed: fmt.Sprintf("at least %d", leastTeeth), Cause: "no sprocket has so few"}}
	}
	s := wheelOn(c, j.Hub.Sprocket.Teeth).on(j)
	return s, s.faults(j)
}

// on adds what the hub has.
func (s *Sprocket) on(j *params.Job) *Sprocket {
	if j.Hub.Bolts.Count > 0 {
		f := screwIn(j.Hub.Bolts.Hole)
		s.Screw, s.Heads = f.Size, j.Hub.Bolts.Circle+f.HeadDiameter
	}
	if j.Hub.Seat.Side != "none" {
		s.Seat = j.Hub.Seat.Diameter
	}
	return s
}

// screwIn is the largest screw that a hole of a diameter in mm takes; the smallest known
// in a hole too small for any.
func screwIn(hole float64) params.Fastener {
	f := params.Fasteners[0]
	for _, next := range params.Fasteners {
		if next.Fine <= hole+1e-9 {
			f = next
		}
	}
	return f
}

// inside tells what of the hub the chain or the teeth would meet.
func (s *Sprocket) inside() string {
	switch {
	case s.Heads > s.Hub:
		return fmt.Sprintf("the heads of %s screws on the bolt circle reach %s, below the chain there are %s", s.Screw, params.Millimeters(s.Heads), params.Millimeters(max(0, s.Hub)))
	case s.Seat > s.Root:
		return fmt.Sprintf("the seat of %s is wider than the sprocket at its teeth's roots, %s", params.Millimeters(s.Seat), params.Millimeters(s.Root))
	}
	return ""
}

// faults warns where chain and hub, or chain and floor, are in each other's way, with
// the teeth that would do.
func (s *Sprocket) faults(j *params.Job) (out params.Faults) {
	fault := func(allowed, cause string, with ...string) {
		out = append(out, params.Fault{Path: "hub.sprocket.teeth", Value: fmt.Sprint(s.Teeth), Allowed: allowed, Cause: cause, With: with})
	}
	if cause := s.inside(); cause != "" {
		allowed := ""
		for n := s.Teeth + 1; n <= params.MostTeeth; n++ {
			if wheelOn(s.chain, n).on(j).inside() == "" {
				allowed = fmt.Sprintf("at least %d", n)
				break
			}
		}
		fault(allowed, cause, "hub.bolts.circle", "hub.bolts.hole", "hub.seat.diameter")
	}
	if floor := j.Wheel.Diameter; s.reach() >= floor {
		n := s.Teeth
		for n >= leastTeeth && wheelOn(s.chain, n).reach() >= floor {
			n--
		}
		allowed := ""
		if n >= leastTeeth {
			allowed = fmt.Sprintf("up to %d", n)
		}
		fault(allowed, fmt.Sprintf("chain and sprocket reach %s, the wheel has %s: they would touch the floor", params.Millimeters(s.reach()), params.Millimeters(floor)), "hub.sprocket.chain", "wheel.diameter")
	}
	return out
}

// reach is the diameter in mm over sprocket and chain.
func (s *Sprocket) reach() float64 { return max(s.Outside, s.Plates) }
