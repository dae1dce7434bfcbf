package report

import (
	"fmt"
	"time"

	"wheelmold/mold"
	"wheelmold/mold/pour"
	"wheelmold/mold/study"
	"wheelmold/params"
)

// Pour is everything that decides the pour. Masses are volumes times the density
// of the cured rubber.
type Pour struct {
	Molds    int     `json:"molds"`         // filled from one mix
	Wheels   int     `json:"wheels"`        // to be cast in all
	Rubber   float64 `json:"rubber_g"`      // in the cavities of one mix
	Channels float64 `json:"channels_g"`    // in sprue and vents, to pour.fill
	Flash    float64 `json:"flash_g"`       // that 9 of 10 casts stay below
	Margin   float64 `json:"margin_g"`      // spare
	Residue  float64 `json:"residue_g"`     // stays in vessels and on the paddle
	By       string  `json:"residue_by"`    // "share", "depth" or "film"
	Stays    float64 `json:"residue_ratio"` // that casts showed, of what would be predicted; 1 without
	Mixed    float64 `json:"mixed_g"`       // sum of the above
	Poured   float64 `json:"poured_g"`      // of that into the molds: rubber, channels and flash
	Density  float64 `json:"density_g_per_cm3"`
	RatioBy  string  `json:"ratio_by"`
	PartsA   float64 `json:"parts_a"`
	PartsB   float64 `json:"parts_b"`
	Hardness float64 `json:"hardness_shore_a"`
	Blend    *Blend  `json:"blend,omitempty"`
	// Unstated are the keys of the data sheet's figures that the job leaves to
	// their defaults.
	Unstated []string `json:"unstated"`
	Verdict  string   `json:"verdict"`

	Batches int        `json:"batches"`
	Batch   Batch      `json:"batch"` // each of them
	Limits  []Limit    `json:"limits"`
	Scale   ScaleError `json:"scale"`
	Kits    *Kits      `json:"kits,omitempty"`
	Assumed []string   `json:"assumed"`

	Clock      Clock     `json:"clock"`
	Filling    []Fill    `json:"filling"` // of one mold, by level
	Thickening []Thick   `json:"thickening"`
	Sprue      Sprue     `json:"sprue"`
	Vents      *Vents    `json:"vents,omitempty"`
	Air        Air       `json:"air"`
	Bubbles    Bubbles   `json:"bubbles"`
	Shrinkage  Shrinkage `json:"shrinkage"`
	Cure       Cure      `json:"cure"`
	Weights    Weights   `json:"weights"`
}

// Batch is what is mixed at once.
type Batch struct {
	Needed     float64     `json:"needed_g"`
	Weighed    float64     `json:"weighed_g"` // as the scale's steps have it
	Height     float64     `json:"height_mm"` // in the bucket
	Share      float64     `json:"share_of_bucket"`
	Components []Component `json:"components"`
}

// Component is one reading of the scale.
type Component struct {
	Name  string  `json:"name"`
	Exact float64 `json:"exact_g"`
	Add   float64 `json:"add_g"`
	Shows float64 `json:"scale_shows_g"` // then
	CC    float64 `json:"add_cm3"`       // by its density; 0: not known
}

// Blend is a third hardness made of two.
type Blend struct {
	Of          [2]float64 `json:"of_shore_a"`
	Share       [2]float64 `json:"share"`
	Wanted      float64    `json:"wanted_shore_a"`
	Weighed     float64    `json:"weighed_shore_a"`
	Uncertainty float64    `json:"uncertainty_shore_a"`
}

// Limit is what a batch must not exceed.
type Limit struct {
	Name    string  `json:"name"`
	Key     string  `json:"key"`
	Most    float64 `json:"most_g"`
	Decides bool    `json:"decides"`
}

// ScaleError is what the scale's steps do to the mix.
type ScaleError struct {
	Step     float64 `json:"step_g"`
	Smallest string  `json:"smallest"`
	HalfStep float64 `json:"half_step_of_smallest"`
	Ratio    float64 `json:"ratio_error"`
}

// Kits is what to buy, in the builder's currency.
type Kits struct {
	Mixes    int      `json:"mixes"`
	Systems  []Supply `json:"systems"`
	Material float64  `json:"cost_per_wheel_by_use"`
	Bought   float64  `json:"cost_per_wheel_by_kits"`
}

// Supply is the kits of one urethane.
type Supply struct {
	Name   string  `json:"name"`
	Used   float64 `json:"used_g"`
	Kits   int     `json:"kits"`
	Left   float64 `json:"left_g"`
	Wheels int     `json:"wheels_per_kit"`
}

