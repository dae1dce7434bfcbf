package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// worthChart draws what a wheel costs by how many are made, cast and bought. Lines differ
// by their dashes and names, and the break-even is told in words.
func worthChart(r *Worth) chart {
	l := &lineChart{ID: "chart-worth", Title: "Cost of a wheel, cast and bought", Width: wholePage, Height: 80}
	if len(r.Curve) == 0 {
		return l.draw()
	}
	cast, band := series{Name: "cast"}, series{Name: "its low and high"}
	least, greatest := math.Inf(1), 0.0
	for _, p := range r.Curve {
		least, greatest = min(least, p.Low), max(greatest, p.High)
	}
	if b := r.Bought; b != nil {
		least, greatest = min(least, b.Match), max(greatest, b.Match)
	}
	line := func(s *series, of func(*WorthCost) float64) {
		for i := range r.Curve {
			s.Points = append(s.Points, [2]float64{float64(r.Curve[i].Wheels), of(&r.Curve[i])})
		}
	}
	line(&cast, func(p *WorthCost) float64 { return p.Middle })
	line(&band, func(p *WorthCost) float64 { return p.High })
	band.Points = append(band.Points, [2]float64{math.NaN(), math.NaN()}) // parts the two
	line(&band, func(p *WorthCost) float64 { return p.Low })
	l.X = axis{Name: "good wheels in all", Lo: 1, Hi: float64(r.Curve[len(r.Curve)-1].Wheels), Log: true}
	l.Y = axis{Name: "a wheel, in your currency", Lo: niceBelow(least), Hi: niceAbove(greatest), Log: true}
	l.Series = []series{cast, {}, band}
	// Named above the chart, where no line runs through the text.
	l.Notes = []note{{At: [2]float64{float64(r.Wheels), r.Wanted.Price.Middle}}}
	l.Marks = []mark{{float64(r.Wheels), fmt.Sprintf("%s cast: %s each", count(r.Wheels, "wheel", "wheels"), price(r.Wanted.Price.Middle))}}
	if b := r.Bought; b != nil {
		l.Series[1] = series{"bought, " + price(b.Match), [][2]float64{{1, b.Match}, {l.X.Hi, b.Match}}}
		if b.Even.From > 0 {
			l.Marks = append(l.Marks, mark{float64(b.Even.From), fmt.Sprintf("cast is cheaper from %s on", count(b.Even.From, "wheel", "wheels"))})
			slices.SortStableFunc(l.Marks, func(a, b mark) int { return cmp.Compare(a.At, b.At) })
		}
	}
	l.Desc = r.chartText()
	return l.draw()
}

// chartText tells what is to be read off the chart.
func (r *Worth) chartText() string {
	first, last := &r.After[0], &r.After[len(r.After)-1]
	s := fmt.Sprintf("What each good wheel costs by how many are cast, by ratios on both scales: %s for %s, %s for %s. Steps are molds and kits. The dotted lines are its low and high.",
		price(first.Price.Middle), count(first.Wheels, "wheel", "wheels"), price(last.Price.Middle), count(last.Wheels, "wheel", "wheels"))
	if b := r.Bought; b != nil {
		return s + fmt.Sprintf(" Bought, the broken line, it costs %s for the same life. %s.", price(b.Match), upper(r.Words))
	}
	return s + " " + upper(r.Words) + "."
}
