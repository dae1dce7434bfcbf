package service

import (
	"fmt"
	"math"

	"wheelmold/mold"
	"wheelmold/params"
)

// What the bond is trusted with: shear in Pa of urethane cast on abraded nylon or print
// without primer (from memory, weak), and how often the trusted strength must exceed the
// average stress before it is relied on, since stress peaks at edges and the bond's
// quality is not seen (assumed).
const (
	WeakBond, GoodBond = 0.3e6, 3e6
	Reserve            = 3.0
)

// Verdicts on what carries a load.
const (
	Holds   = "holds"
	Near    = "near"
	NotOnIt = "do not rely on it"
	Flanged = "flanges carry it" // where the bond does not
)

// verdictOf tells how a strength stands to a stress, both in the same unit.
func verdictOf(factor float64) string {
	switch {
	case factor >= Reserve:
		return Holds
	case factor >= 1:
		return Near
	}
	return NotOnIt
}

// Bond is the surface where the rubber sits on the hub, and what loads it.
type Bond struct {
	Radius, Width float64 // mm, of the body's cylinder with rubber on it
	Area          float64 // mm²; less the mouths of lock holes, without flanges and grooves' walls
	Trusted       float64 // Pa, the job's hub.bond
	Slip          float64 // N·m at which the tread slips under the weight at rest
	Loads         []BondLoad
	Keys          Keys
	Change        string // what to change where the bond alone is not enough; empty: nothing
	path, value   string // of the change
	hint          string // the change without what it is for
	tilt          float64
}

// BondLoad is one load on the bond.
type BondLoad struct {
	Name     string
	Axial    bool    // along the axis, else around it
	Assumed  bool    // a hit whose size the job does not state
	Torque   float64 // N·m around the axis
	Force    float64 // N along the axis, on the tread
	Shear    float64 // Pa, average around the axis; of a force with what its tilting adds, an upper bound
	Even     float64 // Pa, without that: the lower bound; as Shear for a torque
	Factor   float64 // of the trusted strength to Shear; +Inf without load
	Verdict  string
	KeysHold float64 // by how much what locks the rubber exceeds the load if the bond lets go; 0: nothing does
}

// Keys are what would carry the rubber if the bond let go.
type Keys struct {
	Tensile float64 // Pa, cautious, of a rubber of that hardness
	Shear   float64 // Pa, half of it
	Locks   float64 // N·m that the plugs in the lock holes carry before they shear off
	Grooves float64 // N along the axis, on the tread, before a ridge in the grooves begins to shear off
	Flanges bool    // hold the rubber along the axis
}

// tensiles are the low ends of tensile strength by Shore A, MPa, of castable urethanes
// (from memory); the fall to nothing below the softest is assumed.
var tensiles = [][2]float64{{0, 0}, {30, 2}, {60, 4}, {80, 7}, {90, 15}}

// cautiousTensile is the tensile strength in Pa to reckon with for a hardness in Shore A:
// straight between the table's entries, level beyond.
func cautiousTensile(shore float64) float64 {
	at := tensiles[0]
	for _, next := range tensiles[1:] {
		if shore <= next[0] {
			return (at[1] + (next[1]-at[1])*(shore-at[0])/(next[0]-at[0])) * 1e6
		}
		at = next
	}
	return at[1] * 1e6
}

// torqueShear is the average shear in Pa on a cylinder from a torque in N·m:
// τ = T/(r·A), which for a plain cylinder is T/(2πr²w); mm and mm².
func torqueShear(torque, radius, area float64) float64 { return torque * 1000 / (radius * area) * 1e6 }

// tilted is by how much the greatest shear exceeds the average where a force along the
// axis acts at one place of the tread and hub and rubber are rigid: F·R tilts the ring,
// which shear along the axis takes up as the cosine around it, 2FR/(rA) at most.
func tilted(tread, body float64) float64 { return 1 + 2*tread/body }

func bondOf(m *mold.Mold) Bond {
	b := loadedBond(m)
	b.advise(m.Job)
	return b
}

