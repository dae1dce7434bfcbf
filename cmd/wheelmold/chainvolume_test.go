package main

import (
	"math"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/study"
	"wheelmold/params"
)

// volumeMissed is by how much a mesh misses its solid's exact volume beyond what its
// facets cut off or add, and how far that may be off, both in mm³. A facet's share is the
// distance of the surface from it, by the middles of its sides, over its area. That is
// exact but for how the space between them narrows or widens, in proportion to distance
// over radius, and for its ends, where faces meet; on the smallest holes neither takes more
// than a twentieth.
func volumeMissed(b *brep.Boundary, m *mesh.Mesh, exact float64) (missed, most float64) {
	missed, most = m.Volume()-exact, 1e-9*exact
	for i, t := range m.T {
		f := b.Faces[m.Label[i]]
		if f.Carrier.Kind == solid.Plane {
			continue
		}
		area := m.Normal(i).Norm() / 2
		for k := range t {
			p := m.V[t[k]].Add(m.V[t[(k+1)%3]]).Scale(0.5)
			share := f.Carrier.F(p) * area / 3
			if f.Negative {
				share = -share
			}
			missed -= share
			most += math.Abs(share) * min(0.05, 4*math.Abs(f.Carrier.F(p))/radius(f.Carrier, p))
		}
	}
	return missed, most
}

// radius is the lesser of the radii about a carrier's axis and of its tube, mm.
func radius(c *solid.Carrier, p solid.Vec) float64 {
	r, _, _ := c.RZ(p)
	if c.Kind == solid.Torus {
		r = min(r, c.M)
	}
	return r
}

// A vent's hole that a lid's mesh has not is found, though the lid's surface times the
// tolerance is more.
func TestDroppedHoleIsFound(t *testing.T) {
	bases := chainBases(t)
	for _, job := range []*study.File{bases[0], bases[1], bases[2], bases[len(bases)-1]} {
		with, without := lidOf(t, job, "3"), lidOf(t, job, "2")
		hole := without.Volume - with.Volume
		if most := chainTolerance * with.Mesh.Area(); !(hole > 0 && hole < most) {
			t.Errorf("a vent's hole has %g mm³, which is not below %g", hole, most)
		}
		if missed, most := volumeMissed(without.Boundary, without.Mesh, with.Volume); !(missed > most) {
			t.Errorf("a hole of %g mm³ is dropped, and %g of %g mm³ are missed", hole, missed, most)
		}
		if missed, most := volumeMissed(with.Boundary, with.Mesh, with.Volume); !(math.Abs(missed) <= most) {
			t.Errorf("no hole is dropped, and %g of %g mm³ are missed", missed, most)
		}
	}
}

// lidOf makes a job's lid with so many vents.
func lidOf(t *testing.T, job *study.File, vents string) *mold.Part {
	t.Helper()
	o := chainOptions(t)
	j, err := o.Read(job, []params.Setting{{Key: "mold.vents.count", Value: vents}})
	if err != nil {
		t.Fatal(err)
	}
	x, err := study.Lay(j, o)
	if err != nil {
		t.Fatal(err)
	}
	made, err := x.Mold.Make(mold.MakeOptions{Tolerance: chainTolerance, Only: []string{"lid"}})
	if err != nil {
		t.Fatal(err)
	}
	return &made.Parts[0]
}
