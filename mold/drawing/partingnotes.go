package drawing

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"wheelmold/mesh/outline"
	"wheelmold/mold/flash"
)

// namesRight tells on which side the names stand: that of the odd ball, or away from
// the axis. Dimensions along v stand on the other.
func (x *parting) namesRight() bool {
	for _, f := range x.features {
		if f.name == namedOdd {
			return f.at[0] > 0
		}
	}
	return x.at != nil
}

// names are what gets a balloon: of each name one, on what lies nearest to the names.
// They stand in a column, but for what lies beyond a cavity that is cut lengthwise: a
// leader would run all across it.
func (x *parting) names() []named {
	out := []named{}
	toward := -1.
	if x.namesRight() {
		toward = 1
	}
	add := func(text string, tip Point) {
		n := named{text: text, tips: []spot{{tip, 0}}}
		if x.upright() || tip[0]*toward > -touch {
			n.aside = toward
		}
		i := slices.IndexFunc(out, func(o named) bool { return o.text == text })
		switch {
		case i < 0:
			out = append(out, n)
		case (tip[0]-out[i].tips[0].p[0])*toward > touch:
			out[i] = n
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
		widest = max(widest, s.Radius)
	}
	for _, s := range x.joint.strokes(func(k string) bool { return k == flash.ExitOpening }) {
		if s.Radius == widest {
			add("hub opening", s.At(.5))
		}
	}
	for _, p := range x.seamTips() {
		add("seam", p)
	}
	return out
}

// seamTips are places of the seam, off the mark of the least land if there are others.
func (x *parting) seamTips() []Point {
	var all, off []Point
	away := (x.shape.Hi[0] - x.shape.Lo[0]) / 8
	for _, s := range x.joint.strokes(onSeam) {
		for _, f := range []float64{1. / 3, 2. / 3} {
			p := s.At(f)
			if all = append(all, p); x.least == nil || dist(p, x.least.At) > away {
				off = append(off, p)
			}
		}
	}
	if len(off) == 0 {
		return all
	}
	return off
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
		half, low, high, name = l.OuterX, l.SideLow, l.SideHigh, "height"
	}
	out := []wanted{{Dim{Kind: Across, From: Point{-half, low}, To: Point{half, low}, Value: 2 * half, Name: "width"}, below}}
	if x.at != nil {
		half = l.Reach(x.view.U)
		out = []wanted{{Dim{Kind: Across, From: Point{0, low}, To: Point{half, low}, Value: half, Name: "from axis"}, below}}
	}
	if x.mold.Layout.OpenTop() && x.piece.Name == l.Above {
		return append(x.ends(), x.round()...)
	}
	if high-low != 2*half {
		u := x.shape.Hi[0]
		if x.namesRight() {
			u = x.shape.Lo[0]
		}
		out = append(out, wanted{Dim{Kind: Plumb, From: Point{u, low}, To: Point{u, high}, Value: high - low, Name: name}, x.plumbSide()})
	}
	if x.upright() {
		return append(out, x.round()...)
	}
	return append(out, x.channelSizes()...)
}

// round are the dimensions of what goes round the axis.
func (x *parting) round() (out []wanted) {
	if x.plug > 0 {
		out = append(out, across(above, "register", Point{}, x.plug))
	}
	if r := x.seamRadius(); r > 0 {
		out = append(out, across(above, "seam", Point{}, r))
	}
	return out
}

// ends are the dimensions of a strap, which has no block's sides: between the corners
// that lie farthest out.
func (x *parting) ends() []wanted {
	var lo, hi [2]Point // corners that lie farthest out along u and v
	for i, p := range allCorners(x.edges) {
		for k := range 2 {
			if i == 0 || p[k] < lo[k][k]-touch {
				lo[k] = p
			}
			if i == 0 || p[k] > hi[k][k]+touch {
				hi[k] = p
			}
		}
	}
	return []wanted{
		{Dim{Kind: Across, From: lo[0], To: hi[0], Value: hi[0][0] - lo[0][0], Name: "width"}, below},
		{Dim{Kind: Plumb, From: lo[1], To: hi[1], Value: hi[1][1] - lo[1][1], Name: "breadth"}, x.plumbSide()},
	}
}

// allCorners are where the stretches of paths begin and end.
func allCorners(paths []outline.Path) (out []Point) {
	for _, p := range paths {
		out = append(out, corners(p, math.Inf(1))...)
	}
	return out
}

// channelSizes are the dimensions of the first sprue and the first vent that the plane
// halves.
func (x *parting) channelSizes() (out []wanted) {
	l := x.mold.Layout
	first := map[string]bool{}
	for _, f := range x.features {
		if first[f.name] {
			continue
		}
		first[f.name] = true
		foot, top := Point{f.at[0], l.Top}, Point{f.at[0], l.Ceil}
		switch f.name {
		case namedSprue:
			out = append(out, across(above, "gate", foot, l.GateR), across(above, "mouth", top, l.MouthR),
				wanted{Dim{Kind: Across, From: Point{0, l.Ceil}, To: top, Value: math.Abs(top[0]), Name: "sprue from axis"}, above})
		case namedVent:
			out = append(out, across(above, "vent", top, l.VentR),
				wanted{Dim{Kind: Across, From: Point{0, l.Ceil}, To: top, Value: math.Abs(top[0]), Name: "vent from axis"}, above})
		}
	}
	return out
}