// loadedBond is the bond with all that loads it.
func loadedBond(m *mold.Mold) Bond {
	j, c := m.Job, m.Core
	lo, hi := max(0, c.Z0+c.FlangeT), min(m.Tread.Width, c.Z1()-c.FlangeT)
	b := Bond{Radius: c.BodyR, Width: hi - lo, Trusted: j.Hub.Bond, Slip: j.SlipTorque(), tilt: tilted(j.Wheel.Diameter/2, c.BodyR)}
	b.Area = 2*math.Pi*b.Radius*b.Width - float64(c.LockCount)*math.Pi*c.LockR*c.LockR
	b.Keys = keysOf(m)
	assumed := len(j.Unstated("duty.impact")) > 0
	b.turn("drive stalled, tread held", j.Duty.StallTorque, false)
	b.turn("tread slipping under its load", min(j.Duty.StallTorque, b.Slip), false)
	// An upper bound: as if hub and drive stood still.
	b.turn("hit along the tread", j.Duty.Impact*b.Slip, assumed)
	b.push("hit from the side", j.Duty.Impact*j.Load(), assumed)
	return b
}

// keysOf reckons what locks the rubber to the hub. A groove is the same all around, so
// nothing in it stands against turning.
func keysOf(m *mold.Mold) Keys {
	c := m.Core
	k := Keys{Tensile: cautiousTensile(m.Job.Hardness()), Flanges: c.FlangeT > 0}
	k.Shear = k.Tensile / 2
	k.Locks = float64(c.LockCount) * plug(c.LockR, k.Shear, c.BodyR)
	for _, g := range c.Grooves {
		k.Grooves += 2 * math.Pi * c.BodyR * g.Width * k.Shear / 1e6 / tilted(m.Job.Wheel.Diameter/2, c.BodyR)
	}
	return k
}

// plug is the torque in N·m that one plug of rubber carries at a radius: its section by
// the shear strength in Pa, lengths in mm.
func plug(holeR, shear, radius float64) float64 {
	return math.Pi * holeR * holeR * shear / 1e6 * radius / 1000
}

func (b *Bond) turn(name string, torque float64, assumed bool) {
	shear := torqueShear(torque, b.Radius, b.Area)
	b.put(BondLoad{Name: name, Assumed: assumed, Torque: torque, Shear: shear, Even: shear, KeysHold: ratio(b.Keys.Locks, torque)})
}

func (b *Bond) push(name string, force float64, assumed bool) {
	even := force / b.Area * 1e6
	b.put(BondLoad{Name: name, Axial: true, Assumed: assumed, Force: force, Shear: even * b.tilt, Even: even, KeysHold: ratio(b.Keys.Grooves, force)})
}

func (b *Bond) put(l BondLoad) {
	l.Factor = ratio(b.Trusted, l.Shear)
	l.Verdict = verdictOf(l.Factor)
	if l.Verdict == NotOnIt && l.Axial && b.Keys.Flanges {
		l.Verdict = Flanged
	}
	b.Loads = append(b.Loads, l)
}

// ratio of a strength to a load, without bounds where nothing loads.
func ratio(strength, load float64) float64 {
	if load <= 0 {
		return math.Inf(1)
	}
	return strength / load
}

// carried tells whether what locks the rubber carries a load without the bond.
func (b *Bond) carried(l *BondLoad) bool { return l.KeysHold >= 1 || l.Axial && b.Keys.Flanges }

// LetsGo tells whether neither the bond nor what locks the rubber carries a load.
func (b *Bond) LetsGo(l *BondLoad) bool { return l.Factor < 1 && !b.carried(l) }

// needed is the least factor that leaves nothing to change: a hit that is assumed is an
// upper bound upon a guess, and need not have the reserve.
func (l *BondLoad) needed() float64 {
	if l.Assumed {
		return 1
	}
	return Reserve
}

// needsChange finds the worst turning load that neither the bond, with what it needs of
// reserve, nor the lock holes carry, and the most torque of all such loads in N·m.
func (b *Bond) needsChange() (w *BondLoad, torque float64) {
	for i := range b.Loads {
		l := &b.Loads[i]
		if l.Axial || l.Factor >= l.needed() || b.carried(l) {
			continue
		}
		if torque = max(torque, l.Torque); w == nil || l.Factor/l.needed() < w.Factor/w.needed() {
			w = l
		}
	}
	return w, torque
}

// advise proposes lock holes, or else a wider body, for what the bond does not carry with
// its reserve.
func (b *Bond) advise(j *params.Job) {
	w, torque := b.needsChange()
	if w == nil {
		return
	}
	if b.path, b.value, b.hint = b.locks(j, torque); b.hint == "" {
		b.path, b.value, b.hint = b.widerBody(j, w)
	}
	if b.hint == "" {
		b.hint = "neither lock holes nor a wider body carry it: prime and abrade the hub, pull a test piece and state what it held as hub.bond"
	}
	b.Change = b.hint + fmt.Sprintf(". It is for \"%s\", %s N·m: the bond is trusted with %.2g times that, wanted is %g", w.Name, digits(w.Torque), w.Factor, w.needed())
}

