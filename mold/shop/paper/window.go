package paper

import (
	"cmp"
	"slices"

	"wheelmold/mesh/outline"
	"wheelmold/mold/drawing"
)

// pathsIn are the parts of paths that lie in a circle: all of them where it is nil.
func (w *Round) pathsIn(paths []outline.Path) (out []outline.Path) {
	if w == nil {
		return paths
	}
	for i := range paths {
		var end Point
		open := false
		for s := range paths[i].Stretches() {
			for _, part := range w.partsIn(s) {
				if !open || end != part.From {
					out, open = append(out, outline.Path{Start: part.From}), true
				}
				last := &out[len(out)-1]
				last.Segments = append(last.Segments, outline.Segment{To: part.To, Center: part.Center, Radius: part.Radius, CCW: part.Sweep > 0})
				end = part.To
			}
		}
	}
	return out
}

// linesIn are the parts of straight lines in a circle.
func (w *Round) linesIn(lines [][2]Point) (out [][2]Point) {
	if w == nil {
		return lines
	}
	for _, l := range lines {
		for _, s := range w.partsIn(outline.Stretch{From: l[0], To: l[1]}) {
			out = append(out, [2]Point{s.From, s.To})
		}
	}
	return out
}

// partsIn are the parts of a stretch in a circle, without crumbs.
func (w *Round) partsIn(s outline.Stretch) (out []outline.Stretch) {
	const crumb = 1e-3 // mm of paper
	if s.Length() < crumb {
		return nil
	}
	cuts := []float64{0, 1}
	ring := circle(w.At, w.R)
	for r := range ring.Stretches() {
		for _, p := range outline.Crossings(&s, &r) {
			if share, on := s.Bears(p, 1e-6); on {
				cuts = append(cuts, share)
			}
		}
	}
	slices.SortFunc(cuts, cmp.Compare[float64])
	for i := range len(cuts) - 1 {
		if part := s.Part(cuts[i], cuts[i+1]); part.Length() > crumb && dist(part.At(.5), w.At) < w.R {
			out = append(out, part)
		}
	}
	return out
}

// detail draws a circle around what a detail shows, with its letter where there is room
// beside it.
func (g *ground) detail(d *Detail) {
	text := shortened(d.Letter, captionSize, true, letterWidth)
	at, r := times(d.At, g.scale), d.R*g.scale
	g.path(narrow, circle(at, r))
	w, h := widthOf(text, captionSize, true), capHeight*captionSize
	box := func(middle Point) drawing.Box {
		return drawing.Box{Lo: minus(middle, Point{w / 2, h/2 + descent*captionSize}), Hi: plus(middle, Point{w / 2, h / 2})}.Grow(0.5)
	}
	places := placesOf(at, r, w, h, false)
	i := max(0, slices.IndexFunc(places, func(p Point) bool { return g.free(box(p)) }))
	for ; i < len(places) && g.onBlock(box(places[i])); i++ {
	}
	if i == len(places) {
		g.missed = append(g.missed, missed{"letter of a detail", text})
		return
	}
	b := g.write(text, minus(places[i], Point{0, h / 2}), writing{size: captionSize, bold: true, anchor: Middle})
	g.take("letter of detail "+text, b)
}
