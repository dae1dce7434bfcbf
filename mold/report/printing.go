package report

import (
	"fmt"
	"strings"

	"wheelmold/mold"
	"wheelmold/mold/printing"
)

// Printing is how what is printed of a mold comes off the printer. Masses of walled
// pieces, and all times, are estimates.
type Printing struct {
	Kind     string      `json:"kind"` // "filament" or "resin"
	Bed      [3]float64  `json:"bed_mm"`
	Gap      float64     `json:"gap_mm"`
	Fill     string      `json:"fill"` // of the mold's pieces: "solid" or "walled"
	Overhang float64     `json:"overhang_deg"`
	Plastic  float64     `json:"plastic_cm3"`
	Mass     float64     `json:"mass_g"`
	Time     float64     `json:"time_s"` // of all pieces, with the setup of each load and misfit
	Pieces   []Print     `json:"pieces"`
	Loads    []PrintLoad `json:"loads"`
	Misfits  []BedMisfit `json:"misfits"`
	Assumed  []string    `json:"assumed"`
}

// Print is one printed piece.
type Print struct {
	Name     string     `json:"name"`
	Size     [3]float64 `json:"size_mm"`
	Fits     bool       `json:"fits_the_bed"`
	OnBed    []BedFace  `json:"on_the_bed"`
	Rising   []string   `json:"rising_from_the_bed"` // cavity and mating faces
	Overhang float64    `json:"overhang_mm2"`
	Bridged  float64    `json:"bridged_mm2"`         // of it
	Cavity   float64    `json:"overhang_cavity_mm2"` // of the rest
	Mating   float64    `json:"overhang_mating_mm2"` // of the rest
	Volume   float64    `json:"volume_mm3"`
	Surface  float64    `json:"surface_mm2"`
	Plastic  float64    `json:"plastic_mm3"`
	Mass     float64    `json:"mass_g"`
	Time     float64    `json:"time_s"` // alone, without setup
	Layers   int        `json:"layers"`
}

// BedFace is what of a kind of faces lies on the bed.
type BedFace struct {
	Role string  `json:"role"`
	Area float64 `json:"area_mm2"`
}

// PrintLoad is what is printed at once.
type PrintLoad struct {
	Pieces []OnBed `json:"pieces"`
	Height float64 `json:"height_mm"`
	Layers int     `json:"layers"`
	Mass   float64 `json:"mass_g"`
	Time   float64 `json:"time_s"`
}

// OnBed is where a piece lies on the bed.
type OnBed struct {
	Name   string     `json:"name"`
	At     [2]float64 `json:"at_mm"` // its lower corner
	Turned bool       `json:"turned"`
}

// BedMisfit is a piece that the bed does not hold.
type BedMisfit struct {
	Piece  string     `json:"piece"`
	Size   [3]float64 `json:"size_mm"`
	Splits []BedSplit `json:"splits_that_fit"`
	remedy string
}

// BedSplit is a way to split the mold so that it fits the bed.
type BedSplit struct {
	Split    string   `json:"split"`
	Segments int      `json:"segments"`
	Pieces   int      `json:"pieces"`
	Settings []string `json:"settings"`
}

// SetPrinting reports how the mold is printed; a plan that prints nothing is left out.
func (c *Check) SetPrinting(m *mold.Mold, p *printing.Plan) {
	if p == nil || len(p.Pieces) == 0 {
		return
	}
	j := m.Job
	r := &Printing{
		Kind: "filament", Bed: [3]float64{p.Bed.X, p.Bed.Y, p.Bed.Z}, Gap: p.Bed.Gap, Fill: j.Printing.Fill, Overhang: j.Printing.Overhang,
		Plastic: p.Plastic, Mass: p.Mass, Time: p.Time, Loads: []PrintLoad{}, Misfits: []BedMisfit{}, Assumed: p.Assumed,
	}
	if p.Resin {
		r.Kind = "resin"
	}
	for i := range p.Pieces {
		r.Pieces = append(r.Pieces, printOf(&p.Pieces[i]))
	}
	for i := range p.Loads {
		r.Loads = append(r.Loads, loadOf(p, &p.Loads[i]))
	}
	for i := range p.Misfits {
		r.Misfits = append(r.Misfits, misfitOf(&p.Misfits[i]))
	}
	c.Printing = r
}

func printOf(x *printing.Piece) Print {
	out := Print{
		Name: x.Name, Size: x.Size, Fits: x.Fits, OnBed: []BedFace{}, Rising: append([]string{}, x.Stands...),
		Overhang: x.Overhang.All, Bridged: x.Overhang.Bridged, Cavity: x.Overhang.Cavity, Mating: x.Overhang.Mating,
		Volume: x.Volume, Surface: x.Surface, Plastic: x.Plastic, Mass: x.Mass, Time: x.Time, Layers: x.Layers,
	}
	for _, r := range x.OnBed {
		out.OnBed = append(out.OnBed, BedFace(r))
	}
	return out
}

