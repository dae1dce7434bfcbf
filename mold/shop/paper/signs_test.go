package paper

import (
	"math"
	"slices"
	"testing"

	"wheelmold/mesh/outline"
)

// The square in which the tests draw symbols: its middle and its side, mm.
var symbolAt, symbolSide = Point{30, 20}, 8.0

// drawn is a symbol as polygons and lines, about its middle, and the circles in it.
func drawn(s Symbol) (lines [][]Point, circles []outline.Segment, all ink) {
	all.symbol(s, symbolAt, symbolSide)
	for _, k := range all.strokes {
		for _, p := range moved(k.Paths, times(symbolAt, -1)) {
			if p.Segments[0].Radius > 0 {
				circles = append(circles, p.Segments[0])
				continue
			}
			at := []Point{p.Start}
			for _, x := range p.Segments {
				at = append(at, x.To)
			}
			lines = append(lines, at)
		}
	}
	return lines, circles, all
}

// way is the angle of a line in degrees, from 0 up to 180.
func way(a, b Point) float64 {
	return math.Mod(math.Atan2(b[1]-a[1], b[0]-a[0])*180/math.Pi+360, 180)
}

func same(a, b Point) bool { return dist(a, b) < 1e-9 }

func level(a, b Point) bool { return math.Abs(a[1]-b[1]) < 1e-9 }

func upright(a, b Point) bool { return math.Abs(a[0]-b[0]) < 1e-9 }

// halfway is the middle of a line.
func halfway(l []Point) Point { return times(plus(l[0], l[1]), .5) }

// Every symbol stays within its square, fills most of it one way, and is none of the others.
func TestSymbolsFillTheirSquare(t *testing.T) {
	all := []Symbol{Flatness, Parallelism, Perpendicularity, Position, Concentricity, Runout, Cylindricity, Roundness, Profile}
	var seen []string
	for _, s := range all {
		_, _, k := drawn(s)
		var r outline.Region
		for _, x := range k.strokes {
			r = append(r, x.Paths...)
		}
		if len(r) == 0 {
			t.Errorf("%s: nothing is drawn", s)
			continue
		}
		lo, hi := r.Bounds()
		lo, hi = minus(lo, symbolAt), minus(hi, symbolAt)
		const eps = 1e-9
		if h := symbolSide/2 + eps; lo[0] < -h || lo[1] < -h || hi[0] > h || hi[1] > h {
			t.Errorf("%s: from %.2f to %.2f", s, lo, hi)
		}
		if w, h := hi[0]-lo[0], hi[1]-lo[1]; max(w, h) < .7*symbolSide {
			t.Errorf("%s: %.2f by %.2f in a square of %g", s, w, h, symbolSide)
		}
		if s != Profile && math.Abs(lo[0]+hi[0]) > eps && s != Runout {
			t.Errorf("%s: from %.2f to %.2f, not about its middle", s, lo, hi)
		}
		p := Page{Width: 60, Height: 40, Strokes: k.strokes}
		if x := svgOf(t, &p); slices.Contains(seen, x) {
			t.Errorf("%s looks like another", s)
		} else {
			seen = append(seen, x)
		}
	}
}

// Flatness is a parallelogram with two level sides that leans to the right, ISO 1101.
func TestFlatnessIsAParallelogram(t *testing.T) {
	lines, circles, _ := drawn(Flatness)
	if len(lines) != 1 || len(lines[0]) != 5 || len(circles) > 0 || !same(lines[0][0], lines[0][4]) {
		t.Fatalf("%v", lines)
	}
	p := lines[0]
	if !same(minus(p[1], p[0]), minus(p[2], p[3])) {
		t.Errorf("sides from %.2f to %.2f and from %.2f to %.2f", p[0], p[1], p[3], p[2])
	}
	if !level(p[0], p[1]) || p[2][1] <= p[1][1] {
		t.Errorf("its foot is not level: %.2f", p)
	}
	if a := way(p[0], p[3]); a < 45 || a > 75 {
		t.Errorf("leans at %.0f°", a)
	}
	if !same(plus(p[0], p[2]), Point{}) {
		t.Errorf("not about its middle: %.2f", p)
	}
}

