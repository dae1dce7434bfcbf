package mold

import (
	"errors"
	"fmt"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/check"
	"wheelmold/mesh/solid"
	"wheelmold/mesh/tess"
	"wheelmold/mold/inparallel"
)

// MakeOptions says what Make makes.
type MakeOptions struct {
	Tolerance float64     // largest distance between mesh and true surface, mm
	Only      []string    // names of pieces; empty: all
	Progress  func(Stage) // called from Make's goroutine; may be nil
}

// Stage is a step of the work that has been finished.
type Stage struct {
	Name        string
	Done, Total int
}

// Part is one piece, made: as it is in the closed mold, and as it leaves the machine.
type Part struct {
	Piece    Piece
	Boundary *brep.Boundary
	Mesh     *mesh.Mesh // in place, in the closed mold
	Volume   float64    // exact, in the closed mold, mm³
	Report   check.Report

	// The piece as it leaves the machine. RawBoundary is Boundary, and RawMesh is
	// Mesh, where nothing is left to be done to it.
	RawBoundary *brep.Boundary
	RawMesh     *mesh.Mesh // in place
	RawVolume   float64    // exact, mm³
	RawReport   check.Report
	Posed       *mesh.Mesh // RawMesh as it lies on the bed, on z = 0
}

// Made is the mold, made and audited.
type Made struct {
	Mold   *Mold
	Parts  []Part
	Rubber *mesh.Mesh // in place
	Audit  Audit
	// Faces are the exact boundaries of all pieces, by name, also of those that
	// were not asked for.
	Faces   map[string]*brep.Boundary
	Volumes map[string]float64 // theirs, exact, mm³
	// RawFaces and RawVolumes are the same of the pieces as they leave the machine.
	RawFaces   map[string]*brep.Boundary
	RawVolumes map[string]float64
}

// Checked is the mold's exact boundary without meshes.
type Checked struct {
	Volumes map[string]float64        // exact, by piece, mm³
	Faces   map[string]*brep.Boundary // by piece
	Rubber  Agreement
	// RawFaces and RawVolumes are those of the pieces as they leave the machine.
	RawFaces   map[string]*brep.Boundary
	RawVolumes map[string]float64
}

// Agreement is the rubber's volume, found in ways that share no code, mm³.
type Agreement struct {
	ClosedForm float64 // Pappus-Guldin
	Boundary   float64 // line integrals over the exact boundary
	Mesh       float64 // 0 where no mesh was made
	MeshBias   float64 // by which a mesh of its tolerance may fall short or exceed
}

// Audit proves that the parts add up to the block, and that nothing leaks.
type Audit struct {
	Block        float64 // mm³
	Sum          float64 // of pieces, hub, rubber, channels, coats and clearances, less overlaps
	ExactResidue float64 // Sum/Block - 1 by exact volumes
	MeshResidue  float64 // the same with meshes; 0 unless all pieces are made
	MeshBound    float64 // what it may be: neighbors share their facets, so that chords cancel
	Rubber       Agreement
	Channels     float64 // sprue and vents, mm³
	Clearances   float64 // what no part fills, mm³
	Coats        float64 // on what shapes the rubber, mm³
}

// Residues beyond which a mold is not handed out. Exact volumes are good to about
// 1e-12 of the block. Meshes of neighbors share their facets, which leaves about
// 1e-7; where a gap has no mesh, chords may show (see chordBias).
const (
	maxExactResidue = 1e-9
	maxMeshResidue  = 1e-4 // at the usual tolerance or finer, in proportion beyond
	usualTolerance  = 0.01 // mm
)

// evaluated is a tree's boundary and volume, computed on demand by a worker.
type evaluated struct {
	name     string
	raw      bool // as it leaves the machine
	root     *solid.Node
	boundary *brep.Boundary
	volume   float64
	err      error
}

func (e *evaluated) title() string {
	if e.raw {
		return e.name + ", as it leaves the machine"
	}
	return e.name
}

// pieces lists the pieces, still to be evaluated.
func (m *Mold) pieces() []*evaluated {
	var list []*evaluated
	for _, p := range m.Pieces {
		list = append(list, &evaluated{name: p.Name, root: p.Root})
	}
	return list
}

// raws lists the pieces as they leave the machine: those of the list that leave it as
// they are in the mold, and others, still to be evaluated, which fresh has alone.
func (m *Mold) raws(list []*evaluated) (all, fresh []*evaluated) {
	all = slices.Clone(list)
	for i, p := range m.Pieces {
		if p.Raw != p.Root {
			all[i] = &evaluated{name: p.Name, raw: true, root: p.Raw}
			fresh = append(fresh, all[i])
		}
	}
	return all, fresh
}

