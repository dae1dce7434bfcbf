// Package mold turns a job into the labeled solids of its mold: the pieces, the
// hub core, the rubber, and what no part fills.
//
// Features place themselves from few numbers (layout.go, sides.go), the pieces
// come out of one split mechanism (split.go), and the result is checked with
// exact distances (clearance.go). A Mold is a model and its numbers; making
// boundaries and meshes of it is the caller's work (mesh/brep, mesh/tess).
//
// Frame: wheel axis +Z, up during the pour; the tread's lower face is z = 0; the
// shells part on y = 0. Millimeters, on the lattice of mesh/solid.
package mold

import (
	"math"
	"strings"

	"wheelmold/hub"
	"wheelmold/mesh"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// Kind is what a piece is to the mold.
type Kind int

// Kinds of pieces.
const (
	Plate Kind = iota // lies across the axis: base, lid, strap, cup
	Shell             // lies around the axis: a shell, or half of a clam
	Hub
)

// Piece is one part to make.
type Piece struct {
	Name string
	Kind Kind
	Root *solid.Node // as it is in the closed mold
	// Raw is the piece as it leaves the machine, where that differs: with stock on
	// its mating faces to be lapped off, or a hub with holes that come out small.
	// Else it is Root.
	Raw  *solid.Node
	Pull mesh.Vec // direction in which it is drawn off; zero for the hub
	Pose Pose
}

// Printed tells whether the piece comes off a printer.
func (p *Piece) Printed(j *params.Job) bool {
	if p.Kind == Hub {
		return j.Hub.Printed()
	}
	return j.Printed()
}

// Title is a piece's name as a reader sees it: "shell A" for "shell-a".
func Title(piece string) string {
	if letter, ok := sideLetter(piece); ok {
		kind, _, _ := strings.Cut(piece, "-")
		return kind + " " + letter
	}
	return piece
}

// Mold is the whole model of one job.
type Mold struct {
	Job    *params.Job
	Model  *solid.Model
	Layout *Layout
	Core   *hub.Core
	Tread  *Tread
	Split  *Split

	Pieces []Piece // the mold's pieces, then the hub
	Block  *solid.Node
	Rubber *solid.Node // the tread, coned ceiling included
	// Channels are sprue and vents; Clearances all that pieces, hub, rubber, channels
	// and coats leave of the block. Overlaps are parts of the hub that a register
	// with interference presses into.
	Channels, Clearances *solid.Node
	Overlaps             []*solid.Node
	// Coats are what the sealer fills between the pieces and the rubber; nil without any.
	Coats *solid.Node
	// Void is the block without pieces, hub and seals: where liquid could go.
	Void *solid.Node

	Warnings params.Faults
}

// New models the job. The error is params.Faults, all of them at once, each
// with the number to change.
func New(j *params.Job) (*Mold, error) {
	if f := j.Validate(); len(f) > 0 {
		return nil, f
	}
	m := &Mold{Job: j, Model: solid.NewModel()}
	// The stated offset is that of the hub's back face from the tread's.
	low := j.Hub.Offset
	if j.Mold.FaceUp == "back" {
		low = solid.Round(j.Wheel.Width) - solid.Round(low) - solid.Round(j.Hub.Length)
	}
	m.Core = hub.New(j, low)
	m.Tread = newTread(j, m.Core)
	flushLands(j, m.Core, m.Tread.Top)
	l, faults, warns := place(j, m.Tread, m.Core)
	if len(faults) > 0 {
		return nil, faults
	}
	m.Layout, m.Warnings = l, warns
	if f := announce(j, m); len(f) > 0 {
		return nil, f
	}
	b := &builder{Mold: m}
	b.build()
	b.faults = append(b.faults, clearances(m)...)
	if len(b.faults) > 0 {
		return nil, b.faults
	}
	return m, nil
}

// flushLands takes out the lattice steps by which rounding the hub's offset,
// length and gap one by one leaves the lands off the tread's faces; a land that
// is meant to lie elsewhere is much further away.
func flushLands(j *params.Job, c *hub.Core, top float64) {
	low, high := gaps(j)
	const steps = 3 * solid.Lattice
	if d := c.Z0 - low; math.Abs(d) < steps {
		c.Z0 -= d
	}
	if d := c.Z1() + high - top; math.Abs(d) < steps {
		c.Length -= d
	}
}

// gaps are the designed gaps at the hub's lower and upper end.
func gaps(j *params.Job) (low, high float64) {
	gap := solid.Round(j.Mold.Stack.Gap)
	if j.Mold.Stack.At == "upper" {
		return 0, gap
	}
	return gap, 0
}

// Piece returns a piece by name.
func (m *Mold) Piece(name string) (Piece, bool) {
	for _, p := range m.Pieces {
		if p.Name == name {
			return p, true
		}
	}
	return Piece{}, false
}

// builder turns the layout into trees.
type builder struct {
	*Mold
	faults  params.Faults
	pressed []*solid.Node // registers with interference
}

var (
	axisX = mesh.Vec{1, 0, 0}
	axisY = mesh.Vec{0, 1, 0}
	axisZ = mesh.Vec{0, 0, 1}
)

func (b *builder) build() {
	b.Block = b.block()
	b.Split = &Split{Block: b.Block, Zones: b.zones()}
	cavity := b.Tread.build(b.Model)
	h := b.Core.Build(b.Model)
	b.cut("tread cavity", groupCavity, "wheel.diameter", cavity)
	b.openTop()
	b.recesses()
	b.registers()
	b.balls()
	b.bolts()
	b.pry()
	b.channels()
	b.marks()
	b.coats(h.Hub)
	b.solids(cavity, h)
}

// solids puts the trees together once every cut and addition is known.
func (b *builder) solids(cavity *solid.Node, h hub.Solids) {
	l, t := b.Layout, b.Tread
	top := t.Top + t.Ceiling
	column := b.Model.Revolve("hub column", hub.RoleBond, solid.AxisFrame(mesh.Vec{}, axisZ), b.Core.Column(min(0, l.LandLow), max(top, l.LandTop)))
	b.Rubber = solid.Minus(cavity, solid.Minus(column, h.Locks...))

	for _, r := range b.pressed {
		b.Overlaps = append(b.Overlaps, solid.Intersect(r, h.Hub))
	}

	var solids []*solid.Node
	for i := range b.Split.Zones {
		z := &b.Split.Zones[i]
		p := Piece{Name: z.Name, Kind: z.Kind, Root: b.Split.Piece(z), Pull: z.Pull, Pose: z.Pose}
		p.Raw = b.raw(z, p.Root)
		b.Pieces = append(b.Pieces, p)
		solids = append(solids, p.Root)
	}
	b.Pieces = append(b.Pieces, Piece{Name: "hub", Kind: Hub, Root: h.Hub, Raw: b.Core.Raw(b.Model, h, b.Job.Hub.HoleCompensation), Pose: AsIs})
	solids = append(solids, h.Hub)
	b.Void = solid.Minus(b.Block, append(solids[:len(solids):len(solids)], b.seals()...)...)
	b.Clearances = solid.Minus(b.Block, append(solids[:len(solids):len(solids)], b.filled()...)...)
}

func (b *builder) cut(name, group, path string, n *solid.Node) {
	b.Split.Cuts = append(b.Split.Cuts, Cut{Name: name, Group: group, Path: path, Node: n, Box: n.Bounds()})
}

// note is a warning about a value of the job.
func (b *builder) note(path, value, cause string) params.Fault {
	return params.Fault{Path: path, Value: value, Cause: cause}
}

// last is the cut added last, for what the common case leaves out.
func (b *builder) last() *Cut { return &b.Split.Cuts[len(b.Split.Cuts)-1] }

// Groups of cuts that others run into on purpose.
const (
	groupCavity = "cavity"
	groupRecess = "hub recess"
	groupStrap  = "strap groove"
	groupMark   = "mark"
	groupOpen   = "open top"
)

// outlineProfile is the block's outline drawn in by d.
func (l *Layout) outlineProfile(d float64) solid.Profile {
	r, y := l.B-d, l.FaceY-d
	switch l.Outline {
	case "octagon":
		k := solid.Round(r * 0.41421356237309503) // tan 22.5°
		return solid.Poly(r, -k, r, k, k, r, -k, r, -r, k, -r, -k, -k, -r, k, -r)
	case "round":
		x := halfChord(r, y)
		return solid.Profile{}.LineTo(x, -y).ArcTo(x, y, 0, 0, true).LineTo(-x, y).ArcTo(-x, -y, 0, 0, true)
	}
	return solid.Poly(r, -r, r, r, -r, r, -r, -r)
}

func (b *builder) block() *solid.Node {
	l := b.Layout
	f := solid.AxisFrame(mesh.Vec{}, axisZ)
	n := b.Model.Extrude("block", RoleOuter, f, l.Bottom, l.Ceil, l.outlineProfile(0))
	if len(l.Lugs) == 0 {
		return n
	}
	kids := []*solid.Node{n}
	for _, g := range l.Lugs {
		kids = append(kids, b.Model.Box("lug", RoleOuter, g.Lo, g.Hi))
	}
	return solid.Union(kids...)
}
