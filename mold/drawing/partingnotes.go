package drawing

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"wheelmold/mold/flash"
)

// layOut sets dimensions and balloons at the largest scale at which all fits on the
// paper: dimension lines in rows below, above and to the right, names in a column on
// either side.
func (x *parting) layOut(d *Drawing) {
	const key = 8 // mm of paper below the drawing
	bare := *d
	for _, s := range Scales {
		*d = bare
		d.Scale = s
		d.Lines = append(slices.Clone(bare.Lines), reaching(x.axes(), 3/s)...)
		frame := d.shape(s)
		frame = x.rows(d, frame, s)
		x.columns(d, frame, s)
		if x.hasLand {
			d.Dims = append(d.Dims, x.least)
		}
		e := d.Extent(s)
		if e.Hi[0]-e.Lo[0] <= Paper.Width-2 && e.Hi[1]-e.Lo[1] <= Paper.Height-2-key {
			break
		}
	}
}

// namesRight tells on which side the names stand: that of the odd ball. Dimensions
// along v stand on the other.
func (x *parting) namesRight() bool {
	for _, f := range x.features {
		if f.name == namedOdd {
			return f.at[0] > 0
		}
	}
	return false
}

// rows puts every dimension on the first row of its side on which it keeps clear of
// those that are there, the shorter ones nearer to the piece, and returns the frame
// around all of it.
func (x *parting) rows(d *Drawing, frame Box, scale float64) Box {
	dims := x.dims()
	slices.SortStableFunc(dims, func(a, b wanted) int {
		return cmp.Or(cmp.Compare(a.side, b.side), cmp.Compare(math.Round(a.span()*1e3), math.Round(b.span()*1e3)))
	})
	out := frame
	var taken []Box
	for _, w := range dims {
		b := w.place(frame, scale, taken)
		taken, out = append(taken, b), out.Include(b.Lo, b.Hi)
		d.Dims = append(d.Dims, w.Dim)
	}
	return out
}

// place sets where a dimension runs, and returns the box that it takes.
func (w *wanted) place(frame Box, scale float64, taken []Box) Box {
	for off := firstRow; ; off += rowPitch {
		w.At = map[side]float64{below: frame.Lo[1] - off, above: frame.Hi[1] + off, leftward: frame.Lo[0] - off, rightward: frame.Hi[0] + off}[w.side] / scale
		for _, w.Beside = range [2]int{1, -1} {
			ink := w.Ink(scale)
			label := ink.Label.Box()
			b := NoBox().Include(ink.Lines[0][0], ink.Lines[0][1], label.Lo, label.Hi).Grow(.8)
			if !slices.ContainsFunc(taken, b.Meets) {
				return b
			}
		}
	}
}

// columns names what is seen, in a column beside it all: in the order of what they
// name, so that no two leaders cross.
func (x *parting) columns(d *Drawing, frame Box, scale float64) {
	const pitch, gap = 6.0, 5.0
	column := x.names()
	slices.SortStableFunc(column, func(a, b Balloon) int { return -cmp.Compare(math.Round(a.Tip[1]*1e3), math.Round(b.Tip[1]*1e3)) })
	var vs []float64
	for _, b := range column {
		vs = append(vs, b.Tip[1]*scale)
	}
	for k, v := range spread(vs, pitch) {
		b := column[k]
		w := gap + TextWidth(b.Text, TypeSize)/2
		b.At = Point{(frame.Lo[0] - w) / scale, v / scale}
		if x.namesRight() {
			b.At[0] = (frame.Hi[0] + w) / scale
		}
		d.Balloons = append(d.Balloons, b)
	}
}

// spread moves falling values apart to the pitch, as little as it takes: those too
// close stand evenly about their mean.
func spread(v []float64, pitch float64) []float64 {
	type block struct {
		sum float64 // of the values, each less its place in the block
		n   int
	}
	var blocks []block
	top := func(b block) float64 { return b.sum / float64(b.n) }
	for _, x := range v {
		blocks = append(blocks, block{x, 1})
		for n := len(blocks); n > 1; n-- {
			a, b := blocks[n-2], blocks[n-1]
			if top(a)-float64(a.n)*pitch >= top(b) {
				break
			}
			blocks = append(blocks[:n-2], block{a.sum + b.sum + float64(b.n*a.n)*pitch, a.n + b.n})
		}
	}
	var out []float64
	for _, b := range blocks {
		for k := range b.n {
			out = append(out, top(b)-float64(k)*pitch)
		}
	}
	return out
}

