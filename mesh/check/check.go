// Package check audits a triangle mesh without trusting whoever made it.
//
// It guarantees, for a mesh that Audit calls OK, that every facet has three
// different finite corners and an area, that every edge is shared by exactly
// two facets in opposite directions, that the facets around every vertex form
// one fan, that no two vertices stand at the same place, that facets meet in
// nothing but the vertices and edges they share, and that every shell encloses
// material on its inner side: outer shells point outward, the shells of voids
// point inward. Every decision about crossing and area is exact: rounding never
// turns a touch into a miss.
//
// It does not say whether the mesh is the wanted shape, how thick its walls
// are, or how near two facets come without touching.
//
// The package knows vectors and meshes only. It shares no code with the
// packages that make meshes, so that a fault there cannot hide here.
package check

import (
	"fmt"
	"math"

	"wheelmold/mesh"
)

// Options says how far an audit goes. The zero value checks everything.
type Options struct {
	// SkipCrossings leaves out the search for facets that cut or touch each
	// other, which takes most of the time.
	SkipCrossings bool
	// MaxCrossings ends the search once about so many pairs are found; 0 means
	// 1000. A report never counts more pairs than this.
	MaxCrossings int
}

// Finding tells how often a fault occurs and where it occurs first.
type Finding struct {
	Count  int
	Facets []int    // the first place: one facet, or two that disagree
	At     mesh.Vec // the first place, mm
}

// add counts one more occurrence and remembers the first.
func (f *Finding) add(at mesh.Vec, facets ...int) {
	if f.Count == 0 {
		f.At, f.Facets = at, facets
	}
	f.Count++
}

// Shell is a connected component of facets, joined through shared edges.
type Shell struct {
	First     int      // its lowest facet
	Triangles int      // number of facets
	Volume    float64  // signed, mm³; positive where facets point outward
	Euler     int      // vertices - edges + facets: 2 for a ball, 0 for a ring
	Bounds    mesh.Box // mm
	// Depth is the number of other shells around it: 0 for an outer shell, 1
	// for a void in the material, 2 for a part loose inside a void. It is found
	// only for a closed mesh.
	Depth int
}

// Report is what an audit found.
type Report struct {
	Vertices  int // vertices that some facet uses
	Triangles int
	Edges     int // different edges
	Euler     int // vertices - edges + facets, over all shells

	BadIndex  Finding // facets that name a vertex twice or one that is not there
	NotFinite Finding // facets with a coordinate that is NaN or infinite
	ZeroArea  Finding // facets whose corners lie on a line
	Doubled   Finding // vertices at the place of an earlier vertex
	Open      Finding // edges used by one facet
	Flipped   Finding // edges used twice in the same direction
	Overused  Finding // edges used by more than two facets
	Pinched   Finding // vertices whose facets form more than one fan
	Crossing  Finding // pairs of facets that meet beyond what they share

	Shells    []Shell
	InsideOut Finding // shells that enclose nothing on their inner side
	Buried    Finding // shells that point outward inside the material of another
}

// OK reports whether the audit found no fault.
func (r Report) OK() bool { return len(r.Faults()) == 0 }

// Volume returns the sum of the shells' signed volumes, mm³.
func (r Report) Volume() float64 {
	v := 0.0
	for _, s := range r.Shells {
		v += s.Volume
	}
	return v
}

// Faults returns each kind of fault in plain words, with its first place; none
// for a sound mesh.
func (r Report) Faults() []string {
	if r.Triangles == 0 {
		return []string{"the mesh has no facets"}
	}
	var out []string
	for _, k := range []struct {
		Finding
		one, many string
	}{
		{r.BadIndex, "facet names a vertex twice or one that does not exist", "facets name a vertex twice or one that does not exist"},
		{r.NotFinite, "facet has a coordinate that is not a number", "facets have a coordinate that is not a number"},
		{r.ZeroArea, "facet has no area", "facets have no area"},
		{r.Doubled, "vertex stands at the place of another", "vertices stand at the place of another"},
		{r.Open, "edge is open: one facet has no neighbor there", "edges are open: one facet has no neighbor there"},
		{r.Flipped, "edge joins two facets that face opposite ways", "edges join two facets that face opposite ways"},
		{r.Overused, "edge is shared by more than two facets", "edges are shared by more than two facets"},
		{r.Pinched, "vertex is pinched: its facets form more than one fan", "vertices are pinched: their facets form more than one fan"},
		{r.Crossing, "pair of facets cuts or touches beyond shared edges and vertices", "pairs of facets cut or touch beyond shared edges and vertices"},
		{r.InsideOut, "shell is inside out or encloses nothing", "shells are inside out or enclose nothing"},
		{r.Buried, "shell lies inside the material of another", "shells lie inside the material of another"},
	} {
		switch {
		case k.Count == 1:
			out = append(out, fmt.Sprintf("1 %s, at %s", k.one, k.place()))
		case k.Count > 1:
			out = append(out, fmt.Sprintf("%d %s, first at %s", k.Count, k.many, k.place()))
		}
	}
	return out
}

