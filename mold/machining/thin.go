package machining

import (
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
)

// Walls. slenderest is how often its thickness a wall may stand out before it gives way
// under the cutter: common practice for aluminum. sharpest is the angle in degrees below
// which an edge is a blade that breaks off or folds over: assumed.
const (
	slenderest = 8
	stoutest   = 2 // times its thickness that a step stands out which no cutter bends: assumed
	sharpest   = 30
)

// taper is the angle in degrees between two faces from which on they are the sides of an
// edge, stout behind it, and not of a wall. Flanks of drafted ribs stay below.
const taper = 10

// turnsOfWall are the directions around an axis in which a round wall is measured: every
// 15 degrees, so that those are met in which flat faces and neighbors mostly lie.
const turnsOfWall = 24

// pair is two faces that face each other through material.
type pair struct {
	faces [2]int
	Thin
}

// thin lists walls that are thinner than the process allows or stand too slender, and
// edges like blades.
func (b *bench) thin() []Thin {
	stands := b.stands()
	var out []Thin
	for _, x := range b.pairs(max(b.m.Job.Process.MinWall, slices.Max(stands)/slenderest)) {
		f, g := &b.faces[x.faces[0]], &b.faces[x.faces[1]]
		if f.Carrier.Kind == solid.Plane && g.Carrier.Kind == solid.Plane {
			x.Height = min(stands[x.faces[0]], stands[x.faces[1]])
		}
		slender := x.Height > slenderest*x.Thickness
		if x.Height > 0 && x.Height <= stoutest*x.Thickness {
			continue // a step between two grooves, not a wall
		}
		if !slender && x.Thickness >= b.m.Job.Process.MinWall-sameRadius || b.adjoin(x.faces) {
			continue
		}
		if !slender {
			x.Height = 0
		}
		x.Roles = union(f.Roles, g.Roles)
		x.Change = b.thicker(&x.Thin)
		out = addWall(out, x.Thin)
	}
	return append(out, b.blades()...)
}

// pairs measures the walls of the piece up to a thickness through the solid, square to flat
// and round faces, and keeps the least thickness between each two.
func (b *bench) pairs(most float64) []pair {
	var out []pair
	index := map[[2]int]int{}
	for i := range b.faces {
		f := &b.faces[i]
		if f.mark {
			continue
		}
		for _, q := range b.wallSpots(i) {
			t := b.look(q.p.AddScaled(-stepOut, q.n), q.n.Scale(-1)).rest + stepOut
			if t > most || t < 2*stepOut { // or on an edge
				continue
			}
			p := q.p.AddScaled(-t, q.n)
			k := b.faceAt(p)
			if k < 0 || k == i || b.faces[k].mark || b.faces[k].tapers(q.n, p, t) {
				continue
			}
			key := [2]int{min(i, k), max(i, k)}
			x := pair{key, Thin{Thickness: t, At: q.p.AddScaled(-t/2, q.n)}}
			if j, ok := index[key]; !ok {
				index[key] = len(out)
				out = append(out, x)
			} else if t < out[j].Thickness {
				out[j] = x
			}
		}
	}
	return out
}

// tapers tells whether a face is the other side of an edge at p, not of a wall t mm thick: it
// leans off the direction n through the material, or its round bends away before the wall
// could stand out slender.
func (f *face) tapers(n, p mesh.Vec, t float64) bool {
	c := f.Carrier
	return -n.Dot(outward(f.Face, p)) < math.Cos(taper*math.Pi/180) || (c.Kind == solid.Torus || c.Kind == solid.Sphere) && c.M < slenderest*t
}

// wallSpots are the points of a flat or round face from which walls are measured.
func (b *bench) wallSpots(i int) []spot {
	f := &b.faces[i]
	c := f.Carrier
	switch c.Kind {
	case solid.Plane:
		return f.spots[:min(len(f.spots), spotsFirst)]
	case solid.Cylinder:
	default:
		return nil
	}
	var out []spot
	for k := range turnsOfWall {
		u := 2 * math.Pi * float64(k) / turnsOfWall
		for _, r := range b.rim(i).fiber(u) {
			for _, v := range []float64{.07, .5, .93} {
				p := c.P(u, r[0]+v*(r[1]-r[0]))
				out = append(out, spot{p: p, n: outward(f.Face, p)})
			}
		}
	}
	return out
}

// faceAt is the face that a point on the surface lies on, -1 if none is found.
func (b *bench) faceAt(p mesh.Vec) int {
	const near = 1e-5
	for i := range b.faces {
		if math.Abs(b.faces[i].Carrier.F(p)) < near && b.rim(i).holds(p) {
			return i
		}
	}
	return -1
}

func (b *bench) adjoin(faces [2]int) bool {
	return slices.ContainsFunc(b.seams, func(s seam) bool {
		return s.face == faces || s.face == [2]int{faces[1], faces[0]}
	})
}

// addWall adds a wall to those of the same roles: the thinnest counts.
func addWall(all []Thin, x Thin) []Thin {
	i := slices.IndexFunc(all, func(y Thin) bool { return (y.Height > 0) == (x.Height > 0) && slices.Equal(y.Roles, x.Roles) })
	if i < 0 {
		return append(all, x)
	}
	if x.Thickness < all[i].Thickness {
		all[i] = x
	}
	return all
}

// stands is how far each flat face stands out from its root, mm: from the outer edges to
// the nearest inner one. A face without both stands out by nothing, and so does an arm of a
// plate, which lies on the table: of plates what stands up counts.
func (b *bench) stands() []float64 {
	root, free := make([][]mesh.Vec, len(b.faces)), make([][]mesh.Vec, len(b.faces))
	for _, s := range b.seams {
		x := b.at(&s, .5)
		for _, i := range s.face {
			if b.faces[i].Carrier.Kind != solid.Plane || b.faces[i].mark {
				continue
			}
			for k := range cornerSpots + 1 {
				p := s.edge.At(s.edge.T0 + (s.edge.T1-s.edge.T0)*float64(k)/cornerSpots)
				if x.hollow() {
					root[i] = append(root[i], p)
				} else {
					free[i] = append(free[i], p)
				}
			}
		}
	}
	out := make([]float64, len(b.faces))
	for i := range out {
		for _, p := range free[i] {
			d := math.Inf(1)
			for _, q := range root[i] {
				if b.piece.Kind == mold.Plate {
					d = min(d, math.Abs(p.Sub(q).Dot(b.piece.Pull)))
				} else {
					d = min(d, p.Dist(q))
				}
			}
			if !math.IsInf(d, 1) {
				out[i] = max(out[i], d)
			}
		}
	}
	return out
}

// blades lists the outer edges that are sharper than an edge may be.
func (b *bench) blades() []Thin {
	var out []Thin
	for _, s := range b.seams {
		f, g := &b.faces[s.face[0]], &b.faces[s.face[1]]
		x := b.at(&s, .5)
		if x.bend >= sharpest || f.mark || g.mark {
			continue
		}
		t := Thin{Roles: union(f.Roles, g.Roles), Angle: x.bend, Length: length(s.edge), At: x.p}
		t.Change = b.blunter(&t)
		i := slices.IndexFunc(out, func(y Thin) bool { return slices.Equal(y.Roles, t.Roles) })
		if i < 0 {
			out = append(out, t)
			continue
		}
		out[i].Length += t.Length
		if t.Angle < out[i].Angle {
			out[i].Angle, out[i].At = t.Angle, t.At
		}
	}
	return out
}
