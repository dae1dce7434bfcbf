package release

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"wheelmold/mold"
	"wheelmold/params"
)

// words tell how a piece comes off; slack is what the cured rubber stands off by.
func (p *Piece) words(slack float64) string {
	how := "comes off downward"
	switch {
	case p.Drawn:
		how = "the wheel is drawn up out of it by a puller in the hub's bore"
	case p.Kind == mold.Shell:
		how = "draws off sideways"
	case p.Pull[2] > 0:
		how = "lifts off"
	}
	return how + ": " + p.why(slack)
}

func (p *Piece) why(slack float64) string {
	least, wall := p.Draft()
	switch {
	case p.Grade == Locked:
		return "locked, " + strings.Join(p.Locks, "; ")
	case p.Grade == Squeezes && p.Kind == mold.Shell:
		return fmt.Sprintf("lugs are pushed aside by %s = %s strain over their width by %s (up to %s assumed)",
			mm(p.Squeeze.By), percent(p.Squeeze.Share()), p.Squeeze.Past, percent(p.Squeeze.Limit))
	case p.Grade == Squeezes:
		return fmt.Sprintf("squeezed by %s = %s strain over the rubber's thickness at %s (up to %s assumed)",
			mm(p.Squeeze.By), percent(p.Squeeze.Share()), p.Squeeze.Past, percent(p.Squeeze.Limit))
	case p.Grade == Slides:
		s := "no draft at " + wall + ", slides"
		if wall == treadWall && slack >= leastSqueeze {
			s += "; cured rubber is expected to stand off by " + mm(slack)
		}
		return s
	case len(p.Walls) == 0 && p.Kind == mold.Shell:
		return "it covers no more than half of the tread"
	case len(p.Walls) == 0:
		return "it meets the rubber with flat faces alone"
	}
	return fmt.Sprintf("has draft, at least %s degrees at %s", strconv.FormatFloat(least, 'f', 1, 64), wall)
}

func mm(v float64) string { return params.Millimeters(v) }

// percent prints a share to two digits or so.
func percent(share float64) string {
	if p := 100 * share; p < 9.95 {
		return strconv.FormatFloat(p, 'f', 1, 64) + " %"
	}
	return strconv.FormatFloat(100*share, 'f', 0, 64) + " %"
}

// Faults are what keeps the mold from opening: pieces that lock, and rubber that would
// have to give way by more than it is taken to. None: it opens.
func (v *Verdict) Faults() params.Faults {
	var out params.Faults
	for i := range v.Pieces {
		p := &v.Pieces[i]
		title := mold.Title(p.Name)
		switch s := &p.Squeeze; {
		case p.Grade == Locked:
			out = append(out, params.Fault{Path: "mold.split", Value: v.job.Mold.Split, Cause: "the " + title + " does not come off: " + strings.Join(p.Locks, "; ")})
		case p.Grade == Squeezes && s.Share() > s.Limit:
			out = append(out, params.Fault{
				Path: s.value.path, Value: params.Format(s.value.kind, s.value.is), Allowed: s.allowed(),
				Cause: "the " + title + " does not come off: " + p.Text,
				Hint:  remedy(p), With: []string{"mold.split"},
			})
		}
	}
	return out
}

// remedy is another way to open the mold.
func remedy(p *Piece) string {
	if p.Kind == mold.Shell {
		return "or more mold.segments"
	}
	return `or mold.split = "` + params.SplitFour + `", whose shells draw off sideways`
}

// allowed is the value with which the rubber would give way by no more than the limit,
// rounded down.
func (s *Squeeze) allowed() string {
	v := s.value.is - (s.By-s.Limit*s.Of)*s.value.per
	if v <= 0 {
		return "none here"
	}
	return "up to " + params.Format(s.value.kind, math.Floor(v*100)/100)
}
