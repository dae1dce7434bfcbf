package drawing

import (
	"fmt"
	"math"
	"slices"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/outline"
	"wheelmold/mold"
	"wheelmold/mold/flash"
)

// Partings draws every parting plane of a mold, with each plate or one of two pieces as
// it lies on the bench and is seen from above; of more pieces around the axis each plane
// by itself, with the piece that begins there: the faces on which other pieces lie, all
// that is cut into them, the seam, and the places and sizes of balls and bolts.
func Partings(m *mold.Mold, faces map[string]*brep.Boundary) ([]Drawing, error) {
	var out []Drawing
	var seen []outline.View
	for i := range m.Pieces {
		p := &m.Pieces[i]
		if p.Pull.Norm() == 0 { // the hub has no parting plane
			continue
		}
		for _, v := range planes(m, p, faces[p.Name]) {
			if p.Kind == mold.Shell && partingOf(m.Layout, p.Name) == nil && slices.ContainsFunc(seen, func(w outline.View) bool { return onePlane(v, w) }) {
				continue // drawn with the piece on its other side
			}
			seen = append(seen, v)
			x, err := newParting(m, faces, p, v)
			if err != nil {
				return nil, err
			}
			d := x.drawing()
			for k, id := 2, d.ID; slices.ContainsFunc(out, func(o Drawing) bool { return o.ID == d.ID }); k++ {
				d.ID = fmt.Sprintf("%s-%d", id, k)
			}
			out = append(out, d)
		}
	}
	return out, nil
}

// planes are the parting planes on which other pieces lie when a piece lies on the
// bench.
func planes(m *mold.Mold, p *mold.Piece, b *brep.Boundary) []outline.View {
	if at := partingOf(m.Layout, p.Name); at != nil {
		return []outline.View{halfPlane(at)}
	}
	var out []outline.View
	v := onBench(p, mesh.Vec{})
	for _, f := range flats(p.Name, b, v) {
		w := onBench(p, v.W().Scale(f.height))
		if f.toward && slices.Contains(f.roles, mold.RoleParting) && !slices.ContainsFunc(out, func(o outline.View) bool { return onePlane(o, w) }) {
			out = append(out, w)
		}
	}
	return out
}

func onePlane(v, w outline.View) bool {
	return math.Abs(v.W().Dot(w.W())) > parallel && math.Abs(v.W().Dot(v.O.Sub(w.O))) < touch
}

// parting is a parting plane with the piece below it.
type parting struct {
	mold     *mold.Mold
	piece    *mold.Piece
	view     outline.View
	at       *mold.Parting // where the piece begins, see partingOf; nil: it lies on the bench
	twin     string        // a piece above it that could as well lie below
	joint    joint
	edges    []outline.Path
	shape    Box // of what is drawn, mm of the mold
	features []feature
	least    *Mark   // land; nil: none
	plug     float64 // radius of the register, mm; 0: none
}

func newParting(m *mold.Mold, faces map[string]*brep.Boundary, p *mold.Piece, v outline.View) (*parting, error) {
	x := &parting{mold: m, piece: p, view: v, at: partingOf(m.Layout, p.Name)}
	low := flats(p.Name, faces[p.Name], v)
	var high []flat
	for i := range m.Pieces {
		q := &m.Pieces[i]
		if q.Name == p.Name {
			continue
		}
		high = append(high, flats(q.Name, faces[q.Name], v)...)
		if x.at == nil && q.Pull.Norm() > 0 && slices.ContainsFunc(planes(m, q, faces[q.Name]), func(w outline.View) bool { return onePlane(v, w) }) {
			x.twin = q.Name
		}
	}
	if x.at != nil {
		x.twin = sideTo(m.Layout, x.at).Name
	}
	if x.joint = jointOf(low, high); len(x.joint) == 0 {
		return nil, fmt.Errorf("no piece lies on the parting face of %s: the model contradicts itself", p.Name)
	}
	const tolerance = 0.02 // mm, of curves that are neither straight nor round
	x.edges = outline.Edges(faces[p.Name], v, tolerance)
	lo, hi := outline.Region(x.edges).Bounds()
	x.shape = Box{lo, hi}
	x.plug = x.register(faces[p.Name])
	x.find()
	x.least = x.land()
	return x, nil
}

// feature is something on the parting plane that the layout places.
type feature struct {
	name string
	at   Point
	r    float64 // of what is round, mm; 0: it has corners
	tip  Point   // where a leader may end
}

