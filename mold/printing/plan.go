package printing

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mold"
	"wheelmold/mold/cure"
	"wheelmold/mold/inparallel"
	"wheelmold/mold/printing/bed"
	"wheelmold/params"
)

// Plan is how the pieces of a mold are printed.
type Plan struct {
	Resin    bool    // the printer cures resin; else it lays down filament
	Bed      bed.Bed // mm
	Pieces   []Piece // what is printed, in the mold's order; empty: nothing is
	Loads    []Load  // what fits the bed
	Misfits  []Misfit
	Plastic  float64 // cm³, of all pieces
	Mass     float64 // g, of all pieces
	Time     float64 // s, of all pieces: loads one after the other, and each misfit alone
	Heat     cure.Heat
	Assumed  []string // what masses and times rest on
	Warnings params.Faults
}

// Piece is one piece in its pose.
type Piece struct {
	Name     string
	Kind     mold.Kind
	Size     mesh.Vec // mm, as it lies
	Fits     bool     // the bed, turned by a quarter about z or not
	OnBed    []Rest   // roles of the faces that lie on the bed
	Stands   []string // roles of cavity and mating faces that rise from the bed, whose foot bulges
	Overhang Overhang
	Volume   float64 // mm³, exact
	Surface  float64 // mm²
	Plastic  float64 // mm³, of it printed as the job says: solid or walled
	Mass     float64 // g
	Time     float64 // s, printed alone, without printing.setup
	Layers   int
}

// Rest is what of one role lies on the bed.
type Rest struct {
	Role string
	Area float64 // mm²
}

// Overhang is the area in mm² of faces off the bed that lean out over what lies below
// them by more than printing.overhang from the vertical.
type Overhang struct {
	All     float64
	Bridged float64 // of it, level ceilings between walls, no wider than printing.bridge
	Cavity  float64 // of the rest, on faces that shape or grip the rubber
	Mating  float64 // of the rest, on faces that meet another piece
}

// Load is what is printed at once.
type Load struct {
	Places []bed.Place // Item counts Plan.Pieces
	Height float64     // mm
	Layers int
	Mass   float64 // g
	Time   float64 // s, with printing.setup
}

// Options say what is planned.
type Options struct {
	Only  []string // names of the pieces that are made; empty: all
	Tries bool     // look for ways to split the mold that fit the bed, where it does not
}

// DefaultOptions are those of the command.
var DefaultOptions = Options{Tries: true}

// Analyze plans the printing of what the job prints: the mold's pieces, the hub, or
// both. Faces are the exact boundaries of all pieces by name, in the closed mold or as
// they leave the printer; what of the latter is missing is evaluated here. A plan
// without pieces is that of a job that prints nothing.
func Analyze(m *mold.Mold, faces map[string]*brep.Boundary, o Options) (*Plan, error) {
	j := m.Job
	p := &Plan{Resin: j.PrintsResin(), Bed: bedOf(j), Heat: cure.NewHeat(j)}
	if err := p.measure(m, faces, o.Only); err != nil {
		return nil, err
	}
	if len(p.Pieces) > 0 {
		p.load(j)
		if o.Tries {
			p.alternatives(j)
		}
		p.Assumed = p.assumed(j)
		p.warn(m)
	}
	return p, nil
}

func bedOf(j *params.Job) bed.Bed {
	p := &j.Printing
	return bed.Bed{X: p.BedX, Y: p.BedY, Z: p.BedZ, Gap: p.Gap}
}

// measure finds everything about each piece by itself; only, unless it is empty, names
// those that are made.
func (p *Plan) measure(m *mold.Mold, faces map[string]*brep.Boundary, only []string) error {
	var pieces []mold.Piece
	for _, x := range m.Pieces {
		if x.Printed(m.Job) && (len(only) == 0 || slices.Contains(only, x.Name)) {
			pieces = append(pieces, x)
		}
	}
	p.Pieces = make([]Piece, len(pieces))
	errs := make([]error, len(pieces))
	ev := brep.NewEvaluator(m.Model)
	inparallel.Do(len(pieces), func(i int) {
		x := &pieces[i]
		d, err := newPiece(ev, x, faces[x.Name])
		if err != nil {
			errs[i] = fmt.Errorf("%s: %w", x.Name, err)
			return
		}
		p.Pieces[i] = d.piece(m.Job, x)
	})
	for _, x := range p.Pieces {
		p.Plastic += x.Plastic / 1000
		p.Mass += x.Mass
	}
	return errors.Join(errs...)
}

// newPiece lays a piece on the bed as it leaves the printer; the boundary may be that
// of the piece in the closed mold.
func newPiece(ev *brep.Evaluator, x *mold.Piece, b *brep.Boundary) (*body, error) {
	if b == nil || b.Root != x.Raw {
		var err error
		if b, err = ev.Boundary(x.Raw); err != nil {
			return nil, err
		}
	}
	return newBody(b, x.Pose)
}