// Clock is when each step is due, from the first mixing of the batch.
type Clock struct {
	StirEnd   float64 `json:"stop_stirring_s"`
	PourStart float64 `json:"pour_s"`
	PourEnd   float64 `json:"poured_s"` // expected
	BeginBy   float64 `json:"begin_by_s"`
	PourBy    float64 `json:"pour_by_s"`
	Due       float64 `json:"due_s"` // by when bucket and mold still flow: pour_by_s, or top_up_until_s if that is sooner
	TopUp     float64 `json:"top_up_until_s"`
	Gel       float64 `json:"gel_s"`
	NextFrom  float64 `json:"next_batch_from_s"`  // 0: there is none
	NextUntil float64 `json:"next_batch_until_s"` // 0: it goes into another mold
	JointAt   float64 `json:"next_batch_too_late_s"`
	InTime    bool    `json:"next_batch_in_time"`
}

// Fill is a moment of the pour into one mold, of several from a batch the last.
type Fill struct {
	Level     float64 `json:"level_mm"` // above the tread's lower face
	Poured    float64 `json:"poured_g"` // in this mold, without what seeps between its pieces
	Clock     float64 `json:"clock_s"`  // from first mixing of the batch
	Viscosity float64 `json:"viscosity_pa_s"`
	Left      float64 `json:"left_s"` // until the batch's pot life ends
	Batch     int     `json:"batch"`
}

// Thick is how thick a batch is at a time.
type Thick struct {
	Clock  float64 `json:"clock_s"`        // from first mixing
	Bucket float64 `json:"viscosity_pa_s"` // in the bucket; 0: gelled
	Mold   float64 `json:"in_mold_pa_s"`   // of what was poured first; 0: not yet, or gelled
}

// Sprue is what the gates do.
type Sprue struct {
	Count    int      `json:"count"`
	Gate     float64  `json:"gate_mm"`
	Mouth    float64  `json:"mouth_mm"`
	Length   float64  `json:"length_mm"`
	Head     float64  `json:"head_pa"`
	Volume   float64  `json:"batch_mm3"`
	Run      *float64 `json:"pour_s"` // that a batch takes; null under an open top, where nothing runs through a gate
	Left     float64  `json:"left_s"` // until the pot life ends
	Wanted   float64  `json:"wanted_s"`
	Reynolds float64  `json:"reynolds"`
	Thick    float64  `json:"viscosity_pa_s"` // when the pour starts
	Inertia  float64  `json:"head_share_of_velocity"`
	Smallest []Gate   `json:"smallest"`
	Easy     float64  `json:"easy_mm"` // gate that takes half of the time left
	Cut      string   `json:"cut"`
}

// Gate is the smallest gate that does, for a number of gates.
type Gate struct {
	Count     int     `json:"count"`
	Wanted    float64 `json:"in_wanted_time_mm"` // 0: none
	InPotLife float64 `json:"in_pot_life_mm"`
}

// Vents is what the vents do.
type Vents struct {
	Count    int     `json:"count"`
	Diameter float64 `json:"diameter_mm"`
	Length   float64 `json:"length_mm"`
	Loss     float64 `json:"air_loss_pa"`
	Share    float64 `json:"air_loss_share_of_head"`
	Smallest float64 `json:"smallest_mm"`
	Cut      string  `json:"cut"`
}

// Bubbles is which bubbles leave; diameters of the least that do, for clean and
// for contaminated surfaces.
type Bubbles struct {
	Bucket   [2]float64 `json:"least_out_of_bucket_mm"`
	Height   float64    `json:"bucket_height_mm"`
	Mold     [2]float64 `json:"least_out_of_mold_mm"`
	Tall     float64    `json:"mold_height_mm"`
	Volume   float64    `json:"volume_under_pressure"` // as a share; 1: no pressure pot
	Diameter float64    `json:"diameter_under_pressure"`
}

// Shrinkage is the wheel once it is cured.
type Shrinkage struct {
	Ratio    float64    `json:"ratio"` // that casts showed, in the strains; 1 without
	Reaction float64    `json:"reaction_strain"`
	Cooling  float64    `json:"cooling_strain"`
	Wanted   float64    `json:"wanted_mm"`
	Cavity   [2]float64 `json:"cavity_mm"` // diameter, width
	Bonded   [2]float64 `json:"cured_if_width_stays_mm"`
	Ends     [2]float64 `json:"cured_if_ends_pull_in_mm"`
	Free     [2]float64 `json:"cured_by_free_figure_mm"`
	Middle   float64    `json:"expected_in_the_middle_mm"`
	Edges    float64    `json:"expected_at_the_ends_mm"`
	ByCure   float64    `json:"allowance_for_reaction_mm"`
	ByCold   float64    `json:"allowance_for_cooling_mm"`
	Per      float64    `json:"diameter_per_0_1_percent_mm"` // that more free shrinkage takes off
	Doubts   []Doubt    `json:"doubts"`
}

