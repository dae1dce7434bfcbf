package effort

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

var milled = moldtest.Wheel{Diameter: 200, Width: 60, Bore: 20, Process: "milled"}

// of lays a job's mold out and estimates it, with two set-ups and ten holes a piece.
func of(t testing.TB, j *params.Job) (*mold.Mold, *Effort) {
	t.Helper()
	m, c := moldtest.Checked(t, j)
	work := map[string]Work{}
	for _, p := range m.Pieces {
		work[p.Name] = Work{SetUps: 2, Holes: 10}
	}
	e, err := Of(m, c.RawFaces, c.RawVolumes, work)
	if err != nil {
		t.Fatal(err)
	}
	return m, e
}

func piece(t testing.TB, e *Effort, name string) *Piece {
	t.Helper()
	for i := range e.Pieces {
		if e.Pieces[i].Name == name {
			return &e.Pieces[i]
		}
	}
	t.Fatalf("no %s", name)
	return nil
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Max(1, math.Abs(want))) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// All figures of one job by hand. The wheel is plain: 200 by 60 mm, with square edges
// and without draft, in a square mold of 300 mm with plates of 20 mm; its hub has no
// flanges, grooves, pockets or holes but the bore. Blanks are 2 mm larger all around.
func TestWorkedExample(t *testing.T) {
	j := milled.Job(t, "wheel.edge=square", "wheel.draft=0deg", "mold.outline=square", "mold.size=300mm", "mold.base_thickness=20mm",
		"mold.lid_thickness=21mm", "mold.side_clamp.kind=none", "mold.mating.stock=0mm",
		"hub.body_diameter=150mm", "hub.flange_diameter=150mm", "hub.groove=none", "hub.lock_holes.count=0", "hub.length=60mm", "hub.offset=0mm",
		"mold.stack.gap=0mm", "mold.register_back.opening=none", "mold.register_front.opening=none",
		"process.density=2.7g/cm3", "hub.density=1.14g/cm3", "hub.stock_price=20", "machining.stock_price=12", "machining.hourly_rate=60")
	m, e := of(t, j)
	if len(e.Pieces) != 5 || e.Total.Blanks != 5 {
		t.Fatalf("%d pieces, %d blanks", len(e.Pieces), e.Total.Blanks)
	}

	// Base: 300 x 300 x 20. 304 x 304 and 24, which is sold as 25.
	base := piece(t, e, "base")
	want := Stock{Shape: Block, Length: 304, Width: 304, Thickness: 25, Volume: 304 * 304 * 25}
	if base.Stock.String() != "block 304 x 304 x 25 mm" {
		t.Errorf("base: %v", base.Stock)
	}
	near(t, "base's blank", base.Stock.Volume, want.Volume, 1e-5)
	near(t, "its mass", base.StockMass, 304*304*25*2.7e-6, 1e-5) // 6.24 kg
	near(t, "its price", base.Material, 304*304*25*2.7e-6*12, 1e-5)
	// 21 mm and both allowances are 25 mm, which is a step.
	if lid := piece(t, e, "lid"); lid.Stock.String() != "block 304 x 304 x 25 mm" {
		t.Errorf("lid: %v", lid.Stock)
	}

	// A shell: 300 x 150 x 60 less a half disc; 304 x 154 x 64, as 65. Its holes, slots
	// and pockets take less than 4 % of it.
	a := piece(t, e, "shell-a")
	if a.Stock.String() != "block 304 x 154 x 65 mm" {
		t.Errorf("shell: %v", a.Stock)
	}
	metal := 60 * (300*150 - math.Pi*100*100/2)
	if a.Volume > metal*(1+1e-5) || a.Volume < .96*metal {
		t.Errorf("a shell of %.0f mm³, want a little below %.0f", a.Volume, metal)
	}
	removed := 304*154*65 - a.Volume
	near(t, "chips", a.Removed, removed, 1e-5)
	near(t, "roughing", a.Rough, removed/1000/20*60, 1e-5) // 20 cm³ a minute: 64 to 68 min, as holes take 0 to 4 %
	if a.Rough < 64*60 || a.Rough > 68*60 {
		t.Errorf("a shell roughed in %.0f s", a.Rough)
	}
	// Finished: cavity, half a cylinder; parting face; both ends. Openings take a little.
	area := math.Pi*100*60 + 100*60 + 2*(300*150-math.Pi*100*100/2)
	if a.Finished > area*(1+1e-5) || a.Finished < .93*area {
		t.Errorf("%.0f mm² finished, want a little below %.0f", a.Finished, area)
	}
	near(t, "finishing", a.Finish, a.Finished*180/1e4, 1e-9) // 3 min for 100 cm²
	near(t, "set-ups", a.SetUp, 3*1200, 0)                   // the first squares the blank
	near(t, "drilling", a.Drill, 10*45, 0)
	near(t, "programming", a.Program, 2700, 0)
	if b := piece(t, e, "shell-b"); b.Program != 0 || b.Stock != a.Stock {
		t.Errorf("shell B is programmed for %g s again", b.Program)
	}
	near(t, "hours", a.Hours, (a.Rough+a.Finish+3600+450+2700)/3600, 1e-12)
	near(t, "work", a.Work, a.Hours*60, 1e-12)
	near(t, "low", a.Low, a.Hours*30+a.Material, 1e-12)
	near(t, "high", a.High, a.Hours*120+a.Material, 1e-12)

	// Hub: 150 x 60, bored 20. A bar of 155, 60 + 4 + 20 long, of which 20 are sawn off.
	h := piece(t, e, "hub")
	if h.By != Turned || h.Stock.String() != "bar Ø 155 x 84 mm" {
		t.Errorf("hub: %s from %v", h.By, h.Stock)
	}
	disc := func(d float64) float64 { return math.Pi / 4 * d * d }
	near(t, "bar", h.StockMass, disc(155)*84*1.14e-6, 1e-5)
	near(t, "hub's volume", h.Volume, (disc(150)-disc(m.Job.Hub.Bore+m.Job.Hub.HoleCompensation))*60, 1e-4)
	near(t, "sawn off", h.Offcut, disc(155)*20, 1e-5)
	near(t, "hub's chips", h.Removed, disc(155)*64-h.Volume, 1e-5)
	near(t, "turning", h.Rough, (disc(155)*64-h.Volume)/1000/30*60, 1e-5)
	near(t, "hub's material", h.Material, disc(155)*84*1.14e-6*20, 1e-5)
	near(t, "hub's finishing", h.Finish, 0, 0)

	// The whole.
	var hours, stock, price, low, high float64
	for _, p := range e.Pieces {
		hours, stock = hours+p.Hours, stock+p.StockMass
		price, low, high = price+p.Work+p.Material, low+p.Low, high+p.High
	}
	near(t, "all hours", e.Total.Hours, hours, 1e-12)
	near(t, "all stock", e.Total.StockMass, stock, 1e-12)
	near(t, "all", e.Total.Price, price, 1e-12)
	near(t, "all low", e.Total.Low, low, 1e-12)
	near(t, "all high", e.Total.High, high, 1e-12)
}

