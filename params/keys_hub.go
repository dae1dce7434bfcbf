package params

func hubGrooves(j *Job) *[]Groove { return &j.Hub.Grooves }

func lengthShare(f float64) bound { return func(j *Job) float64 { return f * j.Hub.Length } }
func bodyShare(f float64) bound   { return func(j *Job) float64 { return f * j.Hub.BodyDiameter } }

// rubberByDefault is the thickness of rubber that a derived hub leaves, mm.
func rubberByDefault(j *Job) float64 { return max(2.5, 0.08*j.Wheel.Diameter) }

// hubWallByDefault is what a derived hub body has around its bore, mm.
func hubWallByDefault(j *Job) float64 { return max(3, 0.04*j.Wheel.Diameter) }

// leastRubber is the thinnest rubber that fills and holds, mm: common practice.
func leastRubber(j *Job) float64 { return max(1.5, 0.02*j.Wheel.Diameter) }

// leastSealLand is how much of an end face must stay closed outside its
// openings to keep the rubber out of them, mm: common practice.
func leastSealLand(j *Job) float64 { return max(1, 0.02*j.Wheel.Diameter) }

// openings is the widest diameter that bore, pockets and bolt holes take.
func openings(h *Hub) float64 {
	d := max(h.Bore, h.BearingBack.Diameter, h.BearingFront.Diameter)
	if h.Bolts.Count > 0 {
		d = max(d, h.Bolts.Circle+h.Bolts.Hole)
	}
	return d
}

// MostLockHoles is how many lock holes a hub may have.
const MostLockHoles = 48

