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
}

// BondLoad is one load on the bond.
type BondLoad struct {
	Name     string
	Axial    bool    // along the axis, else around it
	Brief    bool    // a hit: the bond need not have its reserve, and the wheel may yield to it
	Torque   float64 // N·m around the axis
	Force    float64 // N along the axis
	Shear    float64 // Pa, average
	Factor   float64 // of the trusted strength to it; +Inf without load
	Verdict  string
	KeysHold float64 // by how much what locks the rubber exceeds the load if the bond lets go; 0: nothing does
}

// Keys are what would carry the rubber if the bond let go.
type Keys struct {
	Tensile float64 // Pa, cautious, of a rubber of that hardness
	Shear   float64 // Pa, half of it
	Locks   float64 // N·m that the plugs in the lock holes carry before they shear off
	Grooves float64 // N along the axis before the ridges in the grooves shear off
	Flanges bool    // hold the rubber along the axis
}

// tensiles are the low ends of tensile strength by Shore A, MPa, of castable urethanes
// (from memory).
var tensiles = [][2]float64{{30, 2}, {60, 4}, {80, 7}, {90, 15}}

// cautiousTensile is the tensile strength in Pa to reckon with for a hardness in Shore A:
// straight between the table's entries, level beyond.
func cautiousTensile(shore float64) float64 {
	at := tensiles[0]
	if shore <= at[0] {
		return at[1] * 1e6
	}
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

func bondOf(m *mold.Mold) Bond {
	j, c := m.Job, m.Core
	lo, hi := max(0, c.Z0+c.FlangeT), min(m.Tread.Width, c.Z1()-c.FlangeT)
	b := Bond{Radius: c.BodyR, Width: hi - lo, Trusted: j.Hub.Bond, Slip: j.SlipTorque()}
	b.Area = 2*math.Pi*b.Radius*b.Width - float64(c.LockCount)*math.Pi*c.LockR*c.LockR
	b.Keys = keysOf(m)
	hit := j.Duty.Impact * j.Load()
	b.turn("drive stalled, tread held", j.Duty.StallTorque, false)
	b.turn("tread slipping under its load", min(j.Duty.StallTorque, b.Slip), false)
	// An upper bound: as if hub and drive stood still.
	b.turn("hit along the tread", j.Duty.Impact*b.Slip, true)
	b.push("hit from the side", hit)
	b.advise(j)
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
		k.Grooves += 2 * math.Pi * c.BodyR * g.Width * k.Shear / 1e6
	}
	return k
}

// plug is the torque in N·m that one plug of rubber carries at a radius: its section by
// the shear strength in Pa, lengths in mm.
func plug(holeR, shear, radius float64) float64 {
	return math.Pi * holeR * holeR * shear / 1e6 * radius / 1000
}

func (b *Bond) turn(name string, torque float64, brief bool) {
	b.put(BondLoad{Name: name, Brief: brief, Torque: torque, Shear: torqueShear(torque, b.Radius, b.Area), KeysHold: ratio(b.Keys.Locks, torque)})
}

func (b *Bond) push(name string, force float64) {
	b.put(BondLoad{Name: name, Axial: true, Brief: true, Force: force, Shear: force / b.Area * 1e6, KeysHold: ratio(b.Keys.Grooves, force)})
}

func (b *Bond) put(l BondLoad) {
	l.Factor = ratio(b.Trusted, l.Shear)
	l.Verdict = verdictOf(l.Factor)
	b.Loads = append(b.Loads, l)
}

// ratio of a strength to a load, without bounds where nothing loads.
func ratio(strength, load float64) float64 {
	if load <= 0 {
		return math.Inf(1)
	}
	return strength / load
}

// Worst is the load that the bond stands worst.
func (b *Bond) Worst() *BondLoad {
	w := &b.Loads[0]
	for i := range b.Loads {
		if b.Loads[i].Factor < w.Factor {
			w = &b.Loads[i]
		}
	}
	return w
}

// needed is the least factor that leaves nothing to change.
func (l *BondLoad) needed() float64 {
	if l.Brief {
		return 1
	}
	return Reserve
}

// needsChange finds the worst turning load that neither the bond, with what it needs of
// reserve, nor the lock holes carry.
func (b *Bond) needsChange() (w *BondLoad) {
	for i := range b.Loads {
		l := &b.Loads[i]
		if !l.Axial && l.Factor < l.needed() && l.KeysHold < 1 && (w == nil || l.Factor/l.needed() < w.Factor/w.needed()) {
			w = l
		}
	}
	return w
}

// advise proposes lock holes, or else a wider body, for what the bond does not carry with
// its reserve.
func (b *Bond) advise(j *params.Job) {
	w := b.needsChange()
	if w == nil {
		return
	}
	d, at := j.Hub.LockHoles.Diameter, "diameter as now"
	if j.Hub.LockHoles.Count == 0 {
		d = j.UsualLockHole()
		at = fmt.Sprintf("hub.lock_holes.diameter = %s", params.Format(params.Length, d))
	}
	n := int(math.Ceil(w.Torque / plug(d/2, b.Keys.Shear, b.Radius)))
	// As far apart around the body as they are wide, so that the hub's own bridges stay.
	if room := math.Pi * b.Radius / d; n <= 48 && float64(n) <= room {
		b.path, b.value = "hub.lock_holes.count", fmt.Sprint(j.Hub.LockHoles.Count)
		b.Change = fmt.Sprintf("hub.lock_holes.count = %d (%s): their plugs carry %.3g N·m by themselves", n, at, w.Torque)
		return
	}
	body := 2 * b.Radius * math.Sqrt(w.needed()/w.Factor)
	b.path, b.value = "hub.body_diameter", params.Millimeters(j.Hub.BodyDiameter)
	b.Change = fmt.Sprintf("hub.body_diameter = %s: the shear in the bond falls as its square", params.Millimeters(math.Ceil(body)))
	if body > 0.9*j.Wheel.Diameter {
		b.Change = "neither lock holes nor a wider body carry it: prime and abrade the hub, pull a test piece and state what it held as hub.bond"
	}
}

// faults warns where the drive's torque exceeds what the bond is trusted with, and
// nothing else holds. A hit's force is a bound on assumptions: it is told, not warned of.
func (b *Bond) faults() params.Faults {
	w := &b.Loads[0]
	if w.Factor >= 1 || w.KeysHold >= 1 {
		return nil
	}
	return params.Faults{{Path: b.path, Value: b.value, Hint: b.Change,
		Cause: fmt.Sprintf("%s (%.3g N·m) shears the bond to the hub by %.2g MPa on average, trusted are %.2g MPa, and lock holes carry %.3g N·m", w.Name, w.Torque, w.Shear/1e6, b.Trusted/1e6, b.Keys.Locks)}}
}
