package worth

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wheelmold/mold/machining/effort"
	"wheelmold/mold/portable"
)

// Verdict is what a good wheel costs, and what that is against a bought one; prices in the
// builder's currency.
type Verdict struct {
	Inputs   Inputs
	Bought   float64 // price of a bought wheel for the life of a cast one; 0: not stated
	After    []Point // 1, 4, 10 and 100 wheels, and those that are wanted
	Wanted   Point   // after worth.wheels
	Items    []Item  // of a wheel then, from the largest
	Further  Band    // least that each further wheel costs, once all that is paid once is spread
	Even     Even    // from how many wheels on casting is cheaper
	EvenLow  Even    // at the lower end of the band
	EvenHigh Even
	// Matched is the price of a bought wheel, as long as worth.bought_life says it lasts,
	// at which the wanted wheels cost the same.
	Matched Band
	Curve   []Point // for a chart: ever more wheels
	Ends    string  // in words, what low and high of a price are; "" where they are one
	Assumed []string
}

// Band is a price: as reckoned, and how low or high it may be. The lower end takes the
// shop's hours over effort.Spread and urethane by what is mixed; the upper one the hours
// times that, and whole kits. A kit's price that nobody stated is off by priceDoubt as well.
type Band struct{ Low, Middle, High float64 }

// Point is a good wheel after so many; hours in h.
type Point struct {
	Wheels  int
	Casts   float64 // expected, failed ones included
	Molds   int
	Kits    int  // whole ones
	Cost    Band // of a wheel; whole kits in the middle
	ByUse   float64
	Own     float64 // of the builder
	Shop    float64
	Printer float64
}

// Item is what one thing costs of a wheel.
type Item struct {
	Name string
	Cost float64
	Note string // how often it is paid
}

// Even is the number of wheels from which casting is cheaper, and stays so.
type Even struct {
	From  int    // 0: never
	First int    // a smaller number at which it is cheaper but does not stay so; 0: none
	Why   string // it is never so
}

// most is up to how many wheels a break-even is looked for: far more than anybody casts
// by hand.
const most = 100_000

// priceDoubt is the factor by which a kit's price may be off that nobody stated. Assumed.
const priceDoubt = 1.5

// hair keeps a count that is whole but for rounding from the next one.
const hair = 1e-9

// view is one end of the band, or its middle.
type view struct {
	hours float64 // of the shop, over the estimate
	kit   float64 // price over the one that is taken
	whole bool    // kits
}

// views are low, middle and high.
func (in *Inputs) views() [3]view {
	doubt := 1.0
	if in.PriceAssumed {
		doubt = priceDoubt
	}
	return [3]view{{1. / effort.Spread, 1 / doubt, false}, {1, 1, true}, {effort.Spread, doubt, true}}
}

// casts are those that are expected for so many good wheels.
func (in *Inputs) casts(wheels int) float64 { return float64(wheels) / (1 - in.Failures) }

// molds are those that so many casts take.
func (in *Inputs) molds(casts float64) int {
	return max(in.Molds, 1, whole(casts/float64(in.MoldLife)))
}

// kits are whole ones of each urethane.
func (in *Inputs) kits(casts float64) (n int) {
	if in.KitMass == 0 {
		return 0
	}
	for _, g := range in.Urethane {
		n += whole(casts * g / in.KitMass)
	}
	return n
}

// whole is the number of things that are bought one by one.
func whole(v float64) int { return int(math.Ceil(v * (1 - hair))) }

// urethane is the price of what so many casts take.
func (in *Inputs) urethane(casts float64, v view) float64 {
	if v.whole {
		return float64(in.kits(casts)) * in.KitPrice * v.kit
	}
	return casts * in.byUse() * v.kit
}

// byUse is the price of the urethane in a cast.
func (in *Inputs) byUse() (sum float64) {
	if in.KitMass == 0 {
		return 0
	}
	for _, g := range in.Urethane {
		sum += g / in.KitMass * in.KitPrice
	}
	return sum
}

