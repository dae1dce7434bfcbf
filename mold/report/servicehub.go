package report

import (
	"fmt"
	"math"
	"strings"

	"wheelmold/mold/service"
)

// HubService is how the hub and the rubber on it stand the wheel's use.
type HubService struct {
	Bond     BondService      `json:"bond"`
	Walls    []WallService    `json:"walls"` // the nearest to what it needs first
	Bearings []BearingService `json:"bearings"`
	Sprocket *SprocketService `json:"sprocket,omitempty"`
	Motion   MotionService    `json:"motion"`
	faults   int              // that are warned of
}

// BondService is the rubber's grip on the hub.
type BondService struct {
	Radius  float64           `json:"radius_mm"`
	Width   float64           `json:"width_mm"`
	Area    float64           `json:"area_mm2"`
	Trusted float64           `json:"trusted_mpa"`
	Slip    float64           `json:"tread_slips_at_nm"`
	Loads   []BondLoadService `json:"loads"`
	Rubber  float64           `json:"rubber_shear_mpa"` // cautious
	Locks   float64           `json:"lock_holes_carry_nm"`
	Grooves float64           `json:"grooves_carry_axially_n"`
	Flanges bool              `json:"flanges_hold_axially"`
	Change  string            `json:"change"` // empty: none needed
	letsGo  bool              // under the stalled drive
}

// BondLoadService is one load on the bond.
type BondLoadService struct {
	Name    string   `json:"name"`
	Axial   bool     `json:"axial"`
	Torque  float64  `json:"torque_nm"`
	Force   float64  `json:"force_n"`
	Shear   float64  `json:"shear_mpa"` // of an axial force the upper bound
	Even    float64  `json:"shear_at_least_mpa"`
	Factor  *float64 `json:"factor,omitempty"` // trusted strength by shear; absent without load
	Verdict string   `json:"verdict"`
}

// WallService is a wall of the hub.
type WallService struct {
	Between string  `json:"between"`
	And     string  `json:"and"`
	Path    string  `json:"key"`
	Least   float64 `json:"least_mm"`
	Needed  float64 `json:"needed_mm"`
	Rule    string  `json:"rule"`
	Short   bool    `json:"short"`
}

// BearingService is how a bearing sits in its pocket.
type BearingService struct {
	Face     string  `json:"face"`
	Diameter float64 `json:"diameter_mm"`
	Class    string  `json:"class"`
	Known    bool    `json:"class_known"`
	Most     float64 `json:"interference_at_most_mm"`
	Least    float64 `json:"interference_at_least_mm"` // below 0: clearance
	Lost     float64 `json:"lost_when_warm_mm"`
	Loose    bool    `json:"loose_when_warm"`        // any ring
	MayLoose bool    `json:"may_be_loose_when_warm"` // the worst ring in the worst pocket
}

// SprocketService is the sprocket beside hub and floor, diameters.
type SprocketService struct {
	Chain   string  `json:"chain"`
	Teeth   int     `json:"teeth"`
	Circle  float64 `json:"pitch_circle_mm"`
	Root    float64 `json:"root_mm"`
	Outside float64 `json:"outside_mm"`
	Plates  float64 `json:"over_chain_plates_mm"`
	Hub     float64 `json:"widest_below_chain_mm"`
	Heads   float64 `json:"over_bolt_heads_mm"`
	Seat    float64 `json:"seat_mm"`
}

// MotionService is the wheel at its most revolutions.
type MotionService struct {
	Mass    float64  `json:"mass_g"`
	Inertia float64  `json:"inertia_kg_m2"`
	Hub     float64  `json:"inertia_of_hub_kg_m2"`
	Rubber  float64  `json:"inertia_of_rubber_kg_m2"`
	Speed   float64  `json:"tread_speed_m_s"`
	Energy  float64  `json:"energy_j"`
	Hoop    float64  `json:"hoop_stress_mpa"`
	Pull    float64  `json:"pull_at_bond_mpa"`
	Factor  *float64 `json:"factor,omitempty"` // trusted bond by the pull; absent at rest
}

const mega = 1e6