// names are what gets a balloon: of each name one, on what lies nearest to the names.
func (x *parting) names() []Balloon {
	out := []Balloon{}
	toward := -1.
	if x.namesRight() {
		toward = 1
	}
	add := func(text string, tip Point) {
		i := slices.IndexFunc(out, func(b Balloon) bool { return b.Text == text })
		switch {
		case i < 0:
			out = append(out, Balloon{Text: text, Tip: tip})
		case (tip[0]-out[i].Tip[0])*toward > touch:
			out[i].Tip = tip
		}
	}
	for _, f := range x.features {
		add(f.name, f.tip)
	}
	if x.plug > 0 {
		add("register", Point{.7 * x.plug * toward, -.3 * x.plug})
	}
	widest := 0.
	for _, s := range x.joint.strokes(func(k string) bool { return k == flash.ExitOpening }) {
		widest = max(widest, s.radius)
	}
	for _, s := range x.joint.strokes(func(k string) bool { return k == flash.ExitOpening }) {
		if s.radius == widest {
			add("hub opening", s.at(.5))
		}
	}
	for _, s := range x.joint.strokes(onSeam) {
		add("seam", s.at(.5))
	}
	return out
}

// dims are the dimensions along the sides: where balls and bolts are, and how large
// what is round. Of features of a name that mirror each other one is enough.
func (x *parting) dims() []wanted {
	var out []wanted
	middle := between(x.shape.Lo, x.shape.Hi, .5)
	type place struct {
		name string
		axis int
		mm   float64 // from the axis, to a thousandth
	}
	placed := map[place]bool{}
	sized := map[string]bool{}
	for _, f := range x.placedFeatures() {
		v := below
		if f.at[1] > middle[1] {
			v = above
		}
		name := strings.TrimSuffix(strings.TrimSuffix(f.name, " pocket"), " hole")
		like := strings.TrimPrefix(name, "odd ") // an odd ball is odd in one direction
		for i, to := range [2]side{v, x.plumbSide()} {
			k := place{like, i, math.Round(math.Abs(f.at[i]) * 1e3)}
			from := f.at
			if from[i] = 0; placed[k] || k.mm == 0 {
				continue
			}
			placed[k] = true
			out = append(out, wanted{Dim{Kind: [2]DimKind{Across, Plumb}[i], From: from, To: f.at, Value: math.Abs(f.at[i]), Name: name}, to})
		}
		if !sized[like] {
			sized[like] = true
			out = append(out, across(v, f.name, f.at, f.r))
		}
	}
	return append(out, x.sizes()...)
}

// plumbSide is where dimensions along v stand.
func (x *parting) plumbSide() side {
	if x.namesRight() {
		return leftward
	}
	return rightward
}

// placedFeatures are those whose places are given: balls before bolts before odd balls,
// those next to the dimensions along v first.
func (x *parting) placedFeatures() []feature {
	order := []string{namedBall, namedBolt, namedOdd}
	var out []feature
	for _, f := range x.features {
		if slices.Contains(order, f.name) {
			out = append(out, f)
		}
	}
	toward := 1.
	if x.namesRight() {
		toward = -1
	}
	slices.SortStableFunc(out, func(a, b feature) int {
		return cmp.Or(slices.Index(order, a.name)-slices.Index(order, b.name), -cmp.Compare(math.Round(a.at[0]*toward*1e3), math.Round(b.at[0]*toward*1e3)))
	})
	return out
}

// across is the dimension of something round, along u.
func across(to side, name string, c Point, r float64) wanted {
	return wanted{Dim{Kind: Across, From: Point{c[0] - r, c[1]}, To: Point{c[0] + r, c[1]}, Value: 2 * r, Name: name, Turned: true}, to}
}

// sizes are the dimensions of the block, and of what goes round the axis.
func (x *parting) sizes() []wanted {
	l := x.mold.Layout
	half, low, high, name := l.B, -l.FaceY, l.FaceY, "breadth"
	if !x.upright() {
		half, low, high, name = l.OuterX, 0, l.Top, "height"
	}
	out := []wanted{{Dim{Kind: Across, From: Point{-half, low}, To: Point{half, low}, Value: 2 * half, Name: "width"}, below}}
	if high-low != 2*half {
		u := x.shape.Hi[0]
		if x.namesRight() {
			u = x.shape.Lo[0]
		}
		out = append(out, wanted{Dim{Kind: Plumb, From: Point{u, low}, To: Point{u, high}, Value: high - low, Name: name}, x.plumbSide()})
	}
	if x.upright() && x.plug > 0 {
		out = append(out, across(above, "register", Point{}, x.plug))
	}
	if r := x.seamRadius(); x.upright() && r > 0 {
		out = append(out, across(above, "seam", Point{}, r))
	}
	return out
}
