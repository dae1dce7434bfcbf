package params

import "math"

// bucketSizes are the usual sizes of cups and buckets, cm³. The last is a pail,
// proposed only to who states a batch of that size.
var bucketSizes = []float64{50, 100, 250, 500, 1000, 2500, 5000, handiest, 20000}

// handiest is the largest bucket that one stirs and lifts by hand, cm³: assumed.
const handiest = 10000

// roughVolume is about what a wheel takes in cm³, for defaults that must not wait
// for the mold: a plain tread on the hub's body, and a quarter more for sprue,
// vents, grooves of the hub, bucket and spare.
func roughVolume(j *Job) float64 {
	d, body := j.Wheel.Diameter, j.Hub.BodyDiameter
	return 1.25 * math.Pi / 4 * (d*d - body*body) * j.Wheel.Width / 1000
}

// roughMass is the same in g.
func roughMass(j *Job) float64 { return roughVolume(j) * j.Pour.Density }

// usable is how much the bucket takes below its head room, cm³.
func (b *Bucket) usable() float64 { return (1 - b.HeadRoom) * b.Volume }

// height is the bucket's inside, mm.
func (b *Bucket) height() float64 {
	return 1000 * b.Volume / (math.Pi / 4 * b.Diameter * b.Diameter)
}

// bucketDiameter is the diameter in mm of a bucket whose wall is so many
// diameters high.
func bucketDiameter(volume, heights float64) float64 {
	return math.Cbrt(1000 * volume / (math.Pi / 4 * heights))
}

// bucketFor is the volume in cm³ of the smallest usual bucket for what a wheel
// takes, or for a batch that is smaller.
func bucketFor(j *Job) float64 {
	need, largest := roughVolume(j), float64(handiest)
	if m := j.Pour.BatchMass; m > 0 {
		need, largest = min(need, m/j.Pour.Density), bucketSizes[len(bucketSizes)-1]
	}
	for _, size := range bucketSizes {
		if b := (Bucket{Volume: size, HeadRoom: j.Pour.Bucket.HeadRoom}); b.usable() >= need || size >= largest {
			return size
		}
	}
	return largest
}

var bucketKeys = []Key{
	{Path: "pour.bucket.head_room", Kind: Share, hi: fixed(0.8),
		slot: in(func(j *Job) *float64 { return &j.Pour.Bucket.HeadRoom }, func(j *Job) float64 {
			if j.Pour.Degas == "vacuum" {
				return 0.75
			}
			return 0.33
		}),
		Doc:  "Share of the bucket's volume that stays free for stirring.",
		From: "common practice: about a third; three quarters under vacuum, where the mix foams up to several times its volume"},
	{Path: "pour.bucket.volume", Kind: Volume, lo: fixed(10), hi: fixed(100e3),
		slot: in(func(j *Job) *float64 { return &j.Pour.Bucket.Volume }, bucketFor),
		Doc:  "Volume of the bucket that it is mixed in, to the brim.",
		From: "the smallest of 50, 100, 250, 500 ml, 1, 2.5, 5, 10 l that takes roughly a wheel's urethane (a quarter more than the tread), or a batch below its head room; assumed: no larger, as it is stirred and lifted by hand, but 20 l where pour.batch_mass asks for it"},
	{Path: "pour.bucket.diameter", Kind: Length,
		lo: func(j *Job) float64 { return tenthBelow(bucketDiameter(j.Pour.Bucket.Volume, 5)) },
		hi: func(j *Job) float64 { return tenthBelow(bucketDiameter(j.Pour.Bucket.Volume, 0.3)) },
		slot: in(func(j *Job) *float64 { return &j.Pour.Bucket.Diameter }, func(j *Job) float64 {
			return math.Round(bucketDiameter(j.Pour.Bucket.Volume, 1.2))
		}),
		Doc:  "Diameter of the bucket inside; it stands for a tapered one by its middle.",
		From: "a wall 1.2 diameters high; 0.3 to 5 are allowed"},
	{Path: "pour.bucket.film", Kind: Length, hi: fixed(5), usual: unsuspected,
		slot: in(func(j *Job) *float64 { return &j.Pour.Bucket.Film }, always(0.5)),
		Doc:  "Thickness of the film that stays on all that got wet: wall, bottom, paddle.",
		From: "assumed; weigh an emptied bucket to know"},
	{Path: "pour.bucket.residue", Kind: Length, hi: func(j *Job) float64 { return min(50, j.Pour.Bucket.height()) },
		slot: in(func(j *Job) *float64 { return &j.Pour.Bucket.Residue }, always(0.0)),
		Doc:  "Depth of what stays on the bottom once it has drained, all told, in place of pour.bucket.film; 0: the film counts.",
		From: "the film counts"},
	{Path: "pour.bucket.paddle", Kind: Length, lo: fixed(2), hi: func(j *Job) float64 { return j.Pour.Bucket.Diameter },
		slot: in(func(j *Job) *float64 { return &j.Pour.Bucket.Paddle }, func(j *Job) float64 {
			return min(max(5, math.Round(0.15*j.Pour.Bucket.Diameter)), j.Pour.Bucket.Diameter)
		}),
		Doc:  "Width of the paddle; not of bare wood, whose water makes bubbles.",
		From: "15 % of the bucket's diameter, at least 5 mm"},
	{Path: "pour.bucket.vessels", Kind: Count, lo: fixed(1), hi: fixed(3),
		slot: in(func(j *Job) *int { return &j.Pour.Bucket.Vessels }, always(2)),
		Doc:  "Clean vessels that each batch goes through.",
		From: "mixed, moved to a clean one and stirred again, so that nothing unmixed from the wall gets poured"},
}