// hubServiceOf reports a hub's judgment.
func hubServiceOf(h *service.HubLoad) *HubService {
	r := &HubService{Bond: bondServiceOf(&h.Bond), Walls: []WallService{}, Bearings: []BearingService{}, faults: len(h.Faults)}
	for i := range h.Walls {
		w := &h.Walls[i]
		r.Walls = append(r.Walls, WallService{w.Between, w.And, w.Path, w.Least, w.Needed, w.Rule, w.Short()})
	}
	for i := range h.Bearings {
		b := &h.Bearings[i]
		r.Bearings = append(r.Bearings, BearingService{b.Face, b.Diameter, b.Class, b.Known, b.Most, b.Least, b.Lost, b.Loose(), b.MayBeLoose()})
	}
	if s := h.Sprocket; s != nil {
		r.Sprocket = &SprocketService{s.Chain, s.Teeth, s.Circle, s.Root, s.Outside, s.Plates, s.Hub, s.Heads, s.Seat}
	}
	m := &h.Motion
	r.Motion = MotionService{m.Mass, m.Inertia, m.Hub, m.Rubber, m.Speed, m.Energy, m.Hoop / mega, m.Pull / mega, bounded(m.Factor)}
	return r
}

func bondServiceOf(b *service.Bond) BondService {
	r := BondService{Radius: b.Radius, Width: b.Width, Area: b.Area, Trusted: b.Trusted / mega, Slip: b.Slip,
		Rubber: b.Keys.Shear / mega, Locks: b.Keys.Locks, Grooves: b.Keys.Grooves, Flanges: b.Keys.Flanges, Change: b.Change}
	for i := range b.Loads {
		l := &b.Loads[i]
		r.Loads = append(r.Loads, BondLoadService{l.Name, l.Axial, l.Torque, l.Force, l.Shear / mega, l.Even / mega, bounded(l.Factor), l.Verdict})
		r.letsGo = r.letsGo || i == 0 && b.LetsGo(l)
	}
	return r
}

// bounded is nil for what JSON cannot say.
func bounded(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}

// text tells all of it.
func (r *HubService) text(p teller) {
	r.Bond.text(p)
	p.row()
	r.walls(p)
	for i := 0; i < len(r.Bearings); i++ {
		b, faces := &r.Bearings[i], r.Bearings[i].Face
		for i+1 < len(r.Bearings) && b.like(&r.Bearings[i+1]) {
			i++
			faces += " and " + r.Bearings[i].Face
		}
		p.note("bearing, "+faces, b.Class, b.text())
	}
	if len(r.Bearings) > 0 {
		p.note("", "", "No standard fit holds a bearing in plastic, which creeps: use a metal sleeve, retaining compound, or end caps that hold the ring along the axis.")
	}
	if s := r.Sprocket; s != nil {
		p.note("sprocket", fmt.Sprintf("%s, %s", s.Chain, count(s.Teeth, "tooth", "teeth")), s.text())
	}
	r.Motion.text(p)
}

func (b *BondService) text(p teller) {
	p.row("load on the bond", "size", "shear, MPa", "trusted / shear", "the bond")
	for i := range b.Loads {
		l := &b.Loads[i]
		size := fmt.Sprintf("%s N·m", number(l.Torque, 2))
		if l.Axial {
			size = pull(l.Force)
		}
		p.row(l.Name, size, number(l.Shear, 3), times(l.Factor), l.Verdict)
	}
	p.row()
	p.note("bond", number(b.Trusted, 2)+" MPa", fmt.Sprintf("trusted (hub.bond); on abraded nylon or print without primer %s to %s MPa, from memory and weak: pull a test piece. Shear is the average over the %s of the body's plain cylinder, torque/(radius × area); its peak at the edges may be twice that (assumed). \"%s\" is a trusted strength of %s times it or more, \"%s\" once or more. A hit's torque is an upper bound: as if hub and drive stood still. A hit from the side tilts the tread: its shear is the upper bound, as of a rigid ring, force/area × (1 + 2 × tread's radius/body's)%s. Hits act on some millimeters of the way around, yet their shear is averaged over all of it: count on a hit only where the bond \"%s\".",
		number(service.WeakBond/mega, 1), number(service.GoodBond/mega, 0), cm2(b.Area), service.Holds, number(service.Reserve, 0), service.Near, b.even(), service.Holds))
	p.note("if it let go", number(b.Locks, 1)+" N·m", b.keys())
	if b.Change != "" {
		p.note("to change", "", b.Change)
	}
}

