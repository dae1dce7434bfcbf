// Package rise follows a liquid that rises slowly in a cavity, and the air above it:
// where air stays behind, how much, and what would let it out.
//
// The cavity is cut into upright columns on a square grid. In each column the heights
// are those of the solid itself, in closed form (mesh/plumb); only the plan is
// discrete. The liquid's surface is level and stands equally high everywhere, as it
// does in a cavity filled so slowly that liquid finds its level, whose parts
// communicate below. Air is what is above it; air that no longer communicates with a
// vent stays. Gravity may be tilted against the columns.
//
// It guarantees volumes and heights that converge at least linearly with the cell, and
// that a trap with room for a disc three cells wide is found, a passage two cells wide
// is seen as open and a wall two cells thick as closed. It reports no trap that is one
// cell wide only, because the steps of the grid make such ones on every sharp ridge
// (see pocket.wide). It does not know bubbles, capillary forces, dissolved air, the
// momentum of a jet, or that a channel may be too narrow to pass air in time. Lengths
// in mm, volumes in mm³, angles in degrees; the frame is the solid's, z up at rest.
package rise

import (
	"fmt"
	"math"

	"wheelmold/mesh"
	"wheelmold/mesh/plumb"
	"wheelmold/mesh/solid"
)

// Opening is the round mouth of a channel in the cavity's roof.
type Opening struct {
	Name string
	At   mesh.Vec // center of the mouth; its height picks the roof, it need not lie on it
	R    float64  // infinite: the whole roof at that height is open to the air
	// Gate: liquid enters here, so that air can leave against the stream only. It
	// drains no trap.
	Gate bool
}

// Tilt is how the mold lies: turned by Angle from upright, so that the side at
// azimuth Toward (from +x to +y) is raised. Degrees.
type Tilt struct{ Angle, Toward float64 }

// Up returns the unit vector against gravity in the mold's frame.
func (t Tilt) Up() mesh.Vec {
	sn, cs := math.Sincos(t.Angle * math.Pi / 180)
	ay, ax := math.Sincos(t.Toward * math.Pi / 180)
	return mesh.Vec{sn * ax, sn * ay, cs}
}

// Settings are the resolution and what counts; a zero means the value stated.
type Settings struct {
	Cell  float64 // side of a column, mm; 1/256 of the cavity's larger extent in plan
	Least float64 // smallest trap to report, mm³; a cube of one cell
	Level float64 // steepest slope of a ceiling that counts as level, degrees; 2
}

// Cavity is a cavity cut into columns, with its openings. Its methods change nothing
// and may run at the same time.
type Cavity struct {
	Settings
	solid *plumb.Solid
	*columns
	mouths []mouth
}

// New cuts the cavity into columns. The solid is that of the cavity alone: channels
// are told as openings. The error names what cannot be read or resolved.
func New(cavity *solid.Node, openings []Opening, s Settings) (*Cavity, error) {
	p, err := plumb.New(cavity)
	if err != nil {
		return nil, err
	}
	c := &Cavity{Settings: s, solid: p}
	if err := c.settle(p.Bounds()); err != nil {
		return nil, err
	}
	c.columns = sample(p, c.Cell)
	if len(c.runs) == 0 {
		return nil, fmt.Errorf("rise: no column of %g mm lies in the cavity; use smaller cells", c.Cell)
	}
	return c.With(openings...), nil
}

// mostCells bounds memory to about 1 GB.
const mostCells = 4e6

func (c *Cavity) settle(b mesh.Box) error {
	size := b.Hi.Sub(b.Lo)
	if !(size[0] > 0 && size[1] > 0 && size[2] > 0) {
		return fmt.Errorf("rise: the cavity is empty")
	}
	if c.Cell == 0 {
		c.Cell = max(size[0], size[1]) / 256
	}
	if !(c.Cell > 0) || size[0]/c.Cell*(size[1]/c.Cell) > mostCells {
		return fmt.Errorf("rise: cells of %g mm in a cavity of %.4g x %.4g mm; use cells of at least %.2g mm", c.Cell, size[0], size[1], math.Sqrt(size[0]*size[1]/mostCells))
	}
	if c.Least == 0 {
		c.Least = c.Cell * c.Cell * c.Cell
	}
	if c.Level == 0 {
		c.Level = 2
	}
	return nil
}

// With returns the cavity with more openings; columns are shared.
func (c *Cavity) With(more ...Opening) *Cavity {
	out := *c
	out.mouths = append([]mouth(nil), c.mouths...)
	for _, o := range more {
		out.mouths = append(out.mouths, c.open(o))
	}
	return &out
}

// Unmet lists the openings that meet no column: they do not open into the cavity.
func (c *Cavity) Unmet() (names []string) {
	for i := range c.mouths {
		if len(c.mouths[i].runs) == 0 {
			names = append(names, c.mouths[i].Name)
		}
	}
	return names
}

// surface is a cavity seen along one upward direction.
type surface struct {
	*Cavity
	up   mesh.Vec
	roof []float64 // height along up of each run's upper end
}

func (c *Cavity) along(t Tilt) *surface {
	s := &surface{Cavity: c, up: t.Up(), roof: make([]float64, len(c.runs))}
	for i, r := range c.runs {
		s.roof[i] = s.at(i, r.Hi)
	}
	return s
}

// at is the height along up of the point at z in run i's column.
func (s *surface) at(i int, z float64) float64 { return s.up.Dot(s.point(i, z)) }

// above is the volume of run i above a level along up.
func (s *surface) above(i int, level float64) float64 {
	r := s.runs[i]
	cut := r.Hi - (s.roof[i]-level)/s.up[2]
	return s.Cell * s.Cell * max(0, r.Hi-max(r.Lo, cut))
}
