package worth

import (
	"wheelmold/mold"
	"wheelmold/mold/machining/effort"
	"wheelmold/mold/pour"
	"wheelmold/mold/printing"
	"wheelmold/params"
)

// Making is what it takes to make a thing; prices in the builder's currency.
type Making struct {
	Shop    float64 // h of the shop
	Printer float64 // h
	Work    float64 // price of the shop's hours
	Rest    float64 // price of stock, plastic and the printer's hours
}

func (m *Making) add(o Making) {
	m.Shop += o.Shop
	m.Printer += o.Printer
	m.Work += o.Work
	m.Rest += o.Rest
}

// price is what it costs if the shop takes so many times the hours.
func (m *Making) price(hours float64) float64 { return m.Work*hours + m.Rest }

// Inputs are what decides; prices in the builder's currency.
type Inputs struct {
	Once  Making // programs of mold and hub, and setting the lathe up for the hubs: one series
	Mold  Making // each mold
	Hub   Making // each hub
	Molds int    // in use at once; below 1: one

	Urethane     []float64 // g of each urethane that is mixed for a cast; two of a blend
	KitMass      float64   // g; 0: no kit is stated, and urethane costs nothing
	KitPrice     float64
	PriceAssumed bool // nobody stated the kit's price

	Consumables float64 // each cast
	Hours       float64 // h of the builder's own work on each cast
	HourPrice   float64
	Failures    float64 // share of casts
	MoldLife    int     // casts

	Wheels      int     // good ones that are wanted
	BoughtPrice float64 // 0: not stated
	BoughtLife  float64 // in lives of a cast wheel

	MoldStated bool // Mold is a price that the job states, without hours
	HubStated  bool // so is Hub

	Facts []Fact // in words of a builder, with their keys
}

// Source tells where a fact is from.
type Source string

// Sources.
const (
	Stated   Source = "stated"
	Assumed  Source = "assumed" // nobody stated it, or stated just that
	Reckoned Source = "reckoned"
)

// Fact is one input.
type Fact struct {
	Name   string
	Key    string // by which the job states it; "" where no key does
	Value  float64
	Unit   string // "" of prices and numbers
	Source Source
}

// From takes the inputs from what is known of a job's mold; effort and printing may be
// nil. A price that the job states stands for mold or hub, whatever it takes. Of a mold of
// which another piece is in neither plan it is nil: what that piece costs nobody knows, and
// without it casting would look cheaper than it is.
func From(m *mold.Mold, x *pour.Plan, e *effort.Effort, p *printing.Plan) *Inputs {
	j, w := m.Job, &m.Job.Worth
	in := &Inputs{
		Consumables: w.Consumables, Hours: w.Hours / 3600, HourPrice: w.HourPrice,
		Failures: w.Failures, MoldLife: w.MoldLife, Wheels: w.Wheels, BoughtPrice: w.BoughtPrice, BoughtLife: w.BoughtLife,
		Mold: Making{Rest: w.MoldPrice}, MoldStated: w.MoldPrice > 0,
		Hub: Making{Rest: w.HubPrice}, HubStated: w.HubPrice > 0,
	}
	for i := range m.Pieces {
		name, isHub := m.Pieces[i].Name, m.Pieces[i].Kind == mold.Hub
		if in.stated(isHub) {
			continue
		}
		if !in.cut(j, e, name, isHub) && !in.printed(j, p, name, isHub) {
			return nil
		}
	}
	if p != nil && !in.MoldStated {
		in.Mold.add(printer(j, moldTime(j, p)))
	}
	in.mixed(j, x)
	in.Facts = facts(j, in)
	return in
}

// stated tells whether the job states what a piece costs.
func (in *Inputs) stated(isHub bool) bool {
	if isHub {
		return in.HubStated
	}
	return in.MoldStated
}

// cut adds a piece that the shop makes.
func (in *Inputs) cut(j *params.Job, e *effort.Effort, name string, isHub bool) bool {
	if e == nil {
		return false
	}
	for i := range e.Pieces {
		p := &e.Pieces[i]
		if p.Name != name {
			continue
		}
		once := p.Program
		if isHub {
			once += p.SetUp // the lathe is set up for all hubs of the series
		}
		in.Once.add(shop(j, once/3600))
		each := shop(j, p.Hours-once/3600)
		each.Rest = p.Material
		in.of(isHub).add(each)
		return true
	}
	return false
}

func (in *Inputs) of(isHub bool) *Making {
	if isHub {
		return &in.Hub
	}
	return &in.Mold
}

func shop(j *params.Job, hours float64) Making {
	return Making{Shop: hours, Work: hours * j.Machining.HourlyRate}
}

func printer(j *params.Job, s float64) Making {
	return Making{Printer: s / 3600, Rest: s / 3600 * j.Worth.PrinterPrice}
}

