package brep

import (
	"sync"

	"wheelmold/mesh/solid"
)

// Evaluator finds the boundaries of solids of one model. Curves of intersection
// are found once per pair of carriers and shared by all solids; an Evaluator may
// be used by several goroutines at once.
type Evaluator struct {
	model *solid.Model

	mu       sync.RWMutex
	meetings map[pairKey]*meeting
}

type pairKey struct{ a, b int }

// NewEvaluator returns an evaluator for the solids of m, whose leaves must all
// have been built.
func NewEvaluator(m *solid.Model) *Evaluator {
	return &Evaluator{model: m, meetings: map[pairKey]*meeting{}}
}

// meeting returns what a and b have in common. Two goroutines that ask for the
// same pair at once both compute it, and get equal answers.
func (ev *Evaluator) meeting(a, b *carrier) *meeting {
	key := pairKey{a.ID, b.ID}
	ev.mu.RLock()
	m := ev.meetings[key]
	ev.mu.RUnlock()
	if m != nil {
		return m
	}
	m = meet(a, b)
	ev.mu.Lock()
	ev.meetings[key] = m
	ev.mu.Unlock()
	return m
}

// Boundary returns the exact boundary of the solid root. The error is a
// *Refusal where the shape has no boundary that a builder could want, such as
// two holes that touch in a line, or an *InternalError.
func (ev *Evaluator) Boundary(root *solid.Node) (*Boundary, error) {
	b := newBuilder(ev, root)
	if err := b.cutAllPairs(); err != nil {
		return nil, err
	}
	for _, e := range b.edges {
		b.findSides(e)
	}
	if err := b.refuse(); err != nil {
		return nil, err
	}
	return b.assemble()
}

// builder is the work on one solid.
type builder struct {
	ev       *Evaluator
	root     *solid.Node
	leaves   []*solid.Leaf
	used     []*surface // carriers with patches in the solid, by ID
	byID     []*surface // nil where not used
	vertices pointIndex
	mids     edgeIndex
	edges    []*workEdge
	marks    []mark // of the track being cut
	live     []bool // its arcs near patches of both carriers; empty: all
	touches  []touch
	seek     seeker
}

// surface is a carrier with those of its patches that belong to the solid.
type surface struct {
	*carrier
	patches []*solid.Patch
	box     Box
	whole   bool // the plane of a section: all of it counts, and it has no patch
}

// touch is an isolated point that two carriers share.
type touch struct {
	a, b *surface
	at   Vec
}

func newBuilder(ev *Evaluator, root *solid.Node) *builder {
	b := &builder{
		ev: ev, root: root, leaves: root.Leaves(),
		byID:     make([]*surface, len(ev.model.Carriers)),
		vertices: newPointIndex(),
		mids:     make(edgeIndex, 128),
	}
	for _, l := range b.leaves {
		for i := range l.Patches {
			b.use(&l.Patches[i])
		}
	}
	b.listUsed()
	return b
}

// use notes a patch of the solid.
func (b *builder) use(p *solid.Patch) {
	s := b.byID[p.Carrier.ID]
	if s == nil {
		s = &surface{carrier: p.Carrier, box: p.Box}
		b.byID[p.Carrier.ID] = s
	}
	s.patches = append(s.patches, p)
	s.box = s.box.Join(p.Box)
}

func (b *builder) listUsed() {
	for _, s := range b.byID {
		if s != nil {
			b.used = append(b.used, s)
		}
	}
}

// holds reports whether q, on the carrier, lies on one of its patches widened by eps.
func (s *surface) holds(q Vec, eps float64) bool {
	if s.whole {
		return true
	}
	for _, p := range s.patches {
		if p.Holds(q, eps) {
			return true
		}
	}
	return false
}

// meets reports whether a patch of s and one of t come within contactTol by their boxes.
func (s *surface) meets(t *surface) bool {
	if !s.box.Overlaps(t.box, contactTol) {
		return false
	}
	if len(s.patches) == 1 && len(t.patches) == 1 {
		return true
	}
	for _, p := range s.patches {
		if !p.Box.Overlaps(t.box, contactTol) {
			continue
		}
		for _, q := range t.patches {
			if p.Box.Overlaps(q.Box, contactTol) {
				return true
			}
		}
	}
	return false
}

// cutAllPairs finds the curves of every two surfaces and cuts them.
func (b *builder) cutAllPairs() error {
	for i, s := range b.used {
		for _, t := range b.used[i+1:] {
			if !s.meets(t) {
				continue
			}
			m := b.ev.meeting(s.carrier, t.carrier)
			if m.unsolved {
				if err := b.proveApart(s, t); err != nil {
					return err
				}
			}
			for _, p := range m.touches {
				b.touches = append(b.touches, touch{s, t, p})
			}
			for _, tr := range m.tracks {
				b.cut(s, t, tr)
			}
		}
	}
	return nil
}