// Doubt is how far a diameter may be off for one thing that is not known.
type Doubt struct {
	Of    string  `json:"of"`
	Least float64 `json:"least_mm"`
	Most  float64 `json:"most_mm"`
}

// Cure is when to demold, and how warm it gets.
type Cure struct {
	Earliest float64  `json:"demold_from_s"`
	Latest   float64  `json:"demold_until_s"`
	Full     float64  `json:"full_s"`
	Gel      float64  `json:"gel_temperature_c"`
	Peak     float64  `json:"most_temperature_c"` // if no heat is lost
	Printed  []string `json:"printed"`            // parts that are
	Softens  float64  `json:"softens_c"`          // where the first of mold and hub does
	Parts    []Warmed `json:"parts"`
}

// Warmed is a part that the rubber warms.
type Warmed struct {
	Part    string  `json:"part"`
	Printed bool    `json:"printed"`
	Softens float64 `json:"softens_c"`
	Verdict string  `json:"verdict"` // "fine", "at risk" or "too hot"
}

// Weights are what the scale should show.
type Weights struct {
	Hub    float64 `json:"hub_g"`
	Rubber float64 `json:"rubber_g"`            // of the wheel, shrunk from the cavity, trimmed
	Trim   float64 `json:"trimmed_g,omitempty"` // of mold.top_allowance
	Wheel  float64 `json:"wheel_g"`
	Void   float64 `json:"void_from_g"` // lighter by more: a void
	Lift   float64 `json:"full_mold_g"`
}

// OfPour is the sheet of a studied job's pour; start is when A meets B, or zero.
func OfPour(x *study.Result, start time.Time) *Sheet {
	b := &bench{x.Mold, x.Pour, start, x.Flash, OpeningOf(x.Opening)}
	return &Sheet{
		Version: Version, Job: x.Mold.Job.Name, Warnings: []string{}, Wheel: wheel(x.Mold),
		Pour: pourOf(x.Mold, x.Pour), Title: b.title(true), brief: b.title(false), Sections: b.sections(),
	}
}

func pourOf(m *mold.Mold, p *pour.Plan) Pour {
	j, x := &m.Job.Pour, p.Mix
	n := &x.Need
	r := Pour{
		Molds: p.Options.Molds, Wheels: p.Options.Wheels,
		Rubber: n.Rubber, Channels: n.Channels, Flash: n.Flash, Margin: n.Margin, Residue: n.Residue, By: n.By, Stays: m.Job.Calibration.Residue, Mixed: n.Mixed,
		Poured: n.Rubber + n.Channels + n.Flash, Density: j.Density, RatioBy: j.RatioBy, PartsA: j.PartsA, PartsB: j.PartsB, Hardness: j.Hardness,
		Unstated: append([]string{}, pour.Unstated(m.Job)...), Verdict: string(p.Verdict()),
		Batches: x.Batches, Limits: []Limit{}, Filling: []Fill{}, Thickening: []Thick{}, Scale: ScaleError{j.Scale.Resolution, x.Scale.Smallest, x.Scale.HalfStep, x.Scale.Ratio}, Assumed: append([]string{}, x.Assumed...),
		Batch: Batch{x.Batch.Mass, x.Batch.Weighed, x.Batch.Height, x.Batch.Share, []Component{}},
		Clock: Clock{
			p.Clock.StirEnd, p.Clock.PourStart, p.Clock.PourEnd, p.Clock.BeginBy, p.Clock.PourBy, p.Clock.Due(), p.Clock.TopUp, p.Clock.Gel,
			p.Clock.NextFrom, p.Clock.NextUntil, p.Clock.JointAt, p.Clock.InTime(),
		},
		Air: airOf(&p.Air), Bubbles: bubblesOf(&p.Bubbles), Shrinkage: shrinkageOf(p, m.Job.Calibration.Shrinkage), Cure: cureOf(p), Weights: Weights(p.Weights),
	}
	for _, c := range x.Batch.Components {
		r.Batch.Components = append(r.Batch.Components, Component{c.Name, c.Mass, c.Set, c.Total, c.Volume})
	}
	for _, l := range x.Limits {
		r.Limits = append(r.Limits, Limit(l))
	}
	if b := x.Blend; b != nil {
		r.Blend = &Blend{b.Hardness, b.Share, b.Wanted, b.Weighed, b.Uncertainty}
	}
	if k := x.Kits; k != nil {
		r.Kits = &Kits{Mixes: k.Mixes, Material: k.Material, Bought: k.Bought}
		for _, s := range k.Systems {
			r.Kits.Systems = append(r.Kits.Systems, Supply(s))
		}
	}
	for _, f := range p.Filling {
		r.Filling = append(r.Filling, Fill{f.Level, f.Mass, f.Clock, f.Viscosity, f.Left, f.Batch})
	}
	for _, t := range p.Thickening {
		r.Thickening = append(r.Thickening, Thick(t))
	}
	r.channels(p)
	return r
}

