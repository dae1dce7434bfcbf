package params

import (
	"math"
	"strings"
	"testing"
)

// busy is a valid 120 x 60 wheel with every feature.
func busy(t *testing.T) *Job {
	t.Helper()
	j, err := Default(120, 60, 20, "milled")
	if err != nil {
		t.Fatal(err)
	}
	j.Wheel.Grooves = []Groove{{"rectangular", 15, 4, 3}, {"half-round", 45, 4, 2}}
	j.Wheel.Cross = CrossGrooves{Count: 20, Width: 4, Depth: 3, Flank: 10}
	h := &j.Hub
	h.BodyDiameter, h.FlangeDiameter, h.FlangeThickness = 80, 90, 5
	h.BearingBack, h.BearingFront = Pocket{26, 12}, Pocket{26, 12}
	h.Seat = Seat{"front", 60, 4}
	h.Bolts = BoltCircle{6, 43, 5.5}
	h.LockHoles = LockHoles{8, 5, 6, 30}
	h.Grooves = []Groove{{"rectangular", 15, 8, 3}, {"half-round", 45, 6, 3}}
	h.CoverDiameter = 118
	m := &j.Mold
	m.RegisterFront.Opening, m.RegisterFront.Engagement = "seat", 3
	m.RegisterBack.Opening, m.RegisterBack.Engagement = "bearing", 6
	m.Sprue.Circle, m.Vents.Circle = 102, 102
	m.Sprue.Gate, m.Sprue.Mouth = 7, 12
	m.Jacks.Size = "M6"
	m.Ceiling = Ceiling{"coned", 1}
	return j
}

func TestBusyJobIsValid(t *testing.T) {
	if f := busy(t).Validate(); f != nil {
		t.Fatal(f)
	}
}

