package mold

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// stockedJobs are molds of every split with 0.3 mm to lap off, some of them coated.
func stockedJobs(t *testing.T) map[string]*params.Job {
	out := map[string]*params.Job{}
	for _, set := range [][]string{
		{"mold.split=four-piece"}, {"mold.split=four-piece", "mold.segments=3"}, {"mold.split=four-piece", "mold.segments=4"},
		{"mold.split=open top"}, {"mold.split=open top", "mold.segments=3"}, {"mold.split=clam"},
		{"mold.split=cup and lid"}, {"mold.split=cup and lid", "wheel.crown=1mm"}, {"mold.split=cup and lid", "wheel.edge=square"},
		{"wheel.edge=square", "wheel.cross.count=9", "wheel.crown=1mm"}, {"mold.ceiling.shape=coned", "mold.top_allowance=1mm"},
		{"mold.jacks.size=M4", "mold.side_clamp.kind=counterbore"},
		{"wheel.crown=1mm"}, // the rounding's arc ends level on the parting plane
		{"mold.split=cup and lid", "wheel.width=21.69mm", "wheel.crown=0.63mm"}, // half of it is off the lattice
		{"mold.split=cup and lid", "wheel.width=21.69mm", "wheel.crown=0.63mm", "wheel.cross.count=18"},
	} {
		for _, coats := range []int{0, 4} {
			j := splitJob(t, 80, 30, 12, "filament", append(set, "mold.mating.stock=0.3mm")...)
			if j.Mold.Coats.Count = coats; coats > 0 {
				j.Mold.Coats.Thickness = .05
			}
			out[fmt.Sprint(set, " ", coats, " coats")] = j
		}
	}
	return out
}

// Lapped down to its zone a raw piece is the piece; it stands out of its zone by the
// stock on every parting face of shells, halves and cup, to the last bit, and nowhere
// else; plates and hub are as in the mold.
func TestLappedPiecesFit(t *testing.T) {
	for name, j := range stockedJobs(t) {
		m, err := New(j)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		ev := brep.NewEvaluator(m.Model)
		for i, p := range m.Pieces {
			lapped := p.Kind == Shell || j.Mold.Split == params.SplitCup && p.Pull[2] < 0
			if (p.Raw != p.Root) != lapped {
				t.Errorf("%s: %s is to be lapped: %v, has stock: %v", name, p.Name, lapped, p.Raw != p.Root)
			}
			if !lapped {
				continue
			}
			zone := m.Split.Zones[i].Body
			root, cut := exactVolume(t, ev, p.Name, p.Root), exactVolume(t, ev, p.Name+" lapped", solid.Intersect(p.Raw, zone))
			if math.Abs(cut/root-1) > 1e-11 {
				t.Errorf("%s: %s lapped has %.9f mm³, in the mold %.9f", name, p.Name, cut, root)
			}
			m.standsOut(t, ev, name, &p, zone.Leaf)
			for _, jack := range m.Layout.Jacks {
				in, out := jack.At.AddScaled(.1, jack.Dir), jack.At.AddScaled(-.1, jack.Dir)
				if zone.Contains(in) && p.Raw.Contains(out) {
					t.Errorf("%s: stock closes %s", name, jack.Name)
				}
			}
		}
	}
}

// standsOut measures a piece and its raw one square to each face of its zone that lies
// in the block.
func (m *Mold) standsOut(t *testing.T, ev *brep.Evaluator, name string, p *Piece, zone *solid.Leaf) {
	reach := func(n *solid.Node, dir mesh.Vec) float64 {
		b, err := ev.Boundary(n)
		if err != nil {
			t.Fatalf("%s: %s: %v", name, p.Name, err)
		}
		most := math.Inf(-1)
		for _, v := range b.Vertices {
			most = max(most, v.Dot(dir))
		}
		return most
	}
	const stock = 4915. / 16384 // 0.3 mm on the lattice
	partings := 0
	for i := range zone.Patches {
		f := &zone.Patches[i]
		out := f.Carrier.Frame.Z.Scale(f.Sign)
		plane := f.Carrier.D * f.Sign
		if got := reach(p.Root, out); math.Abs(got-plane) > 1e-9 {
			continue // beyond the block
		}
		partings++
		if got := reach(p.Raw, out) - plane; math.Abs(got-stock) > 1e-12 {
			t.Errorf("%s: %s stands out by %.15f mm along %v", name, p.Name, got, out)
		}
	}
	want := map[bool]int{true: 2, false: 0}[m.Job.Mold.Split != params.SplitClam] + 1 // both ends and a side
	switch {
	case p.Kind == Plate:
		want = 1 // a cup's rim
	case m.Job.Mold.Segments > 2:
		want++
	}
	if partings != want {
		t.Errorf("%s: %s has %d parting faces, want %d", name, p.Name, partings, want)
	}
}

