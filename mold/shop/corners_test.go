package shop_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mesh/solid"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/shop/paper"
)

// redrawn is a piece's outline drawn from what its sheet says and from nothing else: its
// call-out, its table of corners, or its overall sizes. Of a shell it ends at the axis.
func redrawn(t *testing.T, all []paper.Sheet, s *paper.Sheet, shell bool, stock float64) outline.Region {
	t.Helper()
	size := func(name string) float64 {
		for _, v := range s.Views {
			for i := range v.Dims {
				if v.Dims[i].Name == name {
					return v.Dims[i].Value
				}
			}
		}
		return 0
	}
	for _, v := range s.Views {
		for _, c := range v.Callouts {
			var across float64
			if _, err := fmt.Sscanf(c.Text, "regular octagon,\n%g across flats", &across); err == nil {
				return polygon(8, across)
			}
		}
	}
	if x := table(s, "Places of the outline's corners"); len(x.Rows) > 0 {
		return fromTable(t, x)
	}
	if d := size("overall diameter"); d > 0 {
		return outline.Region{ring(d / 2)}
	}
	w, h := size("overall width")/2, size("overall length")/2
	low := -h
	if shell {
		low, h = -stock, size("from the parting face to the outer face")-stock
	}
	if w == 0 || h <= 0 {
		t.Fatalf("%s says nothing of its outline", s.ID)
	}
	return outline.Region{straight(outline.Point{-w, low}, outline.Point{w, low}, outline.Point{w, h}, outline.Point{-w, h})}
}

func straight(all ...outline.Point) outline.Path {
	p := outline.Path{Start: all[0], Closed: true}
	for _, q := range append(all[1:], all[0]) {
		p.Segments = append(p.Segments, outline.Segment{To: q})
	}
	return p
}

func ring(r float64) outline.Path {
	return outline.Path{Start: outline.Point{r, 0}, Closed: true, Segments: []outline.Segment{
		{To: outline.Point{-r, 0}, Radius: r, CCW: true}, {To: outline.Point{r, 0}, Radius: r, CCW: true}}}
}

// polygon has flats square to the axes.
func polygon(n int, across float64) outline.Region {
	var all []outline.Point
	for i := range n {
		sn, cs := math.Sincos(2 * math.Pi * (float64(i) + .5) / float64(n))
		r := across / 2 / math.Cos(math.Pi/float64(n))
		all = append(all, outline.Point{r * cs, r * sn})
	}
	return outline.Region{straight(all...)}
}