// Each rule alone: what is changed, and the one value that must be refused with
// words that say why.
func TestValidateTripsOneRule(t *testing.T) {
	for _, c := range []struct {
		change func(*Job)
		path   string
		why    string
	}{
		// Ranges, for every way a number can be absurd.
		{func(j *Job) { j.Wheel.Crown = math.NaN() }, "wheel.crown", "not a finite number"},
		{func(j *Job) { j.Pour.Density = math.Inf(1) }, "pour.density", "not a finite number"},
		{func(j *Job) { j.Mold.Land = 1e300 }, "mold.land", "absurdly large"},
		{func(j *Job) { j.Mold.Land = -1 }, "mold.land", "negative"},
		{func(j *Job) { j.Mold.Land = 0 }, "mold.land", "too small"},
		{func(j *Job) { j.Mold.Vents.Count = -1 }, "mold.vents.count", "negative"},
		{func(j *Job) { j.Mold.Sprue.Count = 1 << 30 }, "mold.sprue.count", "absurdly large"},
		{func(j *Job) { j.Mold.Sprue.Count = 0 }, "mold.sprue.count", "too small"},
		{func(j *Job) { j.Mold.Bolts.Size = "M7" }, "mold.bolts.size", "unknown word"},
		{func(j *Job) { j.Mold.FaceUp = "" }, "mold.face_up", "unknown word"},
		{func(j *Job) { j.Name = strings.Repeat("a", 61) }, "name", "longer than 60"},
		{func(j *Job) { j.Name = "" }, "name", "empty"},
		{func(j *Job) { j.Wheel.Width *= 25.4 }, "wheel.width", "looks like a millimeter value in an inch file"},
		{func(j *Job) { j.Wheel.Width /= 25.4 }, "wheel.width", `looks like an inch value`},
		{func(j *Job) { j.Wheel.Edge, j.Wheel.EdgeSize = "square", 1 }, "wheel.edge_size", "too large"},
		{func(j *Job) { j.Mold.Ceiling.Shape = "flat" }, "mold.ceiling.angle", "too large"},
		{func(j *Job) { j.Wheel.Grooves = make([]Groove, 41) }, "wheel.groove", "too large"},
		// Tread.
		{func(j *Job) { j.Wheel.Grooves[0].Depth = 17.7 }, "wheel.groove[1].depth", "rubber on the hub"},
		{func(j *Job) { j.Wheel.Grooves[1].Depth = 1 }, "wheel.groove[2].depth", "half as deep as wide"},
		{func(j *Job) { j.Wheel.Grooves[0].Position = 4 }, "wheel.groove[1].position", "over the edge"},
		{func(j *Job) { j.Wheel.Grooves[1].Position = 19.5 }, "wheel.groove[2].position", "rib of 0.5 mm to wheel.groove[1]"},
		{func(j *Job) { j.Wheel.Cross.Count = 70 }, "wheel.cross.count", "lugs of"},
		{func(j *Job) { j.Wheel.Cross.Depth = 13 }, "wheel.cross.depth", "rubber on the hub"},
		{func(j *Job) { j.Wheel.Cross.Width = 0 }, "wheel.cross.width", "can be made"},
		// Hub.
		{func(j *Job) { j.Hub.FlangeThickness = 1 }, "hub.flange_thickness", "too thin"},
		{func(j *Job) { j.Hub.FlangeDiameter = 113 }, "hub.flange_diameter", "rubber at the tread's faces"},
		{func(j *Job) { j.Hub.BearingBack.Diameter = 20 }, "hub.bearing_back.diameter", "not wider than the bore"},
		{func(j *Job) { j.Hub.BearingBack.Depth = 0 }, "hub.bearing_back.depth", "without depth"},
		{func(j *Job) { j.Hub.BearingBack.Depth = 43 }, "hub.bearing_back.depth", "a web of 0.92 mm"},
		{func(j *Job) { j.Hub.Seat.Depth = 0 }, "hub.seat.depth", "without depth"},
		{func(j *Job) { j.Hub.Seat.Diameter = 47 }, "hub.bolts.circle", "opens into the sprocket's seat"},
		{func(j *Job) { j.Hub.Seat.Diameter = 78 }, "hub.seat.diameter", "breaks through the hub's outside"},
		{func(j *Job) { j.Hub.Grooves[0].Depth = 15 }, "hub.groove[1].depth", "a wall of 0.75 mm to the bolt holes"},
		{func(j *Job) { j.Hub.Grooves[0].Position = 8 }, "hub.groove[1].position", "over the edge"},
		{func(j *Job) { j.Hub.Grooves[1].Position = 22.5 }, "hub.groove[2].position", "rib of 0.5 mm to hub.groove[1]"},
		{func(j *Job) { j.Hub.Grooves[1].Depth = 2 }, "hub.groove[2].depth", "half as deep as wide"},
		{func(j *Job) { j.Hub.Bolts.Circle = 33 }, "hub.bolts.circle", "a wall of 0.75 mm to the bearing pocket in the back face"},
		{func(j *Job) { j.Hub.Bolts.Hole = 0 }, "hub.bolts.circle", "its diameter and that of its holes"},
		{func(j *Job) { j.Hub.Bolts.Count = 20 }, "hub.bolts.count", "a wall of 1.2267 mm to each other"},
		{func(j *Job) { j.Hub.LockHoles.Depth = 21 }, "hub.lock_holes.depth", "to a bolt hole"},
		{func(j *Job) { j.Hub.LockHoles.Position = 8 }, "hub.lock_holes.position", "end face or flange"},
		{func(j *Job) { j.Hub.LockHoles.Count = 36 }, "hub.lock_holes.count", "to each other"},
		{func(j *Job) { j.Hub.LockHoles.Diameter = 0 }, "hub.lock_holes.depth", "need a diameter and a depth"},
		{func(j *Job) { j.Hub.LockHoles.Position, j.Hub.LockHoles.Depth = 15, 3 }, "hub.lock_holes.depth", "within a retention groove"},
		// Stack and registers.
		{func(j *Job) { j.Hub.Offset = -4 }, "hub.flange_thickness", "stands 4 mm out of the tread, and its flange with it"},
		{func(j *Job) { j.Mold.RegisterBack.Opening = "seat" }, "mold.register_back.opening", "no such opening"},
		{func(j *Job) { j.Mold.RegisterBack.Engagement = 13 }, "mold.register_back.engagement", "does not end within its opening"},
		{func(j *Job) { j.Mold.RegisterFront.Opening = "bearing" }, "mold.register_front.engagement", "does not end within its opening"},
		{func(j *Job) { j.Mold.RegisterBack.Clearance = -0.2 }, "mold.register_back.clearance", "cannot be pressed"},
		{func(j *Job) { j.Mold.RegisterBack.LeadIn = 7 }, "mold.register_back.lead_in", "chamfer"},
		// Mold.
		{func(j *Job) { j.Mold.Size = 130 }, "mold.size", "does not hold the cavity"},
		{func(j *Job) { j.Mold.LidThickness, j.Pour.Fill = 7, 7 }, "mold.lid_thickness", "the bolt heads leave no wall"},
		{func(j *Job) { j.Mold.BaseThickness = 7 }, "mold.base_thickness", "the nuts leave no wall"},
		{func(j *Job) { j.Mold.Balls.Diameter = 6.5 }, "mold.balls.diameter", "no such ball"},
		{func(j *Job) { j.Mold.SideClamp.Size = "none" }, "mold.side_clamp.size", "need a size"},
		{func(j *Job) { j.Mold.SideClamp = SideClamp{Kind: "strap", Size: "none", StrapWidth: 59, StrapDepth: 2} }, "mold.side_clamp.strap_width", "rim"},
		{func(j *Job) { j.Mold.PrySlots.Depth = 0 }, "mold.pry_slots.depth", "needs width, depth and height"},
		// Shop.
		{func(j *Job) { j.Machining.Cutters[5].CornerRadius = 5.1 }, "machining.cutter[6].corner_radius", "a ball end is half"},
		// Pour.
		{func(j *Job) { j.Mold.Sprue.Circle = 96 }, "mold.sprue.circle", "the gate would open over the hub"},
		{func(j *Job) { j.Mold.Sprue.Circle = 109 }, "mold.sprue.circle", "the gate would open outside the tread's top face"},
		{func(j *Job) { j.Mold.Vents.Circle = 91 }, "mold.vents.circle", "the vents would open over the hub"},
		{func(j *Job) { j.Mold.Vents.Circle = 114 }, "mold.vents.circle", "the vents would open outside"},
		{func(j *Job) { j.Mold.Vents.Count = 64 }, "mold.vents.count", "opens into another vent or mouth"},
		{func(j *Job) {
			j.Mold.Vents.Count, j.Mold.Sprue.Count, j.Mold.Sprue.Mouth = 0, 2, 79.9
			j.Mold.Sprue.Circle = 103
			j.Mold.Sprue.Count = 8
		}, "mold.sprue.mouth", "another vent or mouth"},
	} {
		j := busy(t)
		c.change(j)
		faults := j.Validate()
		if len(faults) != 1 || faults[0].Path != c.path || !strings.Contains(faults[0].Error(), c.why) {
			t.Errorf("want one fault of %s with %q, got:\n%v", c.path, c.why, faults)
		}
	}
}

