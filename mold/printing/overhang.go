package printing

import (
	"math"
	"slices"
	"strings"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/tess"
	"wheelmold/mold"
	"wheelmold/params"
)

// meshTolerance is how far in mm the meshes stay from the true faces: chords of a
// 20 mm cylinder then fall short of its area by 0.2 %.
const meshTolerance = 0.05

// onBed is how near to the lowest point a facet lies flat on the bed, mm: vertices of
// one plane agree to a lattice step of 2⁻¹⁴.
const onBed = 1e-4

// body is a piece's mesh as it lies on the bed, with the true directions of its faces.
type body struct {
	mesh  *mesh.Mesh
	faces *brep.Boundary
	pose  mold.Pose
	role  []string // of each facet
	low   float64
}

// newBody meshes a boundary and lays it into its pose.
func newBody(b *brep.Boundary, pose mold.Pose) (*body, error) {
	m, err := tess.Mesh(b, tess.Settings{Tolerance: meshTolerance})
	if err != nil {
		return nil, err
	}
	pose = pose.OnBed(m)
	d := &body{mesh: pose.Mesh(m), faces: b, pose: pose}
	d.role = roles(b, m)
	d.low = d.mesh.Bounds().Lo[2]
	return d, nil
}

// corners are the posed corners of a facet.
func (d *body) corners(i int) (c [3]mesh.Vec) {
	for k, v := range d.mesh.T[i] {
		c[k] = d.mesh.V[v]
	}
	return c
}

// area is that of a facet, mm².
func (d *body) area(i int) float64 { return d.mesh.Normal(i).Norm() / 2 }

// lies reports whether a facet rests on the bed.
func (d *body) lies(i int) bool {
	for _, c := range d.corners(i) {
		if c[2] > d.low+onBed {
			return false
		}
	}
	return true
}

// down is the part of the true outward direction at a posed point of a facet that
// points down: 1 for a ceiling, 0 for an upright wall.
func (d *body) down(i int, p mesh.Vec) float64 {
	f := d.faces.Faces[d.mesh.Label[i]]
	n := f.Carrier.N(d.pose.Undo(p))
	if f.Negative {
		n = n.Scale(-1)
	}
	z := -d.pose.Turn[2].Dot(n)
	if math.IsNaN(z) { // at a cone's apex
		z = -d.mesh.Normal(i).Unit()[2]
	}
	return z
}

// slopeSlack keeps faces that lean by just the limit off what hangs over: rounded
// lengths make a cone of 45 degrees one of 45.0001. Radians.
const slopeSlack = 1e-4

// hanging is the share of a facet that leans out over what lies below it by more than
// the limit, radians from the vertical. The lean is taken at the corners and linear
// between them, as it is around a lying cylinder, so that a facet across the limit
// counts in part.
func (d *body) hanging(i int, limit float64) float64 {
	var f [3]float64
	for k, c := range d.corners(i) {
		f[k] = math.Asin(min(max(d.down(i, c), -1), 1)) - limit - slopeSlack
	}
	return positiveShare(f)
}

// positiveShare is the share of a triangle on which the linear function with these
// values at its corners is above 0.
func positiveShare(f [3]float64) float64 {
	above := 0
	for _, v := range f {
		if v > 0 {
			above++
		}
	}
	switch above {
	case 0:
		return 0
	case 3:
		return 1
	case 2:
		return 1 - positiveShare([3]float64{-f[0], -f[1], -f[2]})
	}
	share := 1.0
	for k, v := range f {
		if v > 0 {
			share *= v / (v - f[(k+1)%3]) * v / (v - f[(k+2)%3])
		}
	}
	return share
}

// overhang adds up what hangs over.
func (d *body) overhang(p *params.Printing) (o Overhang) {
	bridged := d.bridges(p.Bridge)
	limit := p.Overhang * math.Pi / 180
	for i := range d.mesh.T {
		share := d.hanging(i, limit)
		if share == 0 || d.lies(i) {
			continue
		}
		a := share * d.area(i)
		o.All += a
		switch r := d.role[i]; {
		case bridged[i]:
			o.Bridged += a
		case ofCavity(r):
			o.Cavity += a
		case ofMating(r):
			o.Mating += a
		}
	}
	return o
}

// rests lists what lies on the bed, and the cavity and mating faces that rise from it.
func (d *body) rests() (on []Rest, stands []string) {
	for i := range d.mesh.T {
		r := d.role[i]
		switch {
		case d.lies(i):
			on = addRest(on, r, d.area(i))
		case (ofCavity(r) || ofMating(r)) && d.touches(i) && !slices.Contains(stands, r):
			stands = append(stands, r)
		}
	}
	slices.SortFunc(on, func(a, b Rest) int { return strings.Compare(a.Role, b.Role) })
	slices.Sort(stands)
	return on, stands
}

func addRest(on []Rest, role string, area float64) []Rest {
	for i := range on {
		if on[i].Role == role {
			on[i].Area += area
			return on
		}
	}
	return append(on, Rest{role, area})
}

// touches reports whether a facet has an edge on the bed.
func (d *body) touches(i int) bool {
	n := 0
	for _, c := range d.corners(i) {
		if c[2] <= d.low+onBed {
			n++
		}
	}
	return n == 2
}
