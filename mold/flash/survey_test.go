package flash

import (
	"math"
	"slices"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/moldtest"
)

// The four-piece split has the six parting lines that its pieces make.
func TestFourPiecesHaveSixLines(t *testing.T) {
	want := []string{"base/shells", "lid/shells", "shell A/shell B at +x", "shell A/shell B at -x", "base/hub", "lid/hub"}
	for _, name := range examples {
		var got []string
		for _, s := range stock(t, name).geometry.sites {
			got = append(got, s.name)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q", name, got)
		}
	}
}

// Lines are found from the pieces that are there, not listed: a mold without its
// lid has no line that the lid takes part in, and one open corner pair less.
func TestAnotherSplitHasItsOwnLines(t *testing.T) {
	full := stock(t, "wren")
	open := *full.mold
	open.Pieces = slices.DeleteFunc(slices.Clone(open.Pieces), func(p mold.Piece) bool { return p.Name == "lid" })
	g := survey(&open, full.faces)
	var got []string
	for _, s := range g.sites {
		got = append(got, s.name)
	}
	if want := []string{"base/shells", "shell A/shell B at +x", "shell A/shell B at -x", "base/hub"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// The seams around the tread's ends are circles, those of the hub's ends its rims,
// and those between the shells the tread's outline (closed forms; the outline's
// length from its segments).
func TestSeamLengths(t *testing.T) {
	for _, name := range examples {
		s := stock(t, name)
		side := 0.0
		var low, high float64 // radii where the outline meets the plates
		for _, e := range s.mold.Tread.Cavity().Elems() {
			if e.Role != mold.RoleTread {
				continue
			}
			length := math.Hypot(e.B[0]-e.A[0], e.B[1]-e.A[1])
			if e.Arc {
				a, b := e.Angles()
				length = e.R * math.Abs(b-a)
			}
			if side == 0 {
				low = e.A[0]
			}
			side, high = side+length, e.B[0]
		}
		rim := 2 * math.Pi * s.mold.Core.EndR()
		for line, want := range map[string]float64{
			"base/shells": 2 * math.Pi * low, "lid/shells": 2 * math.Pi * high,
			"shell A/shell B at +x": side, "shell A/shell B at -x": side, "base/hub": rim, "lid/hub": rim,
		} {
			near(t, name+" "+line, s.site(t, line).seam, want, 0.01)
		}
	}
}

// The least land of the plates is from the cavity's rim to the nearest pocket, on
// the line of both centers; between the shells of the largest mold from the
// outline to the ball's pocket.
func TestLeastLandIsToTheNearestPocket(t *testing.T) {
	for _, name := range examples {
		s := stock(t, name)
		for _, line := range []string{"base/shells", "lid/shells"} {
			x := s.site(t, line)
			rim := x.seam / (2 * math.Pi)
			want := math.Inf(1)
			for _, b := range s.mold.Layout.Balls {
				if b.Line == line {
					want = min(want, math.Hypot(b.At[0], b.At[1])-b.R-rim)
				}
			}
			for _, b := range s.mold.Layout.Bolts {
				want = min(want, math.Hypot(b.At[0], b.At[1])-b.R-rim)
			}
			l := x.land()
			if math.Abs(l.Least-want) > 0.08*x.grid.Cell {
				t.Errorf("%s %s: least land %.3f, want %.3f", name, line, l.Least, want)
			}
			if l.Typical < l.Least || l.Exit != ExitBall && l.Exit != ExitJack {
				t.Errorf("%s %s: %+v", name, line, l)
			}
			if r := math.Hypot(l.At[0], l.At[1]); math.Abs(r-rim) > 0.01*rim {
				t.Errorf("%s %s: the least land starts at radius %.2f, not on the seam", name, line, r)
			}
		}
	}
}

// Every kind of way out of the design is met.
func TestExitsOfEachLine(t *testing.T) {
	s := stock(t, "kestrel")
	for line, want := range map[string][]string{
		"base/shells":           {ExitBall, ExitBolt, ExitPry, ExitOuter},
		"shell A/shell B at +x": {ExitBall, ExitBolt, ExitPry, ExitOuter, ExitNeighbor},
		"base/hub":              {ExitOpening},
	} {
		x := s.site(t, line)
		var got []string
		for _, e := range x.ways() {
			got = append(got, e.Kind)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", line, got, want)
		}
	}
}

// Base and lid meet the shells' parting plane in four corners, each from the
// cavity to the outer face or the first feature.
func TestCornersWhereThreePiecesMeet(t *testing.T) {
	for _, name := range examples {
		s := stock(t, name)
		if n := len(s.geometry.corners); n != 4 {
			t.Errorf("%s: %d corners", name, n)
		}
		for _, c := range s.geometry.corners {
			if c.from[1] != 0 || c.to[1] != 0 || c.from[2] != c.to[2] || math.Abs(c.from[0]) >= math.Abs(c.to[0]) {
				t.Errorf("%s: corner from %v to %v", name, c.from, c.to)
			}
			if l := s.mold.Layout; math.Abs(c.to[0]) > l.OuterX+1e-9 {
				t.Errorf("%s: corner ends outside: %v", name, c.to)
			}
			if len(c.pieces) != 3 {
				t.Errorf("%s: corner of %q", name, c.pieces)
			}
		}
	}
}

// Registers that plug the hub's opening are found as clearances behind the land,
// with the gap that the job asks for.
func TestRegistersLieBehindTheHubsLand(t *testing.T) {
	s := stock(t, "kestrel")
	for line, clearance := range map[string]float64{"base/hub": s.mold.Job.Mold.RegisterBack.Clearance, "lid/hub": s.mold.Job.Mold.RegisterFront.Clearance} {
		x := s.site(t, line)
		if len(x.after) == 0 {
			t.Fatalf("%s: no register", line)
		}
		least := math.Inf(1)
		for _, r := range x.after {
			least = min(least, r.Gap(r.Z0), r.Gap(r.Z1))
		}
		if math.Abs(least-clearance/2) > 0.005 {
			t.Errorf("%s: narrowest %.4f, want %.4f", line, least, clearance/2)
		}
	}
}

// Balls that their pockets do not swallow hold the faces apart: two pockets of
// 6.3 mm under a ball of 12.7 mm, by 0.1 mm.
func TestShallowPocketsAreRefused(t *testing.T) {
	s := stock(t, "albatross")
	m, l := *s.mold, *s.mold.Layout
	l.Balls = slices.Clone(l.Balls)
	l.Balls[0].Diameter, l.Balls[0].Depth = 12.7, 6.3
	m.Layout = &l
	_, err := Analyze(&m, s.faces, Options{Draws: 1})
	if err == nil {
		t.Fatal("accepted")
	}
	for _, part := range []string{"mold.balls.spare", "0.1 mm", "12.7 mm", "6.3 mm", l.Balls[0].Line} {
		if !strings.Contains(err.Error(), part) {
			t.Errorf("%q misses %q", err, part)
		}
	}
}

// The mouths of the shells' faces beside a tread with square edges lie on the faces'
// very edge, where rounding may place them outside. Their pieces are told all the same.
func TestSquareEdgesHaveNamedSides(t *testing.T) {
	for _, x := range surveyOf(t, moldtest.Example(t, "wren", "wheel.edge=square")).geometry.sites {
		if len(x.low) == 0 || len(x.high) == 0 {
			t.Errorf("the pieces of %q are %v and %v", x.name, x.low, x.high)
		}
	}
}