// Rules that need another wheel, or that rightly come with others.
func TestValidateOtherWheels(t *testing.T) {
	for _, c := range []struct {
		d, w, bore float64
		change     func(*Job)
		path, why  string
	}{
		{90, 40, 12, func(j *Job) { j.Hub.Bore = 53.5 }, "hub.bore", "a wall below 1.5 mm"},
		{90, 40, 12, func(j *Job) { j.Hub.Bore = 52.5 }, "hub.bore", "to seal off the rubber"},
		{90, 40, 12, func(j *Job) { j.Hub.BearingFront = Pocket{54, 5}; j.Hub.Grooves = nil }, "hub.bearing_front.diameter", "breaks through the hub's outside"},
		{90, 40, 12, func(j *Job) { j.Hub.BearingFront = Pocket{30, 5}; j.Hub.Seat = Seat{"front", 28, 2} }, "hub.bearing_front.diameter", "wider than the seat"},
		{90, 40, 12, func(j *Job) { j.Hub.Seat = Seat{"front", 10, 2} }, "hub.seat.diameter", "not wider than the bore"},
		{60, 20, 6, func(j *Job) { j.Hub.Fit = "N7" }, "hub.fit", "no limits are known for N7 on 6 mm"},
		{90, 40, 12, func(j *Job) { j.Hub.BearingFront = Pocket{50, 5}; j.Hub.Grooves = []Groove{{"rectangular", 36, 4, 2}} }, "hub.groove[1].depth", "a wall of 0.9 mm to the bearing pocket in the front face"},
		{90, 40, 12, func(j *Job) { j.Hub.Bolts = BoltCircle{4, 52, 3} }, "hub.bolts.circle", "a wall of 0.4 mm to the hub's outside"},
		{90, 40, 12, func(j *Job) { j.Hub.Bolts = BoltCircle{4, 49, 3.5} }, "hub.bolts.circle", "leaves 1.65 mm of the back face to seal off"},
		{90, 40, 12, func(j *Job) { j.Hub.LockHoles = LockHoles{4, 4, 21, 10} }, "hub.lock_holes.depth", "a wall of 0.9 mm to the bore"},
		{90, 40, 12, func(j *Job) { j.Hub.Seat, j.Hub.LockHoles = Seat{"front", 44, 8}, LockHoles{4, 4, 6, 34} }, "hub.lock_holes.depth", "opens into the sprocket's seat"},
		{90, 40, 12, func(j *Job) { j.Hub.BearingBack, j.Hub.LockHoles = Pocket{44, 12}, LockHoles{4, 4, 6, 10} }, "hub.lock_holes.depth", "opens into the bearing pocket in the back face"},
		{90, 40, 12, func(j *Job) { j.Hub.Grooves[0].Depth = 20.8 }, "hub.groove[1].depth", "a wall of 1.1 mm to the bore"},
		{90, 40, 12, func(j *Job) { j.Hub.Offset = -15 }, "mold.base_thickness", "stands 15.06 mm out of the tread into the base"},
		{90, 40, 12, func(j *Job) { j.Hub.Offset = 15 }, "mold.lid_thickness", "stands 14.94 mm out of the tread into the lid"},
		{90, 40, 12, func(j *Job) { j.Hub.Offset, j.Hub.Grooves = -5, []Groove{{"rectangular", 5, 2, 2}} }, "hub.groove[1].position", "over the edge"},
		{90, 40, 12, func(j *Job) { j.Hub.Offset, j.Hub.LockHoles = -5, LockHoles{4, 4, 4, 7} }, "hub.lock_holes.position", "outside the tread"},
		{90, 40, 12, func(j *Job) { j.Hub.Offset, j.Hub.Length = -39, 30 }, "hub.offset", "beside the tread"},
		{90, 40, 12, func(j *Job) { j.Mold.RegisterBack.Engagement, j.Mold.RegisterFront.Engagement = 20, 19 }, "mold.register_front.engagement", "meet in the bore"},
		{90, 40, 12, func(j *Job) {
			j.Mold.Ceiling = Ceiling{"coned", 15}
			j.Mold.LidThickness, j.Pour.Fill = 5.6, 5.6
			j.Mold.Bolts.Head = "none"
		}, "mold.lid_thickness", "the coned ceiling"},
		{90, 10, 12, func(j *Job) { j.Mold.Balls.Diameter = 9 }, "mold.balls.diameter", "meet in the shells"},
		{90, 10, 12, func(j *Job) { j.Mold.SideClamp = SideClamp{Kind: "lugs", Size: "M6", Grip: 10} }, "mold.side_clamp.size", "do not fit the shells' height"},
		{90, 40, 12, func(j *Job) { j.Hub.BodyDiameter, j.Hub.FlangeDiameter = 82, 82 }, "hub.body_diameter", "rubber at the tread's faces"},
	} {
		j, err := Default(c.d, c.w, c.bore, "milled")
		if err != nil {
			t.Fatal(err)
		}
		c.change(j)
		found := false
		faults := j.Validate()
		for _, f := range faults {
			found = found || f.Path == c.path && strings.Contains(f.Error(), c.why)
		}
		if !found {
			t.Errorf("want a fault of %s with %q, got:\n%v", c.path, c.why, faults)
		}
	}
}