// What follows from a blank for every piece of every split: it holds the piece with its
// allowance, weighs volume by density, and all of it is piece, chips and offcut.
func TestBlanksHoldTheirPieces(t *testing.T) {
	for _, s := range moldtest.Splits {
		for _, outline := range []string{"square", "octagon", "round"} {
			if strings.HasSuffix(s.Name, " shells") && outline == "round" {
				continue // each shell stands on a flat side
			}
			j := milled.Job(t, append(slices.Clone(s.Sets), "mold.outline="+outline)...)
			m, c := moldtest.Checked(t, j)
			e, err := Of(m, c.RawFaces, c.RawVolumes, nil)
			if err != nil {
				t.Fatal(err)
			}
			if len(e.Pieces) != len(m.Pieces) {
				t.Fatalf("%s: %d of %d pieces", s.Name, len(e.Pieces), len(m.Pieces))
			}
			for i, p := range e.Pieces {
				density, least := j.Process.Density, [3]float64{}
				if m.Pieces[i].Kind == mold.Hub {
					density = j.Hub.Density
				}
				near(t, p.Name+": mass", p.StockMass*1e6, p.Stock.Volume*density, 1e-12)
				near(t, p.Name+": chips' mass", p.ChipMass*1e6, p.Removed*density, 1e-12)
				near(t, p.Name+": blank", p.Volume+p.Removed+p.Offcut, p.Stock.Volume, 1e-12)
				if least[0] = p.Stock.Thickness; p.Stock.Shape == Bar {
					least[0] = p.Stock.Diameter
				}
				if r := math.Mod(least[0]+1e-9, j.Machining.BlankStep); r > 1e-6 {
					t.Errorf("%s, %s: %v is none that is sold", s.Name, p.Name, p.Stock)
				}
				// A skin of the allowance all around is taken off at least.
				if skin := 2 * j.Machining.Allowance * math.Pow(p.Volume, 2./3); p.Removed < skin {
					t.Errorf("%s, %s: %.0f mm³ of chips, want at least %.0f", s.Name, p.Name, p.Removed, skin)
				}
				holds(t, s.Name+", "+p.Name, &p, c, j.Machining.Allowance)
			}
		}
	}
}

