package mold

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/brep"
	"wheelmold/mesh/solid"
	"wheelmold/params"
)

// coatedJob is a printed wheel of 80 × 30 mm with coats of 0.2 mm in all.
func coatedJob(t *testing.T, set ...string) *params.Job {
	t.Helper()
	return splitJob(t, 80, 30, 12, "filament", append([]string{"mold.coats.count=4", "mold.coats.thickness=0.05mm"}, set...)...)
}

var treadGrooves = []params.Groove{
	{Shape: "half-round", Position: 9, Width: 3, Depth: 1.5}, {Shape: "rectangular", Position: 21, Width: 3, Depth: 1.5},
}

// coatedCases are treads, floors and ceilings of every kind.
func coatedCases(t *testing.T) map[string]*params.Job {
	out := map[string]*params.Job{}
	for _, split := range params.Splits {
		for _, edge := range []string{"round", "chamfer", "square"} {
			for _, crown := range []string{"0mm", "1.5mm"} {
				set := []string{"mold.split=" + split, "wheel.edge=" + edge, "wheel.crown=" + crown}
				name := fmt.Sprint(set)
				plain := coatedJob(t, set...)
				out[name] = plain
				grooved := coatedJob(t, set...)
				grooved.Wheel.Grooves = treadGrooves
				out[name+" grooves"] = grooved
				out[name+" ribs"] = coatedJob(t, append(set, "wheel.cross.count=9", "wheel.cross.flank=10deg")...)
			}
		}
	}
	for _, set := range [][]string{
		{"mold.ceiling.shape=coned", "mold.ceiling.angle=3deg"},
		{"mold.ceiling.shape=coned", "mold.ceiling.angle=3deg", "mold.top_allowance=1mm", "wheel.edge=square"},
		{"mold.top_allowance=1mm"}, {"mold.top_allowance=1mm", "wheel.crown=1mm", "wheel.edge=square"},
		{"hub.length=24mm", "hub.offset=3mm"}, {"hub.length=34mm", "hub.offset=-2mm"},
		{"hub.length=24mm", "hub.offset=3mm", "mold.ceiling.shape=coned", "mold.ceiling.angle=3deg"},
		{"hub.length=34mm", "hub.offset=-2mm", "mold.ceiling.shape=coned", "mold.ceiling.angle=3deg"},
		{"hub.offset=0mm"}, // the upper land lies within the coats
		{"mold.face_up=back", "wheel.draft=1deg"}, {"wheel.draft=3deg", "wheel.edge=square"},
		{"wheel.draft=3deg", "wheel.edge=square", "wheel.cross.count=12", "mold.ceiling.shape=coned", "mold.ceiling.angle=3deg"},
	} {
		out[fmt.Sprint(set)] = coatedJob(t, set...)
	}
	return out
}

// Wherever the rubber meets a piece, what is cut lies as far behind its face as the
// coats are thick, square to the face: floor, tread, grooves, ribs, ceiling, pedestals.
func TestCoatsLieBehindEveryFace(t *testing.T) {
	for name, j := range coatedCases(t) {
		m, err := New(j)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		met := 0
		for _, l := range m.Rubber.Leaves() {
			for i := range l.Patches {
				met += m.behind(t, name, &l.Patches[i])
			}
		}
		if met < 400 {
			t.Errorf("%s: only %d points", name, met)
		}
	}
}

// behind checks points of a patch that face a piece across the coats, and counts them.
func (m *Mold) behind(t *testing.T, name string, p *solid.Patch) (met int) {
	const hair = 1e-6
	if p.Elem < 0 {
		return 0
	}
	coats := solid.Round(.2)
	if p.Leaf.Extruded && math.Abs(p.Carrier.Frame.Z.Dot(p.Leaf.Frame.X)) > .99 { // a rib's foot keeps off rounds
		run, _ := m.Tread.coatedRun(coats)
		coats = m.Tread.coatedFoot(coats, run) - m.Tread.CrossFoot()
		if coats < .2 || coats > .26 {
			t.Errorf("%s: %v mm behind the foot of a rib", name, coats)
		}
	}
	for a := range 9 {
		for b := range 31 {
			at := p.Leaf.At(p.Elem, (float64(a)+.37)/9, (float64(b)+.41)/31)
			n := p.Carrier.N(at)
			if m.Rubber.Contains(at.AddScaled(hair, n)) {
				n = n.Scale(-1)
			}
			if !m.Rubber.Contains(at.AddScaled(-hair, n)) || m.Rubber.Contains(at.AddScaled(hair, n)) || m.atCorner(at, 2*coats) || !m.Coats.Contains(at.AddScaled(hair, n)) {
				continue
			}
			far := at.AddScaled(coats+hair, n)
			if m.Channels.Contains(far) || !m.Block.Contains(far) || m.Job.Mold.Split == params.SplitOpen && at[2] > m.Tread.Top-hair {
				continue
			}
			met++
			if near := at.AddScaled(coats-hair, n); m.inPiece(near) || !m.inPiece(far) {
				t.Errorf("%s: behind %.3f along %.3f of %s: a piece at less than 0.2 mm: %v, at more: %v", name, at, n, p.Leaf.Name, m.inPiece(near), m.inPiece(far))
				return met
			}
		}
	}
	return met
}