// evaluate finds the boundaries of all trees on the machine's cores.
func (m *Mold) evaluate(list []*evaluated) error {
	ev := brep.NewEvaluator(m.Model)
	// The largest first, so that no core waits for one at the end.
	order := slices.Clone(list)
	size := func(e *evaluated) int { return len(e.root.Leaves()) }
	slices.SortStableFunc(order, func(a, b *evaluated) int { return size(b) - size(a) })
	inparallel.Do(len(order), func(i int) {
		e := order[i]
		if e.boundary, e.err = ev.Boundary(e.root); e.err == nil {
			e.volume = e.boundary.Volume()
		} else {
			e.err = fmt.Errorf("%s: %w", e.title(), e.err)
		}
	})
	var errs []error
	for _, e := range list {
		errs = append(errs, e.err)
	}
	return errors.Join(errs...)
}

func facesOf(list []*evaluated) map[string]*brep.Boundary {
	faces := map[string]*brep.Boundary{}
	for _, e := range list {
		faces[e.name] = e.boundary
	}
	return faces
}

// Check evaluates every piece's boundary exactly, without meshing, so that a
// geometry that cannot be made is known before anything is written.
func (m *Mold) Check() (*Checked, error) {
	list := m.pieces()
	raws, fresh := m.raws(list)
	rubber := &evaluated{name: "rubber", root: m.Rubber}
	if err := m.evaluate(slices.Concat(list, fresh, []*evaluated{rubber})); err != nil {
		return nil, err
	}
	return &Checked{
		Volumes: volumesOf(list), Faces: facesOf(list),
		RawVolumes: volumesOf(raws), RawFaces: facesOf(raws),
		Rubber: Agreement{ClosedForm: m.RubberVolume(), Boundary: rubber.volume},
	}, nil
}

func volumesOf(list []*evaluated) map[string]float64 {
	out := map[string]float64{}
	for _, e := range list {
		out[e.name] = e.volume
	}
	return out
}

// Make makes the pieces: boundaries, meshes, audits. A part with a fault, a
// block that does not add up, or a keep-out that liquid can reach is an error.
func (m *Mold) Make(o MakeOptions) (*Made, error) {
	list := m.pieces()
	pieces := len(list)
	raws, fresh := m.raws(list)
	add := func(name string, n *solid.Node) *evaluated {
		e := &evaluated{name: name, root: n}
		list = append(list, e)
		return e
	}
	rubber, channels := add("rubber", m.Rubber), add("channels", m.Channels)
	clear, block, void := add("clearances", m.Clearances), add("block", m.Block), add("void", m.Void)
	rest := []*evaluated{channels, clear}
	if m.Coats != nil {
		rest = append(rest, add("coats", m.Coats))
	}
	overlaps := len(list)
	for _, n := range m.Overlaps {
		add("overlap", n)
	}
	progress := func(name string, done int) {
		if o.Progress != nil {
			o.Progress(Stage{name, done, pieces + 3})
		}
	}
	if err := m.evaluate(slices.Concat(list, fresh)); err != nil {
		return nil, err
	}
	progress("exact faces", 1)

	made := &Made{Mold: m, Faces: facesOf(list[:pieces]), Volumes: volumesOf(list[:pieces])}
	made.RawFaces, made.RawVolumes = facesOf(raws), volumesOf(raws)
	a := &made.Audit
	a.Block, a.Channels, a.Clearances = block.volume, channels.volume, clear.volume
	a.Rubber = Agreement{ClosedForm: m.RubberVolume(), Boundary: rubber.volume}
	if m.Coats != nil {
		a.Coats = rest[2].volume
	}
	a.Sum = rubber.volume
	for _, e := range rest {
		a.Sum += e.volume
	}
	for _, e := range list[:pieces] {
		a.Sum += e.volume
	}
	for _, e := range list[overlaps:] {
		a.Sum -= e.volume
	}
	a.ExactResidue = a.Sum/a.Block - 1
	if abs(a.ExactResidue) > maxExactResidue {
		return nil, fmt.Errorf("the parts miss the block's volume by %.2g of it, more than %g: the model contradicts itself", a.ExactResidue, maxExactResidue)
	}
	if err := sealed(void.boundary); err != nil {
		return nil, err
	}
	progress("seals", 2)
	return made, m.meshes(made, list[:pieces], raws, rubber, append(rest, block), o, progress)
}

