package flash

import (
	"math"
	"math/rand/v2"

	"wheelmold/mold/portable"
	"wheelmold/params"
)

// state is one possible truth: a value for every input that nobody knows.
// Multipliers are on the job's figure, which is their expected value.
type state struct {
	shared
	own
}

// shared are the inputs that all parting lines of one cast have in common.
type shared struct {
	nut      float64 // K of T = K·d·F
	hub      float64 // departure of the hub's length, in tolerances
	lands    float64 // of the mold's lengths in the stack, in tolerances
	step     float64 // difference of the shells' heights, in tolerances
	heat     float64 // of the hub above the room, K
	moisture float64 // share of hub.moisture

	angle     float64 // departure of the contact angle, in half spreads (a spread is two deviations)
	viscosity float64
	potLife   float64 // and gel time
	growth    float64 // the factor itself
}

// own are the inputs of one parting line.
type own struct {
	wave    [2]float64 // waviness of each face
	aligned bool       // crests lie on crests: waviness adds up, not its squares
	mean    float64    // mean gap over peak to valley
	rough   float64    // distance of the mean planes over the faces' Ra
	dirt    float64
	bow     float64 // share of the bows that a clamp bears on
	far     float64 // 0: span between clamps as on average along the seam, 1: the largest
	proud   float64 // share of a proud hub's opening that this line gets
	rests   float64 // share of the stack's slack at the end that is designed to touch
	filled  float64 // share of the land that grease or wax really fills
	ring    float64 // eccentricity of a register in its opening, 0 to 1
}

// The growth of viscosity until the pot life lies between these.
const growthLeast, growthMost = 2, 30

// expected is the state in which every input has its expected value. Where
// nothing was measured the figures are assumed; DEVELOPERS.md says how to learn
// better ones.
func expected(c *conditions) *state {
	return &state{
		shared{nut: params.NutFactor, step: 0.25, heat: params.HubWarmth, moisture: params.MoistureShare, viscosity: 1, potLife: 1, growth: c.job.Pour.Growth},
		own{wave: [2]float64{1, 1}, mean: 0.4, rough: 2, dirt: 1, bow: 0.5, proud: 0.5, rests: 0.5, filled: 0.75, ring: 0.5},
	}
}

// worst is the state in which everything goes against the builder at once; it is
// a bound, not something to expect. Where a short hub opens the line the hub is
// short, and rests where it opens it most; else it stands proud.
func worst(s *site) *state {
	x := &state{
		shared{nut: 0.30, hub: 1, lands: -1, step: 1, heat: hubWarmthWorst, moisture: 1, angle: -2, viscosity: 0.6, potLife: 1.3, growth: growthLeast},
		own{wave: [2]float64{2, 2}, aligned: true, mean: 0.5, rough: 4, dirt: 4, far: 1, proud: 1, rests: 1, filled: 0.5, ring: 1},
	}
	if s.at == atHub {
		x.hub, x.lands, x.heat, x.moisture = -1, 1, 0, 0
	}
	if s.gapped() {
		x.rests = 0
	}
	return x
}

// drawShared draws what a cast's lines have in common. Distributions are
// assumed: normal within two and a half deviations for tolerances (which are two
// deviations wide) and angles, log-normal for multipliers.
func drawShared(r *rand.Rand, growth float64) shared {
	normal := func() float64 { return min(max(r.NormFloat64(), -2.5), 2.5) }
	return shared{
		nut:       min(max(params.NutFactor*portable.Exp(0.25*normal()), 0.12), 0.35),
		hub:       normal() / 2,
		lands:     normal() / 2,
		step:      math.Abs(normal()) / 2,
		heat:      2 * params.HubWarmth * r.Float64(),
		moisture:  2 * params.MoistureShare * r.Float64(),
		angle:     normal(),
		viscosity: portable.Exp(0.25 * normal()),
		potLife:   portable.Exp(0.15 * normal()),
		growth:    triangular(r, growthLeast, growth, growthMost),
	}
}

// drawOwn draws one line's inputs.
func drawOwn(r *rand.Rand) own {
	factor := func(sigma float64) float64 { return portable.Exp(sigma * min(max(r.NormFloat64(), -2.5), 2.5)) }
	return own{
		wave:   [2]float64{factor(0.5), factor(0.5)},
		mean:   0.3 + 0.2*r.Float64(),
		rough:  1 + 2*r.Float64(),
		dirt:   factor(0.7),
		bow:    r.Float64(),
		proud:  r.Float64(),
		rests:  r.Float64(),
		filled: 0.5 + 0.5*r.Float64(),
		ring:   r.Float64(),
	}
}

// triangular draws from a distribution that rises in the logarithm from lo to
// its mode and falls to hi.
func triangular(r *rand.Rand, lo, mode, hi float64) float64 {
	a, m, b := portable.Log(lo), portable.Log(min(max(mode, lo), hi)), portable.Log(hi)
	u := r.Float64()
	if cut := (m - a) / (b - a); u < cut {
		return portable.Exp(a + math.Sqrt(u*(b-a)*(m-a)))
	}
	return portable.Exp(b - math.Sqrt((1-u)*(b-a)*(b-m)))
}

// drawn are the states of all draws: what is shared, and what is each line's own.
type drawn struct {
	shared []shared
	own    [][]own // by line
}

func drawAll(c *conditions, o Options) *drawn {
	d := &drawn{}
	r := rand.New(rand.NewPCG(o.Seed, 0))
	for range o.Draws {
		d.shared = append(d.shared, drawShared(r, c.job.Pour.Growth))
	}
	for i := range c.geometry.sites {
		// A stream of its own, so that a line's draws do not depend on other lines.
		r := rand.New(rand.NewPCG(o.Seed, uint64(i)+1))
		own := make([]own, o.Draws)
		for k := range own {
			own[k] = drawOwn(r)
		}
		d.own = append(d.own, own)
	}
	d.share(c.geometry.sites)
	return d
}

// share gives the lines what they have in common two by two: a proud hub opens
// base or lid, and a short one lies nearer to one of its ends.
func (d *drawn) share(sites []*site) {
	first := map[place]int{}
	for i, s := range sites {
		at := s.at
		if at == atLid {
			at = atBase
		}
		k, seen := first[at]
		if !seen {
			first[at] = i
			continue
		}
		for n := range d.own[i] {
			switch at {
			case atBase:
				d.own[i][n].proud = 1 - d.own[k][n].proud
			case atHub:
				d.own[i][n].rests = d.own[k][n].rests
			}
		}
	}
}

// of are the states of one line.
func (d *drawn) of(line int) []state {
	out := make([]state, len(d.shared))
	for i := range out {
		out[i] = state{d.shared[i], d.own[line][i]}
	}
	return out
}
