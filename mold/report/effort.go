package report

import (
	"fmt"
	"strings"

	"wheelmold/mold"
	"wheelmold/mold/machining/effort"
)

// Effort is what a shop needs for the pieces that are milled or turned: stock, hours and
// money, all of them estimates. Prices are in the builder's currency.
type Effort struct {
	Pieces  []EffortPiece `json:"pieces"`
	Total   EffortSum     `json:"total"`
	Assumed []string      `json:"assumed"`
}

// EffortPiece is what one piece takes.
type EffortPiece struct {
	Name     string     `json:"name"`
	By       string     `json:"by"`
	Stock    Blank      `json:"stock"`
	Volume   float64    `json:"volume_mm3"` // as it leaves the machine, exact
	Removed  float64    `json:"removed_mm3"`
	Offcut   float64    `json:"offcut_mm3"` // sawn off in one part
	Finished float64    `json:"finished_mm2"`
	Time     EffortTime `json:"time"`
	EffortSum
}

// Blank is what a piece is cut from.
type Blank struct {
	Shape     string  `json:"shape"` // "block" or "bar"
	Words     string  `json:"words"`
	Length    float64 `json:"length_mm"`
	Width     float64 `json:"width_mm"`     // of a block
	Thickness float64 `json:"thickness_mm"` // of a block
	Diameter  float64 `json:"diameter_mm"`  // of a bar
	Volume    float64 `json:"volume_mm3"`
}

// EffortTime is where the time goes.
type EffortTime struct {
	Rough   float64 `json:"roughing_s"`
	Finish  float64 `json:"finishing_s"`
	SetUp   float64 `json:"set_up_s"`
	Drill   float64 `json:"drilling_s"`
	Program float64 `json:"programming_s"`
}

// EffortSum is what a piece, or all, come to.
type EffortSum struct {
	Blanks    int     `json:"blanks"`
	StockMass float64 `json:"stock_kg"`
	ChipMass  float64 `json:"chips_kg"`
	Hours     float64 `json:"hours"`
	Work      float64 `json:"work_price"`
	Material  float64 `json:"material_price"`
	Price     float64 `json:"price"`
	Low       float64 `json:"price_at_half_the_time"`
	High      float64 `json:"price_at_twice_the_time"`
}

// SetEffort reports what the shop's work takes; nothing where all is printed.
func (c *Check) SetEffort(e *effort.Effort) { c.Effort = effortOf(e) }

func effortOf(e *effort.Effort) *Effort {
	if e == nil || len(e.Pieces) == 0 {
		return nil
	}
	r := &Effort{Total: EffortSum(e.Total), Assumed: append([]string{}, e.Assumed...)}
	for i := range e.Pieces {
		p := &e.Pieces[i]
		s := &p.Stock
		r.Pieces = append(r.Pieces, EffortPiece{
			Name: p.Name, By: string(p.By), Volume: p.Volume, Removed: p.Removed, Offcut: p.Offcut, Finished: p.Finished,
			Stock:     Blank{string(s.Shape), s.String(), s.Length, s.Width, s.Thickness, s.Diameter, s.Volume},
			Time:      EffortTime{p.Rough, p.Finish, p.SetUp, p.Drill, p.Program},
			EffortSum: EffortSum(p.Sum),
		})
	}
	return r
}

// text tells stock, time and price.
func (r *Effort) text(p teller) {
	p.row(r.lead())
	p.row()
	r.table(p)
	p.row()
	r.sum(p)
}

func (r *Effort) lead() string {
	return "stock and effort: rough estimates, from volumes and areas that are exact and from rates that are assumed (machining.rate, machining.finishing and the like)."
}

// table prints the pieces by themselves.
func (r *Effort) table(p teller) {
	p.row("piece", "from", "stock", "chips", "roughing", "finishing", "set-ups", "holes", "program", "hours", "price")
	p.row("", "", "kg", "kg", "min", "min", "min", "min", "min", "", "")
	for i := range r.Pieces {
		x := &r.Pieces[i]
		t := &x.Time
		p.row(mold.Title(x.Name), x.Stock.Words, number(x.StockMass, 2), number(x.ChipMass, 2), minutes(t.Rough), minutes(t.Finish), minutes(t.SetUp), minutes(t.Drill), minutes(t.Program),
			number(x.Hours, 1), number(x.Price, 0))
	}
}

func minutes(s float64) string { return number(s/60, 0) }

// sum tells what all comes to, and on what that rests.
func (r *Effort) sum(p teller) {
	r.total(p)
	p.note("rests on", "", strings.Join(r.Assumed, "; "))
}

// total tells what all comes to.
func (r *Effort) total(p teller) {
	t := &r.Total
	p.note("in all", number(t.Hours, 1)+" h", fmt.Sprintf("of the shop; %s, %s kg of stock, %s kg of it chips", count(t.Blanks, "blank", "blanks"), number(t.StockMass, 1), number(t.ChipMass, 1)))
	p.note("cost", number(t.Price, 0), fmt.Sprintf("of mold and hub, in your currency: %s of work, %s of material; %s to %s where the shop takes half or twice the time", number(t.Work, 0), number(t.Material, 0), number(t.Low, 0), number(t.High, 0)))
}

// figures are what the shop costs, for the summary's card on cost.
func (r *Effort) figures() []figure {
	t := &r.Total
	return []figure{
		{Name: "mold and hub from the shop", Value: number(t.Price, 0), Key: "effort.total.price", Raw: t.Price,
			Note: fmt.Sprintf("Once, for what is milled or turned: %s h and %s kg of stock. %s to %s where the shop takes half or twice the time; rates and prices are assumed until a shop quotes.", number(t.Hours, 1), number(t.StockMass, 1), number(t.Low, 0), number(t.High, 0))},
	}
}
