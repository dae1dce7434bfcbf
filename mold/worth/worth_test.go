package worth

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/machining/effort"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/pour"
	"wheelmold/mold/printing"
	"wheelmold/params"
)

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*math.Max(1, math.Abs(want))) {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

// plain is a set of prices that a head can reckon with.
func plain() Inputs {
	return Inputs{
		Once:     Making{Shop: 2, Work: 100},
		Mold:     Making{Shop: 8, Work: 400, Rest: 60},
		Hub:      Making{Shop: 0.1, Printer: 2, Work: 5, Rest: 3},
		Urethane: []float64{300}, KitMass: 1000, KitPrice: 30,
		Consumables: 4, Hours: 1.5, HourPrice: 10, Failures: .2, MoldLife: 10,
		Wheels: 8, BoughtPrice: 180, BoughtLife: 1.5,
	}
}

// Eight good wheels of ten casts, one mold, 3000 g in three kits: all of it by hand.
func TestWorkedExample(t *testing.T) {
	v := Of(plain())
	w := v.Wanted
	near(t, "casts", w.Casts, 10)
	if w.Molds != 1 || w.Kits != 3 {
		t.Errorf("%d molds, %d kits; want 1 and 3", w.Molds, w.Kits)
	}
	// 100 + 460 + 10*(8 + 4 + 15) + 3*30 = 920
	near(t, "cost", w.Cost.Middle, 920./8)
	near(t, "by use", w.ByUse, 920./8) // the third kit is empty
	// Half the hours: 50 + 260 + 10*(5.5 + 19) + 90
	near(t, "low", w.Cost.Low, 645./8)
	// Twice: 200 + 860 + 10*(13 + 19) + 90
	near(t, "high", w.Cost.High, 1470./8)
	near(t, "own hours", w.Own, 15./8)
	near(t, "shop", w.Shop, (2+8+1)/8.)
	near(t, "printer", w.Printer, 20./8)
	near(t, "bought for the life of a cast one", v.Bought, 120)
	near(t, "matched", v.Matched.Middle, 920./8*1.5)
	// (46 + 8 + 4 + 15 + 9)/0.8
	near(t, "further", v.Further.Middle, 82/.8)
	// Nine wheels take 11.25 casts, a second mold and a fourth kit.
	nine := plain()
	nine.Wheels = 9
	w = Of(nine).Wanted
	if w.Molds != 2 || w.Kits != 4 {
		t.Errorf("%d molds, %d kits; want 2 and 4", w.Molds, w.Kits)
	}
	near(t, "nine", w.Cost.Middle*9, 100+920+11.25*27+120)
	near(t, "nine by use", w.ByUse*9, 100+920+11.25*36)
	// The items are the cost, from the largest: 57.5 mold, 33.75 of hub and others.
	sum := 0.0
	for i, x := range v.Items {
		if sum += x.Cost; i > 0 && x.Cost > v.Items[i-1].Cost {
			t.Error("items are out of order")
		}
	}
	near(t, "items", sum, 920./8)
	if v.Items[0].Name != "mold" || v.Items[0].Cost != 57.5 {
		t.Errorf("first item: %+v", v.Items[0])
	}
}

// A kit's price that nobody stated widens the band; two urethanes of a blend are bought
// in kits each.
func TestKits(t *testing.T) {
	in := plain()
	in.PriceAssumed = true
	w := Of(in).Wanted
	near(t, "low", w.Cost.Low*8, 645-90+60)
	near(t, "high", w.Cost.High*8, 1470-90+135)
	in = plain()
	in.Urethane = []float64{150, 150}
	w = Of(in).Wanted
	if w.Kits != 4 {
		t.Errorf("%d kits, want two of each", w.Kits)
	}
	near(t, "by use", w.ByUse*8, 920)
	near(t, "whole", w.Cost.Middle*8, 950)
}

// Without failures a cast is a wheel.
func TestNoFailures(t *testing.T) {
	in := plain()
	in.Failures = 0
	for _, p := range Of(in).After {
		near(t, "casts", p.Casts, float64(p.Wheels))
	}
	in.Wheels = 10
	// 100 + 460 + 10*27 + 90
	near(t, "ten", Of(in).Wanted.Cost.Middle, 92)
}

// random draws prices, from free to dear.
func random(r *rand.Rand) Inputs {
	some := func(v float64) float64 {
		if r.IntN(5) == 0 {
			return 0
		}
		return v * r.ExpFloat64()
	}
	making := func(v float64) Making { return Making{Work: some(v), Rest: some(v / 3)} }
	in := Inputs{
		Once: making(100), Mold: making(400), Hub: making(8), Molds: r.IntN(4),
		KitMass: 1000, KitPrice: some(60), PriceAssumed: r.IntN(2) == 0, Consumables: some(5), Hours: some(2), HourPrice: some(10),
		Failures: .5 * r.Float64(), MoldLife: 1 + r.IntN(40), Wheels: 1 + r.IntN(50), BoughtPrice: 10 + 200*r.Float64(), BoughtLife: .2 + 2*r.Float64(),
	}
	for range 1 + r.IntN(2) {
		in.Urethane = append(in.Urethane, 20+some(400))
	}
	return in
}

// money reckons a total once more, by counting cast after cast what has to be bought.
func money(in *Inputs, wheels int, hours, kit float64, whole bool) float64 {
	casts := float64(wheels) / (1 - in.Failures)
	sum := in.Once.Work*hours + in.Once.Rest
	molds := max(in.Molds, 1)
	for float64(molds*in.MoldLife) < casts*(1-1e-9) {
		molds++
	}
	sum += float64(molds) * (in.Mold.Work*hours + in.Mold.Rest)
	sum += casts * (in.Hub.Work*hours + in.Hub.Rest + in.Consumables + in.Hours*in.HourPrice)
	for _, g := range in.Urethane {
		n := casts * g / in.KitMass
		if whole {
			k := 0
			for float64(k) < n*(1-1e-9) {
				k++
			}
			n = float64(k)
		}
		sum += n * in.KitPrice * kit
	}
	return sum
}

// The break-even agrees with trying every number: dearer at the one before it, cheaper at
// it and at all after, and a claim of never holds for thousands of wheels.
func TestBreakEvenByTryingAll(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	never, first, later, dips := 0, 0, 0, 0
	for range 200 {
		in := random(r)
		v := Of(in)
		doubt := 1.0
		if in.PriceAssumed {
			doubt = 1.5
		}
		for _, x := range []struct {
			e          Even
			hours, kit float64
			whole      bool
		}{{v.EvenLow, .5, 1 / doubt, false}, {v.Even, 1, 1, true}, {v.EvenHigh, 2, doubt, true}} {
			upTo := max(3000, 3*x.e.From)
			last, firstCheaper := 0, 0
			for n := 1; n <= upTo; n++ {
				switch c := money(&in, n, x.hours, x.kit, x.whole); {
				case c >= float64(n)*in.BoughtPrice/in.BoughtLife*(1+1e-12):
					last = n
				case firstCheaper == 0:
					firstCheaper = n
				}
			}
			switch {
			case x.e.From == 0 && x.e.Why == "":
				t.Fatalf("%+v: never, and no reason", in)
			case x.e.From == 0:
				never++
				if last < upTo-max(in.MoldLife, int(in.KitMass/20))-1 {
					t.Errorf("%+v: never, yet cheaper from %d to %d", in, last+1, upTo)
				}
			case x.e.From != last+1:
				t.Errorf("%+v: from %d wheels on, want %d", in, x.e.From, last+1)
			default:
				if x.e.From == 1 {
					first++
				} else {
					later++
				}
			}
			want := firstCheaper
			if want == x.e.From {
				want = 0
			}
			if x.e.First != want && (x.e.From > 0 || firstCheaper > 0) {
				t.Errorf("%+v: first cheaper at %d, want %d", in, x.e.First, want)
			}
			if x.e.First > 0 {
				dips++
			}
		}
	}
	if never < 50 || first < 5 || later < 50 || dips < 5 {
		t.Errorf("a poor draw: never %d, from the first %d, later %d, dips %d", never, first, later, dips)
	}
}

// What can happen is told for prices that leave no doubt.
func TestNeverAndAtOnce(t *testing.T) {
	in := plain()
	in.BoughtPrice, in.BoughtLife = 102.4, 1 // each further wheel costs 102.5
	if e := Of(in).Even; e.From != 0 || !strings.Contains(e.Why, "102.50") || !strings.Contains(e.Why, "102.40") {
		t.Errorf("never: %+v", e)
	}
	in.BoughtPrice = 102.501 // within a million wheels, but not within those that are tried
	if e := Of(in).Even; e.From != 0 || !strings.Contains(e.Why, "not within") {
		t.Errorf("too late: %+v", e)
	}
	in.BoughtPrice = 1000
	if e := Of(in).Even; e.From != 1 || e.First != 0 {
		t.Errorf("at once: %+v", e)
	}
	in.BoughtPrice = 0
	v := Of(in)
	if v.Bought != 0 || v.Even != (Even{}) || v.Matched.Middle != v.Wanted.Cost.Middle {
		t.Errorf("no price is stated, yet %+v", v)
	}
}

// Every price moves cost and break-even in its direction, never the other way.
func TestMonotonic(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	up := map[string]func(*Inputs){
		"once": func(in *Inputs) { in.Once.Work += 50 }, "mold": func(in *Inputs) { in.Mold.Rest += 50 }, "hub": func(in *Inputs) { in.Hub.Work += 3 },
		"kit": func(in *Inputs) { in.KitPrice += 10 }, "urethane": func(in *Inputs) { in.Urethane[0] += 100 },
		"consumables": func(in *Inputs) { in.Consumables += 2 }, "hour": func(in *Inputs) { in.HourPrice++; in.Hours++ },
		"failures": func(in *Inputs) { in.Failures += .2 }, "life": func(in *Inputs) { in.MoldLife = (in.MoldLife + 1) / 2 },
	}
	for range 200 {
		in := random(r)
		was := Of(in)
		for what, raise := range up {
			dear := in
			dear.Urethane = append([]float64{}, in.Urethane...)
			raise(&dear)
			v := Of(dear)
			for i, p := range v.After {
				q := was.After[i]
				if p.Cost.Low < q.Cost.Low-1e-9 || p.Cost.Middle < q.Cost.Middle-1e-9 || p.Cost.High < q.Cost.High-1e-9 {
					t.Errorf("%s: dearer makes %d wheels cheaper", what, p.Wheels)
				}
				if p.Cost.Low > p.Cost.Middle+1e-9 || p.Cost.Middle > p.Cost.High+1e-9 || p.ByUse > p.Cost.Middle+1e-9 {
					t.Errorf("%+v is no band", p.Cost)
				}
			}
			if v.Even.From > 0 && (was.Even.From == 0 || v.Even.From < was.Even.From) {
				t.Errorf("%s: dearer, yet worth it from %d instead of %d", what, v.Even.From, was.Even.From)
			}
		}
		// What nothing but things paid by use costs falls with the number of wheels.
		last := math.Inf(1)
		in.MoldLife = 1e9
		for n := 1; n < 200; n++ {
			p := in.after(n)
			if p.ByUse > last*(1+1e-12) {
				t.Fatalf("wheel %d costs %g, the one before %g", n, p.ByUse, last)
			}
			last = p.ByUse
		}
	}
}

// inputs takes those of a job, with two set-ups and ten holes a piece.
func inputs(t *testing.T, j *params.Job, molds int) (*Inputs, *mold.Mold, *pour.Plan, *effort.Effort, *printing.Plan) {
	t.Helper()
	m, c := moldtest.Checked(t, j)
	x, err := pour.New(m, c.Volumes, 1, pour.Options{Wheels: molds, Molds: molds})
	if err != nil {
		t.Fatal(err)
	}
	work := map[string]effort.Work{}
	for _, p := range m.Pieces {
		work[p.Name] = effort.Work{SetUps: 2, Holes: 10}
	}
	e, err := effort.Of(m, c.RawFaces, c.RawVolumes, work)
	if err != nil {
		t.Fatal(err)
	}
	p, err := printing.Analyze(m, c.RawFaces, printing.DefaultOptions)
	if err != nil {
		t.Fatal(err)
	}
	return From(m, x, e, p), m, x, e, p
}

// All that a shop asks for mold and hub is in what is paid once, for the first mold and for
// the first hub, and nothing twice.
func TestFromAShop(t *testing.T) {
	in, m, x, e, _ := inputs(t, moldtest.Wheel{Diameter: 200, Width: 60, Bore: 20, Process: "milled"}.Job(t, "worth.hours=90min", "pour.kit.price=100"), 2)
	near(t, "price", in.Once.price(1)+in.Mold.price(1)+in.Hub.price(1), e.Total.Price)
	near(t, "low", in.Once.price(.5)+in.Mold.price(.5)+in.Hub.price(.5), e.Total.Low)
	near(t, "hours", in.Once.Shop+in.Mold.Shop+in.Hub.Shop, e.Total.Hours)
	for _, p := range e.Pieces {
		if p.Name == "hub" { // 45 min to program, 2 set-ups of 20 min
			near(t, "hub", in.Hub.Shop, p.Hours-(2700+2*1200)/3600.)
			near(t, "its price", in.Hub.price(1), p.Price-p.Work+in.Hub.Shop*m.Job.Machining.HourlyRate)
		}
	}
	near(t, "own hours", in.Hours, 1.5)
	near(t, "urethane", in.byUse(), x.Mix.Kits.Material)
	if in.Molds != 2 || in.PriceAssumed || in.Mold.Printer+in.Hub.Printer != 0 {
		t.Errorf("%+v", in)
	}
	if From(m, x, nil, nil) != nil {
		t.Error("a mold that nobody has a price of is priced")
	}
	e.Pieces = e.Pieces[1:]
	if From(m, x, e, nil) != nil {
		t.Error("a mold of which a piece is missing is priced")
	}
}

// A stated price stands for mold or hub with its programs, moves with nobody's hours, and
// makes up for a plan that is missing.
func TestStatedPrices(t *testing.T) {
	wheel := moldtest.Wheel{Diameter: 200, Width: 60, Bore: 20, Process: "milled"}
	reckoned, _, _, e, _ := inputs(t, wheel.Job(t), 1)
	quoted, _, _, _, _ := inputs(t, wheel.Job(t, "worth.mold_price=1500"), 1)
	if want := (Making{Rest: 1500}); quoted.Mold != want || quoted.Hub != reckoned.Hub {
		t.Errorf("quoted mold: %+v, hub %+v", quoted.Mold, quoted.Hub)
	}
	for _, p := range e.Pieces {
		if p.Name == "hub" {
			near(t, "what is left of programs", quoted.Once.Shop, (p.Program+p.SetUp)/3600)
		}
	}
	own, m, x, _, _ := inputs(t, wheel.Job(t, "worth.mold_price=1500", "worth.hub_price=7.5"), 1)
	if want := (Making{Rest: 7.5}); own.Hub != want || own.Once != (Making{}) {
		t.Errorf("own hub: %+v, once %+v", own.Hub, own.Once)
	}
	if in := From(m, x, nil, nil); in == nil || in.Mold != own.Mold || in.Hub != own.Hub {
		t.Errorf("all is stated, and yet: %+v", in)
	}
	for _, c := range []struct {
		in   *Inputs
		want map[string]Source
	}{
		{reckoned, map[string]Source{"worth.mold_price": Reckoned, "worth.hub_price": Reckoned}},
		{quoted, map[string]Source{"worth.mold_price": Stated, "worth.hub_price": Reckoned}},
		{own, map[string]Source{"worth.mold_price": Stated, "worth.hub_price": Stated}},
	} {
		for _, f := range c.in.Facts {
			if want, of := c.want[f.Key]; of && f.Source != want {
				t.Errorf("%s is told as %s, want %s", f.Key, f.Source, want)
			}
		}
		said := strings.Join(Of(*c.in).Assumed, "; ")
		for key, source := range c.want {
			if strings.Contains(said, key) != (source == Stated) {
				t.Errorf("%s is %s, but: %s", key, source, said)
			}
		}
	}
	for _, process := range []string{"resin", "filament"} {
		in, _, _, _, _ := inputs(t, moldtest.Wheel{Diameter: 49, Width: 16, Bore: 5, Process: process}.Job(t, "hub.material=printed", "worth.mold_price=90"), 1)
		if want := (Making{Rest: 90}); in.Mold != want || in.Hub.Printer <= 0 {
			t.Errorf("%s: mold %+v, hub %+v", process, in.Mold, in.Hub)
		}
	}
}

// Low and high are told by what moves them, and what does not.
func TestEndsAreTold(t *testing.T) {
	assumed, free := plain(), plain()
	assumed.PriceAssumed = true
	free.KitPrice, free.Once, free.Mold, free.Hub = 0, Making{}, Making{Rest: 60}, Making{Rest: 3}
	printed := plain()
	printed.Once, printed.Mold, printed.Hub = Making{}, Making{Rest: 60}, Making{Rest: 3}
	const hours, kits, doubt = "shop's hours x 1/2 to 2", "kits by use or whole", "their price, assumed, x 1/1.5 to 1.5"
	for _, c := range []struct {
		in               Inputs
		hours, kits, off bool
	}{{plain(), true, true, false}, {assumed, true, true, true}, {printed, false, true, false}, {free, false, false, false}} {
		v := Of(c.in)
		if strings.Contains(v.Ends, hours) != c.hours || strings.Contains(v.Ends, kits) != c.kits || strings.Contains(v.Ends, doubt) != c.off {
			t.Errorf("%+v: %q", c.in, v.Ends)
		}
		if moved := v.Wanted.Cost.Low < v.Wanted.Cost.High; moved != (c.hours || c.off) || moved && v.Ends == "" {
			t.Errorf("%+v: %+v is told as %q", c.in, v.Wanted.Cost, v.Ends)
		}
		if said := strings.Join(v.Assumed, "; "); !strings.Contains(said, v.Ends) || !strings.Contains(said, "leave out what else may differ: the share of casts that fail, the life of a mold, prices of stock, plastic, printer") {
			t.Error(said)
		}
	}
}

// All that is printed is in the first mold and the first hub.
func TestFromAPrinter(t *testing.T) {
	for _, process := range []string{"resin", "filament"} {
		j := moldtest.Wheel{Diameter: 49, Width: 16, Bore: 5, Process: process}.Job(t, "hub.material=printed", "worth.plastic_price=100", "worth.printer_price=0")
		in, _, _, _, p := inputs(t, j, 1)
		near(t, process, in.Mold.price(1)+in.Hub.price(1), p.Mass/1000*100)
		if in.Once.price(1) != 0 || in.Hub.Rest <= 0 || in.Mold.Rest <= in.Hub.Rest || !in.PriceAssumed {
			t.Errorf("%s: %+v", process, in)
		}
		own := in.Mold.Printer + in.Hub.Printer - p.Time/3600
		var hub *printing.Piece
		for i := range p.Pieces {
			if p.Pieces[i].Kind == mold.Hub {
				hub = &p.Pieces[i]
			}
		}
		near(t, "hub's time", in.Hub.Printer, (hub.Time+j.Printing.Setup)/3600)
		// It lies beside the pieces of the first mold here: its load's setup is counted once more, and layers of resin are.
		want := j.Printing.Setup
		if process == "resin" {
			want += hub.Time
		}
		near(t, process+": counted twice", own*3600, want)
	}
}

// Each fact names a key of the job where it is from there, and tells whether it was stated.
func TestFactsNameTheirKeys(t *testing.T) {
	in, m, _, _, _ := inputs(t, moldtest.Example(t, "kestrel", "worth.failures=25%"), 1)
	stated := 0
	for _, f := range in.Facts {
		if f.Source == Reckoned && f.Key == "" {
			continue
		}
		if unstated := m.Job.Unstated(f.Key); (len(unstated) > 0) != (f.Source != Stated) {
			t.Errorf("%+v", f)
		}
		if f.Source == Stated {
			stated++
		}
		if f.Key == "worth.failures" && (f.Source != Stated || f.Value != 25) {
			t.Errorf("%+v", f)
		}
		known := false
		for _, k := range params.Keys() {
			known = known || k.Path == f.Key
		}
		if !known {
			t.Errorf("no key %s", f.Key)
		}
	}
	if stated == 0 || stated == len(in.Facts) {
		t.Errorf("%d of %d facts were stated", stated, len(in.Facts))
	}
}
