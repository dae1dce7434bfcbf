package report

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"wheelmold/mold/report/reporttest"
	"wheelmold/mold/worth"
)

// prices are of a mold that costs 500, of wheels for 30 each, and of a bought one for 80.
func prices() worth.Inputs {
	return worth.Inputs{
		Once: worth.Making{Shop: 1, Work: 60}, Mold: worth.Making{Shop: 6, Work: 400, Rest: 40}, Hub: worth.Making{Printer: 2, Rest: 8},
		Urethane: []float64{400}, KitMass: 1000, KitPrice: 30, Consumables: 5, Hours: 2, HourPrice: 2.5, MoldLife: 500,
		Wheels: 4, BoughtPrice: 160, BoughtLife: 2,
		Facts: []worth.Fact{{Name: "consumables for a cast", Key: "worth.consumables", Value: 5, Source: worth.Assumed}},
	}
}

// Text, JSON and the page's summary tell the same: the figures of the verdict, its
// break-even in words, and each input with its key.
func TestWorthIsTold(t *testing.T) {
	v := worth.Of(prices())
	r := OfWorth(v)
	// 500 + 4*18 + 2*30 = 632 for four; each further one costs 18, 12 of urethane, and 440/500 of a mold.
	brief := inText(t, r.brief)
	for _, want := range []string{"worth it  158 (", "after 4 good ones", "80.00 for the same life", fmt.Sprintf("4 wheels do not pay; casting pays from %d wheels on", v.Even.From),
		"(low to high: a shop's hours x 1/2 to 2, kits by use or whole)"} {
		if !strings.Contains(strings.Join(strings.Fields(brief), " "), strings.Join(strings.Fields(want), " ")) {
			t.Errorf("%q is not in %s", want, brief)
		}
	}
	if strings.Contains(brief, "not paid") {
		t.Errorf("own hours cost something, and %s", brief)
	}
	free := prices()
	free.HourPrice = 0
	if said := inText(t, OfWorth(worth.Of(free)).brief); !strings.Contains(strings.Join(strings.Fields(said), " "), "your 2 h a wheel are not paid") {
		t.Error(said)
	}
	text := inText(t, func(p teller) {
		r.table(p)
		p.row()
		r.items(p)
		p.row()
		r.sum(p)
		p.row()
		r.inputs(p)
	})
	for _, want := range []string{"worth.consumables", "assumed", "each further", "30.88", "break-even", "2 kits, whole ones", "equal at", "316"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	raw, err := json.Marshal(map[string]any{"worth": r})
	if err != nil {
		t.Fatal(err)
	}
	var tree map[string]any
	if err := json.Unmarshal(raw, &tree); err != nil {
		t.Fatal(err)
	}
	for _, f := range r.outcome().Figures {
		if got, err := reporttest.LookUp(tree, f.Key); err != nil || math.Abs(got-f.Raw) > 1e-9*math.Abs(f.Raw) {
			t.Errorf("%s: %v, %v; want %g in %s", f.Key, got, err, f.Raw, raw)
		}
	}
}

// Reckoned inputs name a place of the JSON.
func TestReckonedInputsAreInTheJSON(t *testing.T) {
	raw, err := json.Marshal(OfWorth(worth.Of(prices())))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"once":{"shop_h":1,`, `"mold":{"shop_h":6,"printer_h":0,"work_price":400,"material_and_printer_price":40,"price":440}`, `"hub":{"shop_h":0,`, `"urethane_g":400`} {
		if !strings.Contains(string(raw), want) {
			t.Errorf("no %s in %s", want, raw)
		}
	}
}

// Each way it can come out has its words and its state.
func TestWorthHasWords(t *testing.T) {
	for _, x := range []struct {
		bought float64
		state  state
		even   string
		says   string
	}{
		{0, mind, "", "would have to cost 316"},
		{40, mind, "never", "4 wheels do not pay; casting never pays: each further wheel costs 30.88 or more, a bought one 20.00"},
		{2000, fine, "1", "from the first wheel on"},
		{300, mind, "5", "4 wheels do not pay, but would at the low end; casting pays from 5 wheels on (3 to 9)"},
		{320, mind, "4", "4 wheels pay, but not at the high end; casting pays from 4 wheels on"},
	} {
		in := prices()
		in.BoughtPrice = x.bought
		o := OfWorth(worth.Of(in)).outcome()
		if o.State != x.state || !strings.Contains(o.Says, x.says) {
			t.Errorf("bought for %g: %s, %s", x.bought, o.State, o.Says)
		}
		if last := o.Figures[len(o.Figures)-1]; x.even != "" && last.Value != x.even {
			t.Errorf("bought for %g: break-even %s, want %s", x.bought, last.Value, x.even)
		}
	}
	if OfWorth(nil) != nil {
		t.Error("nothing is known, and yet reported")
	}
}

// Heads tell what is of a wheel and what of all.
func TestWorthHeadsTellOfHowMany(t *testing.T) {
	head := strings.Join(toldRows(OfWorth(worth.Of(prices())).table).headed().Head, "; ")
	for _, want := range []string{"casts (in all)", "molds (in all)", "kits (in all)", "own (h a wheel)", "shop (h a wheel)", "printer (h a wheel)"} {
		if !strings.Contains(head, want) {
			t.Errorf("no %q in %s", want, head)
		}
	}
}

// The chart's lines cross where the break-even is marked, and are told apart without
// color.
func TestWorthChart(t *testing.T) {
	r := OfWorth(worth.Of(prices()))
	all := parse(t, worthChart(r))
	x, y := ruler(t, all, "x", true), ruler(t, all, "y", true)
	lines := pick(all, "path", "c-line")
	if len(lines) != 4 {
		t.Fatalf("%d lines, want cast, bought, low and high", len(lines))
	}
	if lines[0].attr["stroke-dasharray"] == lines[1].attr["stroke-dasharray"] || lines[1].attr["stroke-dasharray"] == lines[2].attr["stroke-dasharray"] {
		t.Error("lines look alike")
	}
	cast, bought := points(t, lines[0].attr["d"]), points(t, lines[1].attr["d"])
	up := textSize / 3
	at := pick(all, "line", "c-mark")
	if len(at) != 2 {
		t.Fatalf("%d marks, want wanted wheels and break-even", len(at))
	}
	if wanted := at[0].number(t, "x1"); math.Abs(wanted-x(4)) > 0.02 {
		t.Errorf("4 wheels are marked at %g mm, want %g", wanted, x(4))
	}
	mark := at[1].number(t, "x1")
	even := r.Bought.Even.From
	if math.Abs(mark-x(float64(even))) > 0.02 {
		t.Errorf("break-even at %g mm, want %g", mark, x(float64(even)))
	}
	if off := bought[0][1] - (y(80) - up); math.Abs(off) > 0.02 {
		t.Errorf("bought is drawn %g mm off", off)
	}
	for i, p := range cast {
		if want := y(r.Curve[i].Middle) - up; math.Abs(p[1]-want) > 0.02 || math.Abs(p[0]-x(float64(r.Curve[i].Wheels))) > 0.02 {
			t.Errorf("%d wheels are drawn at %v", r.Curve[i].Wheels, p)
		}
		// Paper counts downward: cheaper is lower. Before the mark it may dip.
		if p[0] > mark-0.01 && p[1] < bought[0][1] {
			t.Errorf("cast is drawn as dearer at %v, beyond the break-even", p)
		}
		if i+1 < len(cast) && math.Abs(cast[i+1][0]-mark) < 0.02 && p[1] > bought[0][1] {
			t.Errorf("cast is drawn as cheaper at %v, before the break-even", p)
		}
	}
	top := math.Inf(1)
	for _, line := range lines {
		for _, p := range points(t, line.attr["d"]) {
			top = min(top, p[1])
		}
	}
	for _, e := range pick(all, "text", "c-label") {
		if e.number(t, "x") < cast[len(cast)-1][0] && e.number(t, "y") > top {
			t.Errorf("%q lies among the curves", e.text)
		}
	}
	for _, want := range []string{"cast", "bought, 80.00", "its low and high", "4 wheels cast: 158 each", fmt.Sprintf("cast is cheaper from %d wheels on", even)} {
		found := false
		for _, e := range pick(all, "text", "c-label") {
			found = found || e.text == want
		}
		if !found {
			t.Errorf("no text %q", want)
		}
	}
	in := prices()
	in.BoughtPrice = 2000 // even at the first wheel, before the wanted four
	at = pick(parse(t, worthChart(OfWorth(worth.Of(in)))), "line", "c-mark")
	if len(at) != 2 || at[0].number(t, "x1") >= at[1].number(t, "x1") {
		t.Errorf("marks are out of order: %+v", at)
	}
	in.BoughtPrice = 0
	none := worthChart(OfWorth(worth.Of(in)))
	if n := len(pick(parse(t, none), "path", "c-line")); n != 3 || !strings.Contains(none.Desc, "worth.bought_price") {
		t.Errorf("%d lines without a bought wheel: %s", n, none.Desc)
	}
}
