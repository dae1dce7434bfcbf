package castlog

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"wheelmold/mold/portable"
	"wheelmold/params"
)

const (
	// Confidence is the share of lessons whose interval should hold the true ratio.
	Confidence = 0.9

	// CaliperError is what a caliper is off on rubber, mm, as one standard deviation;
	// assumed.
	CaliperError = 0.05

	// FlashError is what a micrometer or caliper is off on a flake of flash, mm, and
	// CavityError by how much the cavity is other than the job says, the same in all casts
	// of a mold; as one standard deviation, assumed.
	FlashError  = 0.02
	CavityError = 0.05

	// Spreads of single casts of one builder about his own mean, as standard deviations
	// of the logarithm of measured to predicted; assumed, and on the wide side. A gap
	// told by mass is less sure, since pressure and gelling vary as well.
	gapSpread       = 0.35
	gapByMassSpread = 0.5
	residueSpread   = 0.25
	shrinkSpread    = 0.3

	// spreadWorth is how many casts the assumed spread counts for beside the observed
	// one. Two: one cast alone then has an interval of 2.9 spreads to each side, and
	// four casts outweigh the assumption.
	spreadWorth = 2

	// massPower is the power of the gap that the mass of flash goes with where the log does
	// not tell the mold's own: less than 2 of it inside the land (depth and thickness go with
	// the gap, but for what holds it back and gels), up to 3 for what runs through it (flow
	// in a slit). The error of the logarithm is half at most.
	massPower = 2

	// outlying casts are further from the median than this many spreads.
	outlying = 3
)

// Lesson is what casts say of the predictions.
type Lesson struct {
	Gap, Residue, Shrinkage Finding
}

// Findings lists the lesson in the order of the job's keys.
func (l *Lesson) Findings() []*Finding { return []*Finding{&l.Gap, &l.Residue, &l.Shrinkage} }

// Sure reports whether the interval leaves 1 out: whether the casts say more than that the
// prediction may be right.
func (f *Finding) Sure() bool { return f.N > 0 && (f.Low > 1 || f.High < 1) }

// Finding is one ratio of measured to predicted, where predicted is without any
// calibration: what the job's key should be set to.
type Finding struct {
	Key       string // of the job
	Ratio     float64
	Low, High float64 // the interval of Confidence of the ratio; 0 without casts
	N         int     // casts that it rests on; without any, Ratio is 1 and says nothing
	Median    float64 // of the casts' ratios, which a single odd cast hardly moves; 1 without casts
	Method    string
	Notes     []string // casts left out or odd, and why; limits of the range
	Beyond    bool     // the casts say a ratio beyond the key's range: it has another cause
}

// single is what one cast says.
type single struct {
	cast   *Record
	log    float64 // of measured to predicted
	spread float64 // standard deviation of log about the builder's mean, assumed
	read   float64 // that of reading the instrument
	shared float64 // that part of it which is the same in all casts of a mold
}

// weight is how much a cast counts beside one of the assumed spread.
func (s *single) weight(assumed float64) float64 { return assumed * assumed / (s.spread * s.spread) }

// Learn compares casts with what was predicted for them. A cast that lacks a measure or
// a prediction says nothing of that quantity. Failed casts count for residue only: a
// mold that was left unclamped, or a mix that did not cure, says nothing of gap and
// shrinkage.
func Learn(l *Log) *Lesson {
	out := &Lesson{
		Gap:       Finding{Key: "calibration.gap"},
		Residue:   Finding{Key: "calibration.residue"},
		Shrinkage: Finding{Key: "calibration.shrinkage"},
	}
	casts := l.Casts()
	out.Gap.conclude(out.Gap.collect(casts, gapOf), gapSpread)
	out.Residue.conclude(out.Residue.collect(casts, residueOf), residueSpread)
	out.Shrinkage.conclude(out.Shrinkage.collect(casts, shrinkageOf), shrinkSpread)
	return out
}