// buyingKeys are the scale and how the urethane is sold.
var buyingKeys = []Key{
	{Path: "pour.scale.resolution", Kind: Mass, lo: fixed(0.001), hi: fixed(100),
		slot: in(func(j *Job) *float64 { return &j.Pour.Scale.Resolution }, func(j *Job) float64 {
			if roughMass(j) < 500 {
				return 0.1
			}
			return 1
		}),
		Doc:  "Smallest step that the scale shows.",
		From: "0.1 g where a wheel takes less than 500 g, else 1 g (kitchen or shop scale: assumed)"},
	{Path: "pour.scale.limit", Kind: Mass, hi: fixed(500e3),
		slot: in(func(j *Job) *float64 { return &j.Pour.Scale.Limit }, always(0.0)),
		Doc:  "Most that the scale carries, vessel included; 0: not stated.",
		From: "not stated"},
	{Path: "pour.kit.mass", Kind: Mass, lo: fixed(10), hi: fixed(500e3),
		slot: in(func(j *Job) *float64 { return &j.Pour.Kit.Mass }, func(j *Job) float64 {
			if roughMass(j) < 800 {
				return 1000
			}
			return 8000
		}),
		Doc:  "Mass of a kit as it is sold, A and B together.",
		From: "assumed: 1 kg where a wheel takes less than 0.8 kg, else 8 kg"},
	{Path: "pour.kit.price", Kind: Number, hi: fixed(500e3),
		slot: in(func(j *Job) *float64 { return &j.Pour.Kit.Price }, func(j *Job) float64 {
			return math.Round(pricePerKilogram * j.Pour.Kit.Mass / 1000)
		}),
		Doc:  "Price of a kit, in your own currency; 0: not stated.",
		From: "14.3 per kg, some 6 to 7 dollars a pound: common practice, an assumption"},
}

// pricePerKilogram is that of small kits in dollars: common practice.
const pricePerKilogram = 14.3

// blendKeys are a second urethane, mixed in for another hardness.
var blendKeys = []Key{
	{Path: "pour.blend.with", Kind: Number, hi: fixed(hardest),
		slot: in(func(j *Job) *float64 { return &j.Pour.Blend.With }, always(0.0)),
		Doc:  "Hardness in Shore A of a second urethane of the same family, blended with the one above; 0: none.",
		From: "none"},
	{Path: "pour.blend.wanted", Kind: Number, hi: fixed(hardest),
		slot: in(func(j *Job) *float64 { return &j.Pour.Blend.Wanted }, func(j *Job) float64 {
			if j.Pour.Blend.With == 0 {
				return 0
			}
			return (j.Pour.Hardness + j.Pour.Blend.With) / 2
		}),
		Doc:  "Hardness of the blend, Shore A. Cast a button first: the rule of mixing is off by 3 to 5.",
		From: "halfway between pour.hardness and pour.blend.with; 0 without a blend"},
	{Path: "pour.blend.parts_a", Kind: Number, lo: fixed(0.01), hi: fixed(10000),
		slot: in(func(j *Job) *float64 { return &j.Pour.Blend.PartsA }, always(1.0)),
		Doc:  "Parts of the second urethane's component A, by weight unless pour.ratio_by says volume.",
		From: "1:1, the commonest ratio; see the data sheet"},
	{Path: "pour.blend.parts_b", Kind: Number, lo: fixed(0.01), hi: fixed(10000),
		slot: in(func(j *Job) *float64 { return &j.Pour.Blend.PartsB }, always(1.0)),
		Doc:  "Parts of the second urethane's component B, by weight unless pour.ratio_by says volume.",
		From: "1:1, the commonest ratio; see the data sheet"},
	{Path: "pour.blend.density_a", Kind: Density, lo: fixed(0.8), hi: fixed(2),
		slot: in(func(j *Job) *float64 { return &j.Pour.Blend.DensityA }, func(j *Job) float64 { return j.Pour.DensityA }),
		Doc:  "Density of the second urethane's component A.",
		From: "pour.density_a"},
	{Path: "pour.blend.density_b", Kind: Density, lo: fixed(0.8), hi: fixed(2),
		slot: in(func(j *Job) *float64 { return &j.Pour.Blend.DensityB }, func(j *Job) float64 { return j.Pour.DensityB }),
		Doc:  "Density of the second urethane's component B.",
		From: "pour.density_b"},
}
