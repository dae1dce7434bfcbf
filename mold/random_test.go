package mold

import (
	"fmt"
	"math"
	"math/rand"
	"strings"

	"wheelmold/params"
)

// randomJob draws a job: features switched on and off, and coincidences on
// purpose. It may be one that validation refuses.
func randomJob(n int64) (*params.Job, []string) {
	r := rand.New(rand.NewSource(n))
	u := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	one := func(k int) bool { return r.Intn(k) == 0 }
	pick := func(s ...string) string { return s[r.Intn(len(s))] }
	var tags []string
	tag := func(f string, a ...any) { tags = append(tags, fmt.Sprintf(f, a...)) }

	d := 25 + 375*r.Float64()*r.Float64()
	w := max(8, d*u(.25, .7))
	bore := d * u(.08, .2)
	if one(2) {
		d, w, bore = math.Round(d), max(8, math.Round(w)), math.Round(bore)
	}
	j, err := params.Default(d, w, max(2, bore), pick("milled", "filament", "lapped filament", "resin"))
	if err != nil {
		return nil, []string{err.Error()}
	}
	j.Name = pick("Wren", "R2", "Left rear 7")
	h, m := &j.Hub, &j.Mold
	t := d/2 - h.BodyDiameter/2 // rubber thickness
	if one(3) {
		j.Wheel.Edge = pick("chamfer", "square")
		if j.Wheel.Edge == "square" {
			j.Wheel.EdgeSize = 0
		}
	}
	if one(3) {
		j.Wheel.Crown = min(u(.2, 2), t*.15, w*.08)
		tag("crown radius %.0f of %.0f", (w*w/4)/(2*j.Wheel.Crown), d/2)
	}
	if one(2) { // tread grooves
		k := 1 + r.Intn(3)
		room := w - 2*j.Wheel.EdgeSize
		for i := range k {
			g := params.Groove{Shape: pick("rectangular", "half-round"), Position: j.Wheel.EdgeSize + room*(float64(i)+.5)/float64(k), Width: min(room/float64(k)*.4, t*.3)}
			g.Depth = g.Width / 2
			j.Wheel.Grooves = append(j.Wheel.Grooves, g)
		}
		tag("%d tread grooves", k)
	}
	if one(4) {
		j.Wheel.Cross = params.CrossGrooves{Count: 6 + r.Intn(14), Width: d * .03, Depth: min(t*.15, 2), Flank: pickF(r, 0, 5, 15)}
		tag("%d cross grooves", j.Wheel.Cross.Count)
	}
	if one(3) {
		h.FlangeDiameter = h.BodyDiameter + 2*t*u(.1, .25)
		h.FlangeThickness = min(w*.1, 6)
		tag("flanges")
	}
	if one(2) {
		m.Stack.Gap = 0
		h.Length, h.Offset = w, 0
		tag("flush")
	}
	if one(4) {
		h.Offset += pickF(r, .5, 1, -.5) * min(2, w*.06)
		tag("offset %.2f", h.Offset)
	}
	wall := max(3, .04*d)
	if one(2) && h.BodyDiameter-bore > 4*wall { // bearings
		p := params.Pocket{Diameter: bore + (h.BodyDiameter-bore)*u(.2, .45), Depth: h.Length * u(.12, .25)}
		h.BearingBack, h.BearingFront = p, p
		m.RegisterBack.Opening, m.RegisterBack.Engagement = "bearing", p.Depth*.7
		m.RegisterFront.Opening, m.RegisterFront.Engagement = "bearing", p.Depth*.7
		tag("bearings")
		if one(2) {
			h.Seat = params.Seat{Side: "front", Diameter: p.Diameter + (h.BodyDiameter-p.Diameter)*u(.2, .35), Depth: h.Length * .06}
			if one(3) {
				h.Seat.Diameter = p.Diameter
				tag("seat as wide as the pocket")
			}
			m.RegisterFront.Opening, m.RegisterFront.Engagement = "seat", h.Seat.Depth*.8
			tag("seat")
		}
	}
	for _, q := range []*params.Register{&m.RegisterBack, &m.RegisterFront} {
		q.LeadIn = min(q.LeadIn, q.Engagement/3)
		if one(5) {
			q.Clearance = -.02
			tag("interference")
		}
		if one(4) {
			q.Draft = 0
		}
	}
	inner := max(bore, h.BearingBack.Diameter, h.Seat.Diameter)
	if one(3) {
		hole := min(6, (h.BodyDiameter-inner)/2*.2)
		h.Bolts = params.BoltCircle{Count: 3 + r.Intn(5), Circle: (inner + h.BodyDiameter) / 2, Hole: hole}
		tag("bolt circle")
	}
	if len(h.Grooves) > 0 && one(2) {
		g := &h.Grooves[0]
		g.Shape = pick("rectangular", "half-round")
		if g.Shape == "half-round" {
			g.Width = min(g.Width, h.BodyDiameter*.05)
			g.Depth = g.Width / 2
		}
	}
	if one(2) { // lock holes, often meeting the groove on purpose
		dia := min(5, h.Length*.12)
		l := params.LockHoles{Count: 2 + r.Intn(6), Diameter: dia, Depth: dia * 1.2, Position: h.Length * u(.3, .7)}
		if len(h.Grooves) > 0 {
			g := h.Grooves[0]
			l.Depth = g.Depth + dia
			graze := pickF(r, -.1, -1e-2, -1e-3, 0, 1e-3, .1)
			switch r.Intn(5) {
			case 0:
				l.Position = g.Position
				tag("lock on groove's middle")
			case 1:
				l.Position = g.Position + g.Width/2
				tag("lock on groove's shoulder")
			case 2:
				l.Position = g.Position + g.Width/2 + dia/2 + graze
				tag("lock grazes groove by %g from outside", graze)
			case 3:
				l.Position = g.Position + g.Width/2 - dia/2 + graze
				tag("lock grazes groove by %g from inside", graze)
			}
		}
		h.LockHoles = l
		tag("locks")
	}
	h.CoverDiameter = pickF(r, 0, d*.8)
	m.FaceUp = pick("front", "front", "back")
	m.Outline = pick("square", "square", "octagon", "round")
	m.SideClamp.Kind = pick(m.SideClamp.Kind, m.SideClamp.Kind, "lugs", "strap", "none")
	if one(5) {
		m.Bolts.Head, m.Bolts.Nut = "none", "none"
	}
	if one(4) {
		m.Ceiling.Shape, m.Ceiling.Angle = "coned", pickF(r, .5, 1, 3)
		tag("coned")
	}
	if one(4) {
		m.TopAllowance = u(.5, 2)
	}
	if one(4) {
		m.Sprue.Count = 2
	}
	if one(3) {
		m.Stack.At = "upper"
	}
	if m.FaceUp == "back" && m.Stack.Gap > 0 && one(2) {
		h.Offset -= m.Stack.Gap // lands flush again; else base and lid step by the gap
	}
	if j.Wheel.Crown == 0 && one(3) {
		j.Wheel.Draft = pickF(r, .5, 1, 3)
		tag("draft %g", j.Wheel.Draft)
	}
	tag("%s %s %s up", m.Outline, m.SideClamp.Kind, m.FaceUp)
	return j, tags
}

func pickF(r interface{ Intn(int) int }, v ...float64) float64 { return v[r.Intn(len(v))] }

// validJobs returns the first n random jobs that validation accepts, and counts
// what it refused by reason.
func validJobs(n int) (ms []*Mold, tags []string, refused map[string]int) {
	refused = map[string]int{}
	for k := int64(0); len(ms) < n && k < 20*int64(n); k++ {
		j, tg := randomJob(k)
		if j == nil {
			refused[tg[0]]++
			continue
		}
		m, err := New(j)
		if err != nil {
			f := err.(params.Faults)
			refused[f[0].Path+": "+f[0].Cause]++
			continue
		}
		ms = append(ms, m)
		tags = append(tags, fmt.Sprintf("job %d: %.4g x %.4g %s: %s", k, j.Wheel.Diameter, j.Wheel.Width, j.Process.Name, strings.Join(tg, ", ")))
	}
	return ms, tags, refused
}