var hubKeys = []Key{
	{Path: "hub.length", Kind: Length, lo: widthShare(0.3), hi: widthShare(3),
		slot: in(func(j *Job) *float64 { return &j.Hub.Length }, func(j *Job) float64 {
			return roundTo(j.Wheel.Width+2*standsOut(j)-j.Mold.Stack.Gap, 1e4) // lands flush: no coarser
		}),
		Doc:  "Length of the hub along the axis.",
		From: "the tread's width less mold.stack.gap; 4 mm longer for clam halves, which grip its ends"},
	{Path: "hub.offset", Kind: Length, lo: widthShare(-1), hi: widthShare(0.5),
		slot: in(func(j *Job) *float64 { return &j.Hub.Offset }, func(j *Job) float64 {
			if (j.Mold.FaceUp == "front") == (j.Mold.Stack.At == "lower") {
				return j.Mold.Stack.Gap - standsOut(j)
			}
			return -standsOut(j)
		}),
		Doc:  "Back face of the hub from the back face of the tread, positive into the tread.",
		From: "mold.stack.gap where the gap lies at the back face, else flush; 2 mm further out for clam halves"},
	{Path: "hub.bore", Kind: Length, sample: "12 mm", lo: fixed(1), hi: func(j *Job) float64 {
		return j.Wheel.Diameter - 2*leastRubber(j) - 2*leastSealLand(j)
	},
		slot: in(func(j *Job) *float64 { return &j.Hub.Bore }, nil), usual: diameterShare(0.15),
		Doc: "Diameter of the bore."},
	{Path: "hub.body_diameter", Kind: Length, lo: fixed(3), hi: func(j *Job) float64 { return j.Wheel.Diameter - 2*leastRubber(j) },
		slot: in(func(j *Job) *float64 { return &j.Hub.BodyDiameter }, func(j *Job) float64 {
			d := max(0.62*j.Wheel.Diameter, j.Hub.Bore+2*hubWallByDefault(j))
			return tenth(min(d, j.Wheel.Diameter-2*rubberByDefault(j)))
		}),
		Doc:  "Outer diameter of the hub, under the rubber.",
		From: "62 % of the wheel, or a wall around the bore; thinner where the rubber needs the room"},
	{Path: "hub.flange_diameter", Kind: Length, lo: bodyShare(1), hi: func(j *Job) float64 { return j.Wheel.Diameter - 2*leastRubber(j) },
		slot: in(func(j *Job) *float64 { return &j.Hub.FlangeDiameter }, func(j *Job) float64 { return j.Hub.BodyDiameter }),
		Doc:  "Diameter of flanges on both ends of the hub; as the body: none.",
		From: "no flanges"},
	{Path: "hub.flange_thickness", Kind: Length, hi: lengthShare(0.4),
		slot: in(func(j *Job) *float64 { return &j.Hub.FlangeThickness }, func(j *Job) float64 {
			if j.Hub.FlangeDiameter <= j.Hub.BodyDiameter {
				return 0
			}
			return tenth(clamp(0.06*j.Hub.Length, 2, 10))
		}),
		Doc:  "Thickness of each flange along the axis.",
		From: "6 % of the hub's length, 2 mm to 10 mm; 0 without flanges"},
	{Path: "hub.bearing_back.diameter", Kind: Length, hi: bodyShare(1),
		slot: in(func(j *Job) *float64 { return &j.Hub.BearingBack.Diameter }, always(0.0)),
		Doc:  "Diameter of the bearing pocket in the back face; 0: none.",
		From: "no bearing"},
	{Path: "hub.bearing_back.depth", Kind: Length, hi: lengthShare(1),
		slot: in(func(j *Job) *float64 { return &j.Hub.BearingBack.Depth }, func(j *Job) float64 { return pocketDepth(j, j.Hub.BearingBack) }),
		Doc:  "Depth of the bearing pocket, from the bottom of the seat if that is on the same side.",
		From: "a fifth of the hub's length, at most 12 mm"},
	{Path: "hub.bearing_front.diameter", Kind: Length, hi: bodyShare(1),
		slot: in(func(j *Job) *float64 { return &j.Hub.BearingFront.Diameter }, always(0.0)),
		Doc:  "Diameter of the bearing pocket in the front face; 0: none.",
		From: "no bearing"},
	{Path: "hub.bearing_front.depth", Kind: Length, hi: lengthShare(1),
		slot: in(func(j *Job) *float64 { return &j.Hub.BearingFront.Depth }, func(j *Job) float64 { return pocketDepth(j, j.Hub.BearingFront) }),
		Doc:  "Depth of the bearing pocket, from the bottom of the seat if that is on the same side.",
		From: "a fifth of the hub's length, at most 12 mm"},
	{Path: "hub.seat.side", Kind: Word, Options: []string{"none", "front", "back"},
		slot: in(func(j *Job) *string { return &j.Hub.Seat.Side }, always("none")),
		Doc:  "Face with the recess that centers the sprocket.",
		From: "no seat"},
	{Path: "hub.seat.diameter", Kind: Length, hi: bodyShare(1),
		slot: in(func(j *Job) *float64 { return &j.Hub.Seat.Diameter }, func(j *Job) float64 {
			if j.Hub.Seat.Side == "none" {
				return 0
			}
			return tenth(openings(&j.Hub) + 0.6*(j.Hub.BodyDiameter-openings(&j.Hub)))
		}),
		Doc:  "Diameter of the sprocket's seat.",
		From: "60 % of the way from bore or bearing to the hub's outside"},
	{Path: "hub.seat.depth", Kind: Length, hi: lengthShare(1),
		slot: in(func(j *Job) *float64 { return &j.Hub.Seat.Depth }, func(j *Job) float64 {
			if j.Hub.Seat.Side == "none" {
				return 0
			}
			return tenth(clamp(0.1*j.Hub.Length, 1, 5))
		}),
		Doc:  "Depth of the sprocket's seat.",
		From: "a tenth of the hub's length, 1 mm to 5 mm"},
	{Path: "hub.bolts.count", Kind: Count, hi: fixed(24),
		slot: in(func(j *Job) *int { return &j.Hub.Bolts.Count }, always(0)),
		Doc:  "Through holes along the axis, evenly around, the first half a pitch from the +X axis.",
		From: "no bolt circle"},
	{Path: "hub.bolts.circle", Kind: Length, hi: bodyShare(1),
		slot: in(func(j *Job) *float64 { return &j.Hub.Bolts.Circle }, func(j *Job) float64 {
			if j.Hub.Bolts.Count == 0 {
				return 0
			}
			h := &j.Hub
			in := max(h.Bore, h.BearingBack.Diameter, h.BearingFront.Diameter)
			// A seat's edge divides the face: the wider side takes the bolts.
			if s := h.Seat.Diameter; h.Seat.Side != "none" && s > in {
				if s-in >= h.BodyDiameter-s {
					return tenth((in + s) / 2)
				}
				in = s
			}
			return tenth((in + h.BodyDiameter) / 2)
		}),
		Doc:  "Diameter of the circle on which the bolt holes lie.",
		From: "midway between bore or bearing and the hub's outside; with a seat, in the wider of the rings that its edge leaves"},
	{Path: "hub.bolts.hole", Kind: Length, hi: bodyShare(0.4),
		slot: in(func(j *Job) *float64 { return &j.Hub.Bolts.Hole }, func(j *Job) float64 {
			if j.Hub.Bolts.Count == 0 {
				return 0
			}
			f, _ := FastenerOf(boltFor(j.Wheel.Diameter))
			return f.Medium
		}),
		Doc:  "Diameter of a bolt hole.",
		From: "ISO 273 medium, for the bolt size that suits the wheel"},
	{Path: "hub.lock_holes.count", Kind: Count, hi: fixed(MostLockHoles),
		slot: in(func(j *Job) *int { return &j.Hub.LockHoles.Count }, always(0)),
		Doc:  "Blind radial holes that the rubber fills, evenly around, the first on the +X axis.",
		From: "the retention groove holds enough"},
	{Path: "hub.lock_holes.diameter", Kind: Length, hi: bodyShare(0.4),
		slot: in(func(j *Job) *float64 { return &j.Hub.LockHoles.Diameter }, ifLocks((*Job).UsualLockHole)),
		Doc:  "Diameter of a lock hole.",
		From: "6 % of the hub's diameter, 2 mm to 8 mm"},
	{Path: "hub.lock_holes.depth", Kind: Length, hi: bodyShare(0.5),
		slot: in(func(j *Job) *float64 { return &j.Hub.LockHoles.Depth }, ifLocks(func(j *Job) float64 {
			room := (j.Hub.BodyDiameter-max(openings(&j.Hub), j.Hub.Seat.Diameter))/2 - j.Process.MinWall
			return max(0.5, tenthBelow(min(j.Hub.LockHoles.Diameter, room)))
		})),
		Doc:  "Depth of a lock hole from the surface of the hub's body.",
		From: "as deep as wide, if the hub's openings leave a wall"},
	{Path: "hub.lock_holes.position", Kind: Length, hi: lengthShare(1),
		slot: in(func(j *Job) *float64 { return &j.Hub.LockHoles.Position }, ifLocks(func(j *Job) float64 { return tenth(j.Hub.Length / 4) })),
		Doc:  "Axis of the lock holes, from the hub's back face.",
		From: "a quarter of the hub's length"},
	{Path: "hub.cover_diameter", Kind: Length, hi: diameterShare(3),
		slot: in(func(j *Job) *float64 { return &j.Hub.CoverDiameter }, always(0.0)),
		Doc:  "Diameter of the sprocket or guard over the face that is up in the mold; 0: nothing covers it.",
		From: "nothing covers the face"},
	{Path: "hub.length_tolerance", Kind: Length, hi: fixed(2),
		slot: in(func(j *Job) *float64 { return &j.Hub.LengthTolerance }, func(j *Job) float64 {
			if j.Hub.Printed() {
				return 0.15
			}
			return 0.05
		}),
		Doc:  "By how much the hub's length may come out larger or smaller.",
		From: "common practice: nylon and acetal, turned, 0.05 mm; printed 0.15 mm"},
	{Path: "hub.flatness", Kind: Length, hi: fixed(2), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Hub.Flatness }, func(j *Job) float64 {
			if j.Hub.Printed() {
				return 0.25
			}
			return 0.03
		}),
		Doc:  "Waviness of the hub's end faces: mm from peak to valley over any 100 mm.",
		From: "common practice: nylon and acetal, turned, 0.03 mm; printed 0.25 mm, as process.flatness of filament"},
	{Path: "hub.roughness", Kind: Length, hi: fixed(0.2), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Hub.Roughness }, func(j *Job) float64 {
			if j.Hub.Printed() {
				return 0.013
			}
			return 0.0032
		}),
		Doc:  "Roughness Ra of the hub's end faces, in mm or um.",
		From: "common practice: nylon and acetal, turned, 0.0032 mm; printed 0.013 mm, as process.roughness of filament"},
	{Path: "hub.fit", Kind: Word, Options: holeFits,
		slot: in(func(j *Job) *string { return &j.Hub.Fit }, always("H7")),
		Doc:  "ISO 286 class of the hub's bore and seat.",
		From: "common practice for what slides in by hand"},
	{Path: "hub.bearing_fit", Kind: Word, Options: holeFits,
		slot: in(func(j *Job) *string { return &j.Hub.BearingFit }, always("H7")),
		Doc:  "ISO 286 class of the bearing pockets.",
		From: "plastics have no standard fit, since creep and heat release a press fit: H7 for retaining compound or a metal sleeve"},
	{Path: "hub.stock_price", Kind: Number, hi: fixed(100000),
		slot: in(func(j *Job) *float64 { return &j.Hub.StockPrice }, always(20.0)),
		Doc:  "Price of a kilogram of the bar that the hub is turned from, in your currency.",
		From: "assumed: 20 for cast nylon"},
	{Path: "hub.bond", Kind: Stress, lo: fixed(1e3), hi: fixed(30e6),
		slot: in(func(j *Job) *float64 { return &j.Hub.Bond }, always(0.3e6)),
		Doc:  "Shear stress that the bond of the rubber to the hub is trusted with.",
		From: "cautious end of 0.3 to 3 MPa on abraded nylon or print without primer, from memory and weak: pull a test piece"},
	{Path: "hub.sprocket.chain", Kind: Word, Options: chainNames(),
		slot: in(func(j *Job) *string { return &j.Hub.Sprocket.Chain }, always("none")),
		Doc:  "Chain of the sprocket that is bolted to the hub, by ISO 606: " + chainPitches() + ".",
		From: "no sprocket"},
	{Path: "hub.sprocket.teeth", Kind: Count, hi: fixed(MostTeeth),
		slot: in(func(j *Job) *int { return &j.Hub.Sprocket.Teeth }, func(j *Job) int {
			if j.Hub.Sprocket.Chain == "none" {
				return 0
			}
			return 24
		}),
		Doc:  "Teeth of that sprocket.",
		From: "24 where a chain is stated"},
	{Path: "hub.groove", Kind: Tables, hi: fixed(40),
		slot: tables(hubGrooves, func(j *Job) int {
			if retentionWidth(j) < 2*j.Process.MinFeature || retentionDepth(j) < j.Process.MinFeature/2 {
				return 0
			}
			return 1
		}),
		Doc:  "Grooves around the hub: undercuts that hold the rubber. \"groove = []\" under [hub] asks for none.",
		From: "one in the middle of the hub, none if it would be too small to make"},
	{Path: "hub.groove.shape", Kind: Word, Options: grooveShapes,
		slot: inTable(hubGrooves, func(g *Groove) *string { return &g.Shape }, func(*Job, int) string { return grooveShapes[0] }),
		Doc:  "Section of the groove.",
		From: "it holds best"},
	{Path: "hub.groove.position", Kind: Length, hi: lengthShare(1),
		slot: inTable(hubGrooves, func(g *Groove) *float64 { return &g.Position }, func(j *Job, i int) float64 {
			return evenly(j.Hub.Length, i, len(j.Hub.Grooves))
		}),
		Doc:  "Middle of the groove, from the hub's back face.",
		From: "grooves spread evenly over the hub's length"},
	{Path: "hub.groove.width", Kind: Length, lo: minFeature, hi: lengthShare(1),
		slot: inTable(hubGrooves, func(g *Groove) *float64 { return &g.Width }, func(j *Job, _ int) float64 {
			return max(j.Process.MinFeature, tenth(retentionWidth(j)/float64(max(1, len(j.Hub.Grooves)))))
		}),
		Doc:  "Width of the groove at the hub's surface.",
		From: "a fifth of the tread's width, at most 12 mm, shared by all grooves"},
	{Path: "hub.groove.depth", Kind: Length, lo: fixed(0.1), hi: bodyShare(0.4),
		slot: inTable(hubGrooves, func(g *Groove) *float64 { return &g.Depth }, func(j *Job, i int) float64 {
			g := j.Hub.Grooves[i]
			if g.Shape == "half-round" {
				return g.Width / 2
			}
			return max(0.1, tenthBelow(retentionDepth(j)))
		}),
		Doc:  "Depth of the groove below the hub's surface; of a half-round one always half its width.",
		From: "4 % of the hub's diameter, at most an eighth of what bore, bearings and bolts leave; half the width if half-round"},
}

func retentionWidth(j *Job) float64 { return min(j.Wheel.Width/5, 12) }

func retentionDepth(j *Job) float64 {
	return min(0.04*j.Hub.BodyDiameter, (j.Hub.BodyDiameter-openings(&j.Hub))/8)
}

func pocketDepth(j *Job, p Pocket) float64 {
	if p.Diameter <= 0 {
		return 0
	}
	return tenth(min(0.2*j.Hub.Length, 12))
}

// UsualLockHole is the diameter in mm that a lock hole of the hub has by default.
func (j *Job) UsualLockHole() float64 { return tenth(clamp(0.06*j.Hub.BodyDiameter, 2, 8)) }

func ifLocks(value func(*Job) float64) func(*Job) float64 {
	return func(j *Job) float64 {
		if j.Hub.LockHoles.Count < 1 {
			return 0
		}
		return value(j)
	}
}
