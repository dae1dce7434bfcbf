package report

import (
	"math"
	"strconv"
	"strings"

	"wheelmold/mold/flash"
)

// Flash is the estimate of the rubber that seeps between the pieces.
type Flash struct {
	Note    string      `json:"note"`
	Draws   int         `json:"draws"`
	Seed    uint64      `json:"seed"`
	Grade   string      `json:"grade"`
	Meaning string      `json:"meaning"`
	Share   float64     `json:"share_of_mix"`   // median of lost_g over what is mixed
	Flash   Band        `json:"flash_g"`        // stays in the joints, ball pockets and clearances
	Leak    Band        `json:"leak_g"`         // leaves the mold, or gets into the hub
	Lost    Band        `json:"lost_g"`         // both
	Feeler  float64     `json:"feeler_mm"`      // 0: not measured
	Fill    float64     `json:"fill_height_mm"` // of the liquid over the tread's lower face
	Liquid  FlashLiquid `json:"liquid"`
	Stack   FlashStack  `json:"stack"`
	Lines   []FlashLine `json:"lines"`
	Corners []Corner    `json:"corners"`

	place string // what of the mold the hub's length must match
}

// Band is what 10 %, 50 % and 90 % of the draws lie below.
type Band struct {
	P10 float64 `json:"p10"`
	P50 float64 `json:"p50"`
	P90 float64 `json:"p90"`
}

// FlashLiquid is the urethane as the estimate takes it.
type FlashLiquid struct {
	Viscosity float64 `json:"viscosity_pa_s"`
	PotLife   float64 `json:"pot_life_s"`
	Growth    float64 `json:"growth"`
	Gel       float64 `json:"gel_time_s"`
	Tension   float64 `json:"surface_tension_n_per_m"`
	Mold      float64 `json:"mold_temperature_c"`
	Sheet     float64 `json:"sheet_temperature_c"`
}

// FlashStack tells how the hub's length meets the room between the lands.
type FlashStack struct {
	Slack     float64    `json:"slack_mm"`      // negative: the hub stands proud
	Room      float64    `json:"gap_wanted_mm"` // mold.stack.gap with which it is not expected to
	Worst     [2]float64 `json:"slack_worst_mm"`
	RSS       [2]float64 `json:"slack_rss_mm"`
	Heat      float64    `json:"heat_mm"`
	Moisture  float64    `json:"moisture_mm"`
	Pressed   float64    `json:"pressed_mm"` // by which the bolts shorten a hub that stands proud
	Stiffness float64    `json:"hub_stiffness_n_per_mm"`
	Clamp     float64    `json:"clamp_n"`
}

// FlashLine is the estimate of one parting line.
type FlashLine struct {
	Name     string      `json:"name"`
	Pieces   []string    `json:"pieces"`
	Seal     string      `json:"seal"`
	SealKey  string      `json:"seal_key"`
	Seam     float64     `json:"seam_mm"`
	Land     FlashLand   `json:"land"`
	Exits    []FlashExit `json:"exits"`
	Gap      FlashGap    `json:"gap"`
	Head     [2]float64  `json:"head_pa"` // least and most along the seam
	Expected FlashResult `json:"expected"`
	Flash    Band        `json:"flash_g"`
	Leak     Band        `json:"leak_g"`
	Mass     float64     `json:"mass_g"` // of both, median
	Drips    float64     `json:"drip_chance"`
	Opening  float64     `json:"opening_chance"` // that rubber gets where none may be
	Verdict  string      `json:"verdict"`
	Grade    string      `json:"grade"`
	Meaning  string      `json:"meaning"`
	Reason   string      `json:"reason"`
	Change   *Change     `json:"change,omitempty"` // the first that helps
	Best     *Change     `json:"best,omitempty"`   // another that helps more
	Tried    []Change    `json:"tried"`
	Round    []FlashRing `json:"clearances,omitempty"`
	Map      FlashMap    `json:"map"`
}

