package paper

import (
	"math"
	"slices"

	"wheelmold/mold/inparallel"
)

// twins tells whether two sheets have views of the same sizes in the same places.
func twins(a, b *Sheet) bool {
	const same = 0.02 // of a size
	return slices.EqualFunc(a.Views, b.Views, func(v, x View) bool {
		if v.Row != x.Row || v.Column != x.Column || v.Free != x.Free || v.Zoom != x.Zoom || v.Scale != x.Scale {
			return false
		}
		vw, vh := sizeOf(frameOf(&v, 1))
		xw, xh := sizeOf(frameOf(&x, 1))
		return math.Abs(vw-xw) <= same*max(vw, xw) && math.Abs(vh-xh) <= same*max(vh, xh)
	})
}

// agree lays sheets that are alike out at one scale on one paper: of those that suit any
// of them best, the one that suits all best.
func agree(sheets []Sheet, laid []*layout) {
	done := make([]bool, len(sheets))
	for i := range sheets {
		var pair []int
		for k := i; k < len(sheets); k++ {
			if !done[k] && len(sheets[i].Views) > 0 && twins(&sheets[i], &sheets[k]) {
				pair, done[k] = append(pair, k), true
			}
		}
		agreed(sheets, laid, pair)
	}
}

// agreed settles what sheets that are alike come at.
func agreed(sheets []Sheet, laid []*layout, twins []int) {
	var choices []choice
	for _, k := range twins {
		if c := laid[k].choice(); !slices.Contains(choices, c) {
			choices = append(choices, c)
		}
	}
	if len(choices) < 2 {
		return
	}
	best, bestCost := []*layout(nil), math.Inf(1)
	for _, c := range choices {
		all := make([]*layout, len(twins))
		inparallel.Do(len(twins), func(n int) {
			if all[n] = laid[twins[n]]; all[n].choice() != c {
				all[n], _ = lay(&sheets[twins[n]], &c) // nil: it does not fit
			}
		})
		cost := 0.0
		for _, l := range all {
			if l == nil {
				cost = math.Inf(1)
				break
			}
			cost += l.cost
		}
		if cost < bestCost {
			best, bestCost = all, cost
		}
	}
	for n, l := range best {
		laid[twins[n]] = l
	}
}