// place names the first occurrence for a reader with a mesh viewer.
func (f Finding) place() string {
	noun := "facet"
	if len(f.Facets) > 1 {
		noun = "facets"
	}
	s := noun
	for i, n := range f.Facets {
		if i > 0 {
			s += " and"
		}
		s += fmt.Sprintf(" %d", n)
	}
	return fmt.Sprintf("%s near (%.4g, %.4g, %.4g) mm", s, f.At[0], f.At[1], f.At[2])
}

// Audit examines m. It never changes m, never panics on a damaged one, and
// finds the same for any number of processors.
func Audit(m *mesh.Mesh, o Options) Report {
	if o.MaxCrossings <= 0 {
		o.MaxCrossings = 1000
	}
	r := Report{Triangles: len(m.T)}
	a := &audit{m: m, r: &r, flaw: make([]flaw, len(m.T))}
	a.facets()
	t := a.topology()
	a.shells(t)
	if !o.SkipCrossings {
		a.crossings(o.MaxCrossings)
	}
	return r
}

// audit carries one mesh through the checks.
type audit struct {
	m    *mesh.Mesh
	r    *Report
	flaw []flaw
	pts  points  // the exact view of the vertices
	same []int32 // same[v] is the first vertex at v's place
}

// flaw says which later checks have to leave a facet out.
type flaw uint8

const (
	noTopology flaw = 1 << iota // its indices are useless
	noGeometry                  // it has no plane
)

// facets judges each facet by itself, and vertices by their places.
func (a *audit) facets() {
	m, used := a.m, make([]bool, len(a.m.V))
	for i, t := range m.T {
		if !a.indexed(t) {
			a.flaw[i] = noTopology | noGeometry
			a.r.BadIndex.add(mesh.Vec{}, i)
			continue
		}
		for _, v := range t {
			used[v] = true
		}
		if p, bad := notFinite(m.V[t[0]], m.V[t[1]], m.V[t[2]]); bad {
			a.flaw[i] = noGeometry
			a.r.NotFinite.add(p, i)
		}
	}
	a.pts = newPoints(m.V)
	a.areas()
	a.places(used)
}

// areas finds the facets whose corners lie on a line.
func (a *audit) areas() {
	for i, t := range a.m.T {
		if a.flaw[i] == 0 && a.pts.collinear(t[0], t[1], t[2]) {
			a.flaw[i] = noGeometry
			a.r.ZeroArea.add(a.m.V[t[0]], i)
		}
	}
}

// places counts used vertices and finds those that share a place. The first
// facet at a doubled vertex is looked up only when there is one.
func (a *audit) places(used []bool) {
	a.same = make([]int32, len(a.m.V))
	w := newPlaces(len(a.m.V))
	var doubled []int32
	for v, p := range a.m.V {
		a.same[v] = int32(v)
		if !used[v] {
			continue
		}
		a.r.Vertices++
		if first := w.index(p, int32(v)); first != int32(v) {
			a.same[v] = first
			doubled = append(doubled, int32(v))
		}
	}
	for _, v := range doubled {
		a.r.Doubled.add(a.m.V[v])
	}
	if len(doubled) > 0 {
		a.r.Doubled.Facets = a.facetsAt(doubled[0], a.same[doubled[0]])
	}
}

// facetsAt returns the lowest facet at each of the vertices.
func (a *audit) facetsAt(vs ...int32) []int {
	var out []int
	for _, v := range vs {
		for i, t := range a.m.T {
			if t[0] == v || t[1] == v || t[2] == v {
				out = append(out, i)
				break
			}
		}
	}
	return out
}

// indexed reports whether t names three different existing vertices.
func (a *audit) indexed(t [3]int32) bool {
	n := int32(len(a.m.V))
	for _, v := range t {
		if v < 0 || v >= n {
			return false
		}
	}
	return t[0] != t[1] && t[1] != t[2] && t[2] != t[0]
}

// notFinite returns the first of the points with a coordinate that is NaN or
// infinite.
func notFinite(ps ...mesh.Vec) (mesh.Vec, bool) {
	for _, p := range ps {
		// x-x is 0 for every finite x, NaN for the others.
		if s := (p[0] - p[0]) + (p[1] - p[1]) + (p[2] - p[2]); math.IsNaN(s) {
			return p, true
		}
	}
	return mesh.Vec{}, false
}