// Parallelism is two strokes side by side that lean to the right, ISO 1101.
func TestParallelismIsTwoStrokes(t *testing.T) {
	lines, circles, _ := drawn(Parallelism)
	if len(lines) != 2 || len(circles) > 0 {
		t.Fatalf("%v", lines)
	}
	a, b := lines[0], lines[1]
	if !same(minus(a[1], a[0]), minus(b[1], b[0])) || !level(a[0], b[0]) || math.Abs(a[0][0]-b[0][0]) < symbolSide/8 {
		t.Errorf("%.2f and %.2f", a, b)
	}
	if w := way(a[0], a[1]); w < 45 || w > 75 {
		t.Errorf("lean at %.0f°", w)
	}
	if !same(plus(halfway(a), halfway(b)), Point{}) {
		t.Errorf("not about their middle: %.2f and %.2f", a, b)
	}
}

// Perpendicularity is a plumb line that stands on the middle of a level one, ISO 1101.
func TestPerpendicularityIsSquare(t *testing.T) {
	lines, circles, _ := drawn(Perpendicularity)
	if len(lines) != 2 || len(circles) > 0 {
		t.Fatalf("%v", lines)
	}
	foot, plumb := lines[0], lines[1]
	if !level(foot[0], foot[1]) || !upright(plumb[0], plumb[1]) || !same(halfway(foot), plumb[0]) || plumb[1][1] <= plumb[0][1] {
		t.Errorf("%.2f on %.2f", plumb, foot)
	}
}

// Position is a circle with a level and a plumb line that cross in its middle and reach
// out of it, ISO 1101.
func TestPositionIsACrossedCircle(t *testing.T) {
	lines, circles, _ := drawn(Position)
	if len(lines) != 2 || len(circles) != 1 {
		t.Fatalf("%v, %v", lines, circles)
	}
	if !level(lines[0][0], lines[0][1]) || !upright(lines[1][0], lines[1][1]) || !same(circles[0].Center, Point{}) {
		t.Errorf("%.2f across a circle about %v", lines, circles[0].Center)
	}
	for _, l := range lines {
		if r := circles[0].Radius; !same(halfway(l), Point{}) || dist(l[0], l[1]) < 2.4*r || r < symbolSide/5 {
			t.Errorf("%.2f across a circle of radius %.2f", l, r)
		}
	}
}

// Roundness is a circle, concentricity two, one within the other, ISO 1101.
func TestRoundSymbols(t *testing.T) {
	for s, n := range map[Symbol]int{Roundness: 1, Concentricity: 2} {
		lines, circles, _ := drawn(s)
		if len(lines) > 0 || len(circles) != n {
			t.Fatalf("%s: %d lines, %d circles", s, len(lines), len(circles))
		}
		for i, c := range circles {
			if !same(c.Center, Point{}) || i > 0 && math.Abs(c.Radius-circles[0].Radius) < symbolSide/8 {
				t.Errorf("%s: a circle of %.2f about %v", s, c.Radius, c.Center)
			}
		}
	}
}

// Runout is an arrow that points to the upper right, ISO 1101: its head is at its end.
func TestRunoutIsAnArrow(t *testing.T) {
	lines, circles, k := drawn(Runout)
	if len(lines) != 2 || len(circles) > 0 || k.strokes[0].Filled || !k.strokes[1].Filled {
		t.Fatalf("%v", lines)
	}
	shaft, head := lines[0], lines[1]
	if math.Abs(way(shaft[0], shaft[1])-45) > 1e-9 || shaft[1][0] <= shaft[0][0] {
		t.Errorf("its shaft runs along %.2f", shaft)
	}
	dir := unit(minus(shaft[1], shaft[0]))
	for i, p := range head[:3] {
		along := (p[0]-shaft[1][0])*dir[0] + (p[1]-shaft[1][1])*dir[1]
		if i == 0 && !same(p, shaft[1]) || i > 0 && (along > -1 || math.Abs(along) > dist(shaft[0], shaft[1])) {
			t.Errorf("its head is %.2f on a shaft along %.2f", head, shaft)
		}
	}
}