// collect asks every cast, and notes why one that was measured cannot count.
func (f *Finding) collect(casts []Record, of func(*Record) (s single, note string)) []single {
	var out []single
	for i := range casts {
		r := &casts[i]
		s, note := of(r)
		if note != "" {
			f.Notes = append(f.Notes, fmt.Sprintf("cast of %s (line %d): %s", r.Date, r.Line, note))
		}
		if s.spread > 0 && !math.IsInf(s.log, 0) {
			s.cast = r
			out = append(out, s)
		}
	}
	return out
}

const failedNote = "left out, since it failed"

// gapOf prefers the thickness of the flash, which is the gap, to its mass. What a thin
// flake's thickness is off by widens the spread, by its share of what is measured.
func gapOf(r *Record) (s single, note string) {
	byThickness := r.Flash.Known && r.ExpectedGap.Value > 0
	byMass := r.FlashMass.Known && r.ExpectedFlash.Value > 0
	inForce := r.GapRatio.Or(1)
	switch {
	case !byThickness && !byMass:
		return s, ""
	case r.Result == "failed":
		return s, failedNote
	case byThickness && r.Flash.Value > 0:
		thick := r.Flash.Value
		if thick < FlashError {
			note = fmt.Sprintf("the flash is thinner than can be measured: counted as %g mm", FlashError)
			thick = FlashError
		}
		return single{log: portable.Log(thick * 1000 / r.ExpectedGap.Value * inForce), spread: gapSpread, read: FlashError / thick}, note
	case byMass && r.FlashMass.Value > 0:
		power := r.FlashPower.Or(massPower)
		return single{log: portable.Log(r.FlashMass.Value/r.ExpectedFlash.Value)/power + portable.Log(inForce), spread: gapByMassSpread},
			fmt.Sprintf("gap from the mass of the flash, which goes with the gap's power %.2g as estimated for this mold; its thickness would say more", power)
	}
	return s, "left out, since no flash has no ratio; the others then say too much rather than too little"
}

// residueOf takes what clings as weighed, or else as what was neither poured nor spare.
func residueOf(r *Record) (s single, note string) {
	left := r.Residue
	if !left.Known && r.Mixed.Known && r.Poured.Known && r.Spare.Known {
		left, note = Of(r.Mixed.Value-r.Poured.Value-r.Spare.Value), "residue as mixed less poured less spare"
	}
	switch {
	case !left.Known && r.Mixed.Known && r.Poured.Known:
		return s, "left out: without its spare, mixed less poured holds the margin, too"
	case !left.Known || r.ExpectedResidue.Value <= 0:
		return s, ""
	case left.Value <= 0:
		return s, "left out, since nothing left has no ratio"
	}
	return single{log: portable.Log(left.Value / r.ExpectedResidue.Value * r.ResidueRatio.Or(1)), spread: residueSpread}, note
}

// shrinkageOf compares how far the tread is below its cavity, both as diameters. The
// caliper's error widens the spread: to first order, by its share of what is measured.
// So does the cavity's, but more casts of one mold do not average it out.
func shrinkageOf(r *Record) (s single, note string) {
	if !r.Diameter.Known || !r.Cavity.Known || !r.ExpectedCured.Known {
		return s, ""
	}
	expected, measured := r.Cavity.Value-r.ExpectedCured.Value, r.Cavity.Value-r.Diameter.Value
	inForce := r.ShrinkageRatio.Or(1)
	switch {
	case r.Result == "failed":
		return s, failedNote
	case expected/inForce < 3*CaliperError: // as predicted without: a ratio must not bar what corrects it
		return s, fmt.Sprintf("left out, since the shrinkage predicted, %.2f mm, is less than three times the caliper's error of %g mm", expected/inForce, CaliperError)
	case measured < CaliperError:
		note = fmt.Sprintf("the tread is less than the caliper's error below the cavity: counted as %g mm", CaliperError)
		measured = CaliperError
	}
	return single{log: portable.Log(measured / expected * inForce), spread: shrinkSpread, read: CaliperError / measured, shared: CavityError / measured}, note
}

