package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// fillChart draws how high one mold is filled by the clock, with what is poured by then.
func fillChart(p *Pour) chart {
	l := &lineChart{ID: "chart-filling", Title: "Filling the mold", Width: wholePage, Height: 85}
	shown := shownBatches(p)
	end := p.Clock.PourStart
	for _, k := range shown {
		s := series{}
		for _, f := range p.Filling {
			if f.Batch == k {
				s.Points = append(s.Points, [2]float64{f.Clock, f.Level})
				s.Name = fmt.Sprintf("batch %d, to %s", k, mass(f.Poured))
				end = max(end, f.Clock)
			}
		}
		if len(shown) == 1 {
			s.Name = "" // the notes say enough
		}
		l.Series = append(l.Series, s)
	}
	if len(p.Filling) == 0 {
		return l.draw()
	}
	full := p.Filling[len(p.Filling)-1]
	first := p.Filling[0].Clock
	// The end of the pot life is shown where it does not squeeze the rest.
	last := end + (end-first)/5
	if by := p.Clock.PourBy; by < end+(end-first) {
		last = max(end, by)
	}
	l.X = axis{Name: "min:s from first mixing of the batch", Lo: first, Hi: last, Time: true}
	l.Y = axis{Name: "level in mm over the tread's lower face", Lo: 0, Hi: full.Level, Other: inches}
	if len(shown) == 1 {
		l.Notes = quarters(p.Filling)
	}
	l.Marks = []mark{{end, "full " + span(end)}}
	if len(shown) > 1 {
		l.Marks[0].Text = "poured " + span(end)
	}
	if p.Clock.Due < p.Clock.PourBy {
		l.Marks = append(l.Marks, mark{p.Clock.Due, "mold stops leveling " + span(p.Clock.Due)})
	}
	l.Marks = append(l.Marks, mark{p.Clock.PourBy, "pot life ends " + span(p.Clock.PourBy)})
	l.Levels = ventLevel(&p.Air)
	l.Desc = fillText(p, shown, full)
	return l.draw()
}

// shownBatches are the batches whose lines are drawn: of many the first ones and the last.
func shownBatches(p *Pour) (out []int) {
	last := 0
	for _, f := range p.Filling {
		last = max(last, f.Batch)
	}
	for k := 1; k <= last; k++ {
		if k < len(dashes) || k == last {
			out = append(out, k)
		}
	}
	return out
}

// ventLevel marks where the first vent gets wet all around; of a mold that leans there
// is no one level.
func ventLevel(a *Air) []mark {
	if len(a.Vents) == 0 || a.Angle != 0 {
		return nil
	}
	level := slices.MinFunc(a.Vents, func(x, y Closing) int { return cmp.Compare(x.Level, y.Level) }).Level
	return []mark{{level, "vents close at " + length(level)}}
}

// quarters are notes of what is poured, where a quarter of the mold after the other is
// reached.
func quarters(f []Fill) (out []note) {
	full := f[len(f)-1].Poured
	for q := 1.0; q <= 4; q++ {
		x := f[slices.IndexFunc(f, func(x Fill) bool { return x.Poured >= q/4*full*(1-1e-9) })]
		out = append(out, note{[2]float64{x.Clock, x.Level}, mass(x.Poured)})
	}
	return out
}

// mass prints what a scale in the shop shows, in both systems.
func mass(g float64) string {
	decimals := 0
	if g < 100 {
		decimals = 1
	}
	return fmt.Sprintf("%s g (%s oz)", number(g, decimals), number(g/gramsPerOunce, decimals+1))
}

func fillText(p *Pour, shown []int, full Fill) string {
	s := fmt.Sprintf("How high the urethane stands in one mold, by the time since the batch was first mixed: poured from %s on, it reaches %s after %s in all. Bucket and mold flow until %s.",
		span(p.Clock.PourStart), length(full.Level), mass(full.Poured), span(p.Clock.Due))
	if n := full.Batch; n > 1 {
		s += fmt.Sprintf(" The mold takes %d batches", n)
		if len(shown) < n {
			s += fmt.Sprintf(", of which %d are shown", len(shown))
		}
		s += ", each with its own clock."
	}
	return s
}

// thickChart draws how the mix thickens in the bucket, and in the mold where that is
// warmer or cooler.
func thickChart(p *Pour) chart {
	l := &lineChart{ID: "chart-thickening", Title: "How the mix thickens", Width: wholePage, Height: 85}
	bucket, mold := series{Name: "in the bucket"}, series{Name: "in the mold"}
	apart, gel := false, 0.0
	least, most := math.Inf(1), 0.0
	for _, t := range p.Thickening {
		for _, x := range []struct {
			s *series
			v float64
		}{{&bucket, t.Bucket}, {&mold, t.Mold}} {
			if x.v > 0 && finite(x.v) {
				x.s.Points = append(x.s.Points, [2]float64{t.Clock, x.v})
				least, most, gel = min(least, x.v), max(most, x.v), max(gel, t.Clock)
			}
		}
		apart = apart || t.Mold > 0 && math.Abs(t.Mold-t.Bucket) > 1e-6*t.Mold
	}
	l.Series = []series{bucket}
	if apart {
		l.Series = append(l.Series, mold)
	} else {
		l.Series[0].Name = ""
	}
	l.X = axis{Name: "min:s from first mixing", Hi: gel, Time: true}
	l.Y = axis{Name: "viscosity in Pa·s (1 Pa·s = 1000 cP)", Lo: niceBelow(least), Hi: niceAbove(most), Log: true}
	c := &p.Clock
	l.Marks = []mark{{c.StirEnd, "stop stirring"}, {c.PourStart, "pour from " + span(c.PourStart)}, {c.PourEnd, "poured " + span(c.PourEnd)}, {c.PourBy, "pot life ends " + span(c.PourBy)}}
	if c.Gel < gel*(1-1e-6) {
		l.Marks = append(l.Marks, mark{c.Gel, "gel in the mold " + span(c.Gel)}, mark{gel, "gel in the bucket " + span(gel)})
	} else {
		l.Marks = append(l.Marks, mark{gel, "gel " + span(gel)})
	}
	slices.SortStableFunc(l.Marks, func(a, b mark) int { return cmp.Compare(a.At, b.At) })
	l.Desc = thickText(p, apart)
	return l.draw()
}

func thickText(p *Pour, apart bool) string {
	where := []string{"Viscosity of the mix from first mixing until it gels; the scale goes by ratios."}
	if apart {
		where = append(where, "What is in the mold is as warm as the mold, and runs ahead of the bucket or lags behind it.")
	}
	c := &p.Clock
	return strings.Join(append(where, fmt.Sprintf("Pour from %s to %s; the pot life ends at %s.", span(c.PourStart), span(c.PourEnd), span(c.PourBy))), " ")
}

// niceBelow and niceAbove are the ticks of a log axis next to a figure.
func niceBelow(v float64) float64 { return 1 / niceStep(1/v) }
func niceAbove(v float64) float64 { return niceStep(v) }