// Times that do not go together, and what the mold cannot be held with.
func TestValidatePouringAndSealing(t *testing.T) {
	for _, c := range []struct {
		change    func(*Job)
		path, why string
	}{
		{func(j *Job) { j.Pour.GelTime = 1200 }, "pour.gel_time", "allowed more than 20 min: gels within its pot life"},
		{func(j *Job) { j.Pour.Start = 2400 }, "pour.start", "allowed less than 40 min: the urethane has gelled before the pour starts"},
		{func(j *Job) { j.Pour.Duration = 1920 }, "pour.duration", "allowed less than 32 min: the urethane gels before the mold is full"},
		{func(j *Job) { j.Pour.Start = 479 }, "pour.start", "allowed at least 8 min: it is stirred for 4 min and stands for 4 min before"},
		{func(j *Job) { j.Pour.Settle = 300 }, "pour.start", "allowed at least 9 min"},
		{func(j *Job) { j.Pour.Demold = 2400 }, "pour.demold", "allowed more than 40 min: has not gelled by then"},
		{func(j *Job) { j.Pour.Cure = 86399 }, "pour.cure", "allowed at least 24 h: ends before it is demolded"},
		{func(j *Job) { j.Pour.Blend.With = 9 }, "pour.blend.with", "allowed 0 for none, or 10 to 95: too soft"},
		{func(j *Job) { j.Pour.Blend.With, j.Pour.Blend.Wanted = 60, 60 }, "pour.blend.with", "same hardness"},
		{func(j *Job) { j.Pour.Blend.With, j.Pour.Blend.Wanted = 80, 59 }, "pour.blend.wanted", "allowed 60 to 80: "},
		{func(j *Job) { j.Pour.Blend.With, j.Pour.Blend.Wanted = 40, 61 }, "pour.blend.wanted", "allowed 40 to 60: "},
		{func(j *Job) { j.Pour.Hardness = 96 }, "pour.hardness", "allowed 10 to 95: too large"},
		{func(j *Job) { j.Pour.Pigment = 0.21 }, "pour.pigment", "allowed 0 % to 20 %: too large"},
		{func(j *Job) { j.Pour.Margin = 1.1 }, "pour.margin", "too large"},
		{func(j *Job) { j.Pour.Bucket.HeadRoom = 0.81 }, "pour.bucket.head_room", "too large"},
		{func(j *Job) { j.Pour.Bucket.Vessels = 0 }, "pour.bucket.vessels", "allowed 1 to 3: too small"},
		{func(j *Job) { j.Pour.Bucket.Paddle = j.Pour.Bucket.Diameter + 1 }, "pour.bucket.paddle", "too large"},
		{func(j *Job) { j.Pour.Bucket.Residue = 51 }, "pour.bucket.residue", "too large"},
		{func(j *Job) { j.Pour.Scale.Resolution = 0 }, "pour.scale.resolution", "allowed 0.001 g to 100 g: too small"},
		{func(j *Job) { j.Pour.GelTemperature = 2.9 }, "pour.gel_temperature", "allowed 3 C to 150 C: too small"},
		{func(j *Job) { j.Pour.Expansion = 0.2 }, "pour.expansion", "allowed 50 ppm/K to 500 ppm/K: too large"},
		{func(j *Job) { j.Pour.PotPressure = 701e3 }, "pour.pot_pressure", "allowed 100 kPa to 700 kPa: too large"},
		{func(j *Job) { j.Pour.Degas = "boil" }, "pour.degas", "unknown word"},
		{func(j *Job) { j.Pour.RatioBy = "mass" }, "pour.ratio_by", `allowed "weight", "volume": unknown word`},
		{func(j *Job) { j.Pour.Kit.Price = -1 }, "pour.kit.price", "negative"},
		{func(j *Job) { j.Hub.Density = 9.1 }, "hub.density", "too large"},
		{func(j *Job) { j.Process.Density = 0 }, "process.density", "too small"},
		{func(j *Job) { j.Pour.Growth = 1 }, "pour.growth", "allowed 2 to 30: too small"},
		{func(j *Job) { j.Pour.Fill = j.Mold.LidThickness + 0.1 }, "pour.fill", "too large"},
		{func(j *Job) { j.Pour.MoldTemperature = 4 }, "pour.mold_temperature", "allowed 5 C to 60 C: too small"},
		{func(j *Job) { j.Mold.Seals.Hub = "tape" }, "mold.seals.hub", "unknown word"}, // nobody reaches it
		{func(j *Job) { j.Mold.Seals.Sides = "glue" }, "mold.seals.sides", "unknown word"},
		{func(j *Job) { j.Mold.Seals.BeadHeight = 0 }, "mold.seals.bead_height", "too small"},
		{func(j *Job) { j.Mold.Seals.BeadHeight = 0.31 }, "mold.seals.bead_height", "too large"},
		{func(j *Job) { j.Mold.Bolts.Torque = -1 }, "mold.bolts.torque", "negative"},
		{func(j *Job) { j.Process.Modulus = 400e9 * 1001 }, "process.modulus", "absurdly large"},
		{func(j *Job) { j.Process.Modulus = 401e9 }, "process.modulus", "allowed 100 MPa to 400 GPa: too large"},
		{func(j *Job) { j.Process.Flatness = math.NaN() }, "process.flatness", "not a finite number"},
	} {
		j := busy(t)
		c.change(j)
		if f := j.Validate(); len(f) != 1 || f[0].Path != c.path || !strings.Contains(f.Error(), c.why) {
			t.Errorf("want one fault of %s with %q, got:\n%v", c.path, c.why, f)
		}
	}
	j := busy(t)
	j.Pour.GelTime, j.Pour.Duration = 1201, 720 // full one second before it gels
	j.Pour.Blend.With, j.Pour.Blend.Wanted = 80, 80
	j.Pour.Demold, j.Pour.Cure = 3600, 3600
	if f := j.Validate(); f != nil {
		t.Error(f)
	}
}

