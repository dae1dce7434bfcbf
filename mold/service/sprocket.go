package service

import (
	"fmt"
	"math"

	"wheelmold/params"
)

// chain is one roller chain: pitch and diameter of its rollers, or of its bushes where it
// has none, mm (ISO 606, from memory).
type chain struct{ pitch, roller float64 }

var chains = map[string]chain{"04C": {6.35, 3.30}, "06C": {9.525, 5.08}, "08A": {12.70, 7.92}}

// plateHeight is the height of a chain's plates in pitches, and hubPlay how far below
// them a hub stays, mm (both from memory).
const plateHeight, hubPlay = 0.95, 0.76

// mostTeeth is as far as teeth are sought.
const mostTeeth = 200

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
}

// wheelOn is the sprocket of a chain with so many teeth, by geometry: pitch circle
// p/sin(180°/N), root less a roller, outside p(0.6 + cot(180°/N)) as ASME B29.1 has it,
// widest hub p(cot(180°/N) - 1) - 0.76 mm (the last two from memory).
func wheelOn(name string, teeth int) *Sprocket {
	c := chains[name]
	sn, cs := math.Sincos(math.Pi / float64(teeth))
	s := &Sprocket{Chain: name, Teeth: teeth, Pitch: c.pitch, Circle: c.pitch / sn}
	s.Root = s.Circle - c.roller
	s.Outside = c.pitch * (0.6 + cs/sn)
	s.Plates = s.Circle + plateHeight*c.pitch
	s.Hub = c.pitch*(cs/sn-1) - hubPlay
	return s
}

// leastTeeth is the fewest that a sprocket can have by these formulas.
const leastTeeth = 6

// sprocketOf is the job's sprocket beside what it is bolted to; nil without one.
func sprocketOf(j *params.Job) *Sprocket {
	if _, known := chains[j.Hub.Sprocket.Chain]; !known || j.Hub.Sprocket.Teeth < leastTeeth {
		return nil
	}
	return wheelOn(j.Hub.Sprocket.Chain, j.Hub.Sprocket.Teeth).on(j)
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
		for n := s.Teeth + 1; n <= mostTeeth; n++ {
			if wheelOn(s.Chain, n).on(j).inside() == "" {
				allowed = fmt.Sprintf("at least %d", n)
				break
			}
		}
		fault(allowed, cause, "hub.bolts.circle", "hub.bolts.hole", "hub.seat.diameter")
	}
	if floor := j.Wheel.Diameter; s.reach() >= floor {
		n := s.Teeth
		for n >= leastTeeth && wheelOn(s.Chain, n).reach() >= floor {
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
