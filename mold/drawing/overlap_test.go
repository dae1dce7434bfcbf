package drawing

import (
	"math"
	"testing"

	"wheelmold/mesh/outline"
)

// loop is a closed border through corners; round is a circle, counterclockwise, in
// quarters from an angle.
func loop(corners ...Point) []stroke {
	var out []stroke
	for i, p := range corners {
		out = append(out, stroke{outline.Stretch{From: p, To: corners[(i+1)%len(corners)]}, "straight"})
	}
	return out
}

func polar(c Point, r, a float64) Point { return Point{c[0] + r*math.Cos(a), c[1] + r*math.Sin(a)} }

func round(c Point, r, from float64) []stroke {
	var out []stroke
	for k := range 4 {
		a := from + float64(k)*math.Pi/2
		out = append(out, stroke{outline.Stretch{From: polar(c, r, a), To: polar(c, r, a+math.Pi/2), Center: c, Radius: r, Sweep: math.Pi / 2}, "round"})
	}
	return out
}

// hole is a border run the other way.
func hole(border []stroke) []stroke {
	var out []stroke
	for i := range border {
		s := border[len(border)-1-i]
		s.From, s.To, s.Sweep = s.To, s.From, -s.Sweep
		out = append(out, s)
	}
	return out
}

// turnedBy turns a border about the origin.
func turnedBy(border []stroke, a float64) []stroke {
	sin, cos := math.Sincos(a)
	turn := func(p Point) Point { return Point{cos*p[0] - sin*p[1], sin*p[0] + cos*p[1]} }
	var out []stroke
	for _, s := range border {
		s.From, s.To, s.Center = turn(s.From), turn(s.To), turn(s.Center)
		out = append(out, s)
	}
	return out
}

func areaOf(strokes []stroke) float64 { return joint(runs(strokes)).region().Area() }

var square = loop(Point{-2, -2}, Point{2, -2}, Point{2, 2}, Point{-2, 2})

// lens is the area that two circles share: twice a circle's segment for equal radii,
// r²(2φ - sin 2φ) with cos φ = d/2r.
func lens(r, d float64) float64 {
	f := math.Acos(d / 2 / r)
	return r * r * (2*f - math.Sin(2*f))
}

func TestOverlap(t *testing.T) {
	for _, c := range []struct {
		name  string
		a, b  []stroke
		area  float64
		loops int
	}{
		{"itself", square, square, 16, 1},
		{"apart", square, loop(Point{3, 3}, Point{4, 3}, Point{3, 4}), 0, 0},
		{"beside, with an edge in common", square, loop(Point{2, -2}, Point{5, -2}, Point{5, 2}, Point{2, 2}), 0, 0},
		{"a corner", square, loop(Point{1, 1}, Point{5, 1}, Point{5, 5}, Point{1, 5}), 1, 1},
		{"half, with edges in common", square, loop(Point{0, -2}, Point{5, -2}, Point{5, 2}, Point{0, 2}), 8, 1},
		{"a circle within", square, round(Point{.5, 0}, 1, .3), math.Pi, 1},
		{"a hole within", square, append(loop(Point{-3, -3}, Point{3, -3}, Point{3, 3}, Point{-3, 3}), hole(round(Point{0, .2}, 1, .1))...), 16 - math.Pi, 2},
		{"a hole that both have", append(square, hole(round(Point{}, 1, 0))...), append(square, hole(round(Point{}, 1, .4))...), 16 - math.Pi, 2},
		{"holes of both that meet", append(square, hole(round(Point{-.4, 0}, 1, 0))...), append(square, hole(round(Point{.4, 0}, 1, 0))...), 16 - 2*math.Pi + lens(1, .8), 2},
		{"two circles", round(Point{}, 1, 0), round(Point{1, 0}, 1, .7), lens(1, 1), 1},
		{"a circle through sides", square, round(Point{2, 0}, 1, 0), math.Pi / 2, 1},
		{"a circle that bulges out on each side", square, round(Point{}, 2.2, 0), 16 - 4*cornerLeft(2, 2.2), 1},
		{"a ring and a bar", append(round(Point{}, 2, 0), hole(round(Point{}, 1, 0))...), loop(Point{0, -3}, Point{3, -3}, Point{3, 3}, Point{0, 3}), 1.5 * math.Pi, 1},
	} {
		for _, by := range []float64{0, 1, 2.5, -.37} {
			a, b := turnedBy(c.a, by), turnedBy(c.b, by)
			for _, got := range [][]stroke{overlap(a, b), overlap(b, a)} {
				if area := areaOf(got); math.Abs(area-c.area) > 1e-9 {
					t.Errorf("%s, turned by %g: %.9g mm², want %.9g", c.name, by, area, c.area)
				}
				if n := len(runs(got)); n != c.loops {
					t.Errorf("%s, turned by %g: %d borders, want %d", c.name, by, n, c.loops)
				}
				for _, r := range runs(got) {
					if !closed(r) {
						t.Errorf("%s, turned by %g: a border stays open", c.name, by)
					}
				}
			}
		}
	}
}

