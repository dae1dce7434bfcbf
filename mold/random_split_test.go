package mold

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"wheelmold/mesh"
	"wheelmold/mesh/check"
	"wheelmold/params"
)

// resplit makes a random job one of another split, as a builder would: what the
// split forbids is taken out, what it asks for is put in.
func resplit(j *params.Job, k int64) {
	r := rand.New(rand.NewSource(k))
	h, m := &j.Hub, &j.Mold
	gap := m.Stack.Gap
	strap := func() {
		m.SideClamp = params.SideClamp{Kind: "strap", Size: "none", StrapWidth: min(8, j.SideHeight()/2), StrapDepth: 1.5, StrapForce: 300}
	}
	switch n := r.Intn(6); n {
	case 0, 1:
		m.Segments = 3 + n
		m.Outline = []string{"octagon", "square"}[r.Intn(2)]
		strap()
	case 2:
		m.Split = params.SplitOpen
		m.Segments = 2 + r.Intn(2)
		m.Sprue.Count, m.Vents.Count, m.TopAllowance = 0, 0, 1+r.Float64()
		m.Ceiling = params.Ceiling{Shape: "flat"}
		j.Pour.Fill, j.Pour.Funnel, j.Pour.Tilt = 0, 0, 0
		if m.Segments > 2 {
			m.Outline = "octagon"
			strap()
		}
	case 3:
		m.Split = params.SplitClam
		out := 1 + 2*r.Float64()
		h.FlangeDiameter, h.FlangeThickness = h.BodyDiameter, 0
		h.Length, h.Offset = j.Wheel.Width+2*out-gap, -out
		if (m.FaceUp == "front") == (m.Stack.At == "lower") {
			h.Offset += gap
		}
		m.RegisterBack, m.RegisterFront = params.Register{Opening: "none"}, params.Register{Opening: "none"}
		m.Bolts.Size, m.Bolts.Torque = "none", 0
		m.Sprue.Count, m.Sprue.Angle, m.Vents.Count = 1, 0, 1+2*r.Intn(2)
		m.Sprue.Gate *= .7
		m.Sprue.Mouth = m.Sprue.Gate * 1.2
	default:
		m.Split, m.Segments = params.SplitCup, 1
		m.SideClamp = params.SideClamp{Kind: "none", Size: "none"}
	}
}

// handles is how many holes go right through a piece, counted from the layout.
func (m *Mold) handles(piece string) int {
	l, n := m.Layout, 0
	in := func(s *Side, at mesh.Vec) bool {
		a := math.Mod(math.Atan2(at[1], at[0])*180/math.Pi-s.From+720, 360)
		return a > 1e-6 && a < s.To-s.From-1e-6
	}
	side := func(name string) *Side {
		for i := range l.Sides {
			if l.Sides[i].Name == name {
				return &l.Sides[i]
			}
		}
		return nil
	}
	for i, b := range l.Bolts {
		s := side(piece)
		if s != nil && in(s, b.At) || piece == l.Below || piece == l.Above && l.strapped(i) {
			n++
		}
	}
	for _, j := range l.Jacks {
		switch {
		case j.Dir[2] < 0 && piece == l.Below, j.Dir[2] > 0 && piece == l.Above, j.Dir[1] > 0 && len(l.Sides) > 0 && piece == l.Sides[0].Name:
			n++
		}
	}
	if s := side(piece); s != nil {
		n += len(l.Cross)
		for _, p := range append(append([]mesh.Vec(nil), l.Gates...), l.Vents...) {
			if l.Above == "" && in(s, p) { // else half of it, a groove
				n++
			}
		}
	}
	if piece == l.Above {
		n += len(l.Gates) + len(l.Vents)
	}
	if piece == "hub" {
		n += 1 + m.Core.BoltCount
	}
	return n
}

