// Package plumb reads a labeled solid along upright lines: at a place (x, y) it
// tells at which heights the line runs inside, in closed form, leaf by leaf. In the
// coordinates of another frame (NewAlong) the lines run in any direction.
//
// Leaves whose axis runs along the lines or square to them, and leaning ones made of
// planes, cylinders, cones and spheres, are met to rounding (1e-9 mm for solids up to
// 1 m), leaning tori to 1e-6 mm. Nothing is stepped along, so nothing is too thin to
// be met. Runs and gaps below Thin are left out: they are what rounding leaves between
// flush faces. On a line that lies in a face along the lines either answer may come.
//
// It does not know distances (mesh/field does), and it needs no boundary.
package plumb

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh/solid"
)

// Thin is the length in mm below which a run or a gap counts as none: a hundred
// times the rounding of heights, a hundredth of the lattice on which molds are built.
const Thin = 1e-7

// Run is a stretch of a line inside the solid: heights in mm, Lo < Hi.
type Run struct{ Lo, Hi float64 }

// Solid is a solid made ready for lines of one direction. It may be read from several
// goroutines, each with a Line of its own.
type Solid struct {
	root *node
	box  solid.Box
}

// New makes a solid ready for upright lines, or says what of it makes none.
func New(n *solid.Node) (*Solid, error) {
	b := builder{leaves: map[*solid.Leaf]*leaf{}, nodes: map[*solid.Node]*node{}}
	root, err := b.node(n)
	if err != nil {
		return nil, err
	}
	return &Solid{root: root, box: n.Bounds()}, nil
}

// Bounds returns a box that holds the solid, mm; it may be larger than needed.
func (s *Solid) Bounds() solid.Box { return s.box }

// Line returns a reader of lines, for one goroutine.
func (s *Solid) Line() *Line { return &Line{s: s} }

// node is a node of the tree with the rectangle in plan beyond which it is empty.
type node struct {
	op     solid.Op
	kids   []*node
	leaf   *leaf
	lo, hi [2]float64
}

func (n *node) misses(x, y float64) bool {
	return x < n.lo[0] || x > n.hi[0] || y < n.lo[1] || y > n.hi[1]
}

// builder keeps what trees share shared.
type builder struct {
	leaves map[*solid.Leaf]*leaf
	nodes  map[*solid.Node]*node
}

func (b *builder) node(n *solid.Node) (*node, error) {
	if n == nil {
		return nil, errors.New("plumb: a node of the solid is missing")
	}
	if out, ok := b.nodes[n]; ok {
		return out, nil
	}
	out := &node{op: n.Op}
	if n.Op == solid.OpLeaf {
		l, err := b.leaf(n.Leaf)
		if err != nil {
			return nil, err
		}
		out.leaf = l
	} else if len(n.Kids) == 0 {
		return nil, errors.New("plumb: a boolean of nothing")
	}
	box := n.Bounds()
	out.lo, out.hi = [2]float64{box.Lo[0], box.Lo[1]}, [2]float64{box.Hi[0], box.Hi[1]}
	for _, k := range n.Kids {
		kid, err := b.node(k)
		if err != nil {
			return nil, err
		}
		out.kids = append(out.kids, kid)
	}
	b.nodes[n] = out
	return out, nil
}

func (b *builder) leaf(l *solid.Leaf) (*leaf, error) {
	if l == nil {
		return nil, errors.New("plumb: a leaf of the solid is missing")
	}
	if out, ok := b.leaves[l]; ok {
		return out, nil
	}
	for i := range 3 {
		if !finite(l.Box.Lo[i]) || !finite(l.Box.Hi[i]) {
			return nil, fmt.Errorf("plumb: %s: the outline or its place is empty or not finite", l.Name)
		}
	}
	out := newLeaf(l)
	b.leaves[l] = out
	return out, nil
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// Line reads one line after the other and keeps the room that it needs.
type Line struct {
	s    *Solid
	runs []Run // every node's result, one after the other
	at   []float64
}

// Runs returns where the line through (x, y) lies inside, from the lowest up. The result is good until the next call.
func (l *Line) Runs(x, y float64) []Run {
	l.runs = l.runs[:0]
	return tidy(l.node(l.s.root, x, y))
}

func (l *Line) node(n *node, x, y float64) []Run {
	if n.misses(x, y) {
		return nil
	}
	switch n.op {
	case solid.OpLeaf:
		return l.leaf(n.leaf, x, y)
	case solid.OpUnion:
		return l.union(n.kids, x, y)
	}
	a := l.node(n.kids[0], x, y)
	for _, k := range n.kids[1:] {
		if len(a) == 0 {
			return nil
		}
		b := l.node(k, x, y)
		if n.op == solid.OpMinus {
			a = l.minus(a, b)
		} else {
			a = l.common(a, b)
		}
	}
	return a
}

// keep returns what was added since mark. Growing moves later results elsewhere;
// earlier ones stay readable where they were.
func (l *Line) keep(mark int) []Run { return l.runs[mark:len(l.runs):len(l.runs)] }

func (l *Line) union(kids []*node, x, y float64) []Run {
	var one []Run
	parts := 0
	mark := -1
	for _, k := range kids {
		r := l.node(k, x, y)
		if len(r) == 0 {
			continue
		}
		if parts++; parts == 1 {
			one = r
			continue
		}
		// Put what came so far behind this kid's, so that all lie together.
		mark = len(l.runs)
		l.runs = append(l.runs, one...)
		l.runs = append(l.runs, r...)
		one = l.keep(mark)
	}
	if parts < 2 {
		return one
	}
	slices.SortFunc(one, func(a, b Run) int { return cmp.Compare(a.Lo, b.Lo) })
	return join(one)
}

// join merges sorted runs that overlap or touch, in place.
func join(rs []Run) []Run {
	out := rs[:0]
	for _, r := range rs {
		if k := len(out) - 1; k >= 0 && r.Lo <= out[k].Hi {
			out[k].Hi = max(out[k].Hi, r.Hi)
			continue
		}
		out = append(out, r)
	}
	return out
}

func (l *Line) common(a, b []Run) []Run {
	mark := len(l.runs)
	for i, j := 0, 0; i < len(a) && j < len(b); {
		if lo, hi := max(a[i].Lo, b[j].Lo), min(a[i].Hi, b[j].Hi); lo < hi {
			l.runs = append(l.runs, Run{lo, hi})
		}
		if a[i].Hi < b[j].Hi {
			i++
		} else {
			j++
		}
	}
	return l.keep(mark)
}

func (l *Line) minus(a, b []Run) []Run {
	if len(b) == 0 {
		return a
	}
	mark := len(l.runs)
	for _, r := range a {
		for _, cut := range b {
			if cut.Hi <= r.Lo || cut.Lo >= r.Hi {
				continue
			}
			if cut.Lo > r.Lo {
				l.runs = append(l.runs, Run{r.Lo, cut.Lo})
			}
			r.Lo = cut.Hi
		}
		if r.Lo < r.Hi {
			l.runs = append(l.runs, r)
		}
	}
	return l.keep(mark)
}

// tidy closes gaps and drops runs below Thin, in place.
func tidy(rs []Run) []Run {
	out := rs[:0]
	for _, r := range rs {
		if k := len(out) - 1; k >= 0 && r.Lo-out[k].Hi < Thin {
			out[k].Hi = r.Hi
			continue
		}
		out = append(out, r)
	}
	return slices.DeleteFunc(out, func(r Run) bool { return r.Hi-r.Lo < Thin })
}
