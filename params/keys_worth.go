package params

// worthKeys are what decides between casting a wheel and buying one. Prices are in the
// builder's currency.
var worthKeys = []Key{
	{Path: "worth.bought_price", Kind: Number, hi: fixed(1e6),
		slot: in(func(j *Job) *float64 { return &j.Worth.BoughtPrice }, always(0.0)),
		Doc:  "Price of a bought wheel that would do, ready to mount, in your currency; 0: not stated.",
		From: "nobody but you knows it: without it there is no comparison"},
	{Path: "worth.bought_life", Kind: Number, lo: fixed(0.01), hi: fixed(100),
		slot: in(func(j *Job) *float64 { return &j.Worth.BoughtLife }, always(1.0)),
		Doc:  "How long the bought wheel lasts, in lives of the cast one.",
		From: "assumed: as long"},
	{Path: "worth.wheels", Kind: Count, lo: fixed(1), hi: fixed(10000),
		slot: in(func(j *Job) *int { return &j.Worth.Wheels }, always(4)),
		Doc:  "Good wheels that are wanted from this mold.",
		From: "assumed: a set of four"},
	{Path: "worth.failures", Kind: Share, hi: fixed(0.9),
		slot: in(func(j *Job) *float64 { return &j.Worth.Failures }, always(0.1)),
		Doc:  "Share of casts that fail; hub and urethane of these are lost.",
		From: "assumed: one in ten, once the first is learned from"},
	{Path: "worth.mold_life", Kind: Count, lo: fixed(1), hi: fixed(100000),
		slot: in(func(j *Job) *int { return &j.Worth.MoldLife }, func(j *Job) int {
			if j.Milled() {
				return 500
			}
			return 20
		}),
		Doc:  "Casts that a mold stands.",
		From: "assumed: milled 500, printed 20"},
	{Path: "worth.consumables", Kind: Number, hi: fixed(1e6),
		slot: in(func(j *Job) *float64 { return &j.Worth.Consumables }, always(5.0)),
		Doc:  "Buckets, gloves, release agent, abrasive and the like for each cast, in your currency.",
		From: "assumed: 5"},
	{Path: "worth.hours", Kind: Time, hi: fixed(30 * day),
		slot: in(func(j *Job) *float64 { return &j.Worth.Hours }, always(2*3600.0)),
		Doc:  "Your work on each cast: preparing, mixing, pouring, opening, trimming, cleaning; not the cure.",
		From: "assumed: 2 h"},
	{Path: "worth.hour_price", Kind: Number, hi: fixed(10000),
		slot: in(func(j *Job) *float64 { return &j.Worth.HourPrice }, always(0.0)),
		Doc:  "What an hour of your own work counts, in your currency; 0: nothing, hours are told beside.",
		From: "most builders do not count it"},
	{Path: "worth.plastic_price", Kind: Number, hi: fixed(100000),
		slot: in(func(j *Job) *float64 { return &j.Worth.PlasticPrice }, func(j *Job) float64 {
			if j.Process.Kind == Resin {
				return 40
			}
			return 25
		}),
		Doc:  "Price of a kilogram of what is printed, in your currency.",
		From: "assumed: filament 25, resin 40"},
	{Path: "worth.printer_price", Kind: Number, hi: fixed(10000),
		slot: in(func(j *Job) *float64 { return &j.Worth.PrinterPrice }, always(0.3)),
		Doc:  "What an hour of the printer counts, in your currency: power and wear.",
		From: "assumed: 0.3"},
	{Path: "worth.mold_price", Kind: Number, hi: fixed(1e6),
		slot: in(func(j *Job) *float64 { return &j.Worth.MoldPrice }, always(0.0)),
		Doc:  "Price of the whole mold, programs included, in your currency: a shop's quote, or what your own costs you; 0: reckoned.",
		From: "reckoned until a shop quotes"},
	{Path: "worth.hub_price", Kind: Number, hi: fixed(1e6),
		slot: in(func(j *Job) *float64 { return &j.Worth.HubPrice }, always(0.0)),
		Doc:  "Price of one hub, ready to cast on, in your currency: quoted, bought, or made by yourself; 0: reckoned.",
		From: "reckoned until a shop quotes"},
}