// Bolt hole i lies half a pitch from lock hole i: with as many of both, deep
// lock holes pass between the bolts; with twice as many, every other one meets a bolt.
func TestLockHolesBetweenBolts(t *testing.T) {
	j, err := Default(90, 40, 12, "")
	if err != nil {
		t.Fatal(err)
	}
	j.Hub.Bolts, j.Hub.LockHoles = BoltCircle{4, 30, 4}, LockHoles{4, 4, 14, 10}
	if f := j.Validate(); f != nil {
		t.Errorf("between the bolts: %v", f)
	}
	j.Hub.LockHoles.Count = 8
	if f := j.Validate(); len(f) != 1 || !strings.Contains(f.Error(), "opens into a bolt hole") {
		t.Errorf("through the bolts: %v", f)
	}
}

// All faults at once: three independent mistakes are three faults.
func TestValidateReportsAll(t *testing.T) {
	j := busy(t)
	j.Mold.Land, j.Wheel.Grooves[0].Position, j.Mold.Vents.Circle = -1, 4, 91
	if f := j.Validate(); len(f) != 3 {
		t.Errorf("want three faults, got:\n%v", f)
	}
}

// A job made of nothing is refused value by value, without panic.
func TestValidateZeroJob(t *testing.T) {
	f := new(Job).Validate()
	for _, path := range []string{"wheel.diameter", "wheel.width", "hub.bore", "wheel.edge", "process.name"} {
		if !f.names(path) {
			t.Errorf("no fault of %s in:\n%v", path, f)
		}
	}
}

