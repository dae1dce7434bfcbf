package report

import (
	"fmt"
	"strconv"
	"strings"

	"wheelmold/mold/flash"
	"wheelmold/mold/report/tabular"
	"wheelmold/mold/study"
)

// measure is one column of a table over variants: what people read, and values for
// programs.
type measure struct {
	block  int
	head   string   // "": for programs only
	keys   []string // with units at their ends; none: for people only
	values func(*study.Figures) []any
	text   func(*study.Figures) string
	wrap   bool // texts of any length
}

func columnsOf(all []measure) (out []tabular.Column) {
	for _, m := range all {
		out = append(out, tabular.Column{Head: m.head, Keys: m.keys, Block: m.block, Wrap: m.wrap})
	}
	return out
}

// figureIn is a measure with one value.
func figureIn[T any](head, key string, of func(*study.Figures) T, text func(T) string) measure {
	return measure{
		head: head, keys: []string{key},
		values: func(f *study.Figures) []any { return []any{of(f)} },
		text:   func(f *study.Figures) string { return text(of(f)) },
	}
}

// weighedOut is a measure of a mass in g as the scale shows it.
func weighedOut(head, key string, of func(*study.Figures) float64) measure {
	m := figureIn(head, key, of, grams)
	m.text = func(f *study.Figures) string { return shopScale(f.Step).inGrams(of(f)) }
	return m
}

// blocks puts each list of measures into a block of its own.
func blocks(lists ...[]measure) (out []measure) {
	for b, list := range lists {
		for _, m := range list {
			m.block = b
			out = append(out, m)
		}
	}
	return out
}

// sweepMeasures are what a sweep tells: what to mix, the mold, its joints, the pour.
var sweepMeasures = blocks(
	[]measure{
		figureIn("rubber", "rubber_mm3", func(f *study.Figures) float64 { return f.Rubber }, func(v float64) string { return cm3(v, 2) }),
		figureIn("poured", "poured_g", func(f *study.Figures) float64 { return f.Poured }, weighed),
		figureIn("mixed", "mixed_g", func(f *study.Figures) float64 { return f.Mixed }, weighed),
		weighedOut("A", "a_g", func(f *study.Figures) float64 { return f.A }),
		weighedOut("B", "b_g", func(f *study.Figures) float64 { return f.B }),
		figureIn("batches", "batches", func(f *study.Figures) int { return f.Batches }, strconv.Itoa),
	},
	[]measure{
		pieces, blockMM, blockIn, printMass, printTimes, loads,
	},
	[]measure{setUps, shopCost},
	[]measure{worst, worstGrade, stays, lost, grade, drips, opening, opens},
	[]measure{
		runsIn, verdict,
		figureIn("air that stays", "trapped_mm3", func(f *study.Figures) float64 { return f.Trapped }, pocket),
		wheelMass, kits, costs,
	},
)

// splitMeasures are what splits differ in: the mold, its joints, the pour, and all of
// it in a line.
var splitMeasures = blocks(
	[]measure{
		pieces,
		figureIn("parting lines", "parting_lines", func(f *study.Figures) int { return f.Lines }, strconv.Itoa),
		figureIn("seam", "seam_mm", func(f *study.Figures) float64 { return f.Seam }, seamLength),
		blockMM, blockIn,
	},
	[]measure{lost, worst, worstGrade, grade, drips, opening, opens},
	[]measure{setUps, shopCost},
	[]measure{
		printMass, printTimes, loads, runsIn, wheelMass,
		{keys: verdict.keys, values: verdict.values, text: verdict.text},
		{head: "verdict", text: inALine, wrap: true},
	},
)