// Names of features on a parting plane.
const (
	namedBall  = "ball pocket"
	namedOdd   = "odd ball"
	namedBolt  = "bolt hole"
	namedJack  = "jack screw"
	namedSlot  = "pry slot"
	namedSprue = "sprue"
	namedVent  = "vent"
)

// find gathers the layout's features on the plane.
func (x *parting) find() {
	l, w := x.mold.Layout, x.view.W()
	along := func(d mesh.Vec) bool { return math.Abs(d.Dot(w)) > parallel }
	on := func(p mesh.Vec) bool { return math.Abs(p.Sub(x.view.O).Dot(w)) < touch }
	add := func(name string, p mesh.Vec, r float64) {
		q := x.view.At(p)
		x.features = append(x.features, feature{name, q, r, plus(q, Point{-r / 2, r / 2})})
	}
	axes := [3]mesh.Vec{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for _, b := range l.Balls {
		if along(axes[b.Axis]) && on(b.At) {
			add(map[bool]string{false: namedBall, true: namedOdd}[b.Odd], b.At, b.R)
		}
	}
	for _, b := range l.Bolts {
		if along(axes[2]) && b.Top > x.view.O[2]+touch { // else its head bears below the plane
			add(namedBolt, b.At, b.R)
		}
	}
	for _, b := range l.Cross {
		if along(axes[1]) {
			add(namedBolt, mesh.Vec{b.X, 0, b.Z}, b.R)
		}
	}
	for _, j := range l.Jacks {
		if along(j.Dir) && on(j.At) && j.Dir.Dot(w) < 0 {
			add(namedJack, j.At, j.R)
		}
	}
	if along(axes[2]) && w[2] < 0 { // channels run up from what lies over the cavity
		for _, p := range l.Gates {
			add(namedSprue, p, l.GateR)
		}
		for _, p := range l.Vents {
			add(namedVent, p, l.VentR)
		}
	}
	if !x.upright() && l.Above == "" { // else they run through the plate
		x.channels(on)
	}
	for i := range l.Slots {
		if box, ok := x.slot(&l.Slots[i]); ok {
			middle := between(box.Lo, box.Hi, .5)
			x.features = append(x.features, feature{name: namedSlot, at: middle, tip: middle})
		}
	}
}

// channels gathers sprues and vents that the plane halves.
func (x *parting) channels(on func(mesh.Vec) bool) {
	l := x.mold.Layout
	add := func(name string, p mesh.Vec) {
		if q := x.view.At(p); on(p) && (x.at == nil || q[0] > 0) {
			x.features = append(x.features, feature{name: name, at: q, tip: Point{q[0], (q[1] + l.Ceil) / 2}})
		}
	}
	for _, p := range l.Gates {
		add(namedSprue, p)
	}
	for _, p := range l.Vents {
		add(namedVent, p)
	}
}

// slot is what of a pry slot lies on the piece; not ok if it does not cross the plane
// there.
func (x *parting) slot(s *mold.Slot) (Box, bool) {
	sn, cs := math.Sincos(s.Turned * math.Pi / 180)
	box, below, above := NoBox(), false, false
	for _, c := range (mesh.Box{Lo: s.Lo, Hi: s.Hi}).Corners() {
		if s.Turned != 0 {
			c[0], c[1] = cs*c[0]-sn*c[1], sn*c[0]+cs*c[1]
		}
		h := c.Sub(x.view.O).Dot(x.view.W())
		below, above = below || h < 0, above || h > 0
		box = box.Include(x.view.At(c))
	}
	for i := range box.Lo { // what sticks out of the piece is air
		box.Lo[i], box.Hi[i] = max(box.Lo[i], x.shape.Lo[i]), min(box.Hi[i], x.shape.Hi[i])
	}
	if x.at != nil { // beyond the axis is another parting
		box.Lo[0] = max(box.Lo[0], 0)
	}
	return box, below && above && box.Lo[0] < box.Hi[0] && box.Lo[1] < box.Hi[1]
}

// upright tells whether the wheel's axis stands on the plane.
func (x *parting) upright() bool { return math.Abs(x.view.W()[2]) > parallel }

func (x *parting) drawing() Drawing {
	d := Drawing{ID: "parting-" + Slug(x.piece.Name), Title: "Parting face of " + called(x.piece.Name), View: x.view}
	if x.twin != "" {
		d.Title += " toward " + called(x.twin)
	}
	switch {
	case x.at != nil:
		d.ID = "parting-" + Slug(x.at.Line)
	case !x.upright():
		d.ID = "parting-sides"
	}
	face := x.joint.region()
	d.Areas = []Area{{Look: Face, Of: x.piece.Name, Region: face}}
	line := func(look Look, of string, p []outline.Path) {
		if len(p) > 0 {
			d.Lines = append(d.Lines, Line{look, of, p})
		}
	}
	line(Visible, x.piece.Name, x.edges)
	line(Parting, "", pathsOf(x.joint.strokes(atNeighbor)))
	line(Seam, "rubber", pathsOf(x.joint.strokes(onSeam)))
	if x.least != nil {
		d.Marks = []Mark{*x.least}
	}
	missed := d.arrange(x.axes(), x.dims(), x.names(), keyRoom(len(d.Marks)))
	d.Note = x.note() + notShown(missed)
	return d
}

// axes are the center lines of the mold, and crosses at what is round.
func (x *parting) axes() []Line {
	var out []Line
	add := func(a, b Point) { out = append(out, Line{Axis, "", []outline.Path{straight(a, b)}}) }
	add(Point{0, x.shape.Lo[1]}, Point{0, x.shape.Hi[1]})
	if x.upright() {
		add(Point{x.shape.Lo[0], 0}, Point{x.shape.Hi[0], 0})
	}
	for _, f := range x.features {
		if f.r > 0 {
			add(Point{f.at[0] - f.r, f.at[1]}, Point{f.at[0] + f.r, f.at[1]})
			add(Point{f.at[0], f.at[1] - f.r}, Point{f.at[0], f.at[1] + f.r})
		}
	}
	return out
}

func (x *parting) note() string {
	s := seenFrom(x.piece.Name, x.view)
	if x.at != nil {
		s = halfPlaneNote(x.mold.Layout, x.at)
	}
	s += " Tinted: where other pieces lie on it. The heavy line is the seam, the edge that the rubber wets. Distances are from the axis"
	switch {
	case x.upright():
	case x.mold.Layout.SideLow < 0:
		s += " and from the cavity's lower end"
	default:
		s += " and from the lower end"
	}
	return s + "; a ball or bolt without its own repeats those of its kind."
}

// land marks where the seam is the nearest to a way out, straight across the face; of
// places that are equally near, that farthest from the names, whose leaders would run
// through the mark. nil: it has none.
func (x *parting) land() *Mark {
	seam, exits := x.joint.strokes(onSeam), x.joint.strokes(atExit)
	least, kind := math.Inf(1), ""
	var at Point
	side := 1.
	if x.namesRight() {
		side = -1
	}
	for i := range seam {
		if x.inChannel(&seam[i]) {
			continue
		}
		for k := range exits {
			if exits[k].kind == flash.ExitOpening {
				continue // it leads into the hub: the hub's land is another one
			}
			p, q := outline.Apart(&seam[i].Stretch, &exits[k].Stretch)
			d := dist(p, q)
			if d < least-touch || d < least+touch && (p[0]-at[0])*side > touch {
				least, kind, at = d, exits[k].kind, p
			}
		}
	}
	if math.IsInf(least, 1) {
		return nil
	}
	land := Dim{Value: least}
	return &Mark{Narrow, at, "least land, " + land.Text() + ", to the nearest " + kind}
}

// inChannel tells whether a stretch of the seam runs along a sprue or vent that the
// plane halves: it ends in the outer face, as it is meant to.
func (x *parting) inChannel(s *stroke) bool {
	return !x.upright() && s.At(.5)[1] > x.mold.Layout.Top+touch
}

// seamRadius is the radius of the seam where it runs round the axis, mm: that of the
// cavity where it meets the plane; 0 where it does not.
func (x *parting) seamRadius() (r float64) {
	for _, s := range x.joint.strokes(onSeam) {
		if math.Hypot(s.Center[0], s.Center[1]) < touch {
			r = max(r, s.Radius)
		}
	}
	return r
}

// register is the radius of the plug where it leaves the land, mm; 0: none.
func (x *parting) register(b *brep.Boundary) float64 {
	r := 0.0
	for _, e := range b.Edges {
		var land, plug bool
		for _, h := range e.Half {
			f := b.Faces[h.Face]
			land = land || mates(f.Roles)
			plug = plug || slices.Contains(f.Roles, mold.RoleRegister)
		}
		if c := e.Curve; land && plug && c.Radius > 0 && math.Abs(c.Normal.Dot(x.view.W())) > parallel {
			r = max(r, c.Radius)
		}
	}
	return r
}
