package report

import (
	"fmt"
	"strings"

	"wheelmold/mold"
	"wheelmold/mold/release"
)

// Release is how the mold opens. How far rubber gives way is assumed.
type Release struct {
	Grade  string         `json:"grade"`         // "free", "slides", "squeezes" or "locked"
	Words  string         `json:"words"`         // with how much, if it squeezes
	Opens  bool           `json:"opens"`         // nothing locks or squeezes beyond what is assumed
	Reason string         `json:"reason"`        // of the worst piece
	Slack  float64        `json:"stands_off_mm"` // by which the cured rubber's radius is expected to be smaller than the cavity's
	Pieces []ReleasePiece `json:"pieces"`        // in the order in which they come off

	onTread bool // the mold parts around the middle of the tread
}

// ReleasePiece is how one piece comes off.
type ReleasePiece struct {
	Name    string          `json:"name"`
	Pull    [3]float64      `json:"pull"`
	Grade   string          `json:"grade"`
	Drawn   bool            `json:"wheel_is_drawn_out"`
	Walls   []ReleaseWall   `json:"walls"`             // along which rubber moves
	Squeeze *ReleaseSqueeze `json:"squeeze,omitempty"` // where most gives way
	Locks   []string        `json:"locks"`
	Stubs   []ReleaseStub   `json:"stubs"`
	Text    string          `json:"text"`
}

// ReleaseWall is a wall and how far it leans away from the pull.
type ReleaseWall struct {
	Name  string  `json:"name"`
	Draft float64 `json:"draft_deg"`
}

// ReleaseSqueeze is rubber that has to give way.
type ReleaseSqueeze struct {
	By    float64 `json:"by_mm"`
	Of    float64 `json:"of_mm"` // the rubber's thickness there, or a lug's width
	Share float64 `json:"share"`
	Limit float64 `json:"share_assumed_to_pass"`
	At    float64 `json:"at_height_mm"`
	Past  string  `json:"past"`
}

// ReleaseStub is what becomes of the stubs in a piece's channels.
type ReleaseStub struct {
	Channel string `json:"channel"`
	Count   int    `json:"count"`
	Fate    string `json:"fate"`
}

// SetRelease reports how the mold opens.
func (c *Check) SetRelease(v *release.Verdict) {
	r := &Release{Grade: v.Grade.String(), Words: v.Words(), Opens: len(v.Faults()) == 0, Reason: v.Reason, Slack: v.Slack, onTread: c.onTread}
	for i := range v.Pieces {
		r.Pieces = append(r.Pieces, releasePiece(&v.Pieces[i]))
	}
	c.Release = r
}

func releasePiece(p *release.Piece) ReleasePiece {
	out := ReleasePiece{
		Name: p.Name, Pull: p.Pull, Grade: p.Grade.String(), Drawn: p.Drawn, Text: p.Text,
		Walls: []ReleaseWall{}, Locks: append([]string{}, p.Locks...), Stubs: []ReleaseStub{},
	}
	for _, w := range p.Walls {
		out.Walls = append(out.Walls, ReleaseWall(w))
	}
	for _, s := range p.Stubs {
		out.Stubs = append(out.Stubs, ReleaseStub(s))
	}
	if s := &p.Squeeze; s.By > 0 {
		out.Squeeze = &ReleaseSqueeze{s.By, s.Of, s.Share(), s.Limit, s.At, s.Past}
	}
	return out
}

// text prints how each piece comes off, in their order.
func (r *Release) text(p teller) {
	p.note("opening", r.Words, "in this order; how far rubber gives way is assumed")
	for i := range r.Pieces {
		x := &r.Pieces[i]
		p.note(mold.Title(x.Name), x.Grade, x.Text+x.stubs())
	}
	if r.onTread {
		p.note("", "", upper(flashOnTread))
	}
}

// flashOnTread is what a cup for a crowned tread costs.
const flashOnTread = "the cup ends in the middle of the crown: its parting line runs around the running surface and leaves a flash line there"

// stubs tell what becomes of the stubs that a piece holds.
func (x *ReleasePiece) stubs() string {
	var parts []string
	for _, s := range x.Stubs {
		parts = append(parts, fmt.Sprintf("%s %s", count(s.Count, s.Channel, s.Channel+"s"), s.Fate))
	}
	if len(parts) == 0 {
		return ""
	}
	return "; " + strings.Join(parts, "; ")
}

// worst is the piece that squeezes nearest to its limit, and its place; nil if none
// does.
func (r *Release) worst() (s *ReleaseSqueeze, at int) {
	for i := range r.Pieces {
		if x := r.Pieces[i].Squeeze; x != nil && (s == nil || x.Share/x.Limit > s.Share/s.Limit) {
			s, at = x, i
		}
	}
	return s, at
}

func (r *Release) outcome() outcome {
	o := outcome{Name: "Opening", State: fine, Says: r.Words + ": " + r.Reason}
	s, at := r.worst()
	switch {
	case !r.Opens:
		o.State = act
	case s != nil:
		o.State = mind
	}
	if s != nil {
		o.Figures = append(o.Figures, figure{Name: "rubber gives way", Value: percent(s.Share), Key: fmt.Sprintf("release.pieces.%d.squeeze.share", at), Raw: s.Share,
			Note: fmt.Sprintf("%s mm of %s mm, past %s: from the drawn outline, exact. That rubber gives way by up to %s is assumed.", number(s.By, 2), number(s.Of, 2), s.Past, percent(s.Limit))})
	}
	o.Figures = append(o.Figures, figure{Name: "cured rubber stands off", Value: number(r.Slack, 2) + " mm", Key: "release.stands_off_mm", Raw: r.Slack,
		Note: "By which its radius is expected to be smaller than the cavity's; not taken off what it squeezes. It rests on the shrinkage: see Pour."})
	return o
}