// holds compares the blank with the points of all edges of a piece, in any way that its
// plan may lie.
func holds(t *testing.T, what string, p *Piece, c *mold.Checked, allowance float64) {
	t.Helper()
	fits := false
	for deg := 0.; deg < 180 && !fits; deg += 15 {
		sn, cs := math.Sincos(deg * math.Pi / 180)
		lo, hi, r := [3]float64{}, [3]float64{}, 0.
		for k := range lo {
			lo[k], hi[k] = math.Inf(1), math.Inf(-1)
		}
		for _, e := range c.RawFaces[p.Name].Edges {
			for k := range 9 {
				q := e.Curve.At(e.T0 + (e.T1-e.T0)*float64(k)/8)
				r = max(r, math.Hypot(q[0], q[1]))
				for i, v := range [3]float64{cs*q[0] + sn*q[1], cs*q[1] - sn*q[0], q[2]} {
					lo[i], hi[i] = min(lo[i], v), max(hi[i], v)
				}
			}
		}
		var size []float64
		for k := range lo {
			size = append(size, hi[k]-lo[k]+2*allowance-2e-3)
		}
		if p.Stock.Shape == Bar {
			fits = p.Stock.Diameter >= 2*r+2*allowance-2e-3 && p.Stock.Length >= size[2]
			continue
		}
		l, w, h := max(size[0], size[1], size[2]), 0., min(size[0], size[1], size[2])
		w = size[0] + size[1] + size[2] - l - h
		fits = p.Stock.Length >= l && p.Stock.Width >= w && p.Stock.Thickness >= h
	}
	if !fits {
		t.Errorf("%s does not fit into its %v", what, p.Stock)
	}
}

// A round plate wastes less of a bar, whose corners are not there to be milled off; one
// that is too large for a bar, or a square one, comes out of plate.
func TestRoundPlatesComeFromBar(t *testing.T) {
	for _, x := range []struct {
		diameter float64
		outline  string
		want     Shape
	}{{90, "round", Bar}, {90, "square", Block}, {300, "round", Block}} {
		w := moldtest.Wheel{Diameter: x.diameter, Width: .3 * x.diameter, Bore: 15, Process: "milled"}
		_, e := of(t, w.Job(t, "mold.outline="+x.outline))
		b := piece(t, e, "base")
		if b.Stock.Shape != x.want {
			t.Errorf("%g mm, %s: a base from %v", x.diameter, x.outline, b.Stock)
		}
	}
}