// piece measures one piece.
func (d *body) piece(j *params.Job, x *mold.Piece) Piece {
	out := Piece{Name: x.Name, Kind: x.Kind, Size: d.size(x), Volume: d.faces.Volume(), Surface: d.mesh.Area()}
	out.Fits = bedOf(j).Holds(out.Size)
	out.OnBed, out.Stands = d.rests()
	out.Overhang = d.overhang(&j.Printing)
	density := j.Process.Density
	out.Plastic = out.Volume
	if x.Kind == mold.Hub {
		density = j.Hub.Density
	} else {
		out.Plastic = plastic(out.Volume, d, &j.Printing)
	}
	out.Mass = out.Plastic / 1000 * density
	out.Layers = layers(out.Size[2], j.Printing.Layer)
	out.Time = printTime(j, out.Layers, out.Plastic)
	return out
}

// size is that of the piece as it lies: the model's own where the mesh, which may fall
// short by its tolerance, does not contradict it.
func (d *body) size(x *mold.Piece) mesh.Vec {
	s := d.mesh.Bounds().Hi.Sub(d.mesh.Bounds().Lo)
	b := x.Raw.Bounds()
	model := mesh.EmptyBox().Include(d.pose.Apply(b.Lo)).Include(d.pose.Apply(b.Hi))
	for i, v := range model.Hi.Sub(model.Lo) {
		if math.Abs(v-s[i]) <= 2*meshTolerance {
			s[i] = v
		}
	}
	return s
}

// layers is how many it takes; a hair of a layer is none.
func layers(height, layer float64) int { return int(math.Ceil(height/layer - 1e-6)) }

// printTime is how long in s a printer takes for so many layers, or so much plastic in
// mm³: resin is cured a whole layer at once.
func printTime(j *params.Job, layers int, plastic float64) float64 {
	if j.PrintsResin() {
		return float64(layers) * j.Printing.LayerTime
	}
	return plastic / 1000 / j.Printing.Rate * 3600
}

// load sorts the pieces onto the bed.
func (p *Plan) load(j *params.Job) {
	sizes := make([]mesh.Vec, len(p.Pieces))
	for i := range p.Pieces {
		sizes[i] = p.Pieces[i].Size
	}
	loads, misfits := bed.Pack(sizes, p.Bed)
	for _, l := range loads {
		p.Loads = append(p.Loads, p.total(j, l))
	}
	for _, i := range misfits {
		x := &p.Pieces[i]
		p.Misfits = append(p.Misfits, Misfit{Piece: x.Name, Kind: x.Kind, Size: x.Size})
		p.Time += j.Printing.Setup + x.Time
	}
}

// Sorting names what of the plan lies where.
func (p *Plan) Sorting() (s bed.Sorting) {
	for _, l := range p.Loads {
		var spots []bed.Spot
		for _, at := range l.Places {
			spots = append(spots, bed.Spot{Piece: p.Pieces[at.Item].Name, At: at.At, Turned: at.Turned})
		}
		s.Loads = append(s.Loads, spots)
	}
	for _, f := range p.Misfits {
		s.Misfits = append(s.Misfits, f.Piece)
	}
	return s
}

// total adds up a load: filament takes its pieces' times one after the other, resin
// that of the tallest.
func (p *Plan) total(j *params.Job, l bed.Load) Load {
	out := Load{Places: l.Places}
	plastic := 0.0
	for _, at := range l.Places {
		x := &p.Pieces[at.Item]
		plastic += x.Plastic
		out.Mass += x.Mass
		out.Height = max(out.Height, x.Size[2])
		out.Layers = max(out.Layers, x.Layers)
	}
	out.Time = j.Printing.Setup + printTime(j, out.Layers, plastic)
	p.Time += out.Time
	return out
}

// assumed says in words what masses and times rest on.
func (p *Plan) assumed(j *params.Job) (out []string) {
	q := &j.Printing
	switch {
	case !j.Printed():
	case q.Fill == "solid":
		out = append(out, "mold pieces solid (printing.fill)")
	default:
		out = append(out, fmt.Sprintf("walls, floors and roofs of %s around %.0f %% of plastic (printing.wall, printing.infill): area by thickness, edges counted once; walls thinner than two skins are counted twice", params.Millimeters(q.Wall), 100*q.Infill))
	}
	if j.PrintsResin() {
		out = append(out, fmt.Sprintf("layers of %s in %s each, whatever lies on the bed (printing.layer, printing.layer_time)", params.Format(params.Length, q.Layer), params.Format(params.Time, q.LayerTime)))
	} else {
		out = append(out, fmt.Sprintf("%s of filament an hour (printing.rate)", params.Format(params.Volume, q.Rate)))
	}
	out = append(out, fmt.Sprintf("%s before each load (printing.setup); supports and brims are in neither mass nor time", params.Format(params.Time, q.Setup)))
	if len(p.Misfits) > 0 {
		out = append(out, "mass and time count what does not fit, too: each piece as a load of its own on a larger printer as fast as this one")
	}
	return out
}