func fromTable(t *testing.T, x paper.Table) outline.Region {
	t.Helper()
	var at []outline.Point
	for _, r := range x.Rows {
		u, err1 := strconv.ParseFloat(r[1], 64)
		v, err2 := strconv.ParseFloat(r[2], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		at = append(at, outline.Point{u, v})
	}
	p := outline.Path{Start: at[0], Closed: true}
	for i, r := range x.Rows {
		to := outline.Segment{To: at[(i+1)%len(at)]}
		var radius, u, v float64
		switch on := r[3]; {
		case on == "straight":
		case on == "parting face":
			p.Segments = append(p.Segments, outline.Segment{})
		case strings.HasSuffix(on, "about the wheel axis"):
			if _, err := fmt.Sscanf(on, "R%g about", &radius); err != nil {
				t.Fatal(err)
			}
			to.Radius, to.CCW = radius, true
		default:
			if _, err := fmt.Sscanf(on, "R%g about X %g, Y %g", &radius, &u, &v); err != nil {
				t.Fatalf("%q: %v", on, err)
			}
			to.Radius, to.Center, to.CCW = radius, outline.Point{u, v}, true
		}
		p.Segments = append(p.Segments, to)
	}
	return outline.Region{p}
}

// The outline of every piece in every split can be drawn from its sheet alone: it reaches
// as far as the piece does, all upright edges between its outer faces lie on it, and it has
// no more corners than there are such edges.
func TestOutlinesFromTheSheetAlone(t *testing.T) {
	var all []*struct {
		name string
		sets []string
	}
	add := func(name string, sets ...string) {
		all = append(all, &struct {
			name string
			sets []string
		}{name, sets})
	}
	for _, x := range moldtest.Splits {
		for _, o := range []string{"square", "octagon", "round"} {
			if flat := strings.Contains(x.Name, "three") || strings.Contains(x.Name, "four "); testing.Short() && o != "octagon" || flat && o == "round" {
				continue
			}
			add(x.Name+" "+o, append(slices.Clone(x.Sets), "mold.outline="+o, "mold.mating.stock=0.25mm")...)
		}
	}
	add("lugs", "mold.side_clamp.kind=lugs", "mold.outline=octagon")
	add("lugs on a square", "mold.side_clamp.kind=lugs", "mold.outline=square")
	for _, x := range all {
		t.Run(x.name, func(t *testing.T) {
			m, c, out := sheets(t, moldtest.Wheels[2].Job(t, x.sets...))
			for i, p := range m.Pieces {
				if p.Kind == mold.Hub {
					continue
				}
				stock := 0.0
				if p.Raw != p.Root {
					stock = m.Job.Mold.Mating.Stock
				}
				checkOutline(t, m, &p, c.RawFaces[p.Name], &out[i], redrawn(t, out, &out[i], p.Kind == mold.Shell, stock))
			}
		})
	}
}

// plan is how a sheet's X and Y lie in the mold: as the holes' places there say.
func plan(m *mold.Mold, p *mold.Piece) outline.View {
	up := [3]float64{0, 0, 1}
	e := p.Pull
	switch {
	case p.Kind == mold.Shell: // seen from above, the parting face below
		return outline.View{U: e.Cross(up), V: e}
	case m.Layout.OpenTop() && e[2] > 0:
		v := [3]float64{math.Sqrt2 / 2, math.Sqrt2 / 2, 0}
		return outline.View{U: e.Cross(v).Scale(-1), V: v}
	}
	v := [3]float64{0, 1, 0}
	return outline.View{U: e.Cross(v).Scale(-1), V: v}
}

func checkOutline(t *testing.T, m *mold.Mold, p *mold.Piece, b *brep.Boundary, s *paper.Sheet, r outline.Region) {
	t.Helper()
	const written = 0.012 // mm: to a hundredth, on both axes, of arcs also the radius
	look := plan(m, p)
	outer := func(c *solid.Carrier) bool {
		return slices.ContainsFunc(b.Faces, func(f *brep.Face) bool { return f.Carrier.ID == c.ID && slices.Contains(f.Roles, mold.RoleOuter) })
	}
	edges := 0
	parts := append(outline.Region{}, r...)
	for _, row := range table(s, "Lugs beside the outline").Rows {
		var x [4]float64
		for i := range x {
			x[i], _ = strconv.ParseFloat(row[1+i], 64)
		}
		parts = append(parts, straight(outline.Point{x[0], x[2]}, outline.Point{x[1], x[2]}, outline.Point{x[1], x[3]}, outline.Point{x[0], x[3]}))
	}
	for _, e := range b.Edges {
		if !e.Curve.Line || math.Abs(e.Curve.At(e.T1)[2]-e.Curve.At(e.T0)[2]) < 1 || len(e.Carriers) < 2 {
			continue
		}
		if at := look.At(e.Curve.At(e.T0)); outer(e.Carriers[0]) && outer(e.Carriers[1]) {
			edges++
			if d := parts.Away(at); d > written {
				t.Errorf("%s: an edge at %.3f is %.3f off the outline that is drawn", s.ID, at, d)
			}
		}
	}
	if n := len(r[0].Segments) - 1; n > edges+4 { // the parting faces, and the axis
		t.Errorf("%s: %d corners, %d edges", s.ID, n, edges)
	}
	lo, hi := parts.Bounds()
	least, most := extent(b, look)
	for k := range 2 {
		if math.Abs(hi[k]-most[k]) > written || math.Abs(lo[k]-least[k]) > written && p.Kind != mold.Shell {
			t.Errorf("%s: the outline reaches from %.3f to %.3f, the piece from %.3f to %.3f", s.ID, lo, hi, least, most)
		}
	}
}

// extent is how far a piece's edges reach in a view: of arcs to 0.005 mm.
func extent(b *brep.Boundary, look outline.View) (lo, hi outline.Point) {
	lo, hi = outline.Point{math.Inf(1), math.Inf(1)}, outline.Point{math.Inf(-1), math.Inf(-1)}
	for _, e := range b.Edges {
		n := 1
		if !e.Curve.Line {
			n = 256
		}
		for i := range n + 1 {
			at := look.At(e.Curve.At(e.T0 + (e.T1-e.T0)*float64(i)/float64(n)))
			for k := range at {
				lo[k], hi[k] = min(lo[k], at[k]), max(hi[k], at[k])
			}
		}
	}
	return lo, hi
}
