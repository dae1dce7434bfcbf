package flash

import (
	"fmt"
	"math"

	"wheelmold/params"
)

// hubModulus in Pa, at room temperature and dry, which is the stiffer and so the
// worse case for a hub that stands proud: nylon 6 and acetal copolymer as
// published; printed: PLA, from memory.
var hubModulus = map[string]float64{"nylon": 2.6e9, "acetal": 3.0e9, "printed": 2.0e9}

// Stack is how the hub's length meets the room between the mold's lands, mm.
// Slack is what the hub is too short by, negative where it stands proud and
// holds the mold open.
type Stack struct {
	Slack      float64 // expected
	Room       float64 // mold.stack.gap with which it is expected to be short; 0: it is
	Least      float64 // all tolerances, heat and moisture against it at once
	Most       float64
	LeastRSS   float64 // the same by root sum of squares
	MostRSS    float64
	HubLength  float64
	Heat       float64 // growth of the hub, expected
	HeatWorst  float64
	Moisture   float64
	MoistWorst float64
	Stiffness  float64 // of the hub along its axis, N/mm
	Clamp      float64 // force of all axial bolts, N
	Pressed    float64 // by how much that force shortens a hub that stands proud
	// Closed: what holds the hub's ends is of one piece, so that a hub that is too long
	// does not go in. Else it stands proud and holds the mold open.
	Closed bool
}

// hubWarmthWorst is the warmth of the hub above the room, K, at worst: most of the
// adiabatic rise (assumed).
const hubWarmthWorst = 30

// leastSlack is by how much in mm a hub should be expected to be short.
const leastSlack = 0.02

// stackOf adds up hub, shells and lands. A land that is not flush with its plate
// brings a tolerance of its own. A clamp's force is that of the bolts that pass the
// upper plate.
func stackOf(g *geometry, j *params.Job) Stack {
	s := Stack{HubLength: g.core.Length}
	s.Heat, s.HeatWorst = j.HubExpansion()*s.HubLength*params.HubWarmth, j.HubExpansion()*s.HubLength*hubWarmthWorst
	s.MoistWorst = j.Hub.Moisture * s.HubLength
	s.Moisture = s.MoistWorst * params.MoistureShare
	gap := g.layout.GapLow + g.layout.GapTop
	tol := g.lengthTolerances(j)
	sum, square := j.Hub.LengthTolerance, j.Hub.LengthTolerance*j.Hub.LengthTolerance
	for _, t := range tol {
		sum, square = sum+t, square+t*t
	}
	s.Slack = gap - s.Heat - s.Moisture
	if s.Slack < leastSlack {
		s.Room = math.Ceil(100*(gap-s.Slack+leastSlack)) / 100
	}
	s.Least, s.Most = gap-sum-s.HeatWorst-s.MoistWorst, gap+sum
	grow := math.Hypot(s.HeatWorst-s.Heat, s.MoistWorst-s.Moisture)
	s.LeastRSS, s.MostRSS = s.Slack-math.Sqrt(square+grow*grow), s.Slack+math.Sqrt(square)
	outer, bore := g.core.EndR(), g.core.BoreR
	s.Stiffness = hubModulus[j.Hub.Material] * 1e-6 * math.Pi * (outer*outer - bore*bore) / s.HubLength
	through := 0
	for _, b := range g.layout.Bolts {
		if b.Top == g.layout.Ceil { // the others press on the shells alone
			through++
		}
	}
	s.Clamp = axialForce(j) * float64(through)
	s.Closed = g.layout.Above == ""
	s.Pressed = s.Clamp / s.Stiffness
	return s
}

// Warnings are what of the mold makes it flash for certain: a hub that is expected to
// stand proud holds it open, whatever the seals.
func (e *Estimate) Warnings() params.Faults {
	s := &e.Stack
	if s.Slack >= 0 {
		return nil
	}
	does := fmt.Sprintf("it holds the mold open, and the bolts press at most %.2f mm of that away", s.Pressed)
	if s.Closed {
		does = "it does not go into the halves, or strains them as it grows; it opens no parting line"
	}
	return params.Faults{{
		Path: "mold.stack.gap", Allowed: "from " + params.Format(params.Length, s.Room),
		Cause: fmt.Sprintf("the hub, %.2f mm long, comes out %.2f mm longer than its place once it is warm and moist: %s", s.HubLength, -s.Slack, does),
		Hint:  "set the gap so, or face the hub by as much",
		With:  []string{"hub.length", "hub.moisture"},
	}}
}

// lengthTolerances lists ± tolerances of the mold's lengths in the stack, mm: the
// shells' height, a cup's depth or the room in clam halves, and what lies between a
// plate's land and the plane on which it parts.
func (g *geometry) lengthTolerances(j *params.Job) []float64 {
	l := g.layout
	t := []float64{j.Process.Tolerance}
	if l.LineLow() != "" && l.LandLow != l.SideLow {
		t = append(t, j.Process.Tolerance)
	}
	if l.Above != "" && l.LandTop != l.Part {
		t = append(t, j.Process.Tolerance)
	}
	return t
}

// slack is the stack's slack in a state of the uncertain inputs, mm.
func (s *Stack) slack(g *geometry, j *params.Job, x *state) float64 {
	v := g.layout.GapLow + g.layout.GapTop - x.hub*j.Hub.LengthTolerance
	for _, t := range g.lengthTolerances(j) {
		v += x.lands * t
	}
	return v - s.Heat*x.heat/params.HubWarmth - s.MoistWorst*x.moisture
}

// proud is what a hub that is too long still holds the mold open by, mm, once
// the axial bolts have pressed it.
func (s *Stack) proud(slack float64, x *state) float64 {
	return max(0, -slack-s.Pressed*params.NutFactor/x.nut)
}