// locks proposes as many lock holes as carry a torque in N·m by themselves, as far apart
// around the body as they are wide, so that the hub's own bridges stay.
func (b *Bond) locks(j *params.Job, torque float64) (path, value, change string) {
	d, at := j.Hub.LockHoles.Diameter, "diameter as now"
	if j.Hub.LockHoles.Count == 0 {
		d = j.UsualLockHole()
		at = fmt.Sprintf("hub.lock_holes.diameter = %s", params.Format(params.Length, d))
	}
	n := int(math.Ceil(torque / plug(d/2, b.Keys.Shear, b.Radius)))
	path, value = "hub.lock_holes.count", fmt.Sprint(j.Hub.LockHoles.Count)
	if room := math.Pi * b.Radius / d; n > params.MostLockHoles || float64(n) > room {
		return path, value, ""
	}
	return path, value, fmt.Sprintf("hub.lock_holes.count = %d (%s): their plugs carry %s N·m by themselves", n, at, digits(torque))
}

// widerBody proposes the body, to the millimeter, on which the bond carries all loads:
// reckoned anew with it, since its rubber and its lock holes change too. None if the job
// does not take it.
func (b *Bond) widerBody(j *params.Job, w *BondLoad) (path, value, change string) {
	path, value = "hub.body_diameter", params.Millimeters(j.Hub.BodyDiameter)
	wide := *j
	rise := j.Hub.FlangeDiameter - j.Hub.BodyDiameter
	for d := math.Ceil(2 * b.Radius * math.Sqrt(w.needed()/w.Factor)); d <= j.Wheel.Diameter; d++ {
		wide.Hub.BodyDiameter, wide.Hub.FlangeDiameter = d, d+rise
		m, err := mold.New(&wide)
		if err != nil {
			return path, value, ""
		}
		anew := loadedBond(m)
		if short, _ := anew.needsChange(); short != nil {
			continue
		}
		change = fmt.Sprintf("hub.body_diameter = %s", params.Millimeters(d))
		if rise > 0 || len(j.Unstated("hub.flange_diameter")) == 0 {
			change += fmt.Sprintf(" with hub.flange_diameter = %s", params.Millimeters(d+rise))
		}
		return path, value, change + ": the shear in the bond falls as its square"
	}
	return path, value, ""
}

// faults warns where the drive's torque, or a hit that the job states, exceeds what the
// bond is trusted with, and nothing else holds: the worst around the axis, and along it.
// An assumed hit is told, not warned of.
func (b *Bond) faults(j *params.Job) (out params.Faults) {
	var turn, push *BondLoad
	for i := range b.Loads {
		l := &b.Loads[i]
		if l.Assumed || !b.LetsGo(l) {
			continue
		}
		if l.Axial {
			push = l
		} else if turn == nil || l.Factor < turn.Factor {
			turn = l
		}
	}
	if turn != nil {
		out = append(out, params.Fault{Path: b.path, Value: b.value, Hint: b.hint,
			Cause: fmt.Sprintf("%s (%s N·m) shears the bond to the hub by %s MPa on average, trusted are %s MPa, and lock holes carry %s N·m", turn.Name, digits(turn.Torque), digits(turn.Shear/1e6), digits(b.Trusted/1e6), digits(b.Keys.Locks))})
	}
	if push != nil {
		out = append(out, params.Fault{Path: "hub.flange_diameter", Value: params.Millimeters(j.Hub.FlangeDiameter), With: []string{"duty.impact", "hub.bond", "hub.groove"},
			Hint:  "flanges, wider than hub.body_diameter, hold the tread along the axis",
			Cause: fmt.Sprintf("%s (%s N) shears the bond to the hub by up to %s MPa, trusted are %s MPa, and grooves carry %s N", push.Name, digits(push.Force), digits(push.Shear/1e6), digits(b.Trusted/1e6), digits(b.Keys.Grooves))})
	}
	return out
}

// digits prints three significant digits, and no exponent.
func digits(v float64) string { return fmt.Sprint(params.Significant(v, 3)) }