// even tells the lower bound of what a hit from the side shears.
func (b *BondService) even() string {
	for i := range b.Loads {
		if l := &b.Loads[i]; l.Axial && l.Force > 0 {
			return fmt.Sprintf("; evenly spread it were %s MPa, the lower bound", number(l.Even, 3))
		}
	}
	return ""
}

// keys tell what locks the rubber to the hub.
func (b *BondService) keys() string {
	var parts []string
	if b.Locks > 0 {
		parts = append(parts, "lock holes still carry this torque, by the plugs' section")
	} else {
		parts = append(parts, "nothing else carries torque: there are no lock holes, and a groove around the hub turns with the rubber in it")
	}
	if b.Grooves > 0 {
		parts = append(parts, fmt.Sprintf("grooves carry a push of %s along the axis at the tread, tilting included, and no torque", pull(b.Grooves)))
	}
	if b.Flanges {
		parts = append(parts, "flanges hold it along the axis")
	}
	return upper(strings.Join(parts, "; ")) + fmt.Sprintf(". The rubber's shear strength is taken as %s MPa: half the low end of tensile strengths for its hardness, from memory; below 30 A they are assumed to fall straight to nothing at 0 A.", number(b.Rubber, 2))
}

// times prints a factor of safety.
func times(f *float64) string {
	switch {
	case f == nil:
		return "no load"
	case *f >= 100:
		return "over 100"
	case *f < 0.1:
		return "under 0.1"
	case *f >= 10:
		return number(*f, 0)
	}
	d := 1
	if math.Abs(*f-1) < 0.1 {
		d = 2
	}
	for ; d < 6 && !keepsSide(*f, d); d++ {
	}
	return number(*f, d)
}

// keepsSide tells whether a factor rounded to so many decimals is still on its side of what
// the verdicts change at.
func keepsSide(f float64, decimals int) bool {
	step := math.Pow10(decimals)
	rounded := math.Round(f*step) / step
	return (rounded >= 1) == (f >= 1) && (rounded >= service.Reserve) == (f >= service.Reserve)
}

// walls tell the least, and all that are short.
func (r *HubService) walls(p teller) {
	for i := range r.Walls {
		w := &r.Walls[i]
		if i > 0 && !w.Short {
			break
		}
		name := "hub's walls"
		if i > 0 {
			name = ""
		}
		p.note(name, number(w.Least, 2)+" mm", w.text())
	}
}

func (w *WallService) text() string {
	verdict := "the nearest to what is needed"
	if w.Short {
		verdict = "thin; move " + w.Path
	}
	return fmt.Sprintf("between %s and %s, exact; needed %s mm (%s): %s", w.Between, w.And, number(w.Needed, 2), w.Rule, verdict)
}

func (b *BearingService) text() string {
	if !b.Known {
		return fmt.Sprintf("on %s: the class has no figures for this diameter", length2(b.Diameter))
	}
	verdict := "held, until it creeps"
	switch {
	case b.Loose:
		verdict = "loose when warm"
	case b.MayLoose:
		verdict = "may be loose when warm"
	}
	return fmt.Sprintf("on %s: %s mm of interference at most, on a ring of nominal size, and %s at least, on the smallest ring of ISO 492 class Normal (from memory; below 0 it is clearance); %s K take %s mm ((αhub - αsteel)·D·ΔT; the warming is assumed): %s",
		length2(b.Diameter), number(b.Most, 3), number(b.Least, 3), number(service.WarmUp, 0), number(b.Lost, 4), verdict)
}

// like tells whether two bearings differ in their faces alone.
func (b *BearingService) like(o *BearingService) bool {
	x := *o
	x.Face = b.Face
	return x == *b
}

func (s *SprocketService) text() string {
	out := fmt.Sprintf("pitch circle %s mm (pitch/sin 180°/N), roots %s, outside %s, chain plates %s; below the chain there are %s mm for hub and bolt heads", number(s.Circle, 2), number(s.Root, 2), number(s.Outside, 2), number(s.Plates, 1), number(s.Hub, 1))
	if s.Heads > 0 {
		out += fmt.Sprintf(", the heads reach %s", number(s.Heads, 1))
	}
	if s.Seat > 0 {
		out += fmt.Sprintf(", the seat %s", number(s.Seat, 1))
	}
	return out + ". All but the pitch circle rest on figures of chains from memory: check them against the sprocket that you have"
}