// A job's values move what they are for, in their direction, and nothing else.
func TestEveryRateCounts(t *testing.T) {
	_, plain := of(t, milled.Job(t))
	all := func(e *Effort) (v [8]float64) {
		for _, p := range e.Pieces {
			for i, x := range []float64{p.Rough, p.Finish, p.SetUp, p.Drill, p.Program, p.Material, p.Stock.Volume, p.Work} {
				v[i] += x
			}
		}
		return v
	}
	const rough, finish, setUp, drill, program, material, volume, work = 0, 1, 2, 3, 4, 5, 6, 7
	was := all(plain)
	for _, x := range []struct {
		set   string
		up    []int
		down  []int
		twice int // exactly so, -1: none
	}{
		{"machining.rate=40cm3", nil, []int{rough, work}, -1},
		{"machining.finishing=360s", []int{finish, work}, nil, finish},
		{"machining.set_up=2400s", []int{setUp, work}, nil, setUp},
		{"machining.hole_time=90s", []int{drill, work}, nil, drill},
		{"machining.programming=5400s", []int{program, work}, nil, program},
		{"machining.turning_rate=60cm3", nil, []int{rough, work}, -1},
		{"machining.hourly_rate=120", []int{work}, nil, work},
		{"machining.stock_price=24", []int{material}, nil, -1},
		{"hub.stock_price=40", []int{material}, nil, -1},
		{"machining.allowance=6mm", []int{rough, material, volume, work}, nil, -1},
		{"machining.blank_step=20mm", []int{rough, material, volume, work}, nil, -1},
		{"mold.base_thickness=40mm", []int{material, volume}, nil, -1},
	} {
		_, e := of(t, milled.Job(t, x.set))
		for i, v := range all(e) {
			want := 0
			for _, k := range x.up {
				if k == i {
					want = 1
				}
			}
			for _, k := range x.down {
				if k == i {
					want = -1
				}
			}
			if got := sign(v - was[i]); got != want && !strings.HasPrefix(x.set, "mold.") || want != 0 && got != want {
				t.Errorf("%s: figure %d goes from %g to %g", x.set, i, was[i], v)
			}
			if i == x.twice {
				near(t, x.set, v, 2*was[i], 1e-12)
			}
		}
	}
	_, none := of(t, milled.Job(t, "machining.hourly_rate=0", "machining.stock_price=0", "hub.stock_price=0", "machining.finishing=0s", "machining.set_up=0s", "machining.hole_time=0s", "machining.programming=0s"))
	if s := none.Total; s.Price != 0 || s.Low != 0 || s.High != 0 || s.Hours <= 0 {
		t.Errorf("at no price: %+v", s)
	}
}

func sign(v float64) int {
	switch {
	case v > 1e-9:
		return 1
	case v < -1e-9:
		return -1
	}
	return 0
}

// A printed mold is none of the shop's business, but for its hub, and a printed hub
// neither. What is assumed speaks of what is made.
func TestPrintedPiecesAreNotMilled(t *testing.T) {
	printed := moldtest.Wheel{Diameter: 70, Width: 25, Bore: 8, Process: "filament"}
	_, e := of(t, printed.Job(t))
	if len(e.Pieces) != 1 || e.Pieces[0].By != Turned || e.Total.Price != e.Pieces[0].Price {
		t.Errorf("%+v", e.Pieces)
	}
	if words := strings.Join(e.Assumed, "\n"); strings.Contains(words, "machining.rate)") || !strings.Contains(words, "machining.turning_rate") {
		t.Errorf("of a hub alone: %s", words)
	}
	_, e = of(t, printed.Job(t, "hub.material=printed"))
	if len(e.Pieces) != 0 || e.Assumed != nil || e.Total != (Sum{}) {
		t.Errorf("%+v", e)
	}
}

func TestSameEffortAgain(t *testing.T) {
	_, a := of(t, moldtest.Example(t, "albatross"))
	_, b := of(t, moldtest.Example(t, "albatross"))
	if !reflect.DeepEqual(a, b) {
		t.Error("two estimates of one job differ")
	}
}