// Channels on the parting plane of halves open through the stock, whatever its height:
// less than their radius, that to the bit, and more.
func TestStockOpensChannels(t *testing.T) {
	for _, process := range []string{"filament", "resin"} {
		plain, err := New(splitJob(t, 60, 20, 6, process, "mold.split=clam"))
		if err != nil {
			t.Fatal(err)
		}
		for _, stock := range []float64{.2, plain.Layout.VentR, plain.Layout.GateR, plain.Layout.MouthR, plain.Layout.VentR + .3} {
			j := splitJob(t, 60, 20, 6, process, "mold.split=clam")
			if j.Mold.Mating.Stock = stock; stock > 2 {
				continue
			}
			m, err := New(j)
			if err != nil {
				t.Fatal(err)
			}
			ev := brep.NewEvaluator(m.Model)
			open := 0
			for i, p := range m.Pieces {
				if p.Kind != Shell {
					continue
				}
				root, cut := exactVolume(t, ev, p.Name, p.Root), exactVolume(t, ev, p.Name+" lapped", solid.Intersect(p.Raw, m.Split.Zones[i].Body))
				if math.Abs(cut/root-1) > 1e-11 {
					t.Errorf("%s, %g mm: %s lapped has %.9f mm³, in the mold %.9f", process, stock, p.Name, cut, root)
				}
				exactVolume(t, ev, p.Name+" raw", p.Raw)
				for _, at := range slices.Concat(m.Layout.Gates, m.Layout.Vents) {
					for _, part := range []float64{.01, .5, .99} {
						q := at.Add(mesh.Vec{0, -part * stock * p.Pull[1], 2})
						if p.Raw.Contains(q) {
							t.Errorf("%s, %g mm: stock of %s closes the channel at %v", process, stock, p.Name, q)
						}
						open++
					}
				}
			}
			if open < 12 {
				t.Errorf("%s: %d places looked at", process, open)
			}
		}
	}
}

// Stock as high as pry slots or the balls' pockets reach beyond a parting plane: straight
// or oblique, they open through it.
func TestStockOpensSlotsAndPockets(t *testing.T) {
	for _, set := range [][]string{
		{"mold.split=four-piece"}, {"mold.split=four-piece", "mold.segments=3"}, {"mold.split=four-piece", "mold.segments=4"},
		{"mold.split=clam"}, {"mold.split=cup and lid"},
	} {
		plain, err := New(splitJob(t, 80, 30, 12, "filament", set...))
		if err != nil {
			t.Fatal(err)
		}
		l := plain.Layout
		heights := []float64{.3}
		for _, s := range l.Slots {
			for k := range s.Lo {
				if h := (s.Hi[k] - s.Lo[k]) / 2; math.Abs(h-plain.Job.Mold.PrySlots.Height/2) < 1e-3 {
					heights = append(heights[:1], h)
				}
			}
		}
		for _, p := range l.Balls {
			if p.Depth < 2 {
				heights = append(heights, p.Depth)
			}
		}
		if len(heights) < 2 {
			t.Fatalf("%v: no heights to try", set)
		}
		for _, stock := range heights {
			j := splitJob(t, 80, 30, 12, "filament", set...)
			j.Mold.Mating.Stock = stock
			m, err := New(j)
			if err != nil {
				t.Fatal(err)
			}
			ev := brep.NewEvaluator(m.Model)
			for i, p := range m.Pieces {
				if p.Raw == p.Root || p.Kind == Hub {
					continue
				}
				exactVolume(t, ev, p.Name+" raw", p.Raw)
				zone := m.Split.Zones[i].Body
				root, cut := exactVolume(t, ev, p.Name, p.Root), exactVolume(t, ev, p.Name+" lapped", solid.Intersect(p.Raw, zone))
				if math.Abs(cut/root-1) > 1e-11 {
					t.Errorf("%v, %g mm: %s lapped has %.9f mm³, in the mold %.9f", set, stock, p.Name, cut, root)
				}
				for _, s := range m.Layout.Slots {
					m.opensBefore(t, &p, &m.Split.Zones[i], s.Name, s.Middle(), stock)
				}
				for _, b := range m.Layout.Balls {
					m.opensBefore(t, &p, &m.Split.Zones[i], "ball pocket", b.At, stock)
				}
			}
		}
	}
}

