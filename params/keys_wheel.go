package params

import (
	"fmt"
	"math"
)

func treadGrooves(j *Job) *[]Groove { return &j.Wheel.Grooves }

func diameterShare(f float64) bound { return func(j *Job) float64 { return f * j.Wheel.Diameter } }
func widthShare(f float64) bound    { return func(j *Job) float64 { return f * j.Wheel.Width } }

// mostCross is how many grooves across a tread there may be, and mostBlocks how many
// blocks they and those around it may leave: more take a check minutes.
const mostCross, mostBlocks = 200, 600

// tooManyBlocks says so where it is the grooves around the tread that forbid more across.
func tooManyBlocks(j *Job) string {
	if n := len(j.Wheel.Grooves); mostCross*(1+n) > mostBlocks {
		return fmt.Sprintf("with %d grooves around it the tread would be cut into more than %d blocks, which takes too long to reckon", n, mostBlocks)
	}
	return ""
}

// grooveShapes are the words for Groove.Shape.
var grooveShapes = []string{"rectangular", "half-round"}

var wheelKeys = []Key{
	{Path: "wheel.diameter", Kind: Length, sample: "90 mm", lo: fixed(15), hi: fixed(500),
		slot: in(func(j *Job) *float64 { return &j.Wheel.Diameter }, nil),
		Doc:  "Diameter of the finished tread in the middle of its width."},
	{Path: "wheel.width", Kind: Length, sample: "40 mm", lo: fixed(4), hi: diameterShare(1.2),
		slot: in(func(j *Job) *float64 { return &j.Wheel.Width }, nil), usual: diameterShare(0.4),
		Doc: "Width of the tread along the axis."},
	{Path: "wheel.edge", Kind: Word, Options: []string{"round", "chamfer", "square"},
		slot: in(func(j *Job) *string { return &j.Wheel.Edge }, always("round")),
		Doc:  "Shape of both outer edges of the tread.",
		From: "a round tears least"},
	{Path: "wheel.edge_size", Kind: Length, hi: func(j *Job) float64 {
		if j.Wheel.Edge == "square" {
			return 0
		}
		return min(0.49*j.Wheel.Width, 0.2*j.Wheel.Diameter)
	},
		slot: in(func(j *Job) *float64 { return &j.Wheel.EdgeSize }, func(j *Job) float64 {
			if j.Wheel.Edge == "square" {
				return 0
			}
			return tenth(min(j.Wheel.Width/8, 0.03*j.Wheel.Diameter, 3))
		}),
		Doc:  "Radius of the round, or leg of the 45 degree chamfer.",
		From: "the least of an eighth of the width, 3 % of the diameter, and 3 mm; none on a square edge"},
	{Path: "wheel.crown", Kind: Length, hi: func(j *Job) float64 { return min(0.25*j.Wheel.Width, 0.1*j.Wheel.Diameter) },
		slot: in(func(j *Job) *float64 { return &j.Wheel.Crown }, always(0.0)),
		Doc:  "How much the radius in the middle of the tread exceeds that at its faces.",
		From: "a cylindrical tread"},
	{Path: "wheel.draft", Kind: Angle, hi: fixed(5),
		slot: in(func(j *Job) *float64 { return &j.Wheel.Draft }, always(0.0)),
		Doc:  "How far the tread's surface leans out toward the face that is up in the mold (see mold.face_up), so that the wheel draws upward out of a cup. The diameter holds in the middle.",
		From: "a tread of one diameter; 1 degree lets a wheel go"},
	{Path: "wheel.groove", Kind: Tables, slot: tables(treadGrooves, always(0)), hi: fixed(40),
		Doc:  "Grooves around the tread.",
		From: "a smooth tread"},
	{Path: "wheel.groove.shape", Kind: Word, Options: grooveShapes,
		slot: inTable(treadGrooves, func(g *Groove) *string { return &g.Shape }, func(*Job, int) string { return grooveShapes[0] }),
		Doc:  "Section of the groove.",
		From: "the simplest"},
	{Path: "wheel.groove.position", Kind: Length, hi: widthShare(1),
		slot: inTable(treadGrooves, func(g *Groove) *float64 { return &g.Position }, func(j *Job, i int) float64 {
			return evenly(j.Wheel.Width, i, len(j.Wheel.Grooves))
		}),
		Doc:  "Middle of the groove, from the back face of the tread.",
		From: "grooves spread evenly over the width"},
	{Path: "wheel.groove.width", Kind: Length, lo: minFeature, hi: widthShare(1),
		slot: inTable(treadGrooves, func(g *Groove) *float64 { return &g.Width }, func(j *Job, _ int) float64 {
			return max(tenth(min(0.08*j.Wheel.Width, 0.05*j.Wheel.Diameter)), j.Process.MinFeature)
		}),
		Doc:  "Width of the groove at the tread's surface.",
		From: "8 % of the tread's width, at most 5 % of its diameter, and what the process can make"},
	{Path: "wheel.groove.depth", Kind: Length, lo: fixed(0.1), hi: diameterShare(0.4),
		slot: inTable(treadGrooves, func(g *Groove) *float64 { return &g.Depth }, func(j *Job, i int) float64 {
			g := j.Wheel.Grooves[i]
			if g.Shape == "half-round" {
				return g.Width / 2
			}
			return max(0.1, tenth(min(g.Width, 0.02*j.Wheel.Diameter)))
		}),
		Doc:  "Depth of the groove below the tread's surface, in the middle of its width if that is crowned; of a half-round one always half its width.",
		From: "as deep as wide, at most 2 % of the diameter; half the width if half-round"},
	{Path: "wheel.cross.count", Kind: Count, over: tooManyBlocks,
		hi:   func(j *Job) float64 { return min(mostCross, math.Floor(mostBlocks/float64(1+len(j.Wheel.Grooves)))) },
		slot: in(func(j *Job) *int { return &j.Wheel.Cross.Count }, always(0)),
		Doc:  "Grooves across the tread, evenly around; the blocks between them are lugs.",
		From: "a tread without lugs"},
	{Path: "wheel.cross.width", Kind: Length, hi: diameterShare(0.5),
		slot: in(func(j *Job) *float64 { return &j.Wheel.Cross.Width }, ifCross(func(j *Job) float64 {
			return max(j.Process.MinFeature, tenth(min(0.1, math.Pi/float64(4*j.Wheel.Cross.Count))*j.Wheel.Diameter))
		})),
		Doc:  "Width of a cross groove at its bottom.",
		From: "a quarter of the pitch, at most a tenth of the diameter"},
	{Path: "wheel.cross.depth", Kind: Length, hi: diameterShare(0.4),
		slot: in(func(j *Job) *float64 { return &j.Wheel.Cross.Depth }, ifCross(func(j *Job) float64 {
			lug := math.Pi*j.Wheel.Diameter/float64(j.Wheel.Cross.Count) - j.Wheel.Cross.Width
			return max(0.1, tenthBelow(min(0.02*j.Wheel.Diameter, 0.25*lug)))
		})),
		Doc:  "Depth of a cross groove below the tread's surface in the middle of its width.",
		From: "2 % of the diameter, at most a quarter of a lug, so that the shells release"},
	{Path: "wheel.cross.flank", Kind: Angle, hi: fixed(45),
		slot: in(func(j *Job) *float64 { return &j.Wheel.Cross.Flank }, ifCross(func(j *Job) float64 { return 10 })),
		Doc:  "How far each flank of a cross groove leans outward.",
		From: "10 degrees let the rubber out"},
}

// evenly is the place of item i of n spread over a length, to a tenth.
func evenly(length float64, i, n int) float64 {
	return tenth(length * float64(i+1) / float64(n+1))
}

func minFeature(j *Job) float64 { return j.Process.MinFeature }

func ifCross(value func(*Job) float64) func(*Job) float64 {
	return func(j *Job) float64 {
		if j.Wheel.Cross.Count < 1 {
			return 0
		}
		return value(j)
	}
}
