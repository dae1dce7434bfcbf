package report

import (
	"fmt"
	"strings"

	"wheelmold/mold"
)

// Mating is what is to be lapped off the mating faces, and to which dimensions of the
// pieces. Without stock all are 0.
type Mating struct {
	Stock  float64   `json:"stock_mm"`  // on each face of the pieces around the axis, or on a cup's rim
	Height float64   `json:"height_mm"` // to reach; 0: ends that are not lapped
	Outer  []float64 `json:"joint_to_outer_face_mm"`
	Across float64   `json:"across_flats_mm"` // of three pieces put together; 0: the former tell it
}

// Coats are those of sealer on the faces that shape the rubber.
type Coats struct {
	Count     int     `json:"count"`
	Thickness float64 `json:"thickness_mm"` // of one, sanded
	Total     float64 `json:"in_all_mm"`
}

func matingOf(m *mold.Mold) Mating {
	p, _ := m.Lapping()
	return Mating{p.Stock, p.Height, append([]float64{}, p.Outer...), p.Across}
}

func coatsOf(m *mold.Mold) Coats {
	c := m.Job.Mold.Coats
	return Coats{c.Count, c.Thickness, c.Total()}
}

// down tells to what is lapped, each length as it is to be written.
func (r *Mating) down(write func(float64) string) string {
	var parts []string
	if r.Height > 0 {
		parts = append(parts, write(r.Height)+" high")
	}
	if len(r.Outer) > 0 {
		var at []string
		for _, mm := range r.Outer {
			at = append(at, write(mm))
		}
		parts = append(parts, strings.Join(at, " and ")+" from joint to outer face")
	}
	if r.Across > 0 {
		parts = append(parts, write(r.Across)+" across the flats, put together")
	}
	return strings.Join(parts, ", ")
}

// faces are those to lap; around is what the pieces around the axis are called.
func (r *Mating) faces(around string) string {
	if len(r.Outer) == 0 && r.Across == 0 {
		return "the " + around + "'s rim"
	}
	return "the mating faces of the " + around
}

// text tells what is to be lapped off.
func (r *Mating) text(around string) string {
	return fmt.Sprintf("%s mm off %s, which are made higher by it, on abrasive over a flat plate: to %s (mold.mating.stock)",
		number(r.Stock, 3), r.faces(around), r.down(length2))
}

// text tells what is to be coated, and how thick.
func (c *Coats) text() string {
	return fmt.Sprintf("%s of sealer, %s mm each, %s mm in all, on the cavity only, which is made larger by it; mating faces stay bare (mold.coats)",
		count(c.Count, "coat", "coats"), number(c.Thickness, 3), number(c.Total, 3))
}

// lapped is the step that laps the stock off.
func (b *bench) lapped() []Step {
	r := matingOf(b.m)
	if r.Stock == 0 {
		return nil
	}
	around := b.m.Layout.Around()
	bare := func(mm float64) string { return number(mm, 2) + " mm" }
	return []Step{do("Lap %s by %s, balls out: to %s.", r.faces(around), length(r.Stock), r.down(length2)).
		or("Lap the %s by %s: %s.", around, bare(r.Stock), r.down(bare))}
}

// finished makes a print fit to be cast in, and seals the cavity. Resin that is not
// cured through keeps the urethane from curing.
func (b *bench) finished() (out []Step) {
	j := b.m.Job
	c := coatsOf(b.m)
	layers := ""
	switch {
	case j.PrintsResin():
		out = append(out, do("Prints washed, fully cured. First, mix on a coupon of the print must cure hard."))
	case j.Printed() && c.Count > 0:
		layers = "Sand layer lines; "
	case j.Printed():
		out = append(out, do("Sand the layer lines off the cavity."))
	}
	if c.Count > 0 {
		coats := count(c.Count, "coat", "coats")
		out = append(out, do("%s%s of sealer in the cavity only, %s in all: sand between, cure hard. Mating faces bare.", layers, coats, length(c.Total)).
			or("%s%s on the cavity only, %s mm, hard; mating faces bare.", layers, coats, number(c.Total, 2)))
	}
	return out
}
