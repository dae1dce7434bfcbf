package report

import (
	"fmt"
	"math"
	"strings"

	"wheelmold/mold/worth"
)

// Worth is whether casting pays: what a good wheel costs after so many, against a bought
// one. Prices are in the builder's currency.
type Worth struct {
	Wheels  int         `json:"wheels"` // good ones that are wanted
	Words   string      `json:"words"`
	Wanted  WorthAt     `json:"wanted"` // after these
	After   []WorthAt   `json:"after"`
	Items   []WorthItem `json:"items"`
	Further WorthBand   `json:"further_wheel_price"` // once all that is paid once is spread
	// Bought is null where no price of a bought wheel is stated.
	Bought   *WorthBought `json:"bought"`
	Matched  WorthBand    `json:"break_even_bought_price"` // of a bought wheel, at which the wanted ones cost the same
	Once     WorthMaking  `json:"once"`
	Mold     WorthMaking  `json:"mold"`
	Hub      WorthMaking  `json:"hub"`
	Urethane float64      `json:"urethane_g"` // mixed for a cast
	Inputs   []WorthInput `json:"inputs"`
	Curve    []WorthCost  `json:"curve"`
	Assumed  []string     `json:"assumed"`
	Ends     string       `json:"low_to_high"` // what the ends of a band are

	unpaid bool // own hours
}

// WorthBand is a price; Worth.Ends tells what low and high are.
type WorthBand struct {
	Low    float64 `json:"low"`
	Middle float64 `json:"middle"`
	High   float64 `json:"high"`
}

// WorthAt is a good wheel after so many.
type WorthAt struct {
	Wheels  int       `json:"wheels"`
	Casts   float64   `json:"casts"` // expected, failed ones included
	Molds   int       `json:"molds"`
	Kits    int       `json:"kits"`
	Price   WorthBand `json:"wheel_price"` // the middle with whole kits
	ByUse   float64   `json:"wheel_price_by_use"`
	Own     float64   `json:"own_h"` // of a wheel, as the next two
	Shop    float64   `json:"shop_h"`
	Printer float64   `json:"printer_h"`
}

// WorthItem is what one thing costs of a wheel.
type WorthItem struct {
	Name  string  `json:"name"`
	Price float64 `json:"wheel_price"`
	Note  string  `json:"note"`
}

// WorthBought is the comparison.
type WorthBought struct {
	Price float64   `json:"price"`
	Life  float64   `json:"life_in_cast_lives"`
	Match float64   `json:"price_for_a_cast_life"`
	Even  WorthEven `json:"break_even"`
	Low   WorthEven `json:"break_even_low"` // where casting costs as little as it may
	High  WorthEven `json:"break_even_high"`
}

// WorthEven is from how many wheels on casting is cheaper, and stays so.
type WorthEven struct {
	From  int    `json:"wheels"`       // 0: never
	First int    `json:"first_wheels"` // fewer, at which it is cheaper but does not stay so; 0: none
	Why   string `json:"never_because"`
}

// WorthMaking is what it takes to make a thing.
type WorthMaking struct {
	Shop    float64 `json:"shop_h"`
	Printer float64 `json:"printer_h"`
	Work    float64 `json:"work_price"`
	Rest    float64 `json:"material_and_printer_price"`
	Price   float64 `json:"price"`
}

