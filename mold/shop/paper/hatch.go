package paper

import (
	"cmp"
	"math"
	"slices"

	"wheelmold/mesh/outline"
)

// hatchAngles and their spacings, mm of paper, are those of the things cut in a view,
// in the order in which they come: neighbors differ (ISO 128-50).
var hatchAngles = []struct{ angle, spacing float64 }{{45, 2.5}, {135, 2.5}, {30, 3.2}, {120, 2}}

// hatched are the lines across a region on paper, for the n-th thing.
func hatched(r outline.Region, n int) (lines [][2]Point) {
	h := hatchAngles[n%len(hatchAngles)]
	sn, cs := math.Sincos(h.angle * math.Pi / 180)
	along, across := Point{cs, sn}, Point{-sn, cs}
	lo, hi := r.Bounds()
	s0, s1, t0, t1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, p := range []Point{lo, hi, {lo[0], hi[1]}, {hi[0], lo[1]}} {
		s, t := dot(p, along), dot(p, across)
		s0, s1, t0, t1 = min(s0, s), max(s1, s), min(t0, t), max(t1, t)
	}
	for t := (math.Ceil(t0/h.spacing) + 0.37) * h.spacing; t < t1; t += h.spacing {
		at := func(s float64) Point { return plus(times(along, s), times(across, t)) }
		lines = append(lines, insideOf(r, outline.Stretch{From: at(s0 - 1), To: at(s1 + 1)})...)
	}
	return lines
}

// insideOf are the parts of a straight line that lie inside a region.
func insideOf(r outline.Region, line outline.Stretch) (lines [][2]Point) {
	var cuts []float64
	for i := range r {
		for s := range r[i].Stretches() {
			for _, p := range outline.Crossings(&line, &s) {
				if _, on := s.Bears(p, 1e-6); on {
					cuts = append(cuts, line.Share(p))
				}
			}
		}
	}
	slices.SortFunc(cuts, cmp.Compare[float64])
	for i := range max(0, len(cuts)-1) {
		part := line.Part(cuts[i], cuts[i+1])
		if part.Length() > 0.05 && r.Contains(part.At(.5)) {
			lines = append(lines, [2]Point{part.From, part.To})
		}
	}
	return lines
}

func dot(a, b Point) float64 { return a[0]*b[0] + a[1]*b[1] }
