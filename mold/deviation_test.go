package mold

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/stl"
)

// edgeSet holds points of true edges of one piece, from the layout's numbers and
// not from the boundary code.
type edgeSet struct {
	names  []string
	points []mesh.Vec
}

func (s *edgeSet) add(name string, p mesh.Vec) {
	s.names, s.points = append(s.names, name), append(s.points, p)
}

// circle samples a circle about an axis through c (1: y, 2: z), at angles that
// are no simple part of a turn; keep drops what another feature takes away.
func (s *edgeSet) circle(name string, c mesh.Vec, axis int, r float64, keep func(mesh.Vec) bool) {
	f := solid.AxisFrame(c, []mesh.Vec{axisX, axisY, axisZ}[axis])
	const n = 173
	for k := 0; k < n; k++ {
		sn, cs := math.Sincos(2 * math.Pi * (float64(k) + .37) / n)
		p := f.Global(mesh.Vec{r * cs, r * sn, 0})
		if keep == nil || keep(p) {
			s.add(name, p)
		}
	}
}

// innerCorners are the corners of a slot that is not turned, at its inner end; of a round
// one the ends and the middle of its arc.
func (s *Slot) innerCorners() (points []mesh.Vec) {
	out, sense := s.Outward()
	inner, across := s.Lo, 3-out-s.Normal
	if sense < 0 {
		inner[out] = s.Hi[out]
	}
	for k := range 4 {
		p := inner
		p[s.Normal] = []float64{s.Lo[s.Normal], s.Hi[s.Normal]}[k%2]
		p[across] = []float64{s.Lo[across], s.Hi[across]}[k/2]
		way := []float64{1, -1}[k/2]
		for _, deg := range []float64{0, 45, 90} {
			sn, cs := math.Sincos(deg * math.Pi / 180)
			q := p
			q[out] += sense * s.Corner * (1 - sn)
			q[across] += way * s.Corner * (1 - cs)
			points = append(points, q)
		}
	}
	return points
}

func (m *Mold) knownEdges() map[string]*edgeSet {
	l, t, c := m.Layout, m.Tread, m.Core
	out := map[string]*edgeSet{"base": {}, "lid": {}, "shell-a": {}, "shell-b": {}, "hub": {}}
	a := func(p mesh.Vec) bool { return p[1] > 0 }
	b := func(p mesh.Vec) bool { return p[1] < 0 }
	up := func(z float64) mesh.Vec { return mesh.Vec{0, 0, z} }
	both := func(name string, p mesh.Vec, axis int, r float64) {
		out["shell-a"].circle(name, p, axis, r, a)
		out["shell-b"].circle(name, p, axis, r, b)
	}
	if t.Cross.Count == 0 {
		both("lower seam", up(0), 2, t.LowerOuter)
		both("upper seam", up(t.Top), 2, t.UpperOuter)
	}
	for i, p := range l.Balls {
		name := fmt.Sprintf("rim of ball pocket %d", i+1)
		switch {
		case p.Axis == 1:
			out["shell-a"].circle(name, p.At, 1, p.R, nil)
			out["shell-b"].circle(name, p.At, 1, p.R, nil)
		default:
			both(name, p.At, 2, p.R)
			out[map[string]string{"base/shells": "base", "lid/shells": "lid"}[p.Line]].circle(name, p.At, 2, p.R, nil)
		}
	}
	for i, p := range l.Bolts {
		name := fmt.Sprintf("bolt hole %d", i+1)
		both(name, p.At, 2, p.R)
		both(name, p.At.Add(up(l.Top)), 2, p.R)
		out["base"].circle(name, p.At, 2, p.R, nil)
		out["lid"].circle(name, p.At.Add(up(l.Top)), 2, p.R, nil)
		if p.HeadR > 0 {
			out["lid"].circle("counterbore of "+name, p.At.Add(up(l.Ceil)), 2, p.HeadR, nil)
			out["lid"].circle("counterbore of "+name, p.At.Add(up(l.Ceil-p.HeadD)), 2, p.HeadR, nil)
		}
		if p.NutR > 0 {
			if !p.NutHex {
				out["base"].circle("nut recess of "+name, p.At.Add(up(l.Bottom)), 2, p.NutR, nil)
				continue
			}
			for _, q := range hexagon(p.NutR) {
				out["base"].add("nut recess of "+name, p.At.Add(mesh.Vec{q.P[0], q.P[1], l.Bottom}))
				out["base"].add("nut recess of "+name, p.At.Add(mesh.Vec{q.P[0], q.P[1], l.Bottom + p.NutD}))
			}
		}
	}
	for i, p := range l.Gates {
		if t.Ceiling == 0 {
			out["lid"].circle(fmt.Sprintf("gate %d", i+1), p, 2, l.GateR, nil)
		}
		out["lid"].circle(fmt.Sprintf("mouth %d", i+1), p.Add(up(l.Ceil-t.Top)), 2, l.MouthR, nil)
	}
	for i, p := range l.Vents {
		out["lid"].circle(fmt.Sprintf("vent %d", i+1), p.Add(up(l.Ceil-t.Top)), 2, l.VentR, nil)
	}
	for _, s := range l.Slots { // inner corners, in the pieces on both sides
		for _, p := range s.innerCorners() {
			piece := "shell-b"
			switch {
			case p[2] < 0:
				piece = "base"
			case p[2] > l.Top:
				piece = "lid"
			case p[1] > 0:
				piece = "shell-a"
			}
			out[piece].add("corner of "+s.Name, p)
		}
	}
	h := out["hub"]
	h.circle("lower end", up(c.Z0), 2, c.EndR(), nil)
	h.circle("upper end", up(c.Z1()), 2, c.EndR(), nil)
	for _, g := range c.Grooves {
		if c.LockCount == 0 {
			h.circle("groove rim", up(c.Z0+g.From-g.Width/2), 2, c.BodyR, nil)
			h.circle("groove rim", up(c.Z0+g.From+g.Width/2), 2, c.BodyR, nil)
		}
	}
	return out
}

