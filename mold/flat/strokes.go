package flat

import (
	"math"
	"slices"

	"wheelmold/mesh/outline"
	"wheelmold/mesh/sight"
)

// drilled is the layer of lines that are drawn as circles of holes instead.
const drilled = ""

// strokes are the lines that show in a view, by layer. A line that runs along edges of
// several layers is cut where one ends.
func (s *subject) strokes(v outline.View) (map[string][]outline.Path, error) {
	lines, err := sight.Visible(s.b, v, Tolerance)
	if err != nil {
		return nil, err
	}
	flats := s.flats(v)
	out := map[string][]outline.Path{}
	add := func(layer string, p outline.Path) { out[layer] = append(out[layer], p) }
	for _, l := range lines {
		if l.Path.Segments[0].Via != nil {
			add(layerAt(flats, middle(l.Path)), l.Path)
			continue
		}
		for _, p := range split(flats, l.Path) {
			add(p.layer, p.Path)
		}
	}
	return out, nil
}

// flatEdge is an edge as it is seen.
type flatEdge struct {
	layer string
	rank  int // the lowest counts where several lie in one place
	path  outline.Path
	box   box
	at    []seenAt
}

// seenAt is a point of an edge as it is seen, and its height toward the viewer, mm.
type seenAt struct {
	outline.Point
	height float64
}

// flats are all edges in a view.
func (s *subject) flats(v outline.View) []flatEdge {
	var out []flatEdge
	for i := range s.edges {
		e := &s.edges[i]
		f := flatEdge{layer: e.layer, rank: rankOf(e.layer)}
		if s.ofHole(e, v.W()) {
			f.layer, f.rank = drilled, -1
		}
		f.path = v.Edge(s.b, e.use(), Tolerance)
		first := true
		for x := range f.path.Stretches() {
			b := boxOf(&x)
			if !first {
				b.join(&f.box)
			}
			f.box, first = b, false
		}
		f.at = e.heights(v)
		out = append(out, f)
	}
	return out
}

// heights follows an edge in a few steps; a straight one in one.
func (e *edge) heights(v outline.View) []seenAt {
	const steps = 48
	n := steps
	if e.Curve.Line {
		n = 1
	}
	var out []seenAt
	for k := range n + 1 {
		p := e.Curve.At(e.T0 + (e.T1-e.T0)*float64(k)/float64(n))
		out = append(out, seenAt{v.At(p), v.W().Dot(p.Sub(v.O))})
	}
	return out
}

// height of the edge where it is seen at p: its highest, where several places are.
func (f *flatEdge) height(p outline.Point) float64 {
	nearest, high := math.Inf(1), math.Inf(-1)
	for k := range len(f.at) - 1 {
		a, b := f.at[k], f.at[k+1]
		s := outline.Stretch{From: a.Point, To: b.Point}
		share := min(max(s.Share(p), 0), 1)
		away, h := dist(s.At(share), p), a.height+share*(b.height-a.height)
		if s.Length() < joint {
			h = max(a.height, b.height)
		}
		switch {
		case away < nearest-seenIn:
			nearest, high = away, h
		case away < nearest+seenIn:
			nearest, high = min(nearest, away), max(high, h)
		}
	}
	return high
}

// rankOf puts features before what they are cut into.
func rankOf(layer string) int {
	i := slices.IndexFunc(byRole, func(r roleLayer) bool { return r.layer == layer })
	if i < 0 {
		return len(byRole)
	}
	return i
}

// seenIn is how far a line that shows may lie from an edge that it shows, mm: sight draws
// lines within 1e-4 mm as one, and chords keep within the tolerance on either.
const seenIn = 2*Tolerance + 1e-4

// level: edges whose heights differ by less lie in one place, mm; much less than a feature
// is deep, more than the steps along a curve leave off.
const level = .05

// layerAt is the layer of the edge that is seen at a place: of those that lie there in
// line the one nearest to the viewer, and of several there a feature's.
func layerAt(flats []flatEdge, p outline.Point) string {
	best, high := flatEdge{layer: Edges, rank: len(byRole)}, math.Inf(-1)
	for i := range flats {
		f := &flats[i]
		if !f.box.holds(p) || !passes(f.path, p) {
			continue
		}
		h := f.height(p)
		if h > high+level || h > high-level && f.rank < best.rank {
			best = *f
		}
		high = max(high, h)
	}
	return best.layer
}

func passes(path outline.Path, p outline.Point) bool {
	for s := range path.Stretches() {
		if s.Length() > joint && dist(s.Nearest(p), p) < seenIn {
			return true
		}
	}
	return false
}

// middle is the point in the middle of a curve.
func middle(p outline.Path) outline.Point {
	via := p.Segments[0].Via
	return via[len(via)/2]
}

// layered is a part of a line.
type layered struct {
	outline.Path
	layer string
}

// split cuts a line or circle where edges of another layer begin. What stays in one is
// left as it was.
func split(flats []flatEdge, p outline.Path) []layered {
	var parts []outline.Stretch
	var names []string
	for s := range p.Stretches() {
		for _, part := range cutAt(s, endsNear(flats, boxOf(&s))) {
			parts = append(parts, part)
			names = append(names, layerOf(flats, &part))
		}
	}
	if same := slices.Compact(slices.Clone(names)); len(same) == 1 {
		return []layered{{p, names[0]}}
	}
	var out []layered
	for i := 0; i < len(parts); {
		path := pathOf(&parts[i])
		k := i + 1
		for ; k < len(parts) && names[k] == names[i]; k++ {
			path.Segments = append(path.Segments, pathOf(&parts[k]).Segments...)
		}
		out = append(out, layered{path, names[i]})
		i = k
	}
	return out
}

// layerOf is the layer of most of three places along a stretch: an edge may cross it in
// one of them.
func layerOf(flats []flatEdge, s *outline.Stretch) string {
	a, b, c := layerAt(flats, s.At(.31)), layerAt(flats, s.At(.52)), layerAt(flats, s.At(.73))
	if a == c {
		return a
	}
	return b
}

// endsNear are the ends of edges in a box.
func endsNear(flats []flatEdge, b box) []outline.Point {
	var out []outline.Point
	for i := range flats {
		f := &flats[i]
		if !f.box.meets(&b) {
			continue
		}
		for _, p := range [2]outline.Point{f.path.Start, end(f.path)} {
			if b.holds(p) {
				out = append(out, p)
			}
		}
	}
	return out
}