// WorthInput is one figure that the comparison rests on.
type WorthInput struct {
	Name   string  `json:"name"`
	Key    string  `json:"key"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
	Source string  `json:"source"` // "stated", "assumed" or "reckoned"
}

// WorthCost is a point of the chart.
type WorthCost struct {
	Wheels int `json:"wheels"`
	WorthBand
}

// OfWorth reports whether casting pays; nil where that is not known.
func OfWorth(v *worth.Verdict) *Worth {
	if v == nil {
		return nil
	}
	in := &v.Inputs
	r := &Worth{
		Wheels: in.Wheels, Wanted: worthAt(&v.Wanted), Further: WorthBand(v.Further), Matched: WorthBand(v.Matched),
		Once: makingOf(in.Once), Mold: makingOf(in.Mold), Hub: makingOf(in.Hub), Assumed: v.Assumed, Ends: v.Ends, unpaid: in.HourPrice == 0,
		Items: []WorthItem{}, Inputs: []WorthInput{},
	}
	if v.Bought > 0 {
		r.Bought = &WorthBought{in.BoughtPrice, in.BoughtLife, v.Bought, WorthEven(v.Even), WorthEven(v.EvenLow), WorthEven(v.EvenHigh)}
	}
	for _, g := range in.Urethane {
		r.Urethane += g
	}
	for i := range v.After {
		r.After = append(r.After, worthAt(&v.After[i]))
	}
	for _, x := range v.Items {
		r.Items = append(r.Items, WorthItem{x.Name, x.Cost, x.Note})
	}
	for _, f := range in.Facts {
		r.Inputs = append(r.Inputs, WorthInput{f.Name, f.Key, f.Value, f.Unit, string(f.Source)})
	}
	for _, p := range v.Curve {
		r.Curve = append(r.Curve, WorthCost{p.Wheels, WorthBand(p.Cost)})
	}
	r.Words = r.words()
	return r
}

func worthAt(p *worth.Point) WorthAt {
	return WorthAt{p.Wheels, p.Casts, p.Molds, p.Kits, WorthBand(p.Cost), p.ByUse, p.Own, p.Shop, p.Printer}
}

func makingOf(m worth.Making) WorthMaking {
	return WorthMaking{m.Shop, m.Printer, m.Work, m.Rest, m.Work + m.Rest}
}

// price prints money: cents where they count.
func price(v float64) string {
	if math.Abs(v) < 100 {
		return fmt.Sprintf("%.2f", v)
	}
	return number(v, 0)
}

// text prints a price with its band.
func (b *WorthBand) text() string {
	return fmt.Sprintf("%s (%s to %s)", price(b.Middle), price(b.Low), price(b.High))
}

// words tell from how many wheels on casting pays.
func (r *Worth) words() string {
	if r.Bought == nil {
		return "no price of a bought wheel is stated (worth.bought_price)"
	}
	return r.Bought.words()
}

// words tell the break-even, with what the band makes of it in brackets.
func (b *WorthBought) words() string {
	e, s := &b.Even, ""
	switch e.From {
	case 0:
		s = "casting never pays"
	case 1:
		s = "casting pays from the first wheel on"
	default:
		s = fmt.Sprintf("casting pays from %d wheels on", e.From)
	}
	if b.moved() {
		s += fmt.Sprintf(" (%s to %s)", b.Low.short(), b.High.short())
	}
	if e.From == 0 {
		s += ": " + e.Why
	}
	if e.First > 0 {
		s += fmt.Sprintf("; at %d already, until the next mold or kit is paid", e.First)
	}
	return s
}

// short tells the number alone.
func (e *WorthEven) short() string {
	if e.From == 0 {
		return "never"
	}
	return fmt.Sprint(e.From)
}

// moved tells whether the band moves the break-even.
func (b *WorthBought) moved() bool { return b.Low.From != b.High.From }

// bracketed tells what the break-even in brackets is; empty where there is none.
func (b *WorthBought) bracketed() string {
	if !b.moved() {
		return ""
	}
	return fmt.Sprintf("%s if casting costs as little as its low, %s if as much as its high", b.Low.short(), b.High.short())
}

// pays tells what the wanted wheels come to.
func (r *Worth) pays() string {
	do, not := count(r.Wheels, "wheel pays", "wheels pay"), count(r.Wheels, "wheel does", "wheels do")+" not pay"
	switch w, b := &r.Wanted.Price, r.Bought.Match; {
	case w.High < b:
		return do
	case w.Low >= b:
		return not
	case w.Middle < b:
		return do + ", but not at the high end"
	}
	return not + ", but would at the low end"
}

// verdict tells what the wanted wheels cost, and what that is against bought ones.
func (r *Worth) verdict() string {
	s := fmt.Sprintf("a wheel after %s, in your currency", count(r.Wheels, "good one", "good ones"))
	if r.Bought == nil {
		return s + fmt.Sprintf("; a bought one would have to cost %s; %s", price(r.Matched.Middle), r.Words)
	}
	return s + fmt.Sprintf("; a bought one %s for the same life: %s; %s", price(r.Bought.Match), r.pays(), r.Words)
}

// brief tells the check's line.
func (r *Worth) brief(p teller) {
	says := r.verdict()
	if r.Ends != "" {
		says += " (" + r.Ends + ")"
	}
	if r.unpaid && r.Wanted.Own > 0 {
		says += fmt.Sprintf("; your %s h a wheel are not paid", number(r.Wanted.Own, 1))
	}
	p.note("worth it", r.Wanted.Price.text(), says)
}

// ends are a sentence, if any, on what low and high are.
func (r *Worth) ends() string {
	if r.Ends == "" {
		return ""
	}
	return " " + upper(r.Ends) + "."
}

func (r *Worth) lead() string {
	return "worth it: prices in your currency and hours for each good wheel, failed casts paid for, with whole kits." + r.ends()
}

// table prints a wheel after more and more of them.
func (r *Worth) table(p teller) {
	p.row("after", "a wheel", "low", "high", "by use", "casts", "molds", "kits", "own", "shop", "printer")
	p.row("wheels", "", "", "", "", "in all", "in all", "in all", "h a wheel", "h a wheel", "h a wheel")
	for i := range r.After {
		x := &r.After[i]
		p.row(fmt.Sprint(x.Wheels), price(x.Price.Middle), price(x.Price.Low), price(x.Price.High), price(x.ByUse), number(x.Casts, 1), fmt.Sprint(x.Molds), fmt.Sprint(x.Kits),
			number(x.Own, 2), number(x.Shop, 2), number(x.Printer, 2))
	}
}

// items print what a wanted wheel is made up of.
func (r *Worth) items(p teller) {
	p.row("of that", "a wheel", "share", fmt.Sprintf("after %s", count(r.Wheels, "wheel", "wheels")))
	for i := range r.Items {
		x := &r.Items[i]
		p.row(x.Name, price(x.Price), percent(x.Price/r.Wanted.Price.Middle), x.Note)
	}
}

// sum tells the break-even, and on what it rests.
func (r *Worth) sum(p teller) {
	p.note("each further", price(r.Further.Middle), "a wheel costs at least, once all that is paid once is spread over many")
	if b := r.Bought; b != nil {
		p.note("bought", price(b.Match), fmt.Sprintf("for the life of a cast wheel: %s for %s of these lives", price(b.Price), number(b.Life, 2)))
		p.note("break-even", b.Even.short(), r.Words)
		if s := b.bracketed(); s != "" {
			p.note("", "", s)
		}
	}
	p.note("equal at", price(r.Matched.Middle), fmt.Sprintf("for a bought wheel, %s wanted; %s to %s by the band", count(r.Wheels, "is", "are"), price(r.Matched.Low), price(r.Matched.High)))
	p.note("rests on", "", strings.Join(r.Assumed, "; "))
}

// inputs print each with its key and where it is from.
func (r *Worth) inputs(p teller) {
	p.row("input", "value", "unit", "key", "from")
	for i := range r.Inputs {
		x := &r.Inputs[i]
		p.row(x.Name, x.value(), x.Unit, x.Key, x.Source)
	}
}

func (x *WorthInput) value() string {
	if x.Key == "worth.bought_price" && x.Value == 0 {
		return "not stated"
	}
	return number(x.Value, 2)
}

func (r *Worth) outcome() outcome {
	o := outcome{Name: "Worth it", State: mind, Says: r.verdict()}
	if r.Bought != nil && r.Wanted.Price.High < r.Bought.Match {
		o.State = fine
	}
	w := &r.Wanted
	o.Figures = []figure{
		{Name: "a wheel", Value: price(w.Price.Middle), Key: "worth.wanted.wheel_price.middle", Raw: w.Price.Middle,
			Note: fmt.Sprintf("%s to %s. After %s of %s casts, with whole kits; %s by what is mixed.%s Each further one costs at least %s.", price(w.Price.Low), price(w.Price.High), count(w.Wheels, "good wheel", "good wheels"), number(w.Casts, 1), price(w.ByUse), r.ends(), price(r.Further.Middle))},
		{Name: "own hours", Value: number(w.Own, 1) + " h", Key: "worth.wanted.own_h", Raw: w.Own,
			Note: fmt.Sprintf("For each good wheel, failed casts included (worth.hours); beside them %s h of a shop and %s h of a printer. The cure is not counted.", number(w.Shop, 1), number(w.Printer, 1))},
	}
	if b := r.Bought; b != nil {
		note := upper(r.Words) + "."
		if s := b.bracketed(); s != "" {
			note += " " + upper(s) + "."
		}
		o.Figures = append(o.Figures, figure{Name: "break-even, wheels", Value: b.Even.short(), Key: "worth.bought.break_even.wheels", Raw: float64(b.Even.From), Note: note})
		return o
	}
	o.Figures = append(o.Figures, figure{Name: "bought would have to cost", Value: price(r.Matched.Middle), Key: "worth.break_even_bought_price.middle", Raw: r.Matched.Middle,
		Note: fmt.Sprintf("At which %s as much cast as bought; %s to %s by the band.", count(r.Wheels, "wheel costs", "wheels cost"), price(r.Matched.Low), price(r.Matched.High))})
	return o
}
