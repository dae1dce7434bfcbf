package castlog

import (
	"fmt"
	"math"
	"slices"
	"time"

	"wheelmold/params"
)

// Measure is a number that may be missing; its zero value is missing.
type Measure struct {
	Value float64
	Known bool
}

// Of is a measure that is known.
func Of(v float64) Measure { return Measure{v, true} }

// Or is the measure's value, or another where it is missing.
func (m Measure) Or(v float64) float64 {
	if m.Known {
		return m.Value
	}
	return v
}

// The kinds of record, as the key kind says them.
const (
	Cast        = "cast"        // a wheel was cast
	Calibration = "calibration" // ratios were accepted
)

// Results are how a cast can have ended, as the key result says them.
func Results() []string { return []string{"good", "usable", "failed"} }

// Record is one line of the log.
type Record struct {
	Kind string // Cast or Calibration
	Date string // year-month-day, as 2026-05-01
	Line int    // of the file that it was read from; not written

	MassA, MassB Measure // g, of the components as weighed
	Mixed        Measure // g, in the bucket
	Residue      Measure // g that cling to bucket and paddle, all poured out that runs
	Spare        Measure // g of mix that was left over and poured elsewhere
	Poured       Measure // g
	Wheel        Measure // g, the finished wheel with its hub
	Hub          Measure // g, before the cast
	Room, Mold   Measure // °C
	Demold       Measure // h from pour to opening
	Diameter     Measure // mm, of the cured tread where the cavity's diameter is stated
	Hardness     Measure // Shore A
	Flash        Measure // mm, thickness of the flash at its root
	FlashMass    Measure // g
	Process      string  // how the mold was made, as the job's process.name
	Voids        string  // a count, or words
	Result       string  // one of Results, or empty
	Notes        string

	// What was predicted when the cast was logged, with the ratios then in force.
	ExpectedMixed, ExpectedRubber Measure // g in the bucket, g of cured rubber on the wheel
	ExpectedHardness              Measure // Shore A
	ExpectedResidue               Measure // g
	ExpectedFlash                 Measure // g, the median
	ExpectedGap                   Measure // µm, of the line that Flash was measured at
	FlashPower                    Measure // of the gap, that the mass of flash goes with in that mold
	ExpectedLine                  string  // that line
	ExpectedCured                 Measure // mm, diameter of the cured tread
	Cavity                        Measure // mm, diameter
	// For who reads the file, or reckons shrinkage anew: nothing is learned from these.
	Core           Measure // mm, diameter of what stays rigid
	ExpectedStrain Measure // %, linear, reaction and cooling together

	// Ratios in force at a cast, or those accepted by a calibration.
	GapRatio, ResidueRatio, ShrinkageRatio Measure

	From  string   // the casts that a calibration rests on
	Extra []string // key=value of keys that this program does not know, as read
}

// Rubber is the mass in g of the rubber on the wheel, if wheel and hub were weighed.
func (r *Record) Rubber() Measure {
	return Measure{r.Wheel.Value - r.Hub.Value, r.Wheel.Known && r.Hub.Known}
}

// field is a number of a record.
type field struct {
	key    string
	lo, hi float64
	at     func(*Record) *Measure
}

// most is beyond any mass in g, length in mm or time in h of a wheel.
const most = 1e6

