package release

import (
	"math"
	"strings"
	"testing"

	"wheelmold/mold/cure"
	"wheelmold/params"
)

// walled tells the draft of a piece's wall, or that it has none of that name.
func (p *Piece) walled(name string) (float64, bool) {
	for _, w := range p.Walls {
		if w.Name == name {
			return w.Draft, true
		}
	}
	return 0, false
}

// Three shells lean 30 degrees away from their pull at the parting faces, four 45; of
// two, which touch the pull along a line, nothing is said.
func TestDraftOfShells(t *testing.T) {
	for n, want := range map[int]float64{3: 30, 4: 45} {
		j := plain(t, params.SplitFour)
		j.Mold.Segments, j.Mold.SideClamp.Kind, j.Mold.Outline = n, "none", "square"
		p := judged(t, made(t, j, false)).of(t, "shell-b")
		if got, ok := p.walled("the parting faces"); !ok || math.Abs(got-want) > 1e-9 || p.Grade != Free {
			t.Errorf("%d shells: %v° (%t), %v", n, got, ok, p.Grade)
		}
	}
	if p := judged(t, made(t, plain(t, params.SplitFour), false)).of(t, "shell-b"); len(p.Walls) > 0 {
		t.Errorf("two shells: %+v", p.Walls)
	}
}

// What stands in the rubber along the axis lets go by sliding, unless it hardly stands
// in: pedestals at the hub's ends, and the wall at the hub inside a coned ceiling.
func TestPedestalsAndCeilingSlide(t *testing.T) {
	j := plain(t, params.SplitFour)
	j.Hub.Length, j.Hub.Offset, j.Mold.Stack.Gap = 38.8, .7, 0 // 0.7 mm below the hub, 0.5 above
	v := judged(t, made(t, j, false))
	for piece, wall := range map[string]string{"base": "the pedestal below the hub", "lid": "the pedestal above the hub"} {
		p := v.of(t, piece)
		if d, ok := p.walled(wall); !ok || d != 0 || p.Grade != Slides || len(p.Walls) != 1 || strings.Contains(p.Text, "stand off") {
			t.Errorf("%s: %+v", piece, p)
		}
	}
	j.Hub.Length, j.Hub.Offset = 39.2, .4
	if v := judged(t, made(t, j, false)); v.Grade != Free {
		t.Errorf("0.4 mm: %s", v.Reason)
	}
	j.Hub.Length, j.Hub.Offset, j.Mold.Ceiling = 40, 0, params.Ceiling{Shape: "coned", Angle: 5}
	if _, ok := judged(t, made(t, j, false)).of(t, "lid").walled("the wall within the coned ceiling"); !ok {
		t.Error("a coned ceiling comes down to the hub without a wall")
	}
}

// Where the wheel slides along a straight tread, the verdict tells by how much the
// cured rubber stands off: as the forecast says of its middle.
func TestCuredRubberStandsOff(t *testing.T) {
	j := plain(t, params.SplitCup)
	j.Mold.Shrinkage = .005
	v := judged(t, made(t, j, false))
	f := cure.NewForecast(j)
	if want := (f.Cavity.Diameter - f.Middle) / 2; want < .1 || math.Abs(v.Slack-want) > 1e-9 || !strings.Contains(v.Reason, "expected to stand off by "+mm(want)) {
		t.Errorf("%.4f mm, want %.4f: %s", v.Slack, want, v.Reason)
	}
}

// Grooves are numbered as in the job, whichever face is up; a half-round one has its
// width as its measure.
func TestGroovesAreCalledAsInTheJob(t *testing.T) {
	for _, up := range []string{"front", "back"} {
		j := plain(t, params.SplitCup)
		j.Mold.FaceUp = up
		j.Wheel.Grooves = []params.Groove{{Shape: "rectangular", Position: 8, Width: 3, Depth: 1}, {Shape: "half-round", Position: 30, Width: 12, Depth: 6}}
		v := judged(t, made(t, j, true))
		f := v.Faults()
		if len(f) != 1 || f[0].Path != "wheel.groove[2].width" || f[0].Value != "12 mm" || f[0].Allowed != "up to 8 mm" {
			t.Errorf("%s up: %v", up, f)
		}
		if p := v.of(t, "cup"); p.Squeeze.Past != "groove 2" || v.Words() != "squeezes 30 %" {
			t.Errorf("%s up: %s, past %s", up, v.Words(), p.Squeeze.Past)
		}
	}
}

// The verdict rests on the worst piece: of those that squeeze on the one nearest to
// its limit, and of pieces alike on that out of which the wheel is drawn.
func TestTheWorstPieceDecides(t *testing.T) {
	squeezed := func(share, limit float64) Piece {
		return Piece{Grade: Squeezes, Squeeze: Squeeze{By: share, Of: 1, Limit: limit}}
	}
	for _, c := range []struct {
		pieces []Piece
		worst  int
	}{
		{[]Piece{{Grade: Slides}, squeezed(.1, .3), {Grade: Free}}, 1},
		{[]Piece{squeezed(.18, .3), squeezed(.15, .2), squeezed(.1, .2)}, 1},
		{[]Piece{squeezed(.5, .2), {Grade: Locked}}, 1},
		{[]Piece{{Grade: Slides}, {Grade: Slides, Drawn: true}, {Grade: Slides}}, 1},
	} {
		v := Verdict{Pieces: c.pieces}
		if v.conclude(); v.worst != c.worst || v.Grade != c.pieces[c.worst].Grade {
			t.Errorf("%+v: the worst is %d", c.pieces, v.worst)
		}
	}
}