func (m *MotionService) text(p teller) {
	p.note("inertia", fmt.Sprintf("%.3g kg·m²", m.Inertia), fmt.Sprintf("about the axis, of %s: hub %.3g, rubber %.3g; closed form on the outlines, holes and cross grooves by their middles. It is off by as much as the densities are", weighed(m.Mass), m.Hub, m.Rubber))
	p.note("tread speed", speed(m.Speed), fmt.Sprintf("at duty.rpm; the turning wheel alone holds %s J", number(m.Energy, 1)))
	p.note("spinning", times(m.Factor), fmt.Sprintf("times its pull is what the bond is trusted with: %s MPa, if the rubber's own hoop strength held nothing (upper bound ρω²(Ro³ - Rb³)/3Rb); its hoop stress is of the order ρv², %s MPa. Spin a new wheel up behind a guard, and nobody in its plane", number(m.Pull, 3), number(m.Hoop, 3)))
}

// speed prints a speed; a foot is 0.3048 m.
func speed(v float64) string {
	return fmt.Sprintf("%s m/s (%s km/h, %s ft/s)", number(v, 1), number(v*3.6, 0), number(v/0.3048, 0))
}

// worst is the load that the bond stands worst, and its place; one that flanges carry
// instead comes last.
func (b *BondService) worst() (l *BondLoadService, at int) {
	for i := range b.Loads {
		if x := &b.Loads[i]; l == nil || x.worse(l) {
			l, at = x, i
		}
	}
	return l, at
}

// worse compares by the bond's factor, none being infinite.
func (l *BondLoadService) worse(than *BondLoadService) bool {
	if carried := l.Verdict == service.Flanged; carried != (than.Verdict == service.Flanged) {
		return !carried
	}
	return l.Factor != nil && (than.Factor == nil || *l.Factor < *than.Factor)
}

// state tells whether something of the hub asks for work: a bond that lets go under the
// drive's torque does, and one that spins its rubber off; what is warned of, a thin wall, and a hit that exceeds the bond are worth
// a look.
func (r *HubService) state() state {
	if r.Bond.letsGo || r.Motion.fliesOff() {
		return act
	}
	short := len(r.Walls) > 0 && r.Walls[0].Short
	if r.faults > 0 || r.Bond.Change != "" || short {
		return mind
	}
	return fine
}

// fliesOff tells whether a spinning wheel's rubber pulls more than its bond is trusted with.
func (m *MotionService) fliesOff() bool { return m.Factor != nil && *m.Factor < 1 }

// figures are what a builder acts on.
func (r *HubService) figures() []figure {
	l, at := r.Bond.worst()
	out := []figure{
		{Name: "shear at the bond", Value: number(l.Shear, 3) + " MPa", Key: fmt.Sprintf("service.hub.bond.loads.%d.shear_mpa", at), Raw: l.Shear,
			Note: fmt.Sprintf("%s; the worst of %s. An average around the body's cylinder, with what a push tilts. Trusted are %s MPa: %s.", upper(l.Name), count(len(r.Bond.Loads), "load", "loads"), number(r.Bond.Trusted, 2), l.Verdict)},
	}
	if len(r.Walls) > 0 {
		w := &r.Walls[0]
		out = append(out, figure{Name: "hub's wall nearest to its limit", Value: length2(w.Least), Key: "service.hub.walls.0.least_mm", Raw: w.Least, Note: upper(w.text()) + "."})
	}
	return append(out,
		figure{Name: "moment of inertia", Value: fmt.Sprintf("%.3g kg·m²", r.Motion.Inertia), Key: "service.hub.motion.inertia_kg_m2", Raw: r.Motion.Inertia,
			Note: "Closed form on the outlines; off by as much as the densities are."},
		figure{Name: "tread speed", Value: speed(r.Motion.Speed), Key: "service.hub.motion.tread_speed_m_s", Raw: r.Motion.Speed, Note: "At duty.rpm and the wheel's diameter."})
}