// total is what so many good wheels cost together.
func (in *Inputs) total(wheels int, v view) float64 {
	casts := in.casts(wheels)
	return in.Once.price(v.hours) + float64(in.molds(casts))*in.Mold.price(v.hours) +
		casts*(in.Hub.price(v.hours)+in.Consumables+in.Hours*in.HourPrice) + in.urethane(casts, v)
}

// further is the least that each further wheel costs: steps of molds and kits evened out.
func (in *Inputs) further(v view) float64 {
	cast := in.Mold.price(v.hours)/float64(in.MoldLife) + in.Hub.price(v.hours) + in.Consumables + in.Hours*in.HourPrice + in.byUse()*v.kit
	return cast / (1 - in.Failures)
}

// ahead is the most that steps and what is paid once are ever above the line of further.
func (in *Inputs) ahead(v view) float64 {
	sum := in.Once.price(v.hours) + float64(max(in.Molds, 1))*in.Mold.price(v.hours)
	if v.whole {
		sum += float64(len(in.Urethane)) * in.KitPrice * v.kit
	}
	return sum
}

// even looks for the number from which casting stays cheaper. The total lies between the
// line of further and that line with ahead on top, so that no number beyond their
// crossing with the bought wheels need be tried.
func (in *Inputs) even(bought float64, v view) (e Even) {
	gain := bought - in.further(v)
	if gain <= 0 {
		return Even{Why: fmt.Sprintf("each further wheel costs %.2f or more, a bought one %.2f for the same life", in.further(v), bought)}
	}
	last := in.ahead(v)/gain + 1
	if last > most {
		last = most
	}
	n := int(last)
	for n > 0 && in.cheaper(n, bought, v) {
		n--
	}
	if n == most {
		return Even{First: in.first(bought, v, most), Why: fmt.Sprintf("not within %d wheels", most)}
	}
	return Even{From: n + 1, First: in.first(bought, v, n)}
}

func (in *Inputs) cheaper(wheels int, bought float64, v view) bool {
	return in.total(wheels, v) < bought*float64(wheels)
}

// first is the least number of wheels, up to some, at which casting is cheaper; 0: none is.
func (in *Inputs) first(bought float64, v view, upTo int) int {
	for n := 1; n <= upTo; n++ {
		if in.cheaper(n, bought, v) {
			return n
		}
	}
	return 0
}

// Of judges.
func Of(in Inputs) *Verdict {
	v := &Verdict{Inputs: in, Wanted: in.after(in.Wheels), Items: in.items()}
	numbers := []int{1, 4, 10, 100, in.Wheels}
	slices.Sort(numbers)
	for _, n := range slices.Compact(numbers) {
		v.After = append(v.After, in.after(n))
	}
	views := in.views()
	v.Further = Band{in.further(views[0]), in.further(views[1]), in.further(views[2])}
	c := v.Wanted.Cost
	v.Matched = Band{c.Low * in.BoughtLife, c.Middle * in.BoughtLife, c.High * in.BoughtLife}
	if in.BoughtPrice > 0 {
		v.Bought = in.BoughtPrice / in.BoughtLife
		v.EvenLow, v.Even, v.EvenHigh = in.even(v.Bought, views[0]), in.even(v.Bought, views[1]), in.even(v.Bought, views[2])
	}
	v.Curve = in.curve(v.Even.From)
	v.Ends, v.Assumed = in.ends(), in.assumptions()
	return v
}

// after is a wheel after so many.
func (in *Inputs) after(wheels int) Point {
	n, casts, views := float64(wheels), in.casts(wheels), in.views()
	molds := float64(in.molds(casts))
	byUse := views[1]
	byUse.whole = false
	return Point{
		Wheels: wheels, Casts: casts, Molds: in.molds(casts), Kits: in.kits(casts),
		Cost:    Band{in.total(wheels, views[0]) / n, in.total(wheels, views[1]) / n, in.total(wheels, views[2]) / n},
		ByUse:   in.total(wheels, byUse) / n,
		Own:     casts * in.Hours / n,
		Shop:    (in.Once.Shop + molds*in.Mold.Shop + casts*in.Hub.Shop) / n,
		Printer: (in.Once.Printer + molds*in.Mold.Printer + casts*in.Hub.Printer) / n,
	}
}