// numbers are in the order of the line. The ranges refuse slips of the hand that no
// wheel can explain, not unusual casts.
var numbers = []field{
	{"a_g", 0, most, func(r *Record) *Measure { return &r.MassA }},
	{"b_g", 0, most, func(r *Record) *Measure { return &r.MassB }},
	{"mixed_g", 0, most, func(r *Record) *Measure { return &r.Mixed }},
	{"residue_g", 0, most, func(r *Record) *Measure { return &r.Residue }},
	{"spare_g", 0, most, func(r *Record) *Measure { return &r.Spare }},
	{"poured_g", 0, most, func(r *Record) *Measure { return &r.Poured }},
	{"wheel_g", 0, most, func(r *Record) *Measure { return &r.Wheel }},
	{"hub_g", 0, most, func(r *Record) *Measure { return &r.Hub }},
	{"room_c", -50, 100, func(r *Record) *Measure { return &r.Room }},
	{"mold_c", -50, 300, func(r *Record) *Measure { return &r.Mold }},
	{"demold_h", 0, most, func(r *Record) *Measure { return &r.Demold }},
	{"diameter_mm", 0, most, func(r *Record) *Measure { return &r.Diameter }},
	{"hardness_shore_a", 0, 100, func(r *Record) *Measure { return &r.Hardness }},
	{"flash_mm", 0, 100, func(r *Record) *Measure { return &r.Flash }},
	{"flash_g", 0, most, func(r *Record) *Measure { return &r.FlashMass }},
	{"expected_mixed_g", 0, most, func(r *Record) *Measure { return &r.ExpectedMixed }},
	{"expected_rubber_g", 0, most, func(r *Record) *Measure { return &r.ExpectedRubber }},
	{"expected_shore_a", 0, 100, func(r *Record) *Measure { return &r.ExpectedHardness }},
	{"expected_residue_g", 0, most, func(r *Record) *Measure { return &r.ExpectedResidue }},
	{"expected_flash_g", 0, most, func(r *Record) *Measure { return &r.ExpectedFlash }},
	{"expected_flash_power", 0.5, 5, func(r *Record) *Measure { return &r.FlashPower }},
	{"expected_gap_um", 0, most, func(r *Record) *Measure { return &r.ExpectedGap }},
	{"expected_cured_mm", 0, most, func(r *Record) *Measure { return &r.ExpectedCured }},
	{"cavity_mm", 0, most, func(r *Record) *Measure { return &r.Cavity }},
	{"core_mm", 0, most, func(r *Record) *Measure { return &r.Core }},
	{"expected_strain_percent", -100, 100, func(r *Record) *Measure { return &r.ExpectedStrain }},
	ratio("gap_ratio", "calibration.gap", func(r *Record) *Measure { return &r.GapRatio }),
	ratio("residue_ratio", "calibration.residue", func(r *Record) *Measure { return &r.ResidueRatio }),
	ratio("shrinkage_ratio", "calibration.shrinkage", func(r *Record) *Measure { return &r.ShrinkageRatio }),
}

// ratio is a field with the range of the job's key.
func ratio(key, path string, at func(*Record) *Measure) field {
	lo, hi := allowed(path)
	return field{key, lo, hi, at}
}

// allowed is the range of a key of the job that does not depend on the job.
func allowed(path string) (lo, hi float64) {
	for _, k := range params.Keys() {
		if k.Path == path {
			return k.Range(&params.Job{})
		}
	}
	panic("castlog: no key " + path)
}

// text is a string of a record.
type text struct {
	key string
	at  func(*Record) *string
}

// heads begin a line, tails end it, so that eyes find the date first and the notes last.
var (
	heads = []text{
		{"date", func(r *Record) *string { return &r.Date }},
		{"kind", func(r *Record) *string { return &r.Kind }},
		{"result", func(r *Record) *string { return &r.Result }},
	}
	tails = []text{
		{"from", func(r *Record) *string { return &r.From }},
		{"process", func(r *Record) *string { return &r.Process }},
		{"expected_gap_at", func(r *Record) *string { return &r.ExpectedLine }},
		{"voids", func(r *Record) *string { return &r.Voids }},
		{"notes", func(r *Record) *string { return &r.Notes }},
	}
)

// Check says what is wrong with a record, or nil.
func (r *Record) Check() error {
	if r.Kind != Cast && r.Kind != Calibration {
		return fmt.Errorf("kind is %q, not %q or %q", r.Kind, Cast, Calibration)
	}
	if _, err := time.Parse(time.DateOnly, r.Date); err != nil {
		return fmt.Errorf("date is %q, not a day such as 2026-05-01", r.Date)
	}
	if r.Result != "" && !slices.Contains(Results(), r.Result) {
		return fmt.Errorf("result is %q, not good, usable or failed", r.Result)
	}
	for _, f := range numbers {
		m := f.at(r)
		if m.Known && (math.IsNaN(m.Value) || m.Value < f.lo || m.Value > f.hi) {
			return fmt.Errorf("%s is %g, not within %g to %g", f.key, m.Value, f.lo, f.hi)
		}
	}
	return nil
}
