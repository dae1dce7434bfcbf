// Package cure tells what curing does to the rubber of a wheel: by how much it
// shrinks while a rigid core holds it, how large the cavity must be for that, and
// when the wheel may leave the mold.
//
// # Shrinkage of a bonded layer
//
// Free rubber would shrink by a strain s in all directions: what the reaction
// takes, and what cooling from the temperature at which it gelled to the one at
// which the wheel is measured takes. Rubber yields to shear and hardly to pressure,
// so that a held layer still loses 3s of its volume, and only where from is open:
//
//   - A layer much wider than thick cannot pull in at its ends (plane strain):
//     all of the loss comes off its thickness. Most that the diameter can lose.
//   - A layer much narrower than thick shrinks in width as it likes (plane stress):
//     the diameter loses two thirds of that, or down to half around a large core.
//
// A wheel lies between, in the middle of its width; Layer.Cured says where. The
// cavity is sized for plane strain: if the ends pull in, the wheel comes out larger,
// never smaller, and rubber can be ground down.
//
// # What it guarantees
//
// The two limits keep the volume exactly and solve the equations of linear
// elasticity for an incompressible layer. A Poisson's ratio of 0.499 instead of 1/2
// lessens the loss by 0.3 % of it at most; 0.4997, which follows from a bulk modulus
// of about 2 GPa for a 60 A rubber, by 0.1 %.
//
// # What it does not
//
// Strains of 1 % are taken to first order, and the core as a plain rigid cylinder:
// flanges and grooves hold the rubber's width and bring the wheel nearer to plane
// strain. Only the radius in the middle is compensated: width, crown, edges and
// grooves are molded as the wheel has them. The growth of a warm mold and of a warm
// core is left out (an aluminum mold of 280 mm that is 10 K warmer makes a wheel 0.07
// mm larger, a nylon core of 100 mm that is 20 K warmer one 0.06 mm smaller). The
// strain itself is the weak figure: a data sheet's is of a thin bar, and nobody
// measures the temperature at which the middle of a wheel gelled.
package cure

import (
	"math"

	"wheelmold/params"
)

// Strain returns by how much the job's rubber would shrink if it were free, as
// fractions of a length: by the reaction, and by cooling from its gel temperature to
// that of the data sheet, the standard room in which a wheel is measured. Cooling is
// negative if it gels colder than that. The sheet's bar hardly warms, so its figure is
// taken for the reaction alone. Both are times what the builder's casts show
// (calibration.shrinkage): a wheel's diameter does not tell one from the other.
func Strain(j *params.Job) (reaction, cooling float64) {
	ratio := j.Calibration.Shrinkage
	return ratio * j.Mold.Shrinkage, ratio * (j.Pour.Expansion * (j.Pour.GelTemperature - j.Pour.SheetTemperature))
}

// Layer is rubber around a rigid core that it is bonded to; radii and width in mm.
// Strains s are below 1/3.
type Layer struct{ Core, Outer, Width float64 }

// Of is the layer of the job's wheel as it is wanted, on the hub's body.
func Of(j *params.Job) Layer {
	return Layer{j.Hub.BodyDiameter / 2, j.Wheel.Diameter / 2, j.Wheel.Width}
}

// Bonded is the layer after a free linear shrinkage of s if it is much wider than
// thick, so that its width stays: the least it can become.
func (l Layer) Bonded(s float64) Layer { return l.shrunk(s, 0) }

// FreeEnds is the layer after a free linear shrinkage of s if its ends pull in as if
// nothing held them along the axis, as those of a layer much narrower than thick do.
//
// With k = (Core/Outer)² and u = -q(r - Core²/r), which loses the volume and stays
// on the core, the axial stress is the same everywhere. It vanishes for q =
// 3s/(3+k); the axial strain is 2q - 3s. It is -s without a core only: what the core
// keeps from shrinking around the axis, the rubber takes from width and thickness.
func (l Layer) FreeEnds(s float64) Layer {
	k := l.Core * l.Core / (l.Outer * l.Outer)
	return l.shrunk(s, -3*s*(1+k)/(3+k))
}

// shrunk keeps the volume: the section's area goes by (1-3s) over the width's change.
func (l Layer) shrunk(s, axial float64) Layer {
	core := l.Core * l.Core
	l.Outer = math.Sqrt(core + (l.Outer*l.Outer-core)*(1-3*s)/(1+axial))
	l.Width *= 1 + axial
	return l
}

// Free is the layer after a free linear shrinkage of s if nothing held it: what the
// data sheet's figure says, and no wheel does.
func (l Layer) Free(s float64) Layer {
	return Layer{l.Core * (1 - s), l.Outer * (1 - s), l.Width * (1 - s)}
}

// Cavity is the outer radius in mm of the cavity in which a layer of the given core
// becomes as large as wanted, if it is much wider than thick: the inverse of Bonded.
func Cavity(core, wanted, s float64) float64 {
	return math.Sqrt(core*core + (wanted*wanted-core*core)/(1-3*s))
}

// Sized is the outer radius in mm of the cavity for the job's wheel on a core of the
// given radius: by mold.sizing so large that the cured wheel never comes out too
// small, or that it is expected to have the wanted diameter in the middle.
func Sized(j *params.Job, core float64) float64 {
	reaction, cooling := Strain(j)
	return sizedFor(j, core, reaction+cooling)
}

// sizedFor is Sized for a free linear shrinkage of s.
func sizedFor(j *params.Job, core, s float64) float64 {
	wanted := j.Wheel.Diameter / 2
	cast := Layer{core, Cavity(core, wanted, s), j.Wheel.Width}
	if j.Mold.Sizing != "expected" {
		return cast.Outer
	}
	// What is missing of the loss shrinks with the strain on each turn, a percent or so.
	for range 4 {
		middle, _ := cast.Cured(s)
		cast.Outer += wanted - middle
	}
	return cast.Outer
}
