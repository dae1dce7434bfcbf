package release

import (
	"fmt"
	"math"
	"slices"

	"wheelmold/mold"
	"wheelmold/params"
)

// treadWall names the tread among the walls.
const treadWall = "the tread"

// along judges a piece that is drawn off along the axis: rubber moves the other way.
func (j judge) along(p *Piece, z *mold.Zone) {
	t, l := j.Tread, j.Layout
	up := z.Pull[2] < 0
	lo, hi := max(0, z.Box.Lo[2]), min(t.Top, z.Box.Hi[2])
	wall := func(name string, height float64) {
		if height >= leastWall {
			p.Walls = append(p.Walls, Wall{name, 0})
		}
	}
	if up {
		wall("the pedestal below the hub", l.LandLow)
	} else {
		wall("the pedestal above the hub", t.Top-l.LandTop)
		wall("the wall within the coned ceiling", t.Ceiling)
	}
	if hi <= lo {
		return
	}
	p.Drawn = up
	if t.Cross.Count > 0 {
		wall("the ribs of the cross grooves", hi-lo)
	}
	all := spans(t, lo, hi, ends(j.Core)...)
	if draft, ok := drafts(all, up); ok {
		p.Walls = append(p.Walls, Wall{treadWall, draft})
	}
	if x := tightest(all, j.Core, up); x.by >= leastSqueeze {
		p.Squeeze = Squeeze{By: x.by, Of: x.of, Limit: MaxSqueeze, At: x.at}
		j.blame(&p.Squeeze, x.past)
	}
}

// blame names what of the tread lies at a height.
func (j judge) blame(s *Squeeze, z float64) {
	t, w := j.Tread, &j.Job.Wheel
	const near = 1e-6 // mm
	for _, g := range t.Grooves {
		if math.Abs(z-g.Position) > g.Width/2+near {
			continue
		}
		n := j.number(&g)
		s.Past, s.value = fmt.Sprintf("groove %d", n), value{fmt.Sprintf("wheel.groove[%d].depth", n), params.Length, g.Depth, 1}
		if g.Shape == "half-round" {
			s.value = value{fmt.Sprintf("wheel.groove[%d].width", n), params.Length, g.Width, 2}
		}
		return
	}
	edge := t.EdgeSize + near
	switch {
	case t.Edge != "square" && z >= t.Width-edge:
		s.Past, s.value = "the upper edge", value{"wheel.edge_size", params.Length, w.EdgeSize, 1}
	case t.Edge != "square" && z <= edge:
		s.Past, s.value = "the lower edge", value{"wheel.edge_size", params.Length, w.EdgeSize, 1}
	case t.CrownR > 0:
		s.Past, s.value = "the crown's narrow end", value{"wheel.crown", params.Length, w.Crown, 1}
	default:
		s.Past, s.value = "the narrow end of its cone", value{"wheel.draft", params.Angle, w.Draft, w.Draft / s.By}
	}
}

// number is that of a groove of the tread in the job, from 1. The tread has them in
// the order of their heights.
func (j judge) number(g *params.Groove) int {
	const near = 1e-3 // mm, above what rounding moves them by
	return 1 + slices.IndexFunc(j.Job.Wheel.Grooves, func(x params.Groove) bool {
		at := x.Position
		if j.Job.Mold.FaceUp == "back" {
			at = j.Job.Wheel.Width - at
		}
		return math.Abs(at-g.Position) < near
	})
}

// aside judges a piece around the axis. Around it the cavity is round at every height,
// and the piece covers no more than half of it, so that of the rubber only what runs
// across the tread is in the way.
func (j judge) aside(p *Piece) error {
	i := slices.IndexFunc(j.Layout.Sides, func(s mold.Side) bool { return s.Name == p.Name })
	if i < 0 {
		return fmt.Errorf("%s is drawn off sideways but does not lie around the axis", p.Name)
	}
	s := &j.Layout.Sides[i]
	half := (s.To - s.From) / 2
	if half < 90 { // a half is without draft along two lines alone
		p.Walls = append(p.Walls, Wall{"the parting faces", 90 - half})
	}
	drag, lug := j.Tread.RibDrag((s.From+s.To)/2, half)
	if drag >= leastSqueeze {
		p.Squeeze = Squeeze{By: drag, Of: lug, Limit: mold.MaxLugStretch, At: j.Tread.Width / 2,
			Past:  "the ribs of the cross grooves beside the parting faces",
			value: value{"wheel.cross.depth", params.Length, j.Job.Wheel.Cross.Depth, j.Job.Wheel.Cross.Depth / drag}}
	}
	return nil
}

// meets tells whether a piece lies on a parting line along the axis.
func (j judge) meets(line, piece string) bool {
	return slices.ContainsFunc(j.Layout.Partings, func(p mold.Parting) bool {
		return p.Line == line && slices.Contains(p.Sides[:], piece)
	})
}