// channels reports gates and vents.
func (r *Pour) channels(p *pour.Plan) {
	s := &p.Sprue
	r.Sprue = Sprue{s.Count, s.Gate, s.Mouth, s.Length, s.Head, s.Volume, nil, s.Left, s.Wanted, s.Reynolds, s.Viscosity, s.Inertia, nil, s.Easy, string(s.Knife)}
	if s.Count > 0 {
		r.Sprue.Run = &s.Run
	}
	for _, g := range s.Smallest {
		r.Sprue.Smallest = append(r.Sprue.Smallest, Gate(g))
	}
	if v := &p.Vent; v.Count > 0 {
		r.Vents = &Vents{v.Count, v.Diameter, v.Length, v.Loss, v.Share, v.Smallest, string(v.Knife)}
	}
}

func bubblesOf(b *pour.Bubbles) Bubbles {
	pair := func(x pour.Band) [2]float64 { return [2]float64{x.Least, x.Most} }
	return Bubbles{pair(b.Bucket), b.Height, pair(b.Mold), b.Tall, b.SqueezedVolume, b.SqueezedDiameter}
}

func shrinkageOf(p *pour.Plan, ratio float64) Shrinkage {
	f := &p.Shrinkage
	s := Shrinkage{
		Ratio: ratio, Reaction: f.Reaction, Cooling: f.Cooling,
		Wanted: f.Wanted, Cavity: [2]float64{f.Cavity.Diameter, f.Cavity.Width}, Bonded: [2]float64{f.Bonded.Diameter, f.Bonded.Width},
		Ends: [2]float64{f.Ends.Diameter, f.Ends.Width}, Free: [2]float64{f.Free.Diameter, f.Free.Width},
		Middle: f.Middle, Edges: f.Edges, ByCure: f.ByReaction, ByCold: f.ByCooling, Per: f.PerThousandth, Doubts: []Doubt{},
	}
	for _, d := range f.Doubts {
		s.Doubts = append(s.Doubts, Doubt(d))
	}
	return s
}

func cureOf(p *pour.Plan) Cure {
	w, h := &p.Window, &p.Heat
	c := Cure{Earliest: w.Earliest, Latest: w.Latest, Full: w.Full, Gel: h.Gel, Peak: h.Peak, Printed: h.Printed(), Softens: h.Softens()}
	for _, part := range h.Parts {
		c.Parts = append(c.Parts, Warmed{part.Name, part.Printed, part.Softens, part.Verdict})
	}
	return c
}

// title heads the sheet, with the wheel's inches or without.
func (b *bench) title(inches bool) []string {
	j, x := b.m.Job, b.p.Mix
	of := ""
	if b.p.Options.Wheels > 1 {
		of = " of " + number(float64(b.p.Options.Wheels), 0)
	}
	head := j.Name + " - wheel ____" + of
	if n := b.p.Options.Molds; n > 1 {
		head = fmt.Sprintf("%s - wheels ____%s, %d molds from one mix", j.Name, of, n)
	}
	urethane := fmt.Sprintf("Shore A %s, pot life %s at %s", number(j.Hardness(), 0), span(b.p.Clock.PourBy), warmth(j.Pour.MixTemperature))
	if x.Batch.Mass > params.SmallBatch && len(j.Unstated("pour.pot_life")) > 0 {
		urethane += ", less in a full bucket"
	}
	urethane += fmt.Sprintf("; have %d clean buckets", x.Batches*j.Pour.Bucket.Vessels)
	if j.Pour.Funnel > 0 {
		urethane += ", a funnel"
	}
	if k := buy(x.Kits); k != "" {
		urethane += ", " + k
	}
	wheel := size2(j.Wheel.Diameter, j.Wheel.Width, 1, 2) + " mm"
	if inches {
		wheel += " (" + size2(j.Wheel.Diameter, j.Wheel.Width, 25.4, 2) + " in)"
	}
	return []string{fmt.Sprintf("%s - %s, %s face up", head, wheel, j.Mold.FaceUp), urethane}
}