// conclude turns single casts into a ratio and its interval.
//
// The logarithms are taken as normal about a mean of which nothing is known beforehand,
// with a variance of which something is: it counts as spreadWorth observations of the
// assumed one (normal model with scaled inverse chi-square prior of the variance; Gelman
// et al., Bayesian Data Analysis, 3rd ed., chapter 3, from memory). The mean then has
// Student's t distribution with spreadWorth + n − 1 degrees of freedom. From three casts
// on, the interval is no narrower than the casts alone make it (Student 1908), so that
// casts which vary more than assumed are not overruled.
func (f *Finding) conclude(all []single, assumed float64) {
	f.N, f.Ratio, f.Median = len(all), 1, 1
	f.Method = "no cast has both the measure and its prediction"
	if f.N == 0 {
		if len(f.Notes) > 0 {
			f.Method = "no cast can count"
		}
		return
	}
	var weight, sum float64
	logs, reads, shares := make([]float64, f.N), make([]float64, f.N), make([]float64, f.N)
	for i, s := range all {
		w := s.weight(assumed)
		weight, sum = weight+w, sum+w*s.log
		logs[i], reads[i], shares[i] = s.log, s.read, s.shared
	}
	mean, shared := sum/weight, medianOf(shares)
	// Casts are not weighed by what they read: that would favor those that happen to read
	// much. What reading adds is that of the middle one.
	spread := math.Hypot(assumed, medianOf(reads))
	var squares float64
	for _, s := range all {
		squares += s.weight(assumed) * (s.log - mean) * (s.log - mean)
	}
	half := halfWidth(spreadWorth*spread*spread+squares, spreadWorth+f.N-1, weight)
	if f.N >= 3 {
		half = max(half, halfWidth(squares, f.N-1, weight))
	}
	// Independent errors add as squares; this one is as sure at four casts as at one.
	half = math.Hypot(half, settled(distuv.UnitNormal.Quantile((1+Confidence)/2))*shared)
	median := medianOf(logs)
	f.Ratio, f.Low, f.High, f.Median = portable.Exp(mean), portable.Exp(mean-half), portable.Exp(mean+half), portable.Exp(median)
	f.Method = method(f.N, assumed, shared)
	f.odd(all, median)
	f.judge()
}

// halfWidth is half of the interval of a mean, by the sum of squares and its degrees of
// freedom.
func halfWidth(squares float64, free int, weight float64) float64 {
	t := distuv.StudentsT{Sigma: 1, Nu: float64(free)}.Quantile((1 + Confidence) / 2)
	return settled(t) * math.Sqrt(squares/float64(free)/weight)
}

// settled drops the last digits of a quantile, which are not the same on every machine
// (see mold/portable).
func settled(quantile float64) float64 { return params.Significant(quantile, 10) }

func medianOf(v []float64) float64 {
	v = slices.Sorted(slices.Values(v))
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}

func method(n int, assumed, shared float64) string {
	casts := "casts"
	if n == 1 {
		casts = "cast"
	}
	s := fmt.Sprintf("geometric mean of measured to predicted, %d %s; %.0f %% interval by Student's t on the logarithms, with a spread of single casts assumed as a factor of %.2f that counts as %d casts",
		n, casts, 100*Confidence, portable.Exp(assumed), spreadWorth)
	if shared > 0 {
		s += fmt.Sprintf(", wider by a cavity that is off by %g mm, the same in all casts", CavityError)
	}
	if n >= 3 {
		return s + ", no narrower than the casts alone make it"
	}
	return s + ", which fewer than three casts cannot refute"
}

// odd notes casts far from the median of three or more; they stay in.
func (f *Finding) odd(all []single, median float64) {
	if f.N < 3 {
		return
	}
	for _, s := range all {
		if math.Abs(s.log-median) > outlying*s.spread {
			f.Notes = append(f.Notes, fmt.Sprintf("cast of %s (line %d) says %.2f where the median says %.2f: it counts in the mean of %.2f; check what was written down",
				s.cast.Date, s.cast.Line, portable.Exp(s.log), f.Median, f.Ratio))
		}
	}
}

// judge tells of a ratio that the job's key may not have.
func (f *Finding) judge() {
	lo, hi := allowed(f.Key)
	if f.Beyond = f.Ratio < lo || f.Ratio > hi; f.Beyond {
		f.Notes = append(f.Notes, fmt.Sprintf("the casts say %.3g, beyond the range of %s, %g to %g: a prediction that far off has another cause", f.Ratio, f.Key, lo, hi))
	}
}
