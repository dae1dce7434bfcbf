package shop

import (
	"math"
	"slices"

	"wheelmold/mold"
	"wheelmold/mold/holes"
	"wheelmold/params"
)

// Limits of what locates, seals or shapes the rubber. They come from the job's own
// figures: process.tolerance, process.clearance, mold.balls.clearance, mold.balls.spare.

// upTo are limits from the nominal size upward: of what another part has to go into.
func upTo(t float64) limits { return limits{"", "(+" + mmFine(t) + " / 0)"} }

// downTo are those of what goes into another part.
func downTo(t float64) limits { return limits{"", "(0 / -" + mmFine(t) + ")"} }

// exact: a length that decides how tightly the mold closes, or what the wheel becomes.
func (s *sheet) exact() limits { return limits{"", plusMinus(s.j.Process.Tolerance)} }

// recess are those of the place for the hub's end, which has process.clearance on the
// diameter: half of it for the mold, half for the hub.
func (s *sheet) recess() limits { return upTo(s.clearanceShare(s.j.Process.Clearance)) }

// clearanceShare is the half of a clearance in mm that one of two parts may use up, to a
// micrometer; of none, the process' tolerance, which is all that a shop can hold.
func (s *sheet) clearanceShare(clearance float64) float64 {
	if half := math.Floor(clearance/2*1000+1e-6) / 1000; half > 0 {
		return half
	}
	return s.j.Process.Tolerance
}

// Ball pockets may be wider by half their clearance and deeper by half of what the two
// have to spare: never tighter, never shallower, for then the balls hold the mold open.

func (s *sheet) ballDiameter() limits { return upTo(s.clearanceShare(s.j.Mold.Balls.Clearance)) }
func (s *sheet) ballDepth() limits    { return upTo(s.j.Mold.Balls.Spare / 2) }

// ballPosition is the diameter in mm of the zone in which a ball pocket's axis lies: two
// that are off the opposite way are then off by the clearance, half of which each of them
// has to either side. No wider than the general tolerance allows.
func (s *sheet) ballPosition() float64 {
	return math.Min(2*s.clearanceShare(s.j.Mold.Balls.Clearance), 2*params.GeneralTolerance(30, s.j.Machining.GeneralTolerance))
}

// drillPoint is the usual angle of twist drills, degrees: DIN 338, type N.
const drillPoint = 118

// drilled is the least depth in mm of the cylinder of a ball pocket above a drill's point
// that leaves the ball as much room as the floor does, from the face as it leaves the
// machine. The ball's middle lies on the closed mold's parting face, and a cone that
// begins at radius r and depth h is r·cos + h·sin of half its angle away from there.
func (s *sheet) drilled(h *holes.Hole) float64 {
	balls := &s.j.Mold.Balls
	floor := h.Depth() - s.stock
	sn, cs := math.Sincos(drillPoint / 2. * math.Pi / 180)
	reach := (balls.Diameter + balls.Spare) / 2 // a ball that sinks to the floor must not rest on the cone
	for _, b := range s.m.Layout.Balls {
		if math.Abs(b.R-h.Steps[0].D0/2) < 1e-6 {
			reach = (b.Diameter + balls.Spare) / 2
		}
	}
	return math.Min(floor, (reach-h.Steps[0].D0/2*cs)/sn) + s.stock
}

// rootRadius is by how much in mm the roots of ribs may be round, and on what that rests:
// the smallest ball end of the job that reaches so deep.
func (s *sheet) rootRadius(deep float64) (r float64, source string) {
	const unknown = 0.5 // mm
	for _, c := range s.j.Machining.Cutters {
		if c.CornerRadius > c.Diameter/2-1e-9 && c.Reach >= deep && (r == 0 || c.CornerRadius < r) {
			r = c.CornerRadius
		}
	}
	if r == 0 {
		return math.Min(unknown, deep), "assumed"
	}
	return math.Min(r, deep), "the job's smallest ball end that reaches, Ø" + mm(2*r)
}

// isBall tells whether a hole is a ball's pocket.
func isBall(h *holes.Hole) bool { return h.Role == mold.RoleBall }

func (s *sheet) hasBalls() bool {
	return slices.ContainsFunc(s.holes, func(h holes.Hole) bool { return isBall(&h) })
}