func (m *Mold) inPiece(p mesh.Vec) bool {
	for _, q := range m.Pieces {
		if q.Root.Contains(p) {
			return true
		}
	}
	return false
}

// atCorner tells whether a corner of the rubber's outline, a rib's edge or the end of
// the hub is near.
func (m *Mold) atCorner(p mesh.Vec, d float64) bool {
	r := math.Hypot(p[0], p[1])
	for _, c := range append(m.Tread.Cavity(), m.Core.Column(m.Layout.LandLow, m.Layout.LandTop)...) {
		if math.Hypot(r-c.P[0], p[2]-c.P[1]) < d {
			return true
		}
	}
	for i := range m.Tread.Cross.Count {
		f := m.Tread.ribFrame(i)
		q := f.Local(p)
		for _, c := range m.Tread.rib() {
			if math.Hypot(q[0]-c.P[0], q[1]-c.P[1]) < d {
				return true
			}
		}
		if q[0] > m.Tread.CrossFoot()-d && math.Abs(q[1]) < 4 && !m.Tread.cleanFlank(q, d) {
			return true
		}
	}
	return false
}

// cleanFlank tells whether a point near a rib lies well inside a flank or foot: clear
// of grooves, edges, floor and ceiling, which bound it.
func (t *Tread) cleanFlank(q mesh.Vec, d float64) bool {
	if q[2] < t.EdgeSize+d || q[2] > t.Width-t.EdgeSize-d {
		return false
	}
	return math.Hypot(q[0], q[1]) < t.SurfaceR(q[2])-d
}

// The coats' volume in closed form: the coated wheel and the wheel below are of one
// family, and the solid of revolution's volumes are a handbook's.
func TestCoatsVolume(t *testing.T) {
	const e = 2.
	c := solid.Round(.2)
	disc := func(r, h float64) float64 { return math.Pi * r * r * h }
	round := func(r, w, e float64) float64 {
		return disc(r, w) - 4*math.Pi*(r*e*e*(1-math.Pi/4)-e*e*e*(10-3*math.Pi)/12)
	}
	chamfered := func(r, w, e float64) float64 { // a frustum at each end
		return disc(r, w-2*e) + 2*math.Pi*e/3*(r*r+r*(r-e)+(r-e)*(r-e))
	}
	square := func(r, w, _ float64) float64 { return disc(r, w) }
	slit := func(r, d, w float64) float64 { return disc(r, w) - disc(r-d, w) }
	half := func(r, a float64) float64 { return math.Pi * math.Pi * a * a * (r - 4*a/(3*math.Pi)) } // Pappus-Guldin
	for _, x := range []struct {
		edge  string
		whole func(r, w, e float64) float64
		e     float64 // of the edge below the coats
		set   func(*params.Job)
		more  func(r, hub, land float64) float64
	}{
		{"square", square, 0, nil, nil},
		{"round", round, e + c, nil, nil},
		{"chamfer", chamfered, e + c*(2-math.Sqrt2), nil, nil},
		{"round", round, e + c, func(j *params.Job) { j.Wheel.Grooves = treadGrooves[1:] }, func(r, _, _ float64) float64 {
			return slit(r, 1.5, 3) - slit(r+c, 1.5, 3-2*c)
		}},
		{"round", round, e + c, func(j *params.Job) { j.Wheel.Grooves = treadGrooves[:1] }, func(r, _, _ float64) float64 {
			return half(r, 1.5) - half(r, 1.5-c) - slit(r+c, c, 3-2*c)
		}},
		{"round", round, e + c, func(j *params.Job) { j.Hub.Length, j.Hub.Offset = 27, 3 }, func(_, hub, land float64) float64 {
			return slit(hub, c, land+c) // around the pedestal
		}},
	} {
		set := []string{"wheel.edge=" + x.edge}
		if x.edge != "square" {
			set = append(set, "wheel.edge_size=2mm")
		}
		j := coatedJob(t, set...)
		if x.set != nil {
			x.set(j)
		}
		m, err := New(j)
		if err != nil {
			t.Errorf("%s: %v", x.edge, err)
			continue
		}
		r, w, hub := m.Tread.R, m.Tread.Width, m.Core.EndR()
		want := x.whole(r+c, w+2*c, x.e) - x.whole(r, w, m.Tread.EdgeSize) - 2*disc(hub, c) - m.ChannelsTo(c)
		if x.more != nil {
			want += x.more(r, hub, m.Layout.LandLow)
		}
		got := exactVolume(t, brep.NewEvaluator(m.Model), "coats", m.Coats)
		if math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s: coats of %.3f mm³, want %.3f", x.edge, got, want)
		}
	}
}