// items parts the cost of a wheel, once all that are wanted are cast.
func (in *Inputs) items() []Item {
	n, casts, middle := float64(in.Wheels), in.casts(in.Wheels), in.views()[1]
	molds, kits := in.molds(casts), in.kits(casts)
	each := fmt.Sprintf("for each of %.4g casts, failed ones included", casts)
	all := []Item{
		{"programs and setting up", in.Once.price(1) / n, "once, for all molds and hubs"},
		{"mold", float64(molds) * in.Mold.price(1) / n, count(molds, "mold", "molds")},
		{"hub", casts * in.Hub.price(1) / n, each},
		{"urethane", in.urethane(casts, middle) / n, count(kits, "kit", "kits") + ", whole ones"},
		{"consumables", casts * in.Consumables / n, each},
		{"own work", casts * in.Hours * in.HourPrice / n, each},
	}
	all = slices.DeleteFunc(all, func(i Item) bool { return i.Cost == 0 })
	slices.SortStableFunc(all, func(a, b Item) int { return cmp.Compare(b.Cost, a.Cost) })
	return all
}

// count prints how many there are of something.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// perDecade is how many numbers of wheels a curve tells between 1 and 10, and so on.
const perDecade = 24

// curve tells ever more wheels, each time by about the same ratio, and those around the
// break-even.
func (in *Inputs) curve(even int) (out []Point) {
	end := max(100, 2*in.Wheels, 4*even)
	numbers := []int{in.Wheels, end}
	for k := 0; ; k++ {
		n := int(math.Round(portable.Pow(10, float64(k)/perDecade)))
		if n >= end {
			break
		}
		numbers = append(numbers, n)
	}
	if even > 0 {
		numbers = append(numbers, even)
	}
	if even > 1 {
		numbers = append(numbers, even-1)
	}
	slices.Sort(numbers)
	for _, n := range slices.Compact(numbers) {
		out = append(out, in.after(n))
	}
	return out
}

// ends tell what low and high are.
func (in *Inputs) ends() string {
	var moved []string
	if in.Once.Work+in.Mold.Work+in.Hub.Work > 0 {
		moved = append(moved, fmt.Sprintf("a shop's hours x 1/%d to %d", effort.Spread, effort.Spread))
	}
	if in.byUse() > 0 {
		moved = append(moved, "kits by use or whole")
		if in.PriceAssumed {
			moved = append(moved, fmt.Sprintf("their price, assumed, x 1/%g to %g", priceDoubt, priceDoubt))
		}
	}
	if len(moved) == 0 {
		return ""
	}
	return "low to high: " + strings.Join(moved, ", ")
}

// assumptions are in words what the figures rest on.
func (in *Inputs) assumptions() []string {
	out := []string{
		"casts as expected: good wheels over the share that succeeds; a failed one loses hub, urethane, consumables and work, never the mold",
		"a mold is paid when the one before has stood its casts, a kit when the one before is empty",
		"programs are paid once for all molds, programs and setting up of the lathe once for all hubs: one series",
	}
	if ends := in.ends(); ends != "" {
		out = append(out, ends)
	}
	out = append(out, "low and high leave out what else may differ: the share of casts that fail, the life of a mold, prices of stock, plastic, printer and hours")
	if in.MoldStated {
		out = append(out, "the mold's price is stated (worth.mold_price): it stands as it is in low and high, and hours of mold and programs are not told")
	}
	if in.HubStated {
		out = append(out, "a hub's price is stated (worth.hub_price): it stands as it is in low and high, and hours of hubs are not told")
	}
	if in.KitMass == 0 || in.KitPrice == 0 {
		out = append(out, "no price of a kit is stated (pour.kit.price): urethane counts nothing")
	}
	if in.HourPrice == 0 {
		out = append(out, "own hours are told, and cost nothing (worth.hour_price)")
	}
	if in.Hub.Printer > 0 {
		out = append(out, "each hub is printed in a load of its own")
	}
	return append(out, "hardware, tools, freight and the wait for the cure are not in it; pigment, too, is not")
}