func BenchmarkOf(b *testing.B) {
	m, c := moldtest.Checked(b, moldtest.Example(b, "albatross"))
	for b.Loop() {
		if _, err := Of(m, c.RawFaces, c.RawVolumes, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// A shell of three lies askew to the axes: its block is sawn along the way that it is
// drawn off where that is smaller, else along the axes.
func TestShellsLieAsTheyWasteLeast(t *testing.T) {
	askew := 0
	for _, sets := range [][]string{{"mold.segments=3", "mold.outline=octagon"}, {"mold.segments=4", "mold.outline=square"}} {
		j := milled.Job(t, append(sets, "mold.split=four-piece")...)
		m, c := moldtest.Checked(t, j)
		e, err := Of(m, c.RawFaces, c.RawVolumes, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range m.Pieces {
			if x.Kind != mold.Shell {
				continue
			}
			volume := func(u [2]float64) float64 { // of the block along u, before its step
				lo, hi := [3]float64{1e9, 1e9, 1e9}, [3]float64{-1e9, -1e9, -1e9}
				for _, edge := range c.RawFaces[x.Name].Edges {
					for k := range 17 {
						q := edge.Curve.At(edge.T0 + (edge.T1-edge.T0)*float64(k)/16)
						for i, v := range [3]float64{u[0]*q[0] + u[1]*q[1], u[0]*q[1] - u[1]*q[0], q[2]} {
							lo[i], hi[i] = min(lo[i], v), max(hi[i], v)
						}
					}
				}
				a := 2 * j.Machining.Allowance
				return (hi[0] - lo[0] + a) * (hi[1] - lo[1] + a) * (hi[2] - lo[2] + a)
			}
			n := math.Hypot(x.Pull[0], x.Pull[1])
			along, straight := volume([2]float64{x.Pull[0] / n, x.Pull[1] / n}), volume([2]float64{1, 0})
			if along < .98*straight {
				askew++
			}
			p := piece(t, e, x.Name)
			s := &p.Stock
			high := j.Wheel.Width + 2*j.Machining.Allowance + 2*j.Mold.Mating.Stock // the least size of these
			if got, want := s.Length*s.Width*high, min(along, straight); math.Abs(got/want-1) > 1e-3 {
				t.Errorf("%v, %s: %v; along its way off %.0f mm³, along the axes %.0f", sets, x.Name, s, along, straight)
			}
		}
	}
	if askew == 0 {
		t.Error("no shell tells one way from the other")
	}
}

// Shells that are alike are programmed once, whatever rounding turns them by; a piece
// costs the same whether others are asked for or not.
func TestShellsAreProgrammedOnce(t *testing.T) {
	for _, d := range []string{"73.7 mm", "88.9 mm", "101.6 mm", "127.3 mm", "203.7 mm"} {
		for _, segments := range []string{"2", "3", "4"} {
			j := moldtest.Wheel{Diameter: 100, Width: 40, Bore: 12, Process: "milled"}.Job(t, "wheel.diameter="+d, "mold.segments="+segments)
			m, c := moldtest.Checked(t, j)
			e, err := Of(m, c.RawFaces, c.RawVolumes, nil)
			if err != nil {
				t.Fatal(err)
			}
			paid := 0
			for i := range e.Pieces {
				if strings.HasPrefix(e.Pieces[i].Name, "shell") && e.Pieces[i].Program > 0 {
					paid++
				}
			}
			want := 1
			if segments == "3" { // an octagon does not part into three of a kind
				want = 2
			}
			if paid != want {
				t.Errorf("%s, %s shells: %d of them are programmed, want %d", d, segments, paid, want)
			}
			alone, err := Of(m, c.RawFaces, c.RawVolumes, map[string]Work{"base": {}})
			if err != nil || len(alone.Pieces) != 1 || alone.Total.Price != e.Pieces[0].Price {
				t.Errorf("%s, %s shells: the base alone costs %v, beside others %v, %v", d, segments, alone.Total.Price, e.Pieces[0].Price, err)
			}
		}
	}
}