var (
	pieces = figureIn("pieces", "pieces", func(f *study.Figures) int { return f.Pieces }, strconv.Itoa)

	blockMM = measure{
		head: "block mm", keys: []string{"block_x_mm", "block_y_mm", "block_z_mm"},
		values: func(f *study.Figures) []any { return []any{f.Block[0], f.Block[1], f.Block[2]} },
		text:   func(f *study.Figures) string { return size(f.Block, 1, 1) },
	}
	blockIn = measure{head: "block in", text: func(f *study.Figures) string { return size(f.Block, 25.4, 2) }}

	kits = measure{
		head: "kits", keys: []string{"kits"},
		values: func(f *study.Figures) []any { return []any{onlyIf(f.Priced, f.Kits)} },
		text:   func(f *study.Figures) string { return textIf(f.Priced, strconv.Itoa(f.Kits)) },
	}
	costs = measure{
		head: "cost", keys: []string{"cost_per_wheel_by_use", "cost_per_wheel_by_kits"},
		values: func(f *study.Figures) []any { return []any{onlyIf(f.Priced, f.ByUse), onlyIf(f.Priced, f.ByKits)} },
		text:   func(f *study.Figures) string { return textIf(f.Priced, number(f.ByUse, 2)+", "+number(f.ByKits, 2)) },
	}

	worst      = figureIn("worst joint", "worst_line", func(f *study.Figures) string { return f.Worst.Name }, verbatim)
	worstGrade = figureIn("", "worst_grade", func(f *study.Figures) string { return f.Worst.Grade.String() }, verbatim) // the mold's, unless it is a flood
	stays      = measure{
		head: "stays there 50, 90 %", keys: []string{"worst_flash_p50_g", "worst_flash_p90_g"},
		values: func(f *study.Figures) []any { return []any{f.Worst.Flash.P50, f.Worst.Flash.P90} },
		text:   func(f *study.Figures) string { return massPair(f.Worst.Flash.P50, f.Worst.Flash.P90) },
	}
	lost = measure{
		head: "lost 50, 90 %", keys: []string{"lost_p50_g", "lost_p90_g"},
		values: func(f *study.Figures) []any { return []any{f.Lost.P50, f.Lost.P90} },
		text:   func(f *study.Figures) string { return massPair(f.Lost.P50, f.Lost.P90) },
	}
	grade   = figureIn("grade", "grade", func(f *study.Figures) string { return f.Grade.String() }, verbatim)
	drips   = figureIn("drips", "drip_chance", func(f *study.Figures) float64 { return f.Drips }, percent)
	opening = figureIn("into hub", "opening_chance", func(f *study.Figures) float64 { return f.Opening }, percent)

	opens = measure{
		head: "opens", keys: []string{"release", "release_reason"},
		values: func(f *study.Figures) []any { return []any{f.Release, f.Why} },
		text:   func(f *study.Figures) string { return f.Opens },
	}

	wheelMass = figureIn("wheel", "wheel_g", func(f *study.Figures) float64 { return f.Wheel }, weighed)

	runsIn = measure{
		head: "runs in", keys: []string{"pour_s"},
		values: func(f *study.Figures) []any { return []any{onlyIf(f.Gated, f.Run)} },
		text:   func(f *study.Figures) string { return textIf(f.Gated, span(f.Run)) },
	}
	verdict = measure{
		head: "in time", keys: []string{"pour_verdict"}, wrap: true,
		values: func(f *study.Figures) []any { return []any{string(f.Verdict)} },
		text: func(f *study.Figures) string {
			brief, _, _ := strings.Cut(string(f.Verdict), ":")
			return brief
		},
	}
)

// What is printed; of a mold that is milled, nothing may be.
var (
	printMass = measure{
		head: "prints", keys: []string{"print_g"},
		values: func(f *study.Figures) []any { return []any{onlyIf(f.Printed, f.PrintMass)} },
		text:   func(f *study.Figures) string { return textIf(f.Printed, weighed(f.PrintMass)) },
	}
	printTimes = measure{
		head: "in", keys: []string{"print_s"},
		values: func(f *study.Figures) []any { return []any{onlyIf(f.Printed, f.PrintTime)} },
		text:   func(f *study.Figures) string { return textIf(f.Printed, days(f.PrintTime)) },
	}
	loads = measure{
		head: "bed loads", keys: []string{"bed_loads", "pieces_off_the_bed"},
		values: func(f *study.Figures) []any { return []any{onlyIf(f.Printed, f.Loads), onlyIf(f.Printed, f.Misfits)} },
		text: func(f *study.Figures) string {
			s := strconv.Itoa(f.Loads)
			if f.Misfits > 0 {
				s += fmt.Sprintf(", %d too large", f.Misfits)
			}
			return textIf(f.Printed, s)
		},
	}
)

// What a shop mills or turns; of a mold that is printed, nothing may be.
var (
	setUps = measure{
		head: "set-ups", keys: []string{"set_ups", "hidden_mm2"},
		values: func(f *study.Figures) []any { return []any{onlyIf(f.Shop, f.SetUps), onlyIf(f.Shop, f.Hidden)} },
		text: func(f *study.Figures) string {
			s := strconv.Itoa(f.SetUps)
			if f.Hidden > 0 {
				s += ", " + number(f.Hidden, 0) + " mm² hidden"
			}
			return textIf(f.Shop, s)
		},
	}
	shopCost = measure{
		head: "shop", keys: []string{"shop_price", "shop_hours"},
		values: func(f *study.Figures) []any { return []any{onlyIf(f.Shop, f.ShopPrice), onlyIf(f.Shop, f.ShopHours)} },
		text: func(f *study.Figures) string {
			return textIf(f.Shop, number(f.ShopPrice, 0)+", "+number(f.ShopHours, 1)+" h")
		},
	}
)

func verbatim(s string) string { return s }

// onlyIf is a value where there is one, or nil.
func onlyIf(there bool, v any) any {
	if there {
		return v
	}
	return nil
}

func textIf(there bool, text string) string {
	if there {
		return text
	}
	return "-"
}

func massPair(p50, p90 float64) string { return significant(p50) + ", " + significant(p90) + " g" }

func seamLength(mm float64) string { return number(mm, 0) + " mm (" + number(mm/25.4, 1) + " in)" }

// inALine sums a split up.
func inALine(f *study.Figures) string {
	at := ""
	if flash.RiskOf(f.Drips) > flash.Unlikely {
		at = " at " + f.RiskAt
	}
	return fmt.Sprintf("%s; %s%s; %s", f.Grade.Meaning(), f.Risk, at, f.Verdict)
}
