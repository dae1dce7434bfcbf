package machining

import (
	"fmt"

	"wheelmold/mold"
	"wheelmold/params"
)

// simpler tells whether another outline of the mold takes fewer clampings. More than two
// shells share few sides of an octagon alike, so that a plain mill has to be set up for
// each; an indexing one turns to all of them in one clamping. Every outline that such a
// job may have is laid out and judged; nil where none does better.
func (p *Plan) simpler(m *mold.Mold, o Options) (best *Change, err error) {
	j := m.Job
	if j.Machining.Mill != params.MillPlain || j.Mold.Segments <= 2 {
		return nil, nil
	}
	was := p.setUps()
	least := was
	for _, outline := range []string{"round", "square", "octagon"} {
		other := *j
		if other.Mold.Outline = outline; outline == j.Mold.Outline {
			continue
		}
		n, err := mold.New(&other)
		if err != nil {
			continue // such a job is refused, or its mold cannot be made
		}
		c, err := n.Check()
		if err != nil {
			continue
		}
		q, err := judge(n, c.RawFaces, o)
		if err != nil {
			return nil, err
		}
		if k := q.setUps(); k < least {
			least = k
			best = &Change{Key: "mold.outline", Value: quote(j.Mold.Outline), Allowed: quote(outline),
				Hint: fmt.Sprintf("all pieces then take %d set-ups instead of %d", least, was), With: []string{"mold.segments", "machining.mill"}}
		}
	}
	return best, nil
}

// setUps are those of all pieces.
func (p *Plan) setUps() (n int) {
	for i := range p.Pieces {
		n += len(p.Pieces[i].SetUps)
	}
	return n
}