// Random jobs in random splits: what validation accepts is made, adds up to the
// block, is audited, has the holes that the layout says, and the rubber of the same
// closed form.
func TestRandomSplits(t *testing.T) {
	plain := func(*params.Job, int64) []string { return nil }
	makeRandomSplits(t, 1000, few(60, 8), plain, func(what string, x *Made) {
		if d := math.Abs(x.Audit.Rubber.ClosedForm/x.Audit.Rubber.Boundary - 1); d > 1e-9 {
			t.Errorf("%s: rubber differs by %.2g", what, d)
		}
		for _, p := range x.Parts {
			r := check.Audit(p.Mesh, check.Options{})
			if want := 2 - 2*x.Mold.handles(p.Piece.Name); !r.OK() || r.Euler != want || len(r.Shells) != 1 {
				t.Errorf("%s: %s: %v, Euler number %d in %d shells, want %d", what, p.Piece.Name, r.Faults(), r.Euler, len(r.Shells), want)
			}
		}
	})
}

// makeRandomSplits makes n random jobs, from the first on, each in a random split and
// finished as said, and has what was made tested. Full runs meet most splits.
func makeRandomSplits(t *testing.T, first int64, n int, finish func(*params.Job, int64) []string, test func(what string, x *Made)) {
	t.Helper()
	made, refused := map[string]int{}, map[string]int{}
	for k := first; sum(made) < n && k < first+20*int64(n); k++ {
		j, tags := randomJob(k)
		if j == nil {
			continue
		}
		resplit(j, k)
		tags = append(tags, finish(j, k)...)
		m, err := New(j)
		if err != nil {
			f := err.(params.Faults)
			refused[j.Mold.Split+": "+f[0].Path+": "+f[0].Cause]++
			continue
		}
		what := fmt.Sprintf("%s in %d, job %d: %.4g x %.4g: %v", j.Mold.Split, j.Mold.Segments, k, j.Wheel.Diameter, j.Wheel.Width, tags)
		made[fmt.Sprint(j.Mold.Split, j.Mold.Segments)]++
		x, err := m.Make(MakeOptions{Tolerance: .05})
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		test(what, x)
	}
	if len(made) < 5 && n > 20 {
		t.Errorf("splits made: %v", made)
	}
	t.Logf("made %v; refused %v", made, refused)
}

func sum(m map[string]int) (n int) {
	for _, k := range m {
		n += k
	}
	return n
}

// A piece put on the wrong way round meets a ball that its pocket misses.
func TestSplitsGoTogetherOneWay(t *testing.T) {
	turn := func(deg float64) func(mesh.Vec) mesh.Vec {
		u := direction(deg)
		return func(p mesh.Vec) mesh.Vec { return mesh.Vec{u[0]*p[0] - u[1]*p[1], u[1]*p[0] + u[0]*p[1], p[2]} }
	}
	for _, set := range []string{"mold.split=open top", "mold.split=clam", "mold.split=cup and lid", "mold.segments=3", "mold.segments=4"} {
		m, err := New(splitJob(t, 90, 30, 10, "filament", set))
		if err != nil {
			t.Fatal(err)
		}
		l := m.Layout
		wrong := map[string]func(mesh.Vec) mesh.Vec{}
		for _, line := range []string{l.LineLow(), l.LineTop()} {
			for deg := 90.0; line != "" && deg < 360; deg += 90 {
				wrong[fmt.Sprintf("%s by %g", line, deg)] = turn(deg)
			}
		}
		if l.Below == "" { // a half end over end
			mid := l.SideLow + l.SideHigh
			wrong[l.SideLines()[0]+" over"] = func(p mesh.Vec) mesh.Vec { return mesh.Vec{-p[0], p[1], mid - p[2]} }
		}
		for what, to := range wrong {
			if l.Above == "strap" && (what == l.LineTop()+" by 90" || what == l.LineTop()+" by 270") {
				continue // across the bolts
			}
			missed := false
			for _, b := range l.Balls {
				if len(what) < len(b.Line) || what[:len(b.Line)] != b.Line {
					continue
				}
				least := math.Inf(1)
				for _, c := range l.Balls {
					if c.Line == b.Line {
						least = min(least, to(b.At).Dist(c.At))
					}
				}
				missed = missed || least > m.Job.Mold.Balls.Clearance+.3
			}
			if !missed {
				t.Errorf("%s: every pocket of %s finds a ball", set, what)
			}
		}
	}
}