// cornerLeft is what a circle of radius r about the middle leaves of one corner of a
// square of half side h: h² less the sector between the sides less the two triangles.
func cornerLeft(h, r float64) float64 {
	x := math.Sqrt(r*r - h*h)
	return h*h - r*r/2*(math.Pi/2-2*math.Acos(h/r)) - h*x
}

// Where both have an edge, the seam counts before a way out, and that before a
// neighbor.
func TestOverlapKeepsTheSeam(t *testing.T) {
	kinds := []string{"", "ball pocket", "neighboring parting line"}
	for i, a := range kinds {
		for k, b := range kinds {
			x, y := round(Point{}, 1, 0), round(Point{}, 1, .5)
			for n := range x {
				x[n].kind, y[n].kind = a, b
			}
			for _, s := range overlap(x, y) {
				if s.kind != kinds[min(i, k)] {
					t.Errorf("%q on %q gives %q", a, b, s.kind)
				}
			}
		}
	}
}

// A whole circle is one path with one segment; a half of it is open.
func TestPathOfArcs(t *testing.T) {
	whole := pathsOf(round(Point{1, 2}, 3, .4))
	if len(whole) != 1 || !whole[0].Closed || len(whole[0].Segments) != 1 || !whole[0].Segments[0].CCW || whole[0].Segments[0].To != whole[0].Start {
		t.Errorf("a circle came as %+v", whole)
	}
	half := pathsOf(hole(round(Point{1, 2}, 3, .4))[1:3])
	if len(half) != 1 || half[0].Closed || len(half[0].Segments) != 1 || half[0].Segments[0].CCW {
		t.Errorf("half a circle came as %+v", half)
	}
}

// Parts of a joint come with their own holes: a ring in the hole of another is a part
// by itself.
func TestPartsOfJoint(t *testing.T) {
	j := joint{round(Point{}, 4, 0), hole(round(Point{}, 3, .1)), round(Point{}, 2, .2), hole(round(Point{}, 1, .3)), round(Point{9, 0}, 1, 0)}
	var got []float64
	j.that(func(part joint) bool {
		got = append(got, part.region().Area()/math.Pi)
		return true
	})
	for i, want := range []float64{7, 3, 1} {
		if i >= len(got) || math.Abs(got[i]-want) > 1e-12 {
			t.Fatalf("parts of %v π, want 7, 3 and 1", got)
		}
	}
	if left := j.that(func(part joint) bool { return part.region().Contains(Point{1.5, 0}) }); len(left) != 2 || math.Abs(left[:1].region().Area()-4*math.Pi) > 1e-12 {
		t.Errorf("the ring of radius 2 comes with %d borders", len(left))
	}
}

// The seam's radius is that of its arcs round the axis: not the distance of a corner,
// nor of a seam round a place beside the axis.
func TestSeamRadius(t *testing.T) {
	seam := func(run []stroke) []stroke {
		for i := range run {
			run[i].kind = ""
		}
		return run
	}
	for _, c := range []struct {
		name string
		j    joint
		want float64
	}{
		{"a circle", joint{hole(seam(round(Point{}, 3, .2))), round(Point{}, 5, 0)}, 3},
		{"a square", joint{seam(loop(Point{-2, -2}, Point{2, -2}, Point{2, 2}, Point{-2, 2}))}, 0},
		{"a circle beside the axis", joint{seam(round(Point{4, 0}, 1, 0))}, 0},
		{"a circle with a groove", joint{append(seam(round(Point{}, 3, 0))[:3], seam(loop(Point{3, 0}, Point{9, 9}))...)}, 3},
	} {
		if got := (&parting{joint: c.j}).seamRadius(); got != c.want {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
	}
}