// Without coats, stock and compensation the trees are what they were: no leaf more.
func TestNothingToAdd(t *testing.T) {
	m, err := New(splitJob(t, 80, 30, 12, "filament"))
	if err != nil {
		t.Fatal(err)
	}
	if m.Coats != nil || m.Split.Cuts[0].Node.Leaves()[0].Name != "tread cavity" {
		t.Errorf("coats %v, cavity %v", m.Coats, m.Split.Cuts[0].Node)
	}
	for _, p := range m.Pieces {
		if p.Raw != p.Root {
			t.Errorf("%s is made unlike it is in the mold", p.Name)
		}
	}
}

// Random jobs with coats and stock, in every split that takes them, are made, add up,
// and let no rubber into the hub.
func TestRandomCoatsAndStock(t *testing.T) {
	made, refused := 0, map[string]int{}
	for k := int64(0); k < int64(few(60, 12)); k++ {
		j, tags := randomJob(k)
		if j == nil {
			continue
		}
		r := rand.New(rand.NewSource(k))
		j.Mold.Coats = params.Coats{Count: 1 + r.Intn(6), Thickness: .05}
		j.Mold.Mating.Stock = pickF(r, 0, .1, .3, 1)
		m, err := New(j)
		if err != nil {
			f := err.(params.Faults)
			refused[f[0].Path+": "+f[0].Cause]++
			continue
		}
		made++
		if _, err := m.Make(MakeOptions{Tolerance: .05}); err != nil {
			t.Errorf("job %d, %d coats, %v mm of stock: %v: %v", k, j.Mold.Coats.Count, j.Mold.Mating.Stock, tags, err)
		}
	}
	for k, v := range refused {
		t.Logf("refused %d: %s", v, k)
	}
	if t.Logf("%d made", made); made < few(25, 4) {
		t.Errorf("only %d made", made)
	}
}

// Above the shells of a drafted tread the cut goes straight up: the lid is not undercut
// there, and its ceiling reaches out over no mating face.
func TestCoatsUndercutNoLid(t *testing.T) {
	for _, set := range [][]string{nil, {"mold.ceiling.shape=coned", "mold.ceiling.angle=3deg"}, {"wheel.cross.count=12"}} {
		m, err := New(coatedJob(t, append(set, "wheel.draft=3deg", "wheel.edge=square")...))
		if err != nil {
			t.Fatal(err)
		}
		tr, c := m.Tread, solid.Round(.2)
		seam := tr.UpperOuter + c*math.Hypot(1, tr.Slope)
		run, _ := tr.coatedRun(c)
		for _, q := range run {
			if q.P[0] > seam+1e-9 {
				t.Errorf("%v: the cut reaches %.6f mm at %.3f, the shells' edge %.6f", set, q.P[0], q.P[1], seam)
			}
		}
		lid, _ := m.Piece("lid")
		for _, z := range []float64{1e-3, c / 2} {
			for _, x := range []struct {
				r  float64
				in bool
			}{{seam - 1e-4, false}, {seam + 1e-4, true}} {
				if p := (mesh.Vec{0, x.r, tr.Top + z}); lid.Root.Contains(p) != x.in {
					t.Errorf("%v: the lid fills %v: %v", set, p, !x.in)
				}
			}
		}
	}
}