// opensBefore holds that nothing lies before a feature on a zone's parting plane, as far
// as stock goes.
func (m *Mold) opensBefore(t *testing.T, p *Piece, z *Zone, what string, at mesh.Vec, stock float64) {
	out, ok := (&builder{Mold: m}).outward(z, at)
	for _, part := range []float64{.01, .5, .99} {
		if q := at.AddScaled(part*stock, out); ok && p.Raw.Contains(q) {
			t.Errorf("%g mm of stock of %s closes %s at %v", stock, p.Name, what, q)
		}
	}
}

// Stock in closed form on a plain wheel in a square block: faces less what opens in
// them, times the stock. Beside the sides' stock the cavity is a cylinder, whose chord
// shrinks a little away from the parting plane.
func TestStockVolume(t *testing.T) {
	s := solid.Round(.3)
	for _, x := range []struct{ split, piece string }{{params.SplitFour, "shell-a"}, {params.SplitCup, "cup"}} {
		j := splitJob(t, 80, 30, 12, "milled", "mold.split="+x.split, "wheel.edge=square", "mold.mating.stock=0.3mm", "mold.outline=square", "mold.side_clamp.kind=none", "wheel.draft=0deg")
		m, err := New(j)
		if err != nil {
			t.Fatal(err)
		}
		l, r := m.Layout, m.Tread.R
		p, _ := m.Piece(x.piece)
		ev := brep.NewEvaluator(m.Model)
		got := exactVolume(t, ev, "raw", p.Raw) - exactVolume(t, ev, "root", p.Root)

		disc := func(r float64) float64 { return math.Pi * r * r }
		ends := 2 * (2*l.B*l.B - disc(r)/2) // both ends of a shell
		if x.split == params.SplitCup {
			ends = 4*l.B*l.B - disc(r)
		}
		sides := 0.0
		holes := map[bool]float64{true: 2, false: 1}[x.split == params.SplitFour]
		for _, b := range l.Bolts {
			if b.At[1] > 0 || x.split == params.SplitCup {
				ends -= holes * disc(b.R)
			}
		}
		for _, b := range l.Balls {
			switch {
			case b.Axis == 1:
				sides += disc(b.R)
			case b.At[1] > 0 || x.split == params.SplitCup:
				ends -= disc(b.R)
			}
		}
		for _, q := range l.Slots {
			flat := q.Hi[2] > l.Top || q.Lo[2] < 0
			round := 2 * (1 - math.Pi/4) * q.Corner * q.Corner
			switch {
			case !flat:
				sides += m.Job.Mold.PrySlots.Depth*(q.Hi[2]-q.Lo[2]) - round
			case q.Hi[1] > l.B || x.split == params.SplitCup:
				ends -= solid.Round(m.Job.Mold.PrySlots.Depth)*(q.Hi[0]-q.Lo[0]) - round
			}
		}
		want := s * ends
		if x.split == params.SplitFour { // the sides' stock reaches over that of both ends
			chord := s/2*math.Sqrt(r*r-s*s) + r*r/2*math.Asin(s/r)
			want += 2*(l.B*s-chord)*(l.Top+2*s) - s*sides
		}
		if math.Abs(got/want-1) > 1e-8 {
			t.Errorf("%s: %.6f mm³ of stock, want %.6f", x.piece, got, want)
		}
	}
}