func loadOf(p *printing.Plan, l *printing.Load) PrintLoad {
	out := PrintLoad{Height: l.Height, Layers: l.Layers, Mass: l.Mass, Time: l.Time}
	for _, at := range l.Places {
		out.Pieces = append(out.Pieces, OnBed{p.Pieces[at.Item].Name, [2]float64{at.At[0], at.At[1]}, at.Turned})
	}
	return out
}

func misfitOf(f *printing.Misfit) BedMisfit {
	out := BedMisfit{Piece: f.Piece, Size: f.Size, Splits: []BedSplit{}, remedy: f.Remedy()}
	for _, a := range f.Fits {
		split := BedSplit{Split: a.Split, Segments: a.Segments, Pieces: a.Pieces}
		for _, s := range a.Settings() {
			split.Settings = append(split.Settings, s.String())
		}
		out.Splits = append(out.Splits, split)
	}
	return out
}

// text prints pieces, bed loads, and what they rest on.
func (r *Printing) text(p teller) {
	p.row(r.lead())
	p.row()
	r.table(p)
	p.row()
	r.loads(p)
}

// lead says what is printed where.
func (r *Printing) lead() string {
	return fmt.Sprintf("printing, %s, on a bed of %s mm, pieces %s mm apart; estimates.", r.Kind, size(r.Bed, 1, 1), number(r.Gap, 1))
}

// table prints the pieces by themselves.
func (r *Printing) table(p teller) {
	p.row("piece", "plastic", "mass", "alone", "overhang", "bridged", "in cavity", "on mating faces")
	p.row("", "cm³", "", "", "mm²", "of it", "of the rest", "of the rest")
	for _, x := range r.Pieces {
		p.row(mold.Title(x.Name), number(x.Plastic/1000, 1), grams(x.Mass), printTime(x.Time),
			number(x.Overhang, 0), number(x.Bridged, 0), number(x.Cavity, 0), number(x.Mating, 0))
	}
}

// loads prints what goes onto the bed together, and what to mind.
func (r *Printing) loads(p teller) {
	for i, l := range r.Loads {
		var names []string
		for _, x := range l.Pieces {
			name := mold.Title(x.Name)
			if x.Turned {
				name += " (turned)"
			}
			names = append(names, name)
		}
		p.note(fmt.Sprintf("load %d of %d", i+1, len(r.Loads)), printTime(l.Time), fmt.Sprintf("%s; %s, %s mm high", strings.Join(names, ", "), grams(l.Mass), number(l.Height, 1)))
	}
	for _, f := range r.Misfits {
		p.note("does not fit", mold.Title(f.Piece), size(f.Size, 1, 1)+" mm; "+f.remedy)
	}
	p.note("in all", printTime(r.Time), fmt.Sprintf("%s of %s; %s cm³ of plastic", grams(r.Mass), count(len(r.Pieces), "piece", "pieces"), number(r.Plastic, 1)))
	p.note("overhang", "", fmt.Sprintf("faces off the bed that lean out by more than %s° from the vertical (printing.overhang), as the pieces lie; bridged: level ceilings between walls, no wider than printing.bridge", number(r.Overhang, 1)))
	if rising := r.rising(); rising != "" {
		p.note("foot", "", "the first layers bulge; scrape the edges that rise from the bed, or they hold the mold open: "+rising)
	}
	p.note("rests on", "", strings.Join(r.Assumed, "; "))
}

// rising lists the cavity and mating faces whose foot bulges.
func (r *Printing) rising() string {
	var parts []string
	for _, x := range r.Pieces {
		if len(x.Rising) > 0 {
			parts = append(parts, strings.Join(x.Rising, ", ")+" of "+mold.Title(x.Name))
		}
	}
	return strings.Join(parts, "; ")
}

// printTime prints how long a print takes, to what is known of it.
func printTime(s float64) string {
	if s < 3600 {
		return number(s/60, 0) + " min"
	}
	return days(s)
}

// outcome is the summary's card.
func (r *Printing) outcome() outcome {
	o := outcome{Name: "Printing", State: fine, Says: count(len(r.Loads), "bed load", "bed loads") + " of " + r.Kind}
	supported := func(x Print) bool { return x.Overhang-x.Bridged >= 1 }
	if n := countOf(r.Pieces, supported); n > 0 {
		o.Says += "; overhangs on " + count(n, "piece", "pieces")
	}
	if len(r.Misfits) > 0 {
		o.State, o.Says = act, count(len(r.Misfits), "piece does", "pieces do")+" not fit the bed: see Printing"
	}
	rest := strings.Join(r.Assumed, "; ") + "."
	o.Figures = []figure{
		{Name: "plastic", Value: weighed(r.Mass), Key: "printing.mass_g", Raw: r.Mass, Note: "Exact volumes by density, pieces " + r.Fill + ". " + upper(rest)},
		{Name: "time", Value: printTime(r.Time), Key: "printing.time_s", Raw: r.Time, Note: "Of all pieces: bed loads one after the other, and each piece that does not fit alone. " + upper(rest)},
	}
	return o
}

func countOf(list []Print, is func(Print) bool) (n int) {
	for _, x := range list {
		if is(x) {
			n++
		}
	}
	return n
}