// Cylindricity is a circle between two lines that lean to the right and nearly touch it,
// ISO 1101.
func TestCylindricityIsACircleBetweenLines(t *testing.T) {
	lines, circles, _ := drawn(Cylindricity)
	if len(lines) != 2 || len(circles) != 1 {
		t.Fatalf("%v, %v", lines, circles)
	}
	a, b, r := lines[0], lines[1], circles[0].Radius
	if !same(minus(a[1], a[0]), minus(b[1], b[0])) || way(a[0], a[1]) < 45 || way(a[0], a[1]) > 75 || !same(circles[0].Center, Point{}) {
		t.Errorf("%.2f and %.2f about %v", a, b, circles[0].Center)
	}
	var off []float64 // of the circle's middle from the lines, positive to the left of them
	for _, l := range lines {
		d := unit(minus(l[1], l[0]))
		off = append(off, d[0]*-l[0][1]-d[1]*-l[0][0])
	}
	if math.Abs(off[0]+off[1]) > 1e-9 || math.Abs(off[0]) < r || math.Abs(off[0]) > 1.2*r {
		t.Errorf("a circle of radius %.2f lies %.2f from its lines", r, off)
	}
}

// Profile, that of a surface, is the upper half of a disk, closed below, ISO 1101.
func TestProfileIsHalfADisk(t *testing.T) {
	_, _, k := drawn(Profile)
	if len(k.strokes) != 1 || len(k.strokes[0].Paths) != 1 || !k.strokes[0].Paths[0].Closed {
		t.Fatalf("%v", k.strokes)
	}
	r := outline.Region(k.strokes[0].Paths)
	lo, hi := r.Bounds()
	w, h := hi[0]-lo[0], hi[1]-lo[1]
	if math.Abs(h-w/2) > 1e-9 || math.Abs(r.Area()-math.Pi*h*h/2) > 1e-6 {
		t.Errorf("%.3f by %.3f mm with %.3f mm²", w, h, r.Area())
	}
	if middle := (lo[0] + hi[0]) / 2; math.Abs(middle-symbolAt[0]) > 1e-9 || !r.Contains(Point{middle, hi[1] - .01}) || r.Contains(Point{lo[0] + .01, hi[1] - .01}) {
		t.Errorf("it is not round above: from %.2f to %.2f", lo, hi)
	}
}

