package printing

import (
	"math"

	"wheelmold/params"
)

// plastic is the volume of plastic in mm³ of a piece with a volume in mm³: all of it
// if solid, else walls and a share of what is within them. Floors and roofs are taken
// to be as thick as walls.
func plastic(volume float64, d *body, p *params.Printing) float64 {
	if p.Fill == "solid" {
		return volume
	}
	skin := min(volume, d.skin(p.Wall))
	return skin + p.Infill*(volume-skin)
}

// skin is the volume in mm³ within a depth t of a piece's surface: area times t, less
// what the skins of two faces share along an outward edge, t²·tan(θ/2) for each mm of
// it where the surface turns by θ, plus the sector t²·θ/2 between them along an inward
// one (parallel bodies of polyhedra, Steiner). Round faces turn a little at each line
// of the mesh. Left out are corners, where some t³ is shared, and walls thinner than
// 2t, whose skins are counted twice: it then comes out too large. Where the skin
// would no longer grow with t it fills the piece: infinite.
func (d *body) skin(t float64) float64 {
	area, folds := d.mesh.Area(), 0.0
	across := d.neighbors()
	for i, f := range d.mesh.T {
		for k := range 3 {
			if a, b := f[k], f[(k+1)%3]; a < b {
				folds += d.fold(i, across[side{b, a}]) * d.mesh.V[b].Dist(d.mesh.V[a])
			}
		}
	}
	if area+2*folds*t <= 0 {
		return math.Inf(1)
	}
	return area*t + folds*t*t
}

// sharpest is the most that tan(θ/2) counts: an edge of 53 degrees, beyond which its
// two skins fill it all.
const sharpest = 2

// fold is what each mm of an edge between two facets adds to the skin, by t².
func (d *body) fold(i, j int) float64 {
	n, m := d.mesh.Normal(i), d.mesh.Normal(j)
	turn := math.Atan2(n.Cross(m).Norm(), n.Dot(m))
	far := 0.0 // how far the second facet lies above the first
	for _, c := range d.corners(j) {
		if h := n.Dot(c.Sub(d.mesh.V[d.mesh.T[i][0]])); math.Abs(h) > math.Abs(far) {
			far = h
		}
	}
	if far > 0 {
		return turn / 2
	}
	return -min(math.Tan(turn/2), sharpest)
}