// The wall between parts, against distances worked out by hand.
func TestPartGap(t *testing.T) {
	box := func(r0, r1, z0, z1 float64) part { return part{r0: r0, r1: r1, z0: z0, z1: z1} }
	disc := part{round: true, r0: 8, r1: 12, z0: 3, z1: 7} // center (10, 5), radius 2
	for _, c := range []struct {
		a, b part
		want float64
	}{
		{box(0, 1, 0, 1), box(3, 4, 0, 1), 2},
		{box(0, 1, 0, 1), box(4, 5, 5, 6), 5},
		{box(0, 2, 0, 2), box(1, 3, 1, 3), -1},
		{disc, box(0, 5, 0, 10), 3},
		{box(0, 7, 0, 1), disc, 3}, // 3-4-5 triangle to the corner, less the radius
		{disc, box(0, 11, 0, 10), -3},
	} {
		if got := c.a.gap(c.b); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v to %+v: %v, want %v", c.a, c.b, got, c.want)
		}
	}
}

// Gates and vents share the circle in equal steps, and never a step.
func TestPourAngles(t *testing.T) {
	j := &Job{Mold: Mold{Sprue: Sprue{Count: 2, Angle: 90}, Vents: Vents{Count: 4}}}
	gates, vents := j.GateAngles(), j.VentAngles()
	if len(gates) != 2 || gates[0] != 90 || gates[1] != 270 {
		t.Errorf("gates at %v", gates)
	}
	if len(vents) != 4 || vents[0] != 150 || vents[1] != 210 || vents[2] != 330 || vents[3] != 390 {
		t.Errorf("vents at %v", vents)
	}
	if new(Job).GateAngles() != nil {
		t.Error("gates of an empty job")
	}
}
