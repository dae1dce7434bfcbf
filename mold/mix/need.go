package mix

import (
	"fmt"
	"math"

	"wheelmold/params"
)

// Input is what flows into the molds, and how many there are.
type Input struct {
	Rubber   float64 // g in one wheel, as cast
	Channels float64 // g in one mold's sprue and vents, to the fill level
	Flash    float64 // g that one mold is expected to lose between its pieces
	Molds    int     // poured from the same mix; below 1: one
	Wheels   int     // to be cast in all, for kits and cost; below 1: as many as Molds
	Most     float64 // g that can be poured from one batch within its pot life; 0: no limit
	Stays    float64 // residue as casts show it, in what vessels and film predict; 0: 1
}

// What an Input may hold: far more than anybody casts by hand, and little enough
// for every count that follows from it to fit into an int.
const (
	mostMass   = 1e6  // g in one mold
	mostPoured = 1e12 // g that wide gates let through in a long pot life
	mostStays  = 100
	mostMolds  = 1000
	mostWheels = 1_000_000
)

func (in *Input) molds() int { return max(in.Molds, 1) }

// stays is the ratio of the residue to what is predicted.
func (in *Input) stays() float64 {
	if in.Stays == 0 {
		return 1
	}
	return in.Stays
}

func (in *Input) wheels() int {
	if in.Wheels < 1 {
		return in.molds()
	}
	return in.Wheels
}

// judge refuses figures that no mold has.
func (in *Input) judge() error {
	for _, m := range []struct {
		name    string
		g, most float64
	}{
		{"rubber", in.Rubber, mostMass}, {"rubber in sprue and vents", in.Channels, mostMass},
		{"flash", in.Flash, mostMass}, {"most that can be poured", in.Most, mostPoured},
	} {
		if !(m.g >= 0 && m.g <= m.most) {
			return fmt.Errorf("%s of %g g: from 0 to %g g can be reckoned with", m.name, m.g, m.most)
		}
	}
	if !(in.Stays >= 0 && in.Stays <= mostStays) {
		return fmt.Errorf("a residue of %g times what is predicted: from 0 to %d times can be reckoned with", in.Stays, mostStays)
	}
	if in.Molds > mostMolds || in.Wheels > mostWheels {
		return fmt.Errorf("%d molds for %d wheels: up to %d molds and %d wheels can be reckoned with", in.Molds, in.Wheels, mostMolds, mostWheels)
	}
	return nil
}

// Need is where all that is mixed ends up, in g, for all molds and batches.
type Need struct {
	Rubber   float64
	Channels float64
	Flash    float64
	Margin   float64 // spare, in case that one of the others is larger
	Residue  float64 // stays in the vessels and on the paddle
	Mixed    float64 // sum of the others
	By       string  // how Residue is reckoned: "share" of the mix, "depth" on the bottom, or "film" on all that got wet
}

// Needed reckons what is to be mixed in so many equal batches, whatever bucket
// and scale take; New finds the number. Without flash in the input it is the mix
// of a mold that does not leak.
func Needed(p *params.Pour, in Input, batches int) (Need, error) {
	if err := judge(p, &in); err != nil {
		return Need{}, err
	}
	return need(p, &in, batches), nil
}

func need(p *params.Pour, in *Input, batches int) Need {
	molds, left := float64(in.molds()), residueOf(p)
	n := Need{Rubber: molds * in.Rubber, Channels: molds * in.Channels, Flash: molds * in.Flash, By: left.by}
	n.Margin = p.Margin * (n.Rubber + n.Channels + n.Flash)
	n.Residue = in.stays() * left.of(n.poured(), max(batches, 1))
	n.Mixed = n.poured() + n.Residue
	return n
}

// poured is what must get out of the bucket if the margin is needed too.
func (n *Need) poured() float64 { return n.Rubber + n.Channels + n.Flash + n.Margin }

// residue is what stays behind of one batch: a fixed mass and a share of the
// batch, which is exact for a film in a round vessel with an upright wall.
type residue struct {
	by    string
	fixed float64 // g
	share float64
}

// mostShare of a batch may stay behind: the range of pour.waste. It keeps the
// mass of a batch from growing without bound.
const mostShare = 0.9

// cubicCentimeter in mm³.
const cubicCentimeter = 1000

// residueOf is the residue in all vessels that a batch goes through. The later
// ones are taken to get as wet as the first, and so is the paddle in each: an
// upper bound.
func residueOf(p *params.Pour) residue {
	b := &p.Bucket
	vessels := float64(max(b.Vessels, 1))
	switch {
	case p.Waste > 0:
		return residue{by: "share", share: p.Waste}
	case b.Residue > 0:
		return residue{by: "depth", fixed: vessels * b.Residue * bottom(b) * p.Density / cubicCentimeter}
	}
	// Wet are the bottom, and up to the height of the mix the wall and both sides
	// of the paddle. The height is the volume over the bottom.
	around := math.Pi*b.Diameter + 2*b.Paddle
	return residue{
		by:    "film",
		fixed: vessels * b.Film * bottom(b) * p.Density / cubicCentimeter,
		share: vessels * b.Film * around / bottom(b),
	}
}

// bottom is a vessel's bottom in mm².
func bottom(b *params.Bucket) float64 { return math.Pi / 4 * b.Diameter * b.Diameter }

// of is the residue of all batches of which poured g get out, in closed form: a
// batch of m leaves fixed + share·m, and the rest of it is poured.
func (r residue) of(poured float64, batches int) float64 {
	if poured <= 0 {
		return 0
	}
	return (float64(batches)*r.fixed + r.share*poured) / (1 - r.share)
}