// FlashLand is the width of mating face from the seam to the nearest exit.
type FlashLand struct {
	Least   float64    `json:"least_mm"`
	Typical float64    `json:"typical_mm"`
	At      [3]float64 `json:"at_mm"`
	Exit    string     `json:"exit"`
}

// FlashExit is one kind of way out.
type FlashExit struct {
	Kind  string  `json:"kind"`
	Least float64 `json:"least_mm"`
	Seam  float64 `json:"seam_mm"` // length of the seam to which it is the nearest
}

// FlashGap is the gap with what makes it.
type FlashGap struct {
	Expected float64      `json:"expected_mm"`
	Worst    float64      `json:"worst_mm"` // every input at its worst at once
	Band     Band         `json:"draws_mm"`
	Parts    []FlashCause `json:"parts"`
}

// FlashCause is one contribution to a gap; negative where it closes it.
type FlashCause struct {
	Kind     string  `json:"kind"`
	Name     string  `json:"name"`
	Expected float64 `json:"expected_mm"`
	Worst    float64 `json:"worst_mm"`
	Method   string  `json:"method"`
}

// FlashResult is what one cast would do, with every input expected or at its worst.
type FlashResult struct {
	Gap       float64 `json:"gap_mm"`
	Capillary float64 `json:"capillary_pa"`
	Held      float64 `json:"held_pa"`
	Mobility  float64 `json:"mobility_per_pa"`
	Depth     float64 `json:"depth_mm"` // of a straight front at gel
	Area      float64 `json:"area_mm2"`
	Flash     float64 `json:"flash_g"`
	Leak      float64 `json:"leak_g"`
	Wet       bool    `json:"wet_to_the_edge"`
}

// Change is something that was tried against flash.
type Change struct {
	What  string   `json:"what"`
	Sets  []string `json:"sets"`   // key=value
	Mass  float64  `json:"mass_g"` // flash and leak, median, then
	Grade string   `json:"grade"`
}

// FlashRing is a round clearance that belongs to a line at the hub.
type FlashRing struct {
	Name   string  `json:"name"`
	Gap    float64 `json:"gap_mm"`
	Length float64 `json:"length_mm"`
	Radius float64 `json:"radius_mm"`
}

// Corner is the channel along broken edges where three pieces meet.
type Corner struct {
	Pieces   []string    `json:"pieces"`
	From     [3]float64  `json:"from_mm"`
	Length   float64     `json:"length_mm"`
	Edge     float64     `json:"edge_mm"`
	Expected FlashResult `json:"expected"`
	Flash    Band        `json:"flash_g"`
	Leak     Band        `json:"leak_g"`
	Mass     float64     `json:"mass_g"` // of both, median
}

// FlashMap shows a parting line on square cells, one string per row. Cell (i, j)
// is centered at origin + i·cell·u + j·cell·v.
type FlashMap struct {
	Columns int        `json:"columns"`
	Rows    int        `json:"rows"`
	Cell    float64    `json:"cell_mm"`
	Origin  [3]float64 `json:"origin_mm"`
	U       [3]float64 `json:"u"`
	V       [3]float64 `json:"v"`
	// Chance: tenths of the draws in which a cell gets wet, 9 for nine tenths or
	// more; "." where the faces do not lie on each other.
	Chance []string `json:"chance"`
	// FromSeam: millimeters along the face from the seam, cell by cell with a space
	// between; "." as above, "-" where no way leads.
	FromSeam []string `json:"from_seam_mm"`
}

const flashNote = "an estimate until a cast confirms it: most inputs are assumed, and a gap twice as wide loses three to eight times as much"

