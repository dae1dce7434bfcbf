// Package release judges whether a mold opens: whether the cured rubber lets each
// piece go along its pull, piece by piece in the order in which they come off.
//
// # What it guarantees
//
// For pieces drawn off along the axis it compares, in closed form, the rubber's
// radius at every height with the narrowest place of the piece that it still has to
// pass; for pieces around the axis it takes the drag of the cross grooves' ribs on the
// lugs (mold.Tread.RibDrag) for the sector that each covers. Radii are those of the
// cavity, so that what curing takes off them is left out, on the safe side. Verdicts
// are pure functions of the mold. Rigid parts in the way are found by sweeping every
// piece along its pull, in that order (Swept).
//
// # What it does not
//
// How far rubber gives way is assumed: by MaxSqueeze of its thickness where it is
// bonded to a hard hub, and by mold.MaxLugStretch of a lug's width. The
// verdict leaves out suction, what sticks for want of release agent, and the force that
// it takes (Forces). What stays of flash between pieces is not in the way.
package release

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/cure"
	"wheelmold/params"
)

// MaxSqueeze is the share of its thickness by which rubber is taken to give way where
// it has to pass a narrower place. An assumption: rubber of Shore A 40-80 keeps its
// volume and is bonded to a hard hub, so that a ridge moves aside only as far as its
// neighborhood bulges.
const MaxSqueeze = 0.2

// Below these a draft counts as none, and a wall or a squeeze lets go by itself.
const (
	leastDraft   = 0.5  // degrees; common practice for a smooth wall
	leastWall    = 0.5  // mm of height
	leastSqueeze = 0.05 // mm: about what curing takes off a small wheel's radius
)

// Grade is how a piece lets the rubber go.
type Grade int

// Grades, the best first.
const (
	Free     Grade = iota // flat faces or draft
	Slides                // along walls without draft
	Squeezes              // rubber gives way
	Locked                // rigid parts are in each other's way
)

func (g Grade) String() string {
	return [...]string{"free", "slides", "squeezes", "locked"}[g]
}

// Piece is what keeps one piece of the mold from coming off. Lengths in mm.
type Piece struct {
	Name  string
	Kind  mold.Kind
	Pull  mesh.Vec
	Grade Grade
	// Drawn means that the wheel is drawn out of the piece by its hub.
	Drawn   bool
	Walls   []Wall  // along which rubber moves as it leaves
	Squeeze Squeeze // zero if nothing gives way
	Locks   []string
	Stubs   []Stub
	Text    string // all of this in words
}

// Wall is a face that shapes rubber and leans by Draft degrees away from the pull;
// rounds count by their chords.
type Wall struct {
	Name  string
	Draft float64
}

// Squeeze is where rubber gives way most, as a share of what gives way.
type Squeeze struct {
	By    float64
	Of    float64 // thickness of the rubber there, or a lug's width
	Limit float64 // share up to which it is taken to give way
	At    float64 // height of the rubber that gives way
	Past  string  // what it has to pass
	value value   // of the job, that shapes what it passes
}

// value of the job. To squeeze by a millimeter less it has to be less by per.
type value struct {
	path string
	kind params.Kind
	is   float64
	per  float64
}

// Share is the squeeze as a part of what gives way.
func (s *Squeeze) Share() float64 {
	if s.Of <= 0 {
		return 0
	}
	return s.By / s.Of
}

// Verdict is how a mold opens.
type Verdict struct {
	Pieces []Piece // in the order in which they come off
	Grade  Grade   // of the worst of them
	Reason string
	Slack  float64 // by which the radius of the cured rubber is expected to be smaller than the cavity's, mm

	worst int // piece that the grade rests on
	job   *params.Job
}

// Of judges a mold.
func Of(m *mold.Mold) (*Verdict, error) {
	f := cure.NewForecast(m.Job)
	v := &Verdict{Slack: max(0, (f.Cavity.Diameter-f.Middle)/2), job: m.Job}
	j := judge{m}
	held, err := Swept(m)
	if err != nil {
		return nil, err
	}
	for _, z := range inOrder(m.Split.Zones) {
		p := Piece{Name: z.Name, Kind: z.Kind, Pull: z.Pull, Stubs: j.stubs(&z)}
		switch {
		case z.Pull[2] != 0 && z.Pull[0] == 0 && z.Pull[1] == 0:
			j.along(&p, &z)
		case z.Pull[2] == 0:
			err = j.aside(&p)
		default:
			err = fmt.Errorf("%s is drawn off at a slant, which nothing here judges", z.Name)
		}
		if err != nil {
			return nil, err
		}
		for _, l := range held {
			if l.Piece == p.Name {
				p.Locks = append(p.Locks, l.String())
			}
		}
		p.grade()
		p.Text = p.words(v.Slack)
		v.Pieces = append(v.Pieces, p)
	}
	v.conclude()
	return v, nil
}

// inOrder lists zones as their pieces come off: what lifts off, what comes off
// downward, then what lies around the axis.
func inOrder(zones []mold.Zone) []mold.Zone {
	out := slices.Clone(zones)
	slices.SortStableFunc(out, func(a, b mold.Zone) int {
		return cmp.Or(cmp.Compare(math.Abs(b.Pull[2]), math.Abs(a.Pull[2])), cmp.Compare(b.Pull[2], a.Pull[2]))
	})
	return out
}

// judge is a mold to be judged.
type judge struct{ *mold.Mold }

// grade is the worst of what was found.
func (p *Piece) grade() {
	least, _ := p.Draft()
	switch {
	case len(p.Locks) > 0:
		p.Grade = Locked
	case p.Squeeze.By > 0:
		p.Grade = Squeezes
	case least < leastDraft-1e-9: // angles are found from radii
		p.Grade = Slides
	}
}

// Draft is the least draft in degrees among the walls, and its wall; 90 for flat faces
// alone.
func (p *Piece) Draft() (degrees float64, wall string) {
	degrees = 90
	for _, w := range p.Walls {
		if w.Draft < degrees {
			degrees, wall = w.Draft, w.Name
		}
	}
	return degrees, wall
}

// rank orders pieces by grade, and those that squeeze by how near to their limit.
func (p *Piece) rank() float64 {
	over := 0.0
	if p.Squeeze.By > 0 {
		over = p.Squeeze.Share() / p.Squeeze.Limit
	}
	return float64(p.Grade) + over/(1+over)
}

// conclude takes the worst piece's grade and reason; of two alike, that of the piece
// out of which the wheel is drawn.
func (v *Verdict) conclude() {
	for i := range v.Pieces {
		p, w := &v.Pieces[i], &v.Pieces[v.worst]
		if p.rank() > w.rank() || p.rank() == w.rank() && p.Drawn {
			v.worst = i
		}
	}
	p := &v.Pieces[v.worst]
	v.Grade, v.Reason = p.Grade, mold.Title(p.Name)+": "+p.Text
	if v.Grade == Free {
		v.Reason = "flat faces and draft let every piece go"
		if v.tears() {
			v.Reason += "; stubs stretch or tear"
		}
	}
}

// tears tells whether a stub does not come out whole by itself.
func (v *Verdict) tears() bool {
	return slices.ContainsFunc(v.Pieces, func(p Piece) bool {
		return slices.ContainsFunc(p.Stubs, func(s Stub) bool { return s.Fate != halved })
	})
}

// Words are the grade in a word or two, as for a table.
func (v *Verdict) Words() string {
	if v.Grade != Squeezes {
		return v.Grade.String()
	}
	return v.Grade.String() + " " + percent(v.Pieces[v.worst].Squeeze.Share())
}