// creases returns the mesh edges between facets that differ in direction by
// more than about 6°: the edges that a builder sees.
func creases(m *mesh.Mesh) [][2]mesh.Vec {
	facet := map[[2]int32]int{}
	for i, t := range m.T {
		for k := range t {
			facet[[2]int32{t[k], t[(k+1)%3]}] = i
		}
	}
	var out [][2]mesh.Vec
	for i, t := range m.T {
		for k := range t {
			a, b := t[k], t[(k+1)%3]
			n, o := m.Normal(i).Unit(), m.Normal(facet[[2]int32{b, a}]).Unit()
			if a < b && n.Dot(o) < .995 {
				out = append(out, [2]mesh.Vec{m.V[a], m.V[b]})
			}
		}
	}
	return out
}

// creaseDist is the distance of p to the nearest crease, at most far.
func creaseDist(list [][2]mesh.Vec, p mesh.Vec, far float64) float64 {
	for _, e := range list {
		d := e[1].Sub(e[0])
		t := min(1, max(0, d.Dot(p.Sub(e[0]))/d.Dot(d)))
		far = min(far, p.Dist(e[0].AddScaled(t, d)))
	}
	return far
}

// inPlace reads the piece's file as a slicer would and turns it back to where
// it sits in the mold.
func inPlace(t *testing.T, p Part) *mesh.Mesh {
	t.Helper()
	var buf bytes.Buffer
	if err := stl.Write(&buf, p.Posed, p.Piece.Name); err != nil {
		t.Fatal(err)
	}
	back, err := stl.Read(bytes.NewReader(buf.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range back.V {
		back.V[i] = p.Piece.Pose.Undo(v)
	}
	return back
}

// From the written bytes, both ways: every true edge point lies on an edge of the mesh, and
// every facet on a true surface, within the tolerance.
func TestDeviation(t *testing.T) {
	tol := .02
	if testing.Short() {
		tol = .1
	}
	for _, name := range examples(t) {
		m, err := New(example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		made, err := m.Make(MakeOptions{Tolerance: tol})
		if err != nil {
			t.Fatal(err)
		}
		edges := m.knownEdges()
		for _, p := range made.Parts {
			back := inPlace(t, p)
			list := creases(back)
			worstEdge, at := 0.0, ""
			for i, q := range edges[p.Piece.Name].points {
				if d := creaseDist(list, q, 1); d > worstEdge {
					worstEdge, at = d, edges[p.Piece.Name].names[i]
				}
			}
			worstFacet := facetDeviation(p.Piece.Raw, back)
			t.Logf("%s %s: %d edge points, off by %.5f mm (%s); facets off by %.5f mm", name, p.Piece.Name, len(edges[p.Piece.Name].points), worstEdge, at, worstFacet)
			if worstEdge > tol || worstFacet > tol {
				t.Errorf("%s %s: deviation %.5f mm at %s, %.5f mm on facets, more than %g", name, p.Piece.Name, worstEdge, at, worstFacet, tol)
			}
		}
	}
}

// facetDeviation is the largest distance of facet samples to the leaves'
// surfaces.
func facetDeviation(n *solid.Node, m *mesh.Mesh) float64 {
	var patches []*solid.Patch
	for _, l := range n.Leaves() {
		for i := range l.Patches {
			patches = append(patches, &l.Patches[i])
		}
	}
	worst := 0.0
	for _, f := range m.T {
		a, b, c := m.V[f[0]], m.V[f[1]], m.V[f[2]]
		for _, w := range [][3]float64{{1. / 3, 1. / 3, 1. / 3}, {.5, .5, 0}, {0, .5, .5}, {.5, 0, .5}, {.8, .1, .1}} {
			p := a.Scale(w[0]).AddScaled(w[1], b).AddScaled(w[2], c)
			least := 1.0
			for _, pa := range patches {
				if pa.Box.Contains(p, least) {
					least = min(least, pa.Dist(p))
				}
			}
			worst = max(worst, least)
		}
	}
	return worst
}

// Parting faces: every vertex exactly on its plane, in the bytes, and what faces
// it in the other piece's file on the same plane.
func TestPartingFacesArePlanes(t *testing.T) {
	for _, name := range examples(t) {
		m, err := New(example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		made, err := m.Make(MakeOptions{Tolerance: .05})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, p := range made.Parts {
			back := inPlace(t, p)
			faces := 0
			for i := range back.T {
				f := p.Boundary.Faces[p.Mesh.Label[i]]
				if !slices.Contains(f.Roles, RoleParting) {
					continue
				}
				axis, value := 2, f.Carrier.D
				if math.Abs(f.Carrier.Frame.Z[1]) > .5 {
					axis = 1
				}
				if value != 0 && value != m.Layout.Top {
					t.Fatalf("%s %s: a parting face on plane %v", name, p.Piece.Name, value)
				}
				faces++
				for _, v := range back.T[i] {
					if back.V[v][axis] != value {
						t.Fatalf("%s %s: a vertex of a parting face lies at %v, not on its plane %v", name, p.Piece.Name, back.V[v][axis], value)
					}
				}
			}
			if faces == 0 && p.Piece.Name != "hub" {
				t.Errorf("%s %s: no parting face found", name, p.Piece.Name)
			}
		}
	}
}

// Where two pieces meet, their files agree to the bit: a bolt hole's rim has the
// same points in the base's file as in the shell's.
func TestRimsMeet(t *testing.T) {
	for _, name := range examples(t) {
		m, err := New(example(t, name))
		if err != nil {
			t.Fatal(err)
		}
		made, err := m.Make(MakeOptions{Tolerance: .02})
		if err != nil {
			t.Fatal(err)
		}
		files := map[string]*mesh.Mesh{}
		for _, p := range made.Parts {
			files[p.Piece.Name] = inPlace(t, p)
		}
		rim := func(piece string, at mesh.Vec, r, z float64) map[mesh.Vec]bool {
			out := map[mesh.Vec]bool{}
			for _, v := range files[piece].V {
				if v[2] == z && math.Abs(math.Hypot(v[0]-at[0], v[1]-at[1])-r) < 1e-4 {
					out[v] = true
				}
			}
			return out
		}
		for i, b := range m.Layout.Bolts {
			shell := "shell-a"
			if b.At[1] < 0 {
				shell = "shell-b"
			}
			for plate, z := range map[string]float64{"base": 0, "lid": m.Layout.Top} {
				p, q := rim(plate, b.At, b.R, z), rim(shell, b.At, b.R, z)
				if len(p) < 8 || !maps.Equal(p, q) {
					t.Errorf("%s: rim of bolt hole %d: %d points in %s, %d in %s, not the same", name, i+1, len(p), plate, len(q), shell)
				}
			}
		}
	}
}