// printed adds the plastic of a piece that is printed, and the time of a hub, which is
// taken to have the bed to itself.
func (in *Inputs) printed(j *params.Job, p *printing.Plan, name string, isHub bool) bool {
	if p == nil {
		return false
	}
	for i := range p.Pieces {
		x := &p.Pieces[i]
		if x.Name != name {
			continue
		}
		in.of(isHub).add(Making{Rest: x.Mass / 1000 * j.Worth.PlasticPrice})
		if isHub {
			in.Hub.add(printer(j, j.Printing.Setup+x.Time))
		}
		return true
	}
	return false
}

// moldTime is how long the printer is at the mold without its hub, s. A resin hub that
// shares a load with other pieces takes no time of its own: layers count, whatever lies
// on the bed.
func moldTime(j *params.Job, p *printing.Plan) float64 {
	for i := range p.Pieces {
		x := &p.Pieces[i]
		switch {
		case x.Kind != mold.Hub:
		case !shares(p, i):
			return p.Time - x.Time - j.Printing.Setup
		case !p.Resin:
			return p.Time - x.Time
		}
	}
	return p.Time
}

// shares tells whether a piece lies on the bed with others.
func shares(p *printing.Plan, piece int) bool {
	for i := range p.Loads {
		for _, at := range p.Loads[i].Places {
			if at.Item == piece {
				return len(p.Loads[i].Places) > 1
			}
		}
	}
	return false
}

// mixed takes what is mixed for a cast.
func (in *Inputs) mixed(j *params.Job, x *pour.Plan) {
	in.Molds = max(x.Options.Molds, 1)
	k := x.Mix.Kits
	if k == nil {
		return
	}
	in.KitMass, in.KitPrice = j.Pour.Kit.Mass, j.Pour.Kit.Price
	in.PriceAssumed = len(j.Unstated("pour.kit.price")) > 0
	for _, s := range k.Systems {
		in.Urethane = append(in.Urethane, s.Used/float64(k.Mixes*in.Molds))
	}
}

// facts name the inputs.
func facts(j *params.Job, in *Inputs) []Fact {
	all := []Fact{
		{Name: "price of a bought wheel", Key: "worth.bought_price", Value: in.BoughtPrice},
		{Name: "its life in lives of a cast one", Key: "worth.bought_life", Value: in.BoughtLife},
		{Name: "good wheels wanted", Key: "worth.wheels", Value: float64(in.Wheels)},
		{Name: "casts that fail", Key: "worth.failures", Value: 100 * in.Failures, Unit: "%"},
		{Name: "casts that a mold stands", Key: "worth.mold_life", Value: float64(in.MoldLife)},
		{Name: "consumables for a cast", Key: "worth.consumables", Value: in.Consumables},
		{Name: "own work on a cast", Key: "worth.hours", Value: in.Hours, Unit: "h"},
		{Name: "price of an own hour", Key: "worth.hour_price", Value: in.HourPrice},
		{Name: "mass of a kit", Key: "pour.kit.mass", Value: in.KitMass, Unit: "g"},
		{Name: "price of a kit", Key: "pour.kit.price", Value: in.KitPrice},
	}
	if in.Mold.Printer+in.Hub.Printer > 0 {
		all = append(all,
			Fact{Name: "plastic, a kilogram", Key: "worth.plastic_price", Value: j.Worth.PlasticPrice},
			Fact{Name: "printer, an hour", Key: "worth.printer_price", Value: j.Worth.PrinterPrice})
	}
	if in.Once.Shop+in.Mold.Shop+in.Hub.Shop > 0 {
		all = append(all, Fact{Name: "shop, an hour", Key: "machining.hourly_rate", Value: j.Machining.HourlyRate})
	}
	if in.Mold.Shop > 0 {
		all = append(all, Fact{Name: "stock of the mold, a kilogram", Key: "machining.stock_price", Value: j.Machining.StockPrice})
	}
	if in.Hub.Shop > 0 {
		all = append(all, Fact{Name: "stock of the hub, a kilogram", Key: "hub.stock_price", Value: j.Hub.StockPrice})
	}
	for i := range all {
		all[i].Source = Stated
		if len(j.Unstated(all[i].Key)) > 0 {
			all[i].Source = Assumed
		}
	}
	return append(all, reckoned(in)...)
}

// reckoned are the inputs that other packages found, unless the job states them.
func reckoned(in *Inputs) []Fact {
	urethane := 0.0
	for _, g := range in.Urethane {
		urethane += g
	}
	source := map[bool]Source{true: Stated, false: Reckoned}
	return []Fact{
		{"programs and setting up, once", "", in.Once.price(1), "", Reckoned},
		{"each mold", "worth.mold_price", in.Mold.price(1), "", source[in.MoldStated]},
		{"each hub", "worth.hub_price", in.Hub.price(1), "", source[in.HubStated]},
		{"urethane mixed for a cast", "", urethane, "g", Reckoned},
	}
}