func flashOf(e *flash.Estimate) *Flash {
	f := &Flash{
		Note: flashNote, Draws: e.Options.Draws, Seed: e.Options.Seed, Grade: e.Grade.String(), Meaning: e.Grade.Meaning(),
		Share: e.Share, Flash: Band(e.Flash), Leak: Band(e.Leak), Lost: Band(e.Lost), Feeler: e.Feeler, Fill: e.Fill,
		Liquid: FlashLiquid{e.Liquid.Viscosity, e.Liquid.PotLife, e.Liquid.Growth, e.Liquid.Gel, e.Liquid.Tension, e.Liquid.Temperature, e.Liquid.Sheet},
		Stack: FlashStack{e.Stack.Slack, e.Stack.Room, [2]float64{e.Stack.Least, e.Stack.Most}, [2]float64{e.Stack.LeastRSS, e.Stack.MostRSS},
			e.Stack.Heat, e.Stack.Moisture, e.Stack.Pressed, e.Stack.Stiffness, e.Stack.Clamp},
		Lines: []FlashLine{}, Corners: []Corner{},
	}
	for i := range e.Lines {
		f.Lines = append(f.Lines, flashLine(&e.Lines[i]))
	}
	for _, c := range e.Corners {
		f.Corners = append(f.Corners, Corner{c.Pieces, c.From, c.Length, c.Edge, FlashResult(c.Expected), Band(c.Flash), Band(c.Leak), c.Mass})
	}
	return f
}

func flashLine(l *flash.Line) FlashLine {
	f := FlashLine{
		Name: l.Name, Pieces: l.Pieces, Seal: l.Seal, SealKey: l.SealKey, Seam: l.Seam,
		Land: FlashLand{l.Land.Least, l.Land.Typical, l.Land.At, l.Land.Exit},
		Gap:  FlashGap{Expected: l.Gap.Expected, Worst: l.Gap.Worst, Band: Band(l.Gap.Band)},
		Head: l.Head, Expected: FlashResult(l.Expected), Flash: Band(l.Flash), Leak: Band(l.Leak),
		Mass: l.Mass, Drips: l.Drips, Opening: l.Opening, Verdict: l.Verdict(), Grade: l.Grade.String(), Meaning: l.Grade.Meaning(), Reason: l.Reason,
		Exits: []FlashExit{}, Tried: []Change{}, Map: flashMap(&l.Map),
	}
	for _, x := range l.Exits {
		f.Exits = append(f.Exits, FlashExit{x.Kind, x.Least, x.Seam})
	}
	for _, p := range l.Gap.Parts {
		f.Gap.Parts = append(f.Gap.Parts, FlashCause{string(p.Kind), p.Name, p.Expected, p.Worst, p.Note})
	}
	if l.Change != nil {
		c := changeOf(l.Change)
		f.Change = &c
	}
	if l.Best != nil {
		c := changeOf(l.Best)
		f.Best = &c
	}
	for i := range l.Tried {
		f.Tried = append(f.Tried, changeOf(&l.Tried[i]))
	}
	for _, c := range l.Clearance {
		f.Round = append(f.Round, FlashRing{c.Name, c.Gap, c.Length, c.Radius})
	}
	return f
}

func changeOf(c *flash.Change) Change {
	return Change{c.What, append([]string{}, c.Sets...), c.Mass, c.Grade.String()}
}

func flashMap(m *flash.Map) FlashMap {
	f := FlashMap{Columns: m.Columns, Rows: m.Rows, Cell: m.Cell, Origin: m.Origin, U: m.U, V: m.V}
	var chance, way strings.Builder
	for j := range m.Rows {
		chance.Reset()
		way.Reset()
		for i := range m.Columns {
			k := j*m.Columns + i
			if i > 0 {
				way.WriteByte(' ')
			}
			switch d := m.FromSeam[k]; {
			case !m.Face[k]:
				chance.WriteByte('.')
				way.WriteByte('.')
				continue
			case math.IsInf(d, 1):
				way.WriteByte('-')
			default:
				way.WriteString(strconv.FormatFloat(d, 'f', 1, 64))
			}
			chance.WriteByte('0' + byte(min(9, int(10*m.Chance[k]))))
		}
		f.Chance, f.FromSeam = append(f.Chance, chance.String()), append(f.FromSeam, way.String())
	}
	return f
}