// Signs that type lacks stand upright within the height of capitals, along the text: a
// counterbore is open above, a countersink a V, and depth points down (ISO 129-1).
func TestSignsOfHoles(t *testing.T) {
	const size = 5.0
	for _, dir := range []Point{{1, 0}, {0, 1}} {
		up := Point{-dir[1], dir[0]}
		// read takes a sign's lines back to a square of side 1 on the base line.
		read := func(sign string) (out [][]Point) {
			var k ink
			k.write(sign, Point{7, 3}, writing{size: size, dir: dir})
			for _, s := range k.strokes {
				at := []Point{s.Paths[0].Start}
				for _, x := range s.Paths[0].Segments {
					at = append(at, x.To)
				}
				for i, p := range at {
					p = minus(p, Point{7, 3})
					at[i] = times(Point{p[0]*dir[0] + p[1]*dir[1], p[0]*up[0] + p[1]*up[1]}, 1/(capHeight*size))
					if wide := widthOf(sign, size, false) / (capHeight * size); at[i][0] < 0 || at[i][0] > wide || at[i][1] < -1e-9 || at[i][1] > 1+1e-9 {
						t.Errorf("%s along %v: reaches to %.2f", sign, dir, at[i])
					}
				}
				out = append(out, at)
			}
			if len(k.texts) > 0 {
				t.Errorf("%s is written as well: %v", sign, k.texts)
			}
			return out
		}
		if p := read("⊔"); len(p) != 1 || len(p[0]) != 4 || !upright(p[0][0], p[0][1]) || !level(p[0][1], p[0][2]) || !upright(p[0][2], p[0][3]) || !level(p[0][0], p[0][3]) || p[0][0][1] < p[0][1][1]+.5 {
			t.Errorf("counterbore along %v: %.2f", dir, p)
		}
		if p := read("⌵"); len(p) != 1 || len(p[0]) != 3 || math.Abs(dist(p[0][0], p[0][1])-dist(p[0][1], p[0][2])) > 1e-9 || p[0][0][1] < p[0][1][1]+.5 || !level(p[0][0], p[0][2]) {
			t.Errorf("countersink along %v: %.2f", dir, p)
		}
		for _, sign := range []string{"↓", "↧"} {
			p := read(sign)
			if len(p) != 3 {
				t.Fatalf("depth along %v: %.2f", dir, p)
			}
			bar, shaft, head := p[0], p[1], p[2]
			if !same(halfway(bar), shaft[0]) || !level(bar[0], bar[1]) || shaft[1][1] > shaft[0][1]-.5 || !upright(shaft[0], shaft[1]) {
				t.Errorf("depth along %v: %.2f from %.2f", dir, shaft, bar)
			}
			if len(head) != 3 || !same(head[1], shaft[1]) || head[0][1] <= head[1][1] || !level(head[0], head[2]) || !upright(plus(head[0], head[2]), times(shaft[1], 2)) {
				t.Errorf("depth along %v: its head is %.2f", dir, head)
			}
		}
	}
}

// The mark of a machined face stands on its point with both legs at 60 degrees; the short
// one and the bar that asks for removal close a triangle of equal sides (ISO 21920-1), and
// the text stands below the upper line, which reaches over all of it.
func TestMarkOfAMachinedFace(t *testing.T) {
	var k ink
	corner := Point{10, 40}
	const text = "Ra 0.8"
	k.finish(text, corner)
	legs := k.strokes[0].Paths[0]
	left, foot, top, end := legs.Start, legs.Segments[0].To, legs.Segments[1].To, legs.Segments[2].To
	bar := k.strokes[1].Paths[0]
	if math.Abs(way(foot, left)-120) > 1e-9 || math.Abs(way(foot, top)-60) > 1e-9 || !level(top, end) || top[1] < left[1]+2 {
		t.Errorf("legs from %.2f to %.2f and %.2f, then to %.2f", foot, left, top, end)
	}
	if a, b := bar.Start, bar.Segments[0].To; !same(a, left) || math.Abs(dist(a, b)-dist(foot, left)) > 1e-9 || math.Abs(dist(foot, b)-dist(foot, left)) > 1e-9 {
		t.Errorf("the bar from %.2f to %.2f, the short leg from %.2f to %.2f", a, b, foot, left)
	}
	if left[0] != corner[0] || math.Abs(foot[1]-corner[1]) > 1e-9 || math.Abs(end[0]-corner[0]-finishWidth(text)) > 1e-9 {
		t.Errorf("from %.2f, %.2f to %.2f, of %.2f", left[0], foot[1], end[0], finishWidth(text))
	}
	if len(k.texts) != 1 || k.texts[0].Text != text {
		t.Fatalf("%v", k.texts)
	}
	x := k.texts[0]
	if right := x.At[0] + widthOf(text, typeSize, false); x.At[0] < top[0] || right > end[0] || x.At[1]+capHeight*typeSize > top[1]-.5 {
		t.Errorf("the text stands at %.2f below a line from %.2f to %.2f", x.At, top, end)
	}
}