// meshes meshes and audits the pieces, in the mold and as they leave the machine, and
// rubber and rest for their volumes; the last of rest is the block.
func (m *Mold) meshes(made *Made, pieces, raws []*evaluated, rubber *evaluated, rest []*evaluated, o MakeOptions, progress func(string, int)) error {
	s := tess.Settings{Tolerance: o.Tolerance}
	a := &made.Audit
	wanted := func(name string) bool { return len(o.Only) == 0 || slices.Contains(o.Only, name) }
	sum, done := a.Sum, 2
	for i, e := range pieces {
		if !wanted(e.name) {
			continue
		}
		part, err := m.part(i, e, raws[i], s)
		if err != nil {
			return err
		}
		made.Parts = append(made.Parts, part)
		sum += part.Mesh.Volume() - e.volume
		a.MeshBound += chordBias(e.boundary, part.Mesh, o.Tolerance) / a.Block
		done++
		progress(e.name, done)
	}
	rm, err := rubber.mesh(s)
	if err != nil {
		return err
	}
	made.Rubber = rm
	a.Rubber.Mesh, a.Rubber.MeshBias = rm.Volume(), chordBias(rubber.boundary, rm, o.Tolerance)
	sum += a.Rubber.Mesh - rubber.volume
	a.MeshBound += a.Rubber.MeshBias / a.Block
	if len(made.Parts) == len(pieces) {
		k := len(rest) - 1
		d, whole := restByMesh(rest[:k], s)
		round, meshed := restByMesh(rest[k:], s)
		whole = whole && meshed
		a.MeshResidue = (sum+d)/(a.Block+round) - 1
		if whole {
			a.MeshBound = maxMeshResidue * max(1, o.Tolerance/usualTolerance)
		}
	}

	errs := make([]error, len(made.Parts))
	inparallel.Do(len(made.Parts), func(i int) {
		errs[i] = made.Parts[i].audit()
	})
	if abs(a.MeshResidue) > a.MeshBound {
		errs = append(errs, fmt.Errorf("the meshes miss the block's volume by %.2g of it, more than %.2g", a.MeshResidue, a.MeshBound))
	}
	progress("audit", done+1)
	return errors.Join(errs...)
}

// part meshes a piece as it is in the mold and as it leaves the machine.
func (m *Mold) part(i int, e, raw *evaluated, s tess.Settings) (p Part, err error) {
	p = Part{
		Piece: m.Pieces[i], Boundary: e.boundary, Volume: e.volume,
		RawBoundary: raw.boundary, RawVolume: raw.volume,
	}
	if p.Mesh, err = e.mesh(s); err != nil {
		return p, err
	}
	p.RawMesh = p.Mesh
	if raw != e {
		if p.RawMesh, err = raw.mesh(s); err != nil {
			return p, err
		}
	}
	p.Piece.Pose = p.Piece.Pose.OnBed(p.RawMesh)
	p.Posed = p.Piece.Pose.Mesh(p.RawMesh)
	return p, nil
}

func (e *evaluated) mesh(s tess.Settings) (*mesh.Mesh, error) {
	m, err := tess.Mesh(e.boundary, s)
	if err != nil {
		err = fmt.Errorf("%s: %w", e.title(), err)
	}
	return m, err
}

// audit judges the part's meshes.
func (p *Part) audit() error {
	p.Report = check.Audit(p.Mesh, check.Options{})
	p.RawReport = p.Report
	var errs []error
	for _, f := range p.Report.Faults() {
		errs = append(errs, fmt.Errorf("%s: mesh: %s", p.Piece.Name, f))
	}
	if p.RawMesh != p.Mesh {
		p.RawReport = check.Audit(p.RawMesh, check.Options{})
		for _, f := range p.RawReport.Faults() {
			errs = append(errs, fmt.Errorf("%s, as it leaves the machine: mesh: %s", p.Piece.Name, f))
		}
	}
	return errors.Join(errs...)
}

// restByMesh is by how much the meshes of what is no part differ from its exact
// volume. A gap thinner than the tolerance allows has no mesh; it keeps its
// exact volume, the result is not whole, and chords around it show in the residue.
func restByMesh(rest []*evaluated, s tess.Settings) (d float64, whole bool) {
	whole = true
	for _, e := range rest {
		if e.volume == 0 {
			continue
		}
		msh, err := tess.Mesh(e.boundary, s)
		if err != nil {
			whole = false
			continue
		}
		d += msh.Volume() - e.volume
	}
	return d, whole
}

// chordBias is the volume that a mesh may lose or gain: two thirds of the
// sagitta over its curved area (chords of a circle lie two thirds of their
// sagitta inside on average).
func chordBias(b *brep.Boundary, m *mesh.Mesh, tolerance float64) float64 {
	area := 0.0
	for i := range m.T {
		if b.Faces[m.Label[i]].Carrier.Kind != solid.Plane {
			area += m.Normal(i).Norm() / 2
		}
	}
	return 2. / 3 * tolerance * area
}

func abs(x float64) float64 { return max(x, -x) }
