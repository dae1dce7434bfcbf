package report

import (
	"cmp"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mold"
	"wheelmold/mold/flash"
	"wheelmold/mold/pour"
	"wheelmold/mold/study"
	"wheelmold/params"
)

// OfCheck reports a mold of which only the exact boundaries are known.
func OfCheck(m *mold.Mold, c *mold.Checked, e *flash.Estimate, p *pour.Plan) *Check {
	r := outline(m, p)
	r.flash(e)
	for _, p := range m.Pieces {
		r.Pieces = append(r.Pieces, Piece{Name: p.Name, Size: sizeOf(p), Volume: c.RawVolumes[p.Name]})
	}
	r.Rubber = rubber(c.Rubber)
	return r
}

// SetStudy reports what a study found beside the pour and flash.
func (c *Check) SetStudy(x *study.Result) {
	c.SetPrinting(x.Mold, x.Printing)
	c.SetMachining(x.Mold, x.Machining)
	c.SetEffort(x.Effort)
	c.SetRelease(x.Release)
	c.Opening, c.Service, c.Worth = OpeningOf(x.Opening), ServiceOf(x.Tread, x.Hub), OfWorth(x.Worth)
}

func rubber(a mold.Agreement) Rubber {
	return Rubber{ClosedForm: a.ClosedForm, Boundary: a.Boundary, Mesh: a.Mesh, MeshBias: a.MeshBias}
}

// outline is what follows from job and layout alone.
func outline(m *mold.Mold, p *pour.Plan) *Check {
	j, l := m.Job, m.Layout
	return &Check{
		Version:  Version,
		Job:      j.Name,
		Warnings: []string{},
		Wheel:    wheel(m),
		Process:  j.Process.Name,
		Split:    j.Mold.Split,
		around:   l.Around(),
		onTread:  len(l.Sides) == 0 && m.Tread.CrownR > 0,
		Segments: j.Mold.Segments,
		Outline:  Outline{l.Outline, [3]float64{2 * max(l.B, l.OuterX), 2 * l.FaceY, l.Ceil - l.Bottom}},
		Mating:   matingOf(m),
		Coats:    coatsOf(m),
		Hardware: hardware(m),
		Scars:    Scars{l.Hidden, l.Visible, j.Hub.CoverDiameter, m.Tread.Top - m.Tread.Width},
		Pour:     pourOf(m, p),
	}
}

// flash reports what is lost, as a share of what is mixed for one mold.
func (c *Check) flash(e *flash.Estimate) {
	c.Flash = flashOf(e)
	c.Flash.place = map[string]string{"shells": "shell heights", "cup": "depth of its place in cup and lid", "halves": "length of its place in the halves"}[c.around]
	c.Flash.Share = c.Flash.Lost.P50 * float64(max(c.Pour.Molds, 1)) / c.Pour.Mixed
}

func wheel(m *mold.Mold) Wheel {
	w := &m.Job.Wheel
	return Wheel{w.Diameter, w.Width, m.Job.Mold.FaceUp, 2 * m.Tread.R}
}

func hardware(m *mold.Mold) Hardware {
	j, l := &m.Job.Mold, m.Layout
	h := Hardware{
		Bolts: len(l.Bolts), BoltSize: sizeIf(len(l.Bolts), j.Bolts.Size),
		Side: len(l.Cross), SideSize: sizeIf(len(l.Cross), j.SideClamp.Size), SideClamp: j.SideClamp.Kind,
		Jacks: len(l.Jacks), JackSize: sizeIf(len(l.Jacks), j.Jacks.Size),
		BoltNM: j.Bolts.Torque, SideNM: j.SideClamp.Torque, StrapN: j.SideClamp.StrapForce,
		well: wellDepth(l),
		Seal: j.Stack.Seal, SealMM: max(l.GapLow, l.GapTop), Balls: []Balls{}, Lengths: []BoltLength{},
		JackLengths: []BoltLength{},
	}
	for i := range l.Jacks {
		h.JackLengths = addLength(h.JackLengths, l.Jacks[i].Least())
	}
	if f, ok := params.FastenerOf(h.BoltSize); ok {
		h.bolts(l, f.NutHeight)
	}
	if f, ok := params.FastenerOf(h.SideSize); ok {
		h.SideMM = 2*l.Cross[0].Grip + f.NutHeight
	}
	for _, b := range l.Balls {
		i := slices.IndexFunc(h.Balls, func(x Balls) bool { return x.Diameter == b.Diameter })
		if i < 0 {
			i = len(h.Balls)
			h.Balls = append(h.Balls, Balls{Diameter: b.Diameter})
		}
		h.Balls[i].Count++
	}
	return h
}

// bolts lists the bolts along the axis by their lengths.
func (h *Hardware) bolts(l *mold.Layout, nut float64) {
	for i := range l.Bolts {
		h.Lengths = addLength(h.Lengths, l.Bolts[i].Length(l, nut))
	}
	slices.SortFunc(h.Lengths, func(a, b BoltLength) int { return -cmp.Compare(a.Length, b.Length) })
	h.BoltMM = h.Lengths[0].Length
}

// addLength counts one more of a length.
func addLength(all []BoltLength, mm float64) []BoltLength {
	i := slices.IndexFunc(all, func(x BoltLength) bool { return x.Length == mm })
	if i < 0 {
		i, all = len(all), append(all, BoltLength{Length: mm})
	}
	all[i].Count++
	return all
}

func sizeIf(n int, size string) string {
	if n == 0 {
		return ""
	}
	return size
}

// sizeOf is the size of a piece as it lies on the bed.
func sizeOf(p mold.Piece) [3]float64 {
	b := p.Raw.Bounds()
	posed := mesh.EmptyBox().Include(p.Pose.Apply(b.Lo)).Include(p.Pose.Apply(b.Hi))
	return posed.Hi.Sub(posed.Lo)
}

// OfBuild reports a mold whose parts were made.
func OfBuild(m *mold.Mold, made *mold.Made, e *flash.Estimate, p *pour.Plan) *Build {
	b := &Build{Check: *outline(m, p)}
	b.flash(e)
	for _, p := range made.Parts {
		box := p.Posed.Bounds()
		b.Pieces = append(b.Pieces, Piece{
			Name: p.Piece.Name, Size: box.Hi.Sub(box.Lo), Volume: p.RawVolume,
			Triangles: len(p.RawMesh.T), Mesh: p.RawMesh.Volume(),
		})
	}
	a := &made.Audit
	b.Rubber = rubber(a.Rubber)
	b.Closure = Closure{Block: a.Block, Clearances: a.Clearances, Coats: a.Coats, Exact: a.ExactResidue}
	if len(made.Parts) == len(m.Pieces) {
		b.Closure.Meshes = &a.MeshResidue
	}
	return b
}
