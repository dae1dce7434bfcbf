package mold

import (
	"fmt"
	"math/rand"
	"testing"

	"wheelmold/mesh/check"
	"wheelmold/params"
)

// finish gives a random job coats and stock to lap off, some as high as a feature on a
// parting plane reaches, and a tread that leans, bulges or has ribs, whatever it had.
func finish(j *params.Job, k int64) (tags []string) {
	r := rand.New(rand.NewSource(k))
	m, w := &j.Mold, &j.Wheel
	tag := func(f string, a ...any) { tags = append(tags, fmt.Sprintf(f, a...)) }
	m.Mating.Stock = pickF(r, .05, .1+r.Float64(), m.Vents.Diameter/2, m.Sprue.Gate/2, m.PrySlots.Height/2, m.Balls.Diameter/2)
	m.Mating.Stock = min(m.Mating.Stock, 1.9)
	tag("stock %.4g", m.Mating.Stock)
	if m.Coats.Count = r.Intn(5); m.Coats.Count > 0 {
		m.Coats.Thickness = pickF(r, .02, .05, .1)
		tag("%d coats of %g", m.Coats.Count, m.Coats.Thickness)
	}
	w.Draft, w.Crown = 0, 0
	switch r.Intn(3) {
	case 0:
		w.Draft = pickF(r, .3, .5, 1, 2)
		tag("draft %g", w.Draft)
	case 1:
		w.Crown = min(pickF(r, .3, .63, 1), w.Width*.05)
		tag("crown %.3g", w.Crown)
	}
	if w.Draft > 0 && r.Intn(2) == 0 {
		w.Edge, w.EdgeSize = "square", 0
		tag("square")
	}
	if w.Cross.Count == 0 && r.Intn(2) == 0 {
		w.Cross = params.CrossGrooves{Count: 5 + r.Intn(15), Width: max(2.5, w.Diameter*.04), Depth: min((w.Diameter-j.Hub.BodyDiameter)*.07, 2.5), Flank: pickF(r, 5, 10)}
		tag("%d ribs", w.Cross.Count)
	}
	return tags
}

// Random jobs in random splits, coated and with stock: what validation accepts is made
// as it leaves the machine, too.
func TestRandomFinishes(t *testing.T) {
	makeRandomSplits(t, 5000, few(30, 6), finish, func(what string, x *Made) {
		for _, p := range x.Parts {
			if r := check.Audit(p.Mesh, check.Options{}); !r.OK() {
				t.Errorf("%s: %s: %v", what, p.Piece.Name, r.Faults())
			}
		}
	})
}
